"""What an estimator changed in the sheet of inputs of a workbook, by the keys of the inputs."""

import datetime
from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import replace
from decimal import Decimal

from proposal.document.rows.price_inputs import PriceInputRow
from proposal.document.rows.terms import Cover
from proposal.errors import InputError, Place, Problem
from proposal.exports.workbook.book import CONTENTS, NUMBER, PROJECT, REVISION
from proposal.exports.workbook.inputs_sheet import BEFORE, INPUTS, KEY, SUBJECT, UNIT, VALUE, limits
from proposal.exports.workbook.planned_days import day_of, is_day, serial
from proposal.exports.workbook.room_counts import is_room_count
from proposal.exports.workbook.spare_allowances import is_spare
from proposal.exports.workbook.spare_alternates import is_spare_alternate
from proposal.field_classes import dataclass
from proposal.imports.far_off import is_far_off, to_confirm, told_times
from proposal.imports.xlsx_sheets import Cell, Rows, sheets_of
from proposal.quantities.messages import nearest, shown

HEADS = (KEY, VALUE, UNIT, BEFORE, SUBJECT)
LARGEST = Decimal(10) ** 12


@dataclass(frozen=True, slots=True)
class ChangedInput:
    """One input with another value than the project has.

    row: the input as it is.  value: what the workbook says.  cell: where, such as `Inputs!C12`.
    name: what a further allowance or alternate is called; empty of all else.
    """

    row: PriceInputRow
    value: Decimal
    cell: str
    name: str = ""


@dataclass(frozen=True, slots=True)
class ReadInputs:
    """What a workbook says of the inputs of a project.

    changed: in the order of the sheet.
    moved: keys of inputs that the project has changed since the workbook was made, and the workbook has not.
    is_older: whether the project has changed any of them since, whatever the workbook says.
    missing: keys of inputs that the workbook has no longer; they stay as they are.
    problems: what keeps it from being taken.
    """

    changed: tuple[ChangedInput, ...]
    moved: tuple[str, ...]
    is_older: bool
    missing: tuple[str, ...]
    problems: tuple[Problem, ...]


def read_inputs(
    data: bytes,
    file: str,
    rows: Sequence[PriceInputRow],
    cover: Cover,
    confirmed: Set[str] = frozenset(),
) -> ReadInputs:
    """Return what is changed in a workbook of the estimator.

    data: of the file.  file: as messages name it.
    rows: the inputs of the project as it is.  cover: of the project as it is.
    confirmed: keys of inputs that may be many times what they are now, or a small part.
    Problems are another project or revision, formulas and texts where values belong, what is no input, what
    is far off, and what was changed on both sides.
    Raises InputError where it is no such workbook.
    """
    sheets = sheets_of(data, file, (CONTENTS, INPUTS))
    missing = [name for name in (CONTENTS, INPUTS) if name not in sheets]
    if missing:
        message = "wanted the estimator's workbook, with its sheets Contents and Inputs; found none named"
        raise InputError([Problem(Place(file), "", f"{message} {' and '.join(missing)}")])
    reading = _Reading(file, {row.key: row for row in rows}, confirmed)
    reading.check_identity(sheets[CONTENTS], cover)
    found = tuple(reading.changed(sheets[INPUTS]))
    return ReadInputs(
        found,
        tuple(reading.moved),
        reading.is_older,
        tuple(row.key for row in rows if row.key not in reading.seen and not _is_empty(row)),
        tuple(reading.problems),
    )


def _is_empty(row: PriceInputRow) -> bool:
    """Say whether an input says nothing of the project as it is, so that nobody misses it."""
    return is_spare(row) or is_spare_alternate(row) or is_room_count(row)


def told_missing(keys: Sequence[str], file: str) -> tuple[str, ...]:
    """Return what is said of inputs that a workbook has no longer.

    keys: of them.  file: as messages name it.
    """
    if not keys:
        return ()
    many = len(keys) > 1
    count, stay = (f"{len(keys)} inputs are", "stay") if many else ("1 input is", "stays")
    return (f"{count} missing from {file} and {stay} as in the project: {', '.join(keys)}",)


