"""Schedules as CSV files: RFC 4180, UTF-8, one file a schedule."""

import csv
import datetime
import io
from collections.abc import Mapping, Sequence
from decimal import Decimal

from proposal.exports.table import Column, Table, Value

_LIVE = ("=", "+", "-", "@", "\t", "\r")
_PLACES = 4


def csv_files(tables: Sequence[Table]) -> Mapping[str, bytes]:
    """Return the CSV file of each table, by file name.

    Units stand in the headings; numbers have a decimal point and no groups. A text that a spreadsheet would
    take for a formula begins with an apostrophe.
    """
    return {f"{table.name}.csv": _file(table) for table in tables}


def _file(table: Table) -> bytes:
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow([heading(column) for column in table.columns])
    writer.writerows([cell(value) for value in row] for row in table.rows)
    return text.getvalue().encode("utf-8")


def line_files(tables: Sequence[Table]) -> Mapping[str, bytes]:
    """Return the same tables as files in which every row is one line, for tools that compare line by line.

    Lines end as text files of git do, and line breaks within a cell are a space.
    """
    return {f"{table.name}.csv": _lines(table) for table in tables}


def _lines(table: Table) -> bytes:
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow([" ".join(heading(column).split()) for column in table.columns])
    writer.writerows([" ".join(cell(value).split()) for value in row] for row in table.rows)
    return text.getvalue().encode("utf-8")


def heading(column: Column) -> str:
    """Return a column's heading with its unit."""
    return f"{column.heading} ({column.unit})" if column.unit else column.heading


def cell(value: Value) -> str:
    """Return a value as text: numbers rounded to a tenth of a millimetre, texts never live."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, datetime.date):
        return value.isoformat()
    if isinstance(value, Decimal):
        return f"{value:f}"
    if isinstance(value, int):
        return str(value)
    if isinstance(value, float):
        text = f"{value:.{_PLACES}f}".rstrip("0").rstrip(".")
        return "0" if text in ("-0", "") else text
    return f"'{value}" if value.startswith(_LIVE) else value
