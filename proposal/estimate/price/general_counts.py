"""How many there are of what general conditions are counted by: rooms, storeys, deliveries, lifts, trades."""

from collections.abc import Mapping, Sequence, Set

from proposal.estimate.labour.labour import LabourEstimate
from proposal.estimate.price.markup_and_margin import PriceLine
from proposal.estimate.takeoff.pathway_lines import is_for_others
from proposal.estimate.takeoff.purchases import SPARE, Purchase
from proposal.model.equipment.price_origins import origin_of
from proposal.model.labour.labour import SITE_PHASES
from proposal.model.price.commercial import CountedBy
from proposal.model.project import Project

_AT_HEIGHT = "height of the work"
"""What the addition is called that lines of work get high up."""


def general_counts(
    project: Project, lines: Sequence[PriceLine], labour: LabourEstimate, purchases: Sequence[Purchase]
) -> Mapping[CountedBy, int]:
    """Return how many there are of each.

    lines: of equipment and materials, which suppliers deliver.
    labour: of the project.  purchases: what is bought in wholes, reels of several suppliers among it.
    None of it follows from a price or from hours, so that it stays while these are changed.
    """
    others = {one.model for one in purchases if is_for_others(project, one.section)}
    bought = {line.item for line in lines if line.group in ("equipment", "materials")} - others
    high = {
        line.room or line.storey
        for line in labour.lines
        if any(name == _AT_HEIGHT for name, _ in line.additions)
    }
    on_site = {(row.trade) for row in labour.summary if row.phase in SITE_PHASES}
    return {
        "room": len(project.planned_rooms),
        "storey": len({room.storey for room in project.planned_rooms.values()}),
        "delivery": len(_suppliers(project, bought, purchases)),
        "room at height": len(high),
        "trade on site": len(on_site),
    }


def _suppliers(project: Project, models: Set[str], purchases: Sequence[Purchase]) -> Set[str]:
    """Return who delivers: of what is bought in wholes who sells each of these, else who sells the entry."""
    sold: dict[str, set[str]] = {model: set() for model in models}
    for one in purchases:
        if one.model in sold:
            sold[one.model].add(one.sold_as.removesuffix(SPARE))
    return {
        origin_of(project.library.entry(model), name).supplier
        for model, names in sold.items()
        for name in names or {""}
    }
