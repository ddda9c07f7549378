"""Tables of comma-separated values, read into a tree with the place of every cell."""

import re
from collections.abc import Iterator
from collections.abc import Mapping as AnyMapping
from collections.abc import Sequence as AnySequence

from proposal.errors import Place, Problem
from proposal.field_classes import dataclass
from proposal.model.reading.text_files import text_of
from proposal.model.reading.tree import Mapping, Node, Text
from proposal.quantities.messages import shown, wanted_one_of

MOST_ROWS = 1_000
MOST_PROBLEMS = 100

_HEADING = re.compile(r"(?P<name>.*?)\s*(?:[(\[](?P<unit>[^()\[\]]{1,12})[)\]])?", re.DOTALL)
_BARE_NUMBER = re.compile(r"[+−-]?[0-9][0-9 ./]*")


@dataclass(frozen=True, slots=True)
class _Column:
    name: str
    unit: str


def read_table(
    data: bytes,
    file: str,
    problems: list[Problem],
    *,
    key: str,
    columns: AnySequence[str],
    other_names: AnyMapping[str, str],
) -> Mapping | None:
    """Return the rows of a table by their key, or None where nothing can be made of it.

    data: the file's bytes, comma-separated with one heading, quoted as RFC 4180 tells.
    file: as it is named in messages.
    problems: whatever is wrong is added here, with its line and column.
    key: the column that names each row; it is compulsory.
    columns: the names a heading may have; a heading may carry a unit for its bare numbers: `x (m)`.
    other_names: further headings → the column they mean.
    """
    text = text_of(data, file, problems)
    if text is None:
        return None
    noted = len(problems)
    rows = _rows(text, file, problems)
    heading = next(rows, None)
    if heading is None:
        problems.append(Problem(Place(file), "", "wanted a heading and rows; found an empty file"))
        return None
    headings = _columns(heading, file, problems, key, columns, other_names)
    if headings is None:
        return None
    entries: dict[str, tuple[Place, Node]] = {}
    here = {column.name for column in headings if column is not None}
    missing = {name: heading[0].place for name in columns if name not in here}
    for count, cells in enumerate(rows, start=1):
        if count > MOST_ROWS or len(problems) - noted >= MOST_PROBLEMS:
            if count > MOST_ROWS:
                problems.append(Problem(cells[0].place, "", f"wanted at most {MOST_ROWS} rows; found more"))
            break
        _put_row(cells, headings, key, missing, entries, problems)
    return Mapping(entries, Place(file, 1, 1))


def _put_row(
    cells: list[Text],
    headings: AnySequence[_Column | None],
    key: str,
    missing: AnyMapping[str, Place],
    entries: dict[str, tuple[Place, Node]],
    problems: list[Problem],
) -> None:
    """Put a row among the entries, or add what is wrong with it."""
    if len(cells) != len(headings):
        place = cells[min(len(cells) - 1, len(headings))].place
        message = f"wanted {len(headings)} cells as in the heading; found {len(cells)}"
        problems.append(Problem(place, "", message))
        return
    named: dict[str, tuple[Place, Node]] = {}
    absent = dict(missing)
    for cell, column in zip(cells, headings, strict=True):
        if column is None:
            continue
        if not cell.value:
            absent[column.name] = cell.place
            continue
        has_unit = not column.unit or not _BARE_NUMBER.fullmatch(cell.value)
        named[column.name] = (
            cell.place,
            cell if has_unit else Text(f"{cell.value} {column.unit}", cell.place, cell.plain),
        )
    if key not in named:
        problems.append(Problem(absent.get(key, cells[0].place), key, "wanted a name; found an empty cell"))
        return
    place, name = named.pop(key)
    assert isinstance(name, Text)
    if name.value in entries:
        first = entries[name.value][0].line
        message = f"wanted each {key} once; found {shown(name.value)} again, first in line {first}"
        problems.append(Problem(place, key, message))
        return
    entries[name.value] = (place, Mapping(named, cells[0].place, absent))


