"""All schedules of an edition in one workbook, totals as live formulas with our values as cached results."""

import datetime
import io
from collections import Counter
from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

from proposal.document.quantities import QUANTITIES, WORDS, Quantity
from proposal.editions import Edition
from proposal.exports.csv_files import heading
from proposal.exports.table import Column, Table, Value
from proposal.quantities import formatting

_NUMBERS: Mapping[Quantity, str] = {
    "count": "#,##0",
    "days": "#,##0",
    "share": "0.0 %",
    "length": "#,##0.00",
    "weight": "#,##0.0",
    "watts": "#,##0.0",
    "volt-amperes": "#,##0",
    "amperes": "0.00",
    "milliamperes": "0.0",
    "kilowatt-hours": "#,##0",
    "milliseconds": "0.0",
    "volts": "0.0",
    "ohms": "0.00",
    "small length": "0.0",
    "newtons": "0",
    "temperature": "0.0",
    "temperature rise": "0.0",
    "hours": "#,##0.00",
    "date": "yyyy-mm-dd",
}
_FORMATS = {one: _NUMBERS.get(one, "@" if one in WORDS else "General") for one in QUANTITIES}
_MONEY: tuple[Quantity, ...] = ("money", "unit price")
_WIDEST = 60
_LONGEST_NAME = 31
_HEAD = 0
_CREATED = datetime.time(12, 0)


def workbook(edition: Edition, tables: Sequence[Table]) -> bytes:
    """Return a workbook with a contents sheet and one sheet a table.

    edition: names the project, revision and reader on the contents sheet.
    tables: the schedules; heads are frozen, columns typed and filtered, totals below.
    """
    import xlsxwriter

    content = io.BytesIO()
    options = {
        "in_memory": True,
        "strings_to_formulas": False,
        "strings_to_urls": False,
        "strings_to_numbers": False,
    }
    with xlsxwriter.Workbook(content, options) as book:
        cover = edition.document.cover
        created = datetime.datetime.combine(cover.revision.date, _CREATED)
        book.set_properties({"title": cover.name, "author": cover.integrator.name, "created": created})
        formats = _Formats(book, cover.currency)
        _contents(book, edition, tables, formats)
        names = _sheet_names(tables)
        for table in tables:
            _sheet(book, names[table.name], table, formats)
    return content.getvalue()


class _Formats:
    """The cell formats of one workbook."""

    def __init__(self, book: Any, currency: str) -> None:
        self._book = book
        self._currency = currency
        self._money: dict[int, Any] = {}
        self.title = book.add_format({"bold": True, "font_size": 14})
        self.head = book.add_format(
            {"bold": True, "bg_color": "#E9EEF2", "border": 1, "text_wrap": True, "valign": "top"}
        )
        self.label = book.add_format({"bold": True})
        self._cells = {one: self._cell(shape) for one, shape in _FORMATS.items()}
        self._totals = {one: self._total(shape) for one, shape in _FORMATS.items()}
        money = self._total(_with_places(formatting.money_places(currency)))
        self._totals |= dict.fromkeys(_MONEY, money)

    def of(self, quantity: Quantity, value: Value = None) -> Any:
        """Return the format of a cell; that of the price of one unit has all its places."""
        if quantity not in _MONEY:
            return self._cells[quantity]
        exact = value if isinstance(value, Decimal) else Decimal(0)
        places = formatting.unit_money_places(exact, self._currency)
        if places not in self._money:
            self._money[places] = self._cell(_with_places(places))
        return self._money[places]

    def of_total(self, quantity: Quantity) -> Any:
        """Return the format of the sum of a column."""
        return self._totals[quantity]

    def _cell(self, shape: str) -> Any:
        return self._book.add_format({"num_format": shape, "valign": "top"})

    def _total(self, shape: str) -> Any:
        return self._book.add_format({"num_format": shape, "bold": True, "top": 1})