class _Reading:
    """The sheets as they are read, and what is wrong with them."""

    def __init__(self, file: str, rows: Mapping[str, PriceInputRow], confirmed: Set[str]) -> None:
        self.file = file
        self.confirmed = confirmed
        self.rows = rows
        self.problems: list[Problem] = []
        self.moved: list[str] = []
        self.is_older = False
        self.seen: dict[str, str] = {}

    def note(self, cell: str, message: str) -> None:
        self.problems.append(Problem(Place(self.file), cell, message))

    def check_identity(self, contents: Rows, cover: Cover) -> None:
        # The first of a name counts: sheets are listed below.
        said = {row[0].text: row[1] for row in reversed(contents) if len(row) > 1}
        for label, wanted in (
            (PROJECT, cover.name),
            (NUMBER, cover.number),
            (REVISION, cover.revision.identity),
        ):
            cell = said.get(label)
            found = "" if cell is None else cell.text
            if found != wanted:
                where = CONTENTS if cell is None else f"{CONTENTS}!{cell.name}"
                what = {PROJECT: "project", NUMBER: "proposal", REVISION: "revision"}[label]
                self.note(where, f"wanted a workbook of the {what} {shown(wanted)}; found {shown(found)}")

    def changed(self, inputs: Rows) -> Iterator[ChangedInput]:
        columns = self._columns(inputs)
        if columns is None:
            return
        for row in inputs[1:]:
            key, value, unit, before, subject = (row[columns[head]] for head in HEADS)
            if key.sort == "nothing" and value.sort == "nothing":
                continue
            if (found := self._changed(key, value, unit, before)) is not None:
                is_added = is_spare(found.row) or is_spare_alternate(found.row)
                yield self._named(found, subject) if is_added else found

    def _named(self, found: ChangedInput, subject: Cell) -> ChangedInput:
        """Return a further allowance or alternate with its name."""
        if subject.sort != "text" or subject.text.strip() == found.row.subject:
            where = f"{INPUTS}!{subject.name}"
            wanted = "what the allowance is for" if is_spare(found.row) else "what the alternate is called"
            self.note(where, f"{found.row.key}: wanted {wanted}; found {subject}")
        return replace(found, name=subject.text.strip())

    def _columns(self, inputs: Rows) -> Mapping[str, int] | None:
        heads = {cell.text: n for n, cell in reversed([*enumerate(inputs[0])])} if inputs else {}
        missing = [head for head in HEADS if head not in heads]
        if missing:
            self.note(
                INPUTS, f"wanted columns named {', '.join(HEADS)}; found none named {', '.join(missing)}"
            )
            return None
        return heads

    def _changed(self, key: Cell, value: Cell, unit: Cell, before: Cell) -> ChangedInput | None:
        where = f"{INPUTS}!{value.name}"
        if key.sort != "text":
            self.note(f"{INPUTS}!{key.name}", f"wanted the key of an input; found {key}")
            return None
        first = self.seen.setdefault(key.text, key.name)
        if first != key.name:
            message = f"wanted each input once; found {shown(key.text)} again, first in {first}"
            self.note(f"{INPUTS}!{key.name}", message)
            return None
        row = self.rows.get(key.text)
        if row is not None and is_day(row):
            value, before = _counted(value), _counted(before)
        if value.sort != "number":
            what = "day" if row is not None and is_day(row) else "number"
            self.note(where, f"{shown(key.text)}: wanted a {what} typed in; found {value}")
            return None
        if row is None:
            if before.sort != "number" or before.number != value.number:
                near = nearest(key.text, self.rows)
                meant = f" (did you mean {near}?)" if near else ""
                message = f"wanted the key of an input of this project; found {shown(key.text)}{meant}"
                self.note(f"{INPUTS}!{key.name}", message)
            return None
        return self._of_input(row, value, unit, before)

    def _of_input(self, row: PriceInputRow, value: Cell, unit: Cell, before: Cell) -> ChangedInput | None:
        where = f"{INPUTS}!{value.name}"
        if unit.text != row.unit:
            self.note(f"{INPUTS}!{unit.name}", f"{row.key}: wanted the unit {row.unit}; found {unit}")
            return None
        if before.sort != "number":
            self.note(
                f"{INPUTS}!{before.name}", f"{row.key}: wanted its value of this revision; found {before}"
            )
            return None
        if not -LARGEST < value.number < LARGEST:
            self.note(where, f"{row.key}: wanted a number below {LARGEST:f}; found {value}")
            return None
        typed, was, now = float(value.number), float(before.number), float(row.value)
        self.is_older = self.is_older or was != now
        if typed in (was, now):
            if was != now and typed == was:
                self.moved.append(row.key)
            return None
        if is_day(row) and day_of(value.number) is None:
            self.note(where, f"{row.key}: wanted a day; found {value}")
            return None
        if is_room_count(row):
            message = (
                "wanted 1: a room is left out or repeated in rooms.csv, where racks, switches and reels are "
                f"planned anew; found {value}, which is to look at alone"
            )
            self.note(where, f"{row.key}: {message}")
            return None
        if wrong := _never(row, value):
            self.note(where, f"{row.key}: {wrong}; found {value}")
            return None
        if was != now:
            message = f"wanted an input changed on one side alone; found {value} here"
            self.note(
                where, f"{row.key}: {message}, {row.value:f} in the project, and {before} in both before"
            )
            return None
        times = value.number / row.value if row.value else None
        if times is not None and is_far_off(times) and row.key not in self.confirmed:
            message = f"wanted a figure near {row.value:f}; found {value}, {told_times(times)}"
            self.note(where, f"{row.key}: {message}; {to_confirm(row.key)}")
        return ChangedInput(row, value.number, where)


def _never(row: PriceInputRow, value: Cell) -> str:
    """Return what an input has to be and a value is not, whatever is confirmed; empty where it may be so."""
    least, most = limits(row)
    if value.number < least <= row.value:
        return f"wanted {least:f} or more"
    return "wanted less than 1, which is 100 %" if most <= 1 and value.number > most else ""


def _counted(cell: Cell) -> Cell:
    """Return the cell of a day as the number that it holds."""
    if cell.sort != "date":
        return cell
    return cell._replace(sort="number", text=f"{serial(datetime.date.fromisoformat(cell.text)):f}")
