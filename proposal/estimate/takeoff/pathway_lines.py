"""Lines of the take-off for pathways: conduit, trays and hooks as the building describes them."""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from proposal.design.equipment.unit_costs import unit_cost
from proposal.design.pathways.fill import PathwayDesign
from proposal.estimate.takeoff.lines import TakeoffLine, amount_of, exact, line
from proposal.model.equipment.entry import Entry
from proposal.model.equipment.materials import Support
from proposal.model.project import Project
from proposal.quantities.rounding import rounded_up


def pathway_lines(project: Project, pathways: Sequence[PathwayDesign]) -> list[TakeoffLine]:
    """Return one line for each pathway: metres of conduit, sleeve or tray, or the hooks along it.

    What is there already is left out. Where others furnish pathways, as the standing exclusions say, they
    are counted and not priced.
    """
    lines = []
    for pathway in pathways:
        entry = _entry(project, pathway)
        if entry is None or project.building.pathways[pathway.tag].existing:
            continue
        quantity = exact(pathway.length_m)
        if isinstance(entry, Support):
            # One at either end and one each spacing between.
            quantity = rounded_up(quantity / exact(entry.spacing), Decimal(1)) + 1
        counted = line(project, "pathways", entry, "", quantity, Decimal(0), (pathway.tag,))
        if not project.brief.rules.takeoff.price_pathways:
            counted = replace(counted, unit_cost=Decimal(0), cost=amount_of(project, quantity, Decimal(0)))
        lines.append(counted)
    return lines


def _entry(project: Project, pathway: PathwayDesign) -> Entry | None:
    """Return what a pathway is made of: by trade size, by width, or the hooks chosen; None where unknown."""
    library = project.library
    fitting: list[tuple[Decimal, str]] = []
    if pathway.kind in ("conduit", "sleeve") and pathway.size:
        fitting = [
            (unit_cost(project, one), code)
            for code, one in library.conduits.items()
            if one.trade_size == pathway.size
        ]
    elif pathway.kind == "tray" and pathway.width_m is not None and pathway.depth_m is not None:
        fitting = [
            (unit_cost(project, one), code)
            for code, one in library.trays.items()
            if one.width >= pathway.width_m - 1e-9 and one.height >= pathway.depth_m - 1e-9
        ]
    elif pathway.kind == "hooks" and pathway.size in library.supports:
        return library.supports[pathway.size]
    return library.entry(min(fitting)[1]) if fitting else None
