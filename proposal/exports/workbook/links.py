"""The chain of links of an edition: inputs, take-off, labour, build-up, sums, taxes, payments."""

from collections.abc import Mapping, Sequence

from proposal.document.document import Document
from proposal.exports.table import Table
from proposal.exports.workbook.build_up_links import link_build_up
from proposal.exports.workbook.cash_links import link_cash
from proposal.exports.workbook.labour_links import (
    link_hours_sums,
    link_labour,
    link_overtime,
    link_rates,
    link_travel,
)
from proposal.exports.workbook.linked_book import LinkedBook
from proposal.exports.workbook.linked_sheet import LinkedSheet
from proposal.exports.workbook.named_inputs import NamedInputs
from proposal.exports.workbook.offer_links import link_offer
from proposal.exports.workbook.room_counts import link_room_counts
from proposal.exports.workbook.takeoff_links import link_takeoff
from proposal.exports.workbook.takeoff_sum_links import link_takeoff_sums
from proposal.exports.workbook.total_links import link_totals
from proposal.exports.workbook.unit_price_links import link_unit_prices, link_years

WANTED = ("takeoff", "purchases", "labour", "labour-summary", "trades", "price-lines", "price")
STAYS: Mapping[str, tuple[str, ...]] = {
    "takeoff": ("base_hours", "condition_factor", "hours", "labour_cost"),
    "labour": ("additions",),
    "labour-summary": ("factors", "hours_a_day"),
    "payments": ("event_date", "due_date"),
    "cash-flow": ("date",),
    "price-inputs": ("value",),
    "devices": ("unit_cost",),
    "equipment": ("needed_by", "order_by"),
    "purchases": ("needed_by", "order_by"),
    "reel-orders": ("bound", "needed_by", "order_by"),
    "disclosure": ("value", "low", "high"),
    "activities": ("days", "start", "finish"),
    "crew-loading": ("hours",),
    "crew-weeks": ("hours",),
}
"""Columns that stay as they are of this revision, which their heads say, besides amounts without links."""
_NO_PRICES_OF_OURS = ("limit_amount", "list_price", "each")
"""Amounts that no input of the price moves."""


def linked_book(document: Document, tables: Sequence[Table], names: Mapping[str, str]) -> LinkedBook:
    """Return the sheets of an edition with their formulas, all that its inputs and schedules allow.

    document: as its reader may see it.  tables: its schedules.
    names: of the sheets, by the names of the schedules.
    Where the edition holds no inputs, or not all schedules between these and the price, nothing is linked.
    """
    sheets = {table.name: LinkedSheet(table, names[table.name]) for table in tables}
    book = LinkedBook(document, NamedInputs(document.price_inputs, document.cover.currency), sheets)
    if document.price_inputs and all(name in sheets for name in WANTED):
        link_room_counts(book)
        link_takeoff(book)
        link_labour(book)
        link_overtime(book)
        link_rates(book)
        link_travel(book)
        link_hours_sums(book)
        link_build_up(book)
        link_totals(book)
        link_offer(book)
        link_cash(book)
        link_takeoff_sums(book)
        link_unit_prices(book)
        link_years(book)
        _link_others(book)
        for name, columns in STAYS.items():
            if name in sheets:
                sheets[name].stays |= frozenset(columns)
        for sheet in sheets.values():
            sheet.stays |= _unlinked(sheet)
    return book


def _unlinked(sheet: LinkedSheet) -> frozenset[str]:
    """Return the columns of amounts in which nothing follows the inputs."""
    linked = {name for _, name in (*sheet.formulas, *sheet.marks)}
    return frozenset(
        column.name
        for column in sheet.table.columns
        if column.quantity == "money" and not column.formula
        if column.name not in linked and column.name not in _NO_PRICES_OF_OURS
    )


def _link_others(book: LinkedBook) -> None:
    """Link what shows an input, or an amount of its own beside the total."""
    inputs, document = book.inputs, book.document
    sheet = book.sheets.get("exchange-rates")
    for n, rate in enumerate(document.exchange_rates if sheet else ()):
        assert sheet is not None
        sheet.put(n, "rate", inputs.name(f"terms.exchange.{rate.currency}.rate"))
    sheet = book.sheets.get("labour-conditions")
    for n, condition in enumerate(document.labour_conditions if sheet else ()):
        assert sheet is not None
        key = inputs.only("condition", condition.name, condition.addition)
        if key:
            sheet.put(n, "addition", inputs.name(key))
        elif again := inputs.only("reduction", condition.name, -condition.addition):
            sheet.put(n, "addition", f"-{inputs.name(again)}")
