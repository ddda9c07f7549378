"""What somebody typed into the estimator's workbook beside its inputs: told or refused, never taken."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from proposal.errors import InputError, Place, Problem
from proposal.exports.workbook.book import CONTENTS, STATE
from proposal.exports.workbook.inputs_sheet import INPUTS, KEY, NAME
from proposal.exports.workbook.recap_sheet import RECAP, TOTAL, TOTAL_COLUMN
from proposal.imports.xlsx_sheets import Cell, Rows, names_of, results_of, sheets_of
from proposal.quantities import formatting
from proposal.quantities.rounding import step_of

_MOST_NAMED = 12
_ROOM_COUNT = "in_rooms_"
"""How the names of the inputs begin that say how many times a room counts."""
_COUNTED = ("Quantity", "Needed", "Bought", "Units", "Ends", "Cables")
_LENGTHS = ("On plan", "Rises", "Slack", "Terminating", "Cut length")
_COUNTED_IN = (
    "a quantity is counted from the design, as drawings and deliveries are: change rooms.csv, rooms/ or "
    "room_types/ (devices, spare_microphones), waste as rules.takeoff.spoilage among the inputs, or add a "
    "further allowance"
)
_MEASURED_IN = (
    "a length is measured along the drawn way: change way or length of the cable under cables in fixed.yaml"
)
_COMPUTED = "it is computed from the inputs and follows them"
_PLANNED = "the program alone plans it: change the inputs, import them, and export again"


@dataclass(frozen=True, slots=True)
class Typed:
    """A cell that holds what somebody typed, where the workbook has a formula or a value of its own.

    cell: such as `Take-off!H5`.  field: head of its column.  of: what its row is of, as its first cell says.
    was, now: as messages say them.  why: why it is no input, and where it is changed instead.
    is_quantity: whether it says how much there is of something.
    """

    cell: str
    field: str
    of: str
    was: str
    now: str
    why: str
    is_quantity: bool

    def problem(self, file: str) -> Problem:
        """Return why it is refused.

        file: as messages name it.
        """
        wanted = "what the design counts" if self.was == "a formula" else self.was
        message = f"{self.field} of {self.of}: wanted {wanted}; found {self.now}; {self.why}"
        return Problem(Place(file), self.cell, message)

    def __str__(self) -> str:
        """Return the line that tells it."""
        about = f", {self.field} of {self.of}" if self.field and self.of else ""
        return f"{self.cell}{about}: {self.was} became {self.now}; {self.why}"


def shown_total(data: bytes, file: str) -> Decimal | None:
    """Return the total with tax that the recap of a workbook shows, as whoever saved it computed it.

    data: of the file.  file: as messages name it.
    None where there is none: nothing computed it, or somebody took the line away.
    """
    found = (row for row in results_of(data, file, RECAP) if row[0].text == TOTAL)
    cell = next((row[TOTAL_COLUMN] for row in found if len(row) > TOTAL_COLUMN), None)
    return cell.number if cell is not None and cell.sort == "number" else None


def agrees(shown: Decimal | None, total: Decimal, currency: str) -> bool:
    """Say whether a workbook shows the total that its inputs come to.

    shown: total with tax of its recap, if any.  total: what they come to.  currency: by its code of ISO 4217.
    """
    return shown is not None and abs(shown - total) < step_of(formatting.money_places(currency)) / 2


def told_totals_apart(shown: Decimal | None, total: Decimal, currency: str) -> str:
    """Return what is said of a workbook whose total is not what its inputs come to.

    shown, total, currency: as of `agrees`.
    """
    places = formatting.money_places(currency)
    said = "no total that was computed" if shown is None else f"{shown:.{places}f} {currency} with tax"
    return f"the workbook shows {said}, and its inputs come to {total:.{places}f} {currency}"


NOT_COMPUTED = (
    "  nothing else was typed in: it was not computed anew before it was saved; its inputs are read all the "
    "same, and a spreadsheet program shows what they come to once it has opened and computed it"
)
OF_ANOTHER_STATE = (
    "  it was made of another state of the project, or by another version of the program, so that cells "
    "cannot be compared one by one: its inputs alone are read; export it again to see the total of today"
)


def told_typed(cells: Sequence[Typed]) -> Iterator[str]:
    """Yield what is said of cells that were typed over, and are not taken."""
    if not cells:
        yield NOT_COMPUTED
        return
    yield "  typed in beside the inputs, which no file of the project holds, and so not taken:"
    yield from (f"  {one}" for one in cells[:_MOST_NAMED])
    if len(cells) > _MOST_NAMED:
        yield f"  and {len(cells) - _MOST_NAMED} more cells"


def told_overwritten(cells: Sequence[Typed]) -> Iterator[str]:
    """Yield what is said of numbers in place of formulas in a workbook of another state."""
    if cells:
        yield "  typed over formulas, and so not taken:"
        yield from (f"  {one}" for one in cells[:_MOST_NAMED])
    if len(cells) > _MOST_NAMED:
        yield f"  and {len(cells) - _MOST_NAMED} more cells"


def refuse_quantities(cells: Sequence[Typed], file: str) -> None:
    """Raise InputError where quantities are among the cells that were typed over.

    file: as messages name it.
    """
    found = [one for one in cells if one.is_quantity]
    problems = [one.problem(file) for one in found[:_MOST_NAMED]]
    if len(found) > _MOST_NAMED:
        message = f"wanted no quantity typed over; found {len(found) - _MOST_NAMED} more"
        problems.append(Problem(Place(file), "", message))
    if problems:
        raise InputError(problems)


def typed_over(data: bytes, file: str, made: bytes) -> tuple[Typed, ...] | None:
    """Return the cells of a workbook that hold something else than the workbook that was sent.

    data: of the file.  file: as messages name it.  made: the workbook as it is made of the project.
    None where the two cannot be compared, as they have other inputs.
    """
    held = set(names_of(data))
    names = [name for name in names_of(made) if name in held]
    ours, theirs = sheets_of(made, file, names), sheets_of(data, file, names)
    keys = _keys(ours.get(INPUTS, ()))
    if keys != _keys(theirs.get(INPUTS, ())):
        return None
    return tuple(
        found
        for name, rows in ours.items()
        if name != INPUTS
        for found in _of_sheet(name, rows, _by_name(theirs.get(name, ())), keys)
    )


def is_same_state(data: bytes, file: str, made: bytes) -> bool:
    """Say whether a workbook holds what one that is made now would, but for what was typed into it.

    data, file, made: as `typed_over` takes them.
    """
    state = _state(sheets_of(data, file, [CONTENTS]))
    return bool(state) and state == _state(sheets_of(made, file, [CONTENTS]))


def _state(sheets: Mapping[str, Rows]) -> str:
    rows = sheets.get(CONTENTS, ())
    return next((row[1].text for row in rows if len(row) > 1 and row[0].text == STATE), "")


def overwritten(data: bytes, file: str, made: bytes) -> tuple[Typed, ...]:
    """Return the cells of a workbook of another state that hold a number where a formula belongs.

    data, file, made: as `typed_over` takes them; rows may be others, columns are known by their heads. A
    formula belongs into a column of formulas alone, and where the same row is counted by its room in the
    workbook made now.
    """
    names = [name for name in names_of(made) if name != INPUTS]
    ours, theirs = sheets_of(made, file, names), sheets_of(data, file, names)
    found: list[Typed] = []
    for name, rows in ours.items():
        computed = _computed_columns(theirs.get(name, ()), 0.5)
        if not computed:
            continue
        formulas, same = _computed_columns(rows), _counted_by_row(rows)
        heads = {cell.text: n for n, cell in enumerate(theirs[name][0])}
        for row in theirs[name][1:]:
            here = same.get(_row_name(row), {})
            for head in computed:
                cell = row[heads[head]] if heads[head] < len(row) else None
                formula = here.get(head, formulas.get(head))
                if cell is not None and cell.sort == "number" and formula is not None:
                    found.append(_typed(name, head, row, formula, cell, {}))
    return tuple(found)


def _row_name(row: Sequence[Cell]) -> tuple[str, ...]:
    """Return by what a row of one workbook is known in another: all that it says in words."""
    return tuple(cell.text for cell in row if cell.sort == "text")


def _counted_by_row(rows: Rows) -> dict[tuple[str, ...], dict[str, Cell]]:
    """Return the formulas that count a room, row by row, by the heads of their columns; none of rows alike.

    Every workbook has them, whatever its state; what other formulas stand in a row may differ.
    """
    found: dict[tuple[str, ...], dict[str, Cell]] = {}
    for row in rows[1:]:
        name = _row_name(row)
        cells = zip(rows[0], row, strict=False)
        counted = ((head.text, cell) for head, cell in cells if cell.sort == "formula")
        formulas = {head: cell for head, cell in counted if _ROOM_COUNT in cell.text}
        found[name] = {} if name in found or not name else formulas
    return found


def _computed_columns(rows: Rows, share: float = 1.0) -> dict[str, Cell]:
    """Return the heads of columns that hold formulas, each with the first of them.

    share: how much of what they hold has to be formulas at least, 0 to 1.
    """
    found: dict[str, Cell] = {}
    for n, head in enumerate(rows[0] if rows else ()):
        held = [row[n] for row in rows[1:] if n < len(row) and row[n].sort != "nothing"]
        formulas = [cell for cell in held if cell.sort == "formula"]
        if head.sort == "text" and len(formulas) > 1 and len(formulas) >= share * len(held):
            found[head.text] = formulas[0]
    return found


def _keys(inputs: Rows) -> Mapping[str, str]:
    """Return the keys of inputs by the names of their cells."""
    if not inputs:
        return {}
    heads = [cell.text for cell in inputs[0]]
    if KEY not in heads or NAME not in heads:
        return {}
    key, name = heads.index(KEY), heads.index(NAME)
    rows = (row for row in inputs[1:] if len(row) > max(key, name) and row[key].text)
    return {row[name].text: row[key].text for row in rows}


def _of_sheet(sheet: str, rows: Rows, found: Mapping[str, Cell], keys: Mapping[str, str]) -> Iterator[Typed]:
    heads = [cell.text for cell in rows[0]] if rows else []
    for row in rows:
        for n, cell in enumerate(row):
            other = found.get(cell.name)
            if other is None or not _is_typed(cell, other):
                continue
            head = heads[n] if n < len(heads) else ""
            yield _typed(sheet, head, row, cell, other, keys)


def _typed(
    sheet: str, head: str, row: Sequence[Cell], ours: Cell, theirs: Cell, keys: Mapping[str, str]
) -> Typed:
    why, is_quantity = _why(ours, head, keys)
    return Typed(
        cell=f"{sheet}!{theirs.name}",
        field=head,
        of=next((one.text for one in row if one.sort == "text"), ""),
        was="a formula" if ours.sort == "formula" else str(ours),
        now=str(theirs),
        why=why,
        is_quantity=is_quantity,
    )


def _why(cell: Cell, head: str, keys: Mapping[str, str]) -> tuple[str, bool]:
    """Return why a cell is no input and where it is changed instead, and whether it is a quantity."""
    if head.startswith(_LENGTHS):
        return _MEASURED_IN, True
    if head.partition(" (")[0] in _COUNTED:
        return _COUNTED_IN, True
    named = cell.text.removeprefix("=").split("*") if cell.sort == "formula" else []
    if named and all(one in keys for one in named):
        return f"change {' or '.join(keys[one] for one in named)} on the sheet {INPUTS}", False
    return (_COMPUTED if cell.sort == "formula" else _PLANNED), False


def _by_name(rows: Rows) -> Mapping[str, Cell]:
    return {cell.name: cell for row in rows for cell in row}


def _is_typed(ours: Cell, theirs: Cell) -> bool:
    if ours.sort == "formula":
        return theirs.sort != "formula"
    if ours.sort != "number":
        return False
    if theirs.sort != "number":
        return True
    # Programs keep fifteen or seventeen digits of a number.
    return abs(ours.number - theirs.number) > Decimal("1e-12") * max(abs(ours.number), Decimal(1000))
