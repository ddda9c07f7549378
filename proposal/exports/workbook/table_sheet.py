"""One schedule as a sheet: heads, rows as what they are, formulas with our values as results, totals."""

import datetime
from collections.abc import Sequence
from decimal import Decimal
from typing import Any

from proposal.document.quantities import WORDS
from proposal.exports.csv_files import heading
from proposal.exports.table import Column, Table, Value
from proposal.exports.workbook.cell_formats import CellFormats
from proposal.exports.workbook.linked_sheet import HEAD_ROW as _HEAD
from proposal.exports.workbook.linked_sheet import LinkedSheet
from proposal.exports.workbook.print_set_up import LONG, PrintSetUp
from proposal.exports.workbook.sheet_widths import column_widths, head_lines, row_lines, wraps

OF_THIS_REVISION = ", of this revision"
_WIDEST_NAMED = 60
"""Most signs of the columns that say what a row is of."""
_MOST_NAMED = 3
"""Most columns that are repeated to say what a row is of."""
_FOR_NOTES = 12
"""Columns to the right of a table that stay open for notes; of long ones none, see `LONG`."""
HEIGHT = 15.0
"""Points of a line of a head."""


def write_table(book: Any, linked: LinkedSheet, formats: CellFormats, printed: PrintSetUp) -> None:
    """Write one table: heads, rows, and totals two rows below so that filters leave them alone.

    book: the workbook of xlsxwriter.
    linked: the table with the formulas of its cells; what shares are computed with stands folded beside it.
    printed: how it is printed.
    """
    table = linked.table
    sheet = book.add_worksheet(linked.name)
    places = {column.name: n for n, column in enumerate(table.columns)}
    empty = _empty(linked)
    widths = column_widths(table, empty, formats)
    named = _named(table, widths)
    sheet.freeze_panes(_HEAD + 1, named)
    heads = [
        f"{heading(column)}{OF_THIS_REVISION if column.name in linked.stays else ''}"
        for column in table.columns
    ]
    for n, (column, told, width) in enumerate(zip(table.columns, heads, widths, strict=True)):
        sheet.write_string(_HEAD, n, told, formats.head if column.quantity in WORDS else formats.head_right)
        folded, behind = n in empty, n - 1 in empty
        beside = {"level": 1, "hidden": True} if folded else {"collapsed": True} if behind else {}
        sheet.set_column(n, n, width, None, beside)
    sheet.set_row(_HEAD, HEIGHT * max(map(head_lines, heads, widths)))
    last = _HEAD + len(table.rows)
    sheet.autofilter(_HEAD, 0, last, len(table.columns) - 1)
    for number, row in enumerate(table.rows, _HEAD + 1):
        lines = row_lines(table, row, widths)
        if lines > 1:
            sheet.set_row(number, HEIGHT * lines)
        for n, (column, value) in enumerate(zip(table.columns, row, strict=True)):
            row_number = number - _HEAD - 1
            formula = linked.formulas.get((row_number, column.name), "")
            if formula:
                shape = formats.of(column.quantity, value)
                sheet.write_formula(number, n, f"={formula}", shape, _result(value))
            elif (row_number, column.name) in linked.marks:
                shape = formats.of(column.quantity, value, linked.marks[row_number, column.name])
                sheet.write_number(number, n, linked.shown(row_number, column.name), shape)
            else:
                _write(sheet, number, n, column, value, places, formats, widths[n])
    for row_number, name in linked.quiet.items():
        amount = linked.reference(row_number, name).rpartition("!")[2]
        formats.quieten(sheet, _HEAD + 1 + row_number, len(table.columns) - 1, amount)
    if any(column.total for column in table.columns):
        _totals(sheet, table, last, formats)
    _workings(sheet, linked, formats)
    if len(table.rows) < LONG:
        notes = len(table.columns) + (len(linked.workings) + 2 if linked.workings else 0)
        sheet.set_column(notes, notes + _FOR_NOTES - 1, None, formats.open)
    totals = 2 if any(column.total for column in table.columns) else 0
    shown = [width for n, width in enumerate(widths) if n not in empty]
    end = last + totals, len(table.columns) - 1
    printed.apply(sheet, table.title, *end, widths=shown, named=named, beside=bool(linked.workings))


