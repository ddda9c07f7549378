"""Sleeves for cables that pass a wall or a floor without tubing or tray, sized by the fill of conduits."""

from collections.abc import Sequence
from typing import Literal

from proposal.design.pathways.fill import LOUDSPEAKER_LINE, PathwayDesign, chosen_tubing
from proposal.field_classes import dataclass

Load = Literal["cable", "loudspeaker line"]
SLEEVED_KINDS = ("hooks", "riser shaft")
"""Kinds of pathways that hold cables openly, so that an opening takes sleeves."""


@dataclass(frozen=True, slots=True)
class Sleeve:
    """One sleeve.

    size: its trade size.  cables: how many pass.  load: what they are; loudspeaker lines keep to their own.
    """

    size: str
    cables: int
    load: Load


def sleeves_of(pathway: PathwayDesign) -> tuple[Sleeve, ...]:
    """Return the sleeves of one crossing of a pathway: none where it is tubing or a tray, which pass whole.

    pathway: with its cables, the owner's among them.
    """
    if pathway.kind not in SLEEVED_KINDS:
        return ()
    lines_m = [one.diameter_m for one in pathway.cables if one.signal == LOUDSPEAKER_LINE]
    others_m = [one.diameter_m for one in pathway.cables if one.signal != LOUDSPEAKER_LINE]
    return (
        *sleeves_for((*pathway.owner_cables_m, *others_m), "cable"),
        *sleeves_for(lines_m, "loudspeaker line"),
    )


def sleeves_for(diameters_m: Sequence[float], load: Load) -> tuple[Sleeve, ...]:
    """Return the fewest sleeves that hold some cables, each of the smallest trade size for its share.

    diameters_m: outside diameter of each cable, m; the widest are shared out first, in turn.
    load: what they are.
    """
    widest_first = sorted(diameters_m, reverse=True)
    for count in range(1, len(widest_first) + 1):
        shares = [widest_first[first::count] for first in range(count)]
        sizes = [chosen_tubing(share) for share in shares]
        if all(sizes):
            return tuple(
                Sleeve(size.trade_size, len(share), load)
                for size, share in zip(sizes, shares, strict=True)
                if size is not None
            )
    return ()