def _columns(
    heading: list[Text],
    file: str,
    problems: list[Problem],
    key: str,
    columns: AnySequence[str],
    other_names: AnyMapping[str, str],
) -> list[_Column | None] | None:
    """Return the meaning of every heading, None for one that is wrong; or None where there is no table."""
    if len(heading) == 1:
        for separator, what in ((";", "semicolons"), ("\t", "tabs"), ("|", "bars")):
            if separator in heading[0].value:
                message = f"wanted values separated by commas; found {what}"
                problems.append(Problem(heading[0].place, "", message))
                return None
    found: list[_Column | None] = []
    seen: set[str] = set()
    for cell in heading:
        parts = _HEADING.fullmatch(cell.value)
        assert parts is not None
        written = parts["name"]
        name = other_names.get(written, written.replace(" ", "_"))
        if not cell.value:
            problems.append(Problem(cell.place, "", "wanted a name in the heading; found an empty cell"))
        elif name not in columns:
            problems.append(Problem(cell.place, "", wanted_one_of(written, columns)))
        elif name in seen:
            message = f"wanted each heading once; found {shown(written)} again"
            problems.append(Problem(cell.place, "", message))
        else:
            seen.add(name)
            found.append(_Column(name, parts["unit"] or ""))
            continue
        found.append(None)
    if key not in seen:
        problems.append(Problem(Place(file, 1, 1), "", f"wanted a heading {key}; found none"))
        return None
    return found


def _rows(text: str, file: str, problems: list[Problem]) -> Iterator[list[Text]]:
    """Yield the cells of every row that is not blank."""
    position, line, start = 0, 1, 0
    cells: list[Text] = []
    while position < len(text) or cells:
        place = Place(file, line, position - start + 1)
        opening = _OPENING_QUOTE.match(text, position)
        if opening:
            position = opening.end() - 1
            place = Place(file, line, position - start + 1)
            end = _end_of_quotes(text, position + 1)
            if end < 0:
                problems.append(Problem(place, "", "wanted a closing quote; found the end of the file"))
                return
            inner = text[position + 1 : end]
            value = inner.replace('""', '"')
            line, start = _after_breaks(text, position + 1, end, line, start)
            position = end + 1
            while position < len(text) and text[position] in " \t":
                position += 1
            if position < len(text) and text[position] not in ",\r\n":
                after = Place(file, line, position - start + 1)
                problems.append(
                    Problem(
                        after, "", f"wanted a comma after the closing quote; found {shown(text[position])}"
                    )
                )
                position = _end_of_cell(text, position)
        else:
            end = _end_of_cell(text, position)
            value = text[position:end]
            place = Place(file, line, position - start + 1 + len(value) - len(value.lstrip()))
            position = end
        cells.append(Text(value.strip(), place, plain=opening is None))
        if position < len(text) and text[position] == ",":
            position += 1
            continue
        if position < len(text):
            position += 2 if text.startswith("\r\n", position) else 1
            line, start = line + 1, position
        if any(cell.value for cell in cells):
            yield cells
        cells = []


_CELL_END = re.compile(r"[,\r\n]")
_OPENING_QUOTE = re.compile(r'[ \t]*"')
_BREAK = re.compile(r"\r\n|\r|\n")


def _end_of_cell(text: str, position: int) -> int:
    found = _CELL_END.search(text, position)
    return found.start() if found else len(text)


def _end_of_quotes(text: str, position: int) -> int:
    """Return the index of the quote that closes a cell, or -1."""
    while (end := text.find('"', position)) >= 0:
        if not text.startswith('""', end):
            return end
        position = end + 2
    return -1


def _after_breaks(text: str, begin: int, end: int, line: int, start: int) -> tuple[int, int]:
    """Return line and index of its first character after a stretch of text with breaks in it."""
    for found in _BREAK.finditer(text, begin, end):
        line, start = line + 1, found.end()
    return line, start
