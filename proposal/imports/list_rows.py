"""The rows of a supplier's price list, CSV or a sheet of a workbook, each cell with where it stands."""

import csv
import io
import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import get_args

from proposal.errors import InputError, Place, Problem
from proposal.field_classes import dataclass
from proposal.imports.xlsx_sheets import MOST_ROWS, Cell, sheets_of
from proposal.model.price.price_list import Encoding, PriceListMapping
from proposal.model.reading.text_files import text_of
from proposal.quantities.messages import shown

_SAID = re.compile(r"(sep=(?P<delimiter>[;,\t|]))\r?\n", re.IGNORECASE)
_DELIMITERS = (";", ",", "\t", "|")
ABOVE = 20
"""Rows at the top of a list among which its heads are looked for."""
_BREAK = re.compile(r"\r\n|\r|\n")


class CellPlace(Place):
    """A cell of a workbook: its file names the file and the sheet."""

    __slots__ = ()

    def __str__(self) -> str:
        """Return the place as spreadsheet programs name cells: `prices.xlsx: Prices!K7`."""
        letters, column = "", self.column
        while column:
            column, letter = divmod(column - 1, 26)
            letters = chr(ord("A") + letter) + letters
        return f"{self.file}!{letters}{self.line}"


@dataclass(frozen=True, slots=True)
class ListRow:
    """One row: its cells, and where each of them begins."""

    cells: Sequence[Cell]
    places: Sequence[Place]

    def place(self, n: int | None) -> Place:
        """Return where a cell stands; where the row begins for one that it does not have.

        n: of the cell, from 0; None for no cell.
        """
        return self.places[n if n is not None and n < len(self.places) else 0]


def workbook_rows(data: bytes, file: str, mapping: PriceListMapping) -> Sequence[ListRow]:
    """Return the rows of a sheet of a workbook.

    data: of the file.  file: as messages name it.  mapping: names the sheet.
    Raises InputError where there is none.
    """
    sheets = sheets_of(data, file, [mapping.sheet] if mapping.sheet else None)
    if not sheets:
        message = f"wanted a sheet named {shown(mapping.sheet)}; found none"
        raise InputError([Problem(Place(file), "", message)])
    sheet, rows = next(iter(sheets.items()))
    return [_row_of_sheet(f"{file}: {sheet}", row) for row in rows]


def _row_of_sheet(sheet: str, row: Sequence[Cell]) -> ListRow:
    number = int(re.sub(r"[A-Z]", "", row[0].name))
    return ListRow(row, tuple(CellPlace(sheet, number, n) for n in range(1, len(row) + 1)))


def csv_rows(data: bytes, file: str, mapping: PriceListMapping) -> tuple[Sequence[ListRow], str]:
    """Return the rows of a CSV file, and the sign between its columns.

    data: of the file.  file: as messages name it.  mapping: says how it is encoded.
    Raises InputError where it is none.
    """
    problems: list[Problem] = []
    text = text_of(_in_utf8(data, file, mapping.encoding), file, problems)
    if text is None:
        raise InputError([_with_encodings(one) for one in problems])
    said = _SAID.match(text)
    if said:
        # Some programs write the delimiter on a line of its own first; lines keep their numbers.
        text = text[said.end(1) :]
    lines = io.StringIO(text, newline="").readlines()
    wanted = mapping.columns.values()
    head = max(lines[:ABOVE], key=lambda line: sum(one in line for one in wanted), default="")
    delimiter = said["delimiter"] if said else max(_DELIMITERS, key=head.count)
    reader = csv.reader(lines, delimiter=delimiter, strict=True)
    found: list[ListRow] = []
    try:
        read = 0
        for row in reader:
            begun, read = read, reader.line_num
            cells = tuple(
                Cell("", "text" if one.strip() else "nothing", one.strip().removeprefix("'")) for one in row
            )
            if any(one.text for one in cells):
                starts = _starts("".join(lines[begun:read]), delimiter, begun + 1)
                found.append(ListRow(cells, tuple(Place(file, *at) for at in starts)))
            if len(found) > MOST_ROWS:
                message = f"wanted at most {MOST_ROWS} lines in a price list; found more"
                raise InputError([Problem(Place(file), "", message)])
    except csv.Error as error:
        place = Place(file, reader.line_num, 1)
        raise InputError([Problem(place, "", f"wanted correct CSV; found {shown(str(error))}")]) from None
    return found, delimiter


def _starts(record: str, delimiter: str, line: int) -> Iterator[tuple[int, int]]:
    """Yield line and column at which each cell of a record begins, blanks before it left out.

    record: as it is written, its line breaks too.  line: on which it begins.
    """
    position, begin = 0, 0
    while True:
        blank = len(record) - len(record[position:].lstrip(" ")) - position
        yield line, position + max(blank, 0) - begin + 1
        quoted = record.startswith('"', position)
        end = _behind_quotes(record, position) if quoted else position
        for found in _BREAK.finditer(record, position, end):
            line, begin = line + 1, found.end()
        end = record.find(delimiter, end)
        if end < 0:
            return
        position = end + 1


def _behind_quotes(record: str, position: int) -> int:
    """Return the place behind the quote that closes a cell."""
    end = record.find('"', position + 1)
    while end >= 0 and record.startswith('""', end):
        end = record.find('"', end + 2)
    return end + 1 if end >= 0 else len(record)


def _in_utf8(data: bytes, file: str, encoding: Encoding) -> bytes:
    """Return a CSV file in UTF-8; raises InputError where it is not written as the mapping says."""
    if encoding == "UTF-8":
        return data
    try:
        return data.decode(encoding).encode("utf-8")
    except UnicodeError:
        message = f"wanted a text in {encoding}, as the mapping says; found another encoding"
        raise InputError([Problem(Place(file), "encoding", message)]) from None


def _with_encodings(problem: Problem) -> Problem:
    """Return what is wrong with a text, with what a mapping can say where it is not in UTF-8."""
    if not problem.message.startswith("wanted a text in UTF-8"):
        return problem
    others = " or ".join(one for one in get_args(Encoding) if one != "UTF-8")
    ways = (
        "save it again as CSV in UTF-8, or answer in the workbook; the mapping of a price list may say "
        f"`encoding:` {others}"
    )
    return replace(problem, message=f"{problem.message} ({ways})")
