"""The plan of carriers and slots as the register keeps it, so that a later revision starts from it."""

from collections import Counter
from collections.abc import Mapping, Sequence

from proposal.design.numbers.numbering import issued_of
from proposal.design.radio.radio_neighbours import Link
from proposal.design.radio.slot_grid import Cell
from proposal.model.project import Numbered
from proposal.standards.dect import SLOT_PAIRS

RADIO = "radio"


def planned_cells(
    links: Sequence[Link], owner: Sequence[int], cells: Sequence[Cell | None]
) -> dict[str, str]:
    """Return carrier and first slot of each link that is planned, such as 3/4, by the link's identity.

    links: every link; owner: the link of each demand; cells: where the plan puts each demand.
    A link whose slot pairs are planned one by one has one for each, joined by `+`. Both count from 0.
    """
    found: dict[str, list[str]] = {}
    open_ones: set[str] = set()
    for number, cell in zip(owner, cells, strict=True):
        identity = links[number].identity
        if cell is None:
            open_ones.add(identity)
        else:
            found.setdefault(identity, []).append(f"{cell.carrier}/{cell.slot}")
    return {identity: "+".join(each) for identity, each in found.items() if identity not in open_ones}


def known_cells(
    issued: Mapping[str, Numbered], links: Sequence[Link], owner: Sequence[int], carriers: int
) -> tuple[Cell | None, ...]:
    """Return where an issued plan put each demand, None where it did not; empty where no plan is known.

    issued: numbers given by issued revisions.
    links: every link; owner: the link of each demand; carriers: there are.
    """
    planned = {identity: one.number for identity, one in issued_of(issued, RADIO).items() if not one.retired}
    if not planned:
        return ()
    waiting: dict[int, list[Cell | None]] = {}
    for number, count in Counter(owner).items():
        text = planned.get(f"{RADIO}/{links[number].identity}", "")
        cells = [_cell(part, carriers) for part in text.split("+")]
        # A link that takes other slot pairs than before is planned anew.
        waiting[number] = cells if len(cells) == count else [None] * count
    return tuple(waiting[number].pop(0) for number in owner)


def _cell(text: str, carriers: int) -> Cell | None:
    """Return a carrier and slot as the register has them, None where they cannot be here."""
    carrier, _, slot = text.partition("/")
    if not all(part.isascii() and part.isdecimal() and len(part) < 4 for part in (carrier, slot)):
        return None
    cell = Cell(int(carrier), int(slot))
    return cell if cell.carrier < carriers and cell.slot < SLOT_PAIRS else None
