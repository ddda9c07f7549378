"""Quantities by room, phase, system, storey, drawing and supplier, linked to the lines of the take-off."""

from collections.abc import Sequence

from proposal.document.rows.takeoff_sums import OF_LABOUR, UNNAMED, QuantityRow, keys_by
from proposal.exports.table import Value
from proposal.exports.workbook.formulas import sum_where
from proposal.exports.workbook.linked_book import HOURS_PLACES, LinkedBook
from proposal.exports.workbook.linked_sheet import LinkedSheet

BY = {
    "quantities-by-room": "room",
    "quantities-by-phase": "phase",
    "quantities-by-system": "system",
    "quantities-by-storey": "storey",
    "quantities-by-drawing": "drawings",
    "quantities-by-supplier": "supplier",
}
"""Column of the take-off that each sheet adds up by."""
MEASURES = ("pieces", "laid", "from_reels")
"""Columns of a sheet that the quantities of the take-off are parted into."""


def link_takeoff_sums(book: LinkedBook) -> None:
    """Link quantities and costs to the lines that they add up, and hours to the lines of labour."""
    for name, by in BY.items():
        sheet = book.sheets.get(name)
        if sheet is not None and book.sheets["takeoff"].has(by):
            _link_quantities(book, sheet, by, getattr(book.document, name.replace("-", "_")))
            book.follows.add(name)
    sheet = book.sheets.get("takeoff-sums")
    if sheet is not None:
        _link_sums(book, sheet)
        book.follows.add("takeoff-sums")


def _told(book: LinkedBook, by: str) -> dict[str, Value]:
    """Return what the take-off says in a column, by what `keys_by` gives."""
    key, takeoff = keys_by(book.document, by), book.sheets["takeoff"]
    return {key(row): takeoff.value(n, by) for n, row in enumerate(book.document.takeoff)}


def _link_quantities(book: LinkedBook, sheet: LinkedSheet, by: str, rows: Sequence[QuantityRow]) -> None:
    takeoff, told = book.sheets["takeoff"], _told(book, by)
    for n, row in enumerate(rows):
        where = [
            (takeoff.cells(by), told[row.key]),
            *((takeoff.cells(name), sheet.value(n, name)) for name in ("section", "item", "unit")),
        ]
        for name in MEASURES:  # a row has one of them
            sheet.put_as_shown(n, name, sum_where(takeoff.cells("quantity"), *where))
        sheet.put(n, "cost", f"ROUND({sum_where(takeoff.cells('cost'), *where)},{book.places})")


def _link_sums(book: LinkedBook, sheet: LinkedSheet) -> None:
    takeoff, labour, rows = book.sheets["takeoff"], book.sheets["labour"], book.document.labour
    told = {by: _told(book, by) for by in BY.values() if takeoff.has(by)}
    worked = {
        by: {str(getattr(row, by)): labour.value(n, by) for n, row in enumerate(rows)} for by in OF_LABOUR
    }
    for n, one in enumerate(book.document.takeoff_sums):
        key = "" if one.key == UNNAMED.get(one.by) else one.key
        if key in told.get(one.by, {}):
            cost = sum_where(takeoff.cells("cost"), (takeoff.cells(one.by), told[one.by][key]))
            sheet.put(n, "cost", f"ROUND({cost},{book.places})")
        if one.key in worked.get(one.by, {}):
            where = (labour.cells(one.by), worked[one.by][one.key])
            sheet.put(n, "hours", f"ROUND({sum_where(labour.cells('charged_hours'), where)},{HOURS_PLACES})")
