"""Prices of one more of something, and of a year, linked to costs, hours, rates and what is stated."""

from collections.abc import Mapping
from decimal import Decimal

from proposal.document.rows.price_build_up import PriceLineRow, UnitCostRow
from proposal.document.rows.price_inputs import one_more
from proposal.exports.workbook.formulas import added, by_rule, number, rounded
from proposal.exports.workbook.labour_links import HOURS_A_METRE
from proposal.exports.workbook.linked_book import LinkedBook

LENGTHS: Mapping[str, Decimal] = {"metre of cable": Decimal(1), "foot of cable": Decimal("0.3048")}
"""What one more of a cable is, m."""


def link_unit_prices(book: LinkedBook) -> None:
    """Link what one more of something comes to by the rules, and what is stated for it."""
    rows, sheet, told = (
        book.document.unit_costs,
        book.sheets.get("unit-costs"),
        book.sheets.get("unit-prices"),
    )
    if sheet is None:
        return
    follows = True
    for n, row in enumerate(rows):
        supply, work = _supply(book, row), _work(book, row)
        follows = follows and bool(supply and work)
        if supply:
            sheet.put(n, "supply", supply)
        if work:
            hours, price = work
            sheet.put(n, "hours", hours)
            sheet.put(n, "work", price)
        sheet.put(n, "computed", f"{sheet.cell(n, 'supply')}+{sheet.cell(n, 'work')}")
        stated = _stated(book, row)
        if row.stated is not None and stated:
            sheet.put(n, "stated", stated)
    stated_rows = [n for n, row in enumerate(rows) if row.stated is not None]
    # Prices that are told are those that are stated, in the same order.
    linked = told is not None and len(told.table.rows) == len(stated_rows)
    for n, place in enumerate(stated_rows if linked else ()):
        assert told is not None
        told.put(n, "price", sheet.cell(place, "stated"))
        book.follows.add("unit-prices")
    if follows:
        book.follows.add("unit-costs")


def link_years(book: LinkedBook) -> None:
    """Link what recurs each year to its costs, the rules and what is stated for it."""
    sheet = book.sheets.get("yearly")
    for n, row in enumerate(book.document.yearly if sheet else ()):
        assert sheet is not None
        cost = book.inputs.money(f"library.{row.item}.yearly_cost")
        if cost:
            sheet.put(n, "unit_cost", cost)
        computed = _in_proportion(book, row.item, sheet.cell(n, "unit_cost"))
        if computed:
            sheet.put(n, "computed", computed)
        else:
            sheet.stays |= {"computed"}
        stated = book.inputs.amount(f"price.yearly.{row.item}")
        if stated:
            sheet.put(n, "unit_price", stated)
            each = f"{sheet.cell(n, 'quantity')}*{sheet.cell(n, 'unit_price')}"
            sheet.put(n, "price", rounded(each, book.places))


def _stated(book: LinkedBook, row: UnitCostRow) -> str:
    subject = row.description if row.to == "hour" else row.item
    return book.inputs.amount(book.inputs.only(one_more(row.to), subject))


def _line_of(book: LinkedBook, item: str, *groups: str) -> int | None:
    """Return the first line of the price for a model, of the first of some groups that has one."""
    lines = book.document.price_lines
    found = (
        n for group in groups for n, line in enumerate(lines) if (line.item, line.group) == (item, group)
    )
    return next(found, None)


def _supply(book: LinkedBook, row: UnitCostRow) -> str:
    """Return the price of the thing; empty where it is not certain what it follows."""
    if row.to in ("hour", "ends of a cable"):
        return "0"
    if row.to in LENGTHS:
        cost = book.inputs.piece(f"library.{row.item}.cost")
        return _in_proportion(book, row.item, f"{cost}*{number(LENGTHS[row.to])}") if cost else ""
    place = _line_of(book, row.item, "equipment", "materials")
    if place is None:
        return "" if row.supply else "0"
    line = book.document.price_lines[place]
    return book.sheets["price-lines"].cell(place, "unit_price") if line.unit_price == row.supply else ""


def _in_proportion(book: LinkedBook, item: str, cost: str) -> str:
    """Return the price of something of a model that costs so much, by the rule of the model; else nothing.

    A price that is stated for the model itself says nothing of a metre of it, or of a year.
    """
    place = _line_of(book, item, "materials", "equipment")
    if place is None:
        return ""
    line: PriceLineRow = book.document.price_lines[place]
    sort, value = book.inputs.rule(line.rule_from)
    if sort not in ("margin", "markup", "discount"):
        return ""
    if sort != "discount":
        return by_rule(sort, value, cost, "0", book.places)
    listed, whole = book.inputs.piece(f"library.{item}.list_price"), book.inputs.piece(f"library.{item}.cost")
    if not listed or not whole:
        return ""
    return by_rule(sort, value, cost, rounded(f"{listed}*({cost})/({whole})", book.places + 2), book.places)


def _work(book: LinkedBook, row: UnitCostRow) -> tuple[str, str] | None:
    """Return the hours of one and their price; None where it is not certain what they follow."""
    rates = {one.trade: n for n, one in enumerate(book.document.trades)}
    trades = book.sheets["trades"]
    if row.to == "hour":
        place = rates.get(row.description)
        return None if place is None else ("1", rounded(trades.cell(place, "selling"), book.places))
    trade_of = {one.task: one.trade for one in book.document.labour}
    by_trade: dict[str, list[str]] = {}
    for task, count in row.tasks:
        key, trade = book.inputs.only("hours", task), trade_of.get(task, "")
        held = book.inputs.row(key)
        if held is None or trade not in rates:
            return None
        length = LENGTHS.get(row.to)
        name = book.inputs.name(key)
        hours = (
            name
            if length is None and count == 1
            else f"{name}*{count}"
            if length is None
            else rounded(f"{name}*{number(length)}/{number(held.pieces)}", HOURS_A_METRE)
        )
        by_trade.setdefault(trade, []).append(hours)
    worked = [
        rounded(f"({added(hours)})*{trades.cell(rates[trade], 'selling')}", book.places)
        for trade, hours in by_trade.items()
    ]
    return added(one for hours in by_trade.values() for one in hours), added(worked)