def _empty(linked: LinkedSheet) -> frozenset[int]:
    """Return the columns in which no row holds anything, which are folded; never the first one."""
    table = linked.table
    held = {name for _, name in (*linked.formulas, *linked.marks)}
    return frozenset(
        n
        for n, column in enumerate(table.columns)
        if n and not column.total and column.name not in held
        if all(row[n] in (None, "") for row in table.rows)
    )


def _named(table: Table, widths: Sequence[float]) -> int:
    """Return how many of the first columns tell rows apart; one where many would have to."""
    for count in range(1, _MOST_NAMED + 1):
        names = {row[:count] for row in table.rows}
        if len(names) == len(table.rows) and sum(widths[:count]) <= _WIDEST_NAMED:
            return count
    return 1


def _result(value: Value) -> float | str:
    return float(value) if isinstance(value, int | float | Decimal) else str(value)


def _workings(sheet: Any, linked: LinkedSheet, formats: CellFormats) -> None:
    """Write the columns that shares are computed with, folded, behind an empty one."""
    first = len(linked.table.columns) + 1
    for n, working in enumerate(linked.workings, first):
        sheet.write_string(_HEAD, n, working.heading, formats.head)
        for row, (value, formula) in enumerate(zip(working.values, working.formulas, strict=True), _HEAD + 1):
            if formula:
                sheet.write_formula(row, n, f"={formula}", formats.working, value)
            else:
                sheet.write_number(row, n, value, formats.working)
    if linked.workings:
        sheet.set_column(first, first + len(linked.workings) - 1, 14, None, {"level": 1, "hidden": True})
        sheet.set_column(
            first + len(linked.workings), first + len(linked.workings), 3, None, {"collapsed": True}
        )


def _totals(sheet: Any, table: Table, last: int, formats: CellFormats) -> None:
    total_row = last + 2
    if not table.columns[0].total:
        sheet.write_string(total_row, 0, "Total", formats.label)
    for n, column in enumerate(table.columns):
        if column.total:
            cells = f"{_cell(_HEAD + 1, n)}:{_cell(last, n)}"
            value = sum((Decimal(str(row[n] or 0)) for row in table.rows), Decimal(0))
            shape = formats.of_total(column.quantity)
            sheet.write_formula(total_row, n, f"=SUM({cells})", shape, float(value))


def _write(
    sheet: Any,
    row: int,
    n: int,
    column: Column,
    value: Value,
    places: dict[str, int],
    formats: CellFormats,
    width: float,
) -> None:
    """Write one cell as what it is: text, number, or formula with our value as its result."""
    shape = formats.of(column.quantity, value)
    if value is None:
        sheet.write_blank(row, n, None, shape)
    elif isinstance(value, datetime.date):
        sheet.write_datetime(row, n, datetime.datetime.combine(value, datetime.time()), shape)
    elif isinstance(value, str | bool):
        text = ("yes" if value else "no") if isinstance(value, bool) else value
        plain = formats.unit if column.quantity == "unit" else formats.of("text")
        sheet.write_string(
            row, n, text, formats.prose if wraps(column, value) and len(text) > width - 1 else plain
        )
    elif column.formula and all(name in places for name in _names(column.formula)):
        cells = {name: _cell(row, places[name]) for name in _names(column.formula)}
        sheet.write_formula(row, n, "=" + column.formula.format(**cells), shape, float(value))
    else:
        sheet.write_number(row, n, float(value), shape)


def _names(formula: str) -> list[str]:
    """Return the columns that a formula names."""
    return [part.partition("}")[0] for part in formula.split("{")[1:]]


def _cell(row: int, column: int) -> str:
    """Return a cell's name, such as C4."""
    from xlsxwriter.utility import xl_rowcol_to_cell

    return str(xl_rowcol_to_cell(row, column))