def _with_places(places: int) -> str:
    """Return the format of numbers with groups and so many decimal places."""
    return "#,##0" + ("." + "0" * places if places else "")


def _contents(book: Any, edition: Edition, tables: Sequence[Table], formats: _Formats) -> None:
    """Write the first sheet: what this is and which sheets there are."""
    cover = edition.document.cover
    sheet = book.add_worksheet("Contents")
    sheet.set_column(0, 0, 24)
    sheet.set_column(1, 1, 60)
    sheet.write_string(0, 0, cover.name, formats.title)
    facts = [
        (
            "Revision",
            f"{cover.revision.identity}, {cover.revision.date.isoformat()}, {cover.revision.purpose}",
        ),
        ("Client", cover.client.name),
        ("Integrator", cover.integrator.name),
        ("Edition", f"for the {edition.reader}"),
        ("Currency", cover.currency),
        ("Formulas", "Totals and costs follow when a quantity or a price is changed; all else are values."),
    ]
    for n, (name, value) in enumerate(facts, 2):
        sheet.write_string(n, 0, name, formats.label)
        sheet.write_string(n, 1, value)
    row = len(facts) + 3
    sheet.write_string(row, 0, "Sheet", formats.head)
    sheet.write_string(row, 1, "Rows", formats.head)
    names = _sheet_names(tables)
    for n, table in enumerate(tables, row + 1):
        sheet.write_url(n, 0, f"internal:'{names[table.name]}'!A1", string=table.title)
        sheet.write_number(n, 1, len(table.rows), formats.of("count"))


def _sheet(book: Any, name: str, table: Table, formats: _Formats) -> None:
    """Write one table: heads, rows, and totals two rows below so that filters leave them alone."""
    sheet = book.add_worksheet(name)
    sheet.freeze_panes(_HEAD + 1, 1)
    places = {column.name: n for n, column in enumerate(table.columns)}
    for n, column in enumerate(table.columns):
        sheet.write_string(_HEAD, n, heading(column), formats.head)
        sheet.set_column(n, n, _width(column, [row[n] for row in table.rows]))
    last = _HEAD + len(table.rows)
    sheet.autofilter(_HEAD, 0, last, len(table.columns) - 1)
    for number, row in enumerate(table.rows, _HEAD + 1):
        for n, (column, value) in enumerate(zip(table.columns, row, strict=True)):
            _write(sheet, number, n, column, value, places, formats)
    if any(column.total for column in table.columns):
        _totals(sheet, table, last, formats)


def _sheet_names(tables: Sequence[Table]) -> Mapping[str, str]:
    """Return the name of each table's sheet by the table's own: its title where that is short and unique."""
    titles = Counter(table.title.casefold() for table in tables)
    return {
        table.name: table.title
        if len(table.title) <= _LONGEST_NAME and titles[table.title.casefold()] == 1
        else table.name[:_LONGEST_NAME]
        for table in tables
    }


def _totals(sheet: Any, table: Table, last: int, formats: _Formats) -> None:
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
    sheet: Any, row: int, n: int, column: Column, value: Value, places: dict[str, int], formats: _Formats
) -> None:
    """Write one cell as what it is: text, number, or formula with our value as its result."""
    shape = formats.of(column.quantity, value)
    if value is None:
        sheet.write_blank(row, n, None, shape)
    elif isinstance(value, datetime.date):
        sheet.write_datetime(row, n, datetime.datetime.combine(value, datetime.time()), shape)
    elif isinstance(value, str | bool):
        text = ("yes" if value else "no") if isinstance(value, bool) else value
        sheet.write_string(row, n, text, formats.of("text"))
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


def _width(column: Column, values: Sequence[Value]) -> float:
    """Return a width that holds most values without being read sideways."""
    longest = max(
        [len(str(value)) for value in values if isinstance(value, str)]
        + [10 if column.quantity not in WORDS else 4]
    )
    return float(min(max(longest, len(column.heading) * 0.7) + 2, _WIDEST))
