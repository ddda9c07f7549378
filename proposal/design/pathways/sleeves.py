"""Sleeves for cables that pass a wall or a floor without tubing or tray, sized by the fill of conduits."""

from collections.abc import Iterable, Sequence
from typing import Literal

from proposal.design.pathways.fill import LOUDSPEAKER_LINE, PathwayDesign, chosen_tubing
from proposal.field_classes import dataclass
from proposal.model.project import Project
from proposal.quantities.formatting import count_of
from proposal.standards.iec61386 import CONDUITS
from proposal.standards.nfpa70 import TUBING, Tubing

Load = Literal["cable", "loudspeaker line"]
SLEEVED_KINDS = ("hooks", "riser shaft")
"""Kinds of pathways that hold cables openly, so that an opening takes sleeves."""


@dataclass(frozen=True, slots=True)
class Sleeve:
    """One sleeve.

    size: as the place's trade names it.  cables: how many pass.
    load: what they are; loudspeaker lines keep to their own.
    """

    size: str
    cables: int
    load: Load

    @property
    def words(self) -> str:
        """Return its size and what passes in it."""
        return f"{self.size} for {count_of(self.cables, self.load)}"


def sizes_sold(project: Project) -> tuple[Tubing, ...]:
    """Return the sizes of conduit that the place of a project sells, the smallest first."""
    return tuple((TUBING if project.brief.region == "north_america" else CONDUITS).values())


def sleeves_of(pathway: PathwayDesign, sizes: Iterable[Tubing]) -> tuple[Sleeve, ...]:
    """Return the sleeves of one crossing of a pathway: none where it is tubing or a tray, which pass whole.

    pathway: with its cables, the owner's among them.  sizes: that are sold, the smallest first.
    """
    if pathway.kind not in SLEEVED_KINDS:
        return ()
    lines_m = [one.diameter_m for one in pathway.cables if one.signal == LOUDSPEAKER_LINE]
    others_m = [one.diameter_m for one in pathway.cables if one.signal != LOUDSPEAKER_LINE]
    return (
        *sleeves_for((*pathway.owner_cables_m, *others_m), "cable", sizes),
        *sleeves_for(lines_m, "loudspeaker line", sizes),
    )


def sleeves_for(diameters_m: Sequence[float], load: Load, sizes: Iterable[Tubing]) -> tuple[Sleeve, ...]:
    """Return the fewest sleeves that hold some cables, each of the smallest size for its share.

    diameters_m: outside diameter of each cable, m; the widest are shared out first, in turn.
    load: what they are.  sizes: that are sold, the smallest first.
    """
    sold = tuple(sizes)
    widest_first = sorted(diameters_m, reverse=True)
    for count in range(1, len(widest_first) + 1):
        shares = [widest_first[first::count] for first in range(count)]
        chosen = [chosen_tubing(share, sold) for share in shares]
        if all(chosen):
            return tuple(
                Sleeve(size.trade_size, len(share), load)
                for size, share in zip(chosen, shares, strict=True)
                if size is not None
            )
    return ()
