"""What somebody typed into the estimator's workbook beside its inputs: told, as it cannot come back."""

from collections.abc import Iterator, Mapping
from decimal import Decimal

from proposal.exports.workbook.inputs_sheet import INPUTS
from proposal.exports.workbook.recap_sheet import RECAP, TOTAL, TOTAL_COLUMN
from proposal.imports.xlsx_sheets import Cell, Rows, names_of, results_of, sheets_of
from proposal.quantities import formatting
from proposal.quantities.rounding import step_of

_MOST_NAMED = 12


def shown_total(data: bytes, file: str) -> Decimal | None:
    """Return the total with tax that the recap of a workbook shows, as whoever saved it computed it.

    data: of the file.  file: as messages name it.
    None where there is none: nothing computed it, or somebody took the line away.
    """
    found = (row for row in results_of(data, file, RECAP) if row[0].text == TOTAL)
    cell = next((row[TOTAL_COLUMN] for row in found if len(row) > TOTAL_COLUMN), None)
    return cell.number if cell is not None and cell.sort == "number" else None


def told_typed_over(
    data: bytes, file: str, made: bytes, shown: Decimal, total: Decimal, currency: str
) -> Iterator[str]:
    """Yield what is said of a workbook whose total is not what its inputs come to.

    data: of the file.  file: as messages name it.  made: the workbook as it is made of the project.
    shown: total with tax of its recap.  total: what its inputs come to, in the same currency.
    currency: by its code of ISO 4217.
    """
    places = formatting.money_places(currency)
    if abs(shown - total) < step_of(places) / 2:
        return
    come_to = f"its inputs come to {total:.{places}f} {currency}"
    yield f"the workbook shows {shown:.{places}f} {currency} with tax, and {come_to}"
    names = [name for name in names_of(made) if name != INPUTS]
    cells = list(_typed_over(sheets_of(made, file, names), sheets_of(data, file, names)))
    if not cells:
        yield "  nothing else was typed in: it was not computed anew before it was saved"
        return
    yield "  typed in beside the inputs, which no file of the project holds, and so not taken:"
    yield from (f"  {one}" for one in cells[:_MOST_NAMED])
    if len(cells) > _MOST_NAMED:
        yield f"  and {len(cells) - _MOST_NAMED} more cells"


def _typed_over(ours: Mapping[str, Rows], theirs: Mapping[str, Rows]) -> Iterator[str]:
    for name, rows in ours.items():
        found = _by_name(theirs.get(name, ()))
        for row in rows:
            for cell in row:
                other = found.get(cell.name)
                if other is not None and _is_typed(cell, other):
                    was = "a formula" if cell.sort == "formula" else str(cell)
                    yield f"{name}!{cell.name}: {was} became {other}"


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
