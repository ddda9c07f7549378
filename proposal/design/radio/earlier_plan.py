"""The plan of carriers and slots as the register keeps it, so that a later revision starts from it."""

from collections.abc import Mapping, Sequence

from proposal.design.numbers.numbering import issued_of
from proposal.design.radio.slot_board import Cell
from proposal.model.project import Numbered
from proposal.standards.dect import SLOT_PAIRS

RADIO = "radio"


def planned_cells(cells: Mapping[str, Sequence[Cell]]) -> dict[str, str]:
    """Return carrier and first slot of each link that is planned, such as 3/4, by the link's identity.

    cells: where a plan puts each link, by its identity.
    A link whose slot pairs are planned one by one has one for each, joined by `+`. Both count from 0.
    """
    return {
        identity: "+".join(f"{cell.carrier}/{cell.slot}" for cell in each) for identity, each in cells.items()
    }


def known_cells(issued: Mapping[str, Numbered], carriers: int) -> dict[str, tuple[Cell, ...]]:
    """Return where an issued plan put each link, by its identity.

    issued: numbers given by issued revisions; carriers: there are.
    """
    found = {}
    for identity, one in issued_of(issued, RADIO).items():
        cells = [_cell(part, carriers) for part in one.number.split("+")]
        if not one.retired and all(cells):
            found[identity.removeprefix(f"{RADIO}/")] = tuple(cell for cell in cells if cell)
    return found


def _cell(text: str, carriers: int) -> Cell | None:
    """Return a carrier and slot as the register has them, None where they cannot be here."""
    carrier, _, slot = text.partition("/")
    if not all(part.isascii() and part.isdecimal() and len(part) < 4 for part in (carrier, slot)):
        return None
    cell = Cell(int(carrier), int(slot))
    return cell if cell.carrier < carriers and cell.slot < SLOT_PAIRS else None
