"""Lines of the take-off for pathways: conduit with its fittings, trays with their hangers, and hooks."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from decimal import Decimal

from proposal.design.equipment.unit_costs import unit_cost
from proposal.design.pathways.fill import PathwayDesign
from proposal.estimate.takeoff.lines import TakeoffLine, amount_of, exact, line
from proposal.model.equipment.entry import Entry
from proposal.model.project import Project

SECTION = "pathways"
_Wanted = tuple[Entry, Decimal]


def pathway_lines(project: Project, pathways: Sequence[PathwayDesign]) -> list[TakeoffLine]:
    """Return the lines of each pathway: its metres with fittings or hangers, or the hooks along it.

    What is there already is left out. Where others furnish pathways, as the standing exclusions say, they
    are counted and not priced.
    """
    lines = []
    for pathway in pathways_to_make(project, pathways):
        for entry, quantity in _wanted(project, pathway):
            counted = line(project, SECTION, entry, "", quantity, Decimal(0), (pathway.tag,))
            if is_for_others(project, SECTION):
                counted = replace(
                    counted, unit_cost=Decimal(0), cost=amount_of(project, quantity, Decimal(0))
                )
            lines.append(counted)
    return lines


def is_for_others(project: Project, section: str) -> bool:
    """Say whether others furnish what stands in a section of the take-off: it is counted at no cost.

    section: of the take-off.
    """
    return section == SECTION and not project.brief.rules.takeoff.price_pathways


def pathways_to_make(project: Project, pathways: Sequence[PathwayDesign]) -> list[PathwayDesign]:
    """Return the pathways that are not there yet."""
    return [one for one in pathways if not project.building.pathways[one.tag].existing]


def hooks_along(project: Project, pathway: PathwayDesign) -> int:
    """Return how many hooks a pathway of hooks has: one at either end and one each spacing between."""
    entry = project.library.supports.get(pathway.size) if pathway.kind == "hooks" else None
    return _at_spacing(pathway.length_m, entry.spacing) if entry else 0


def _at_spacing(length_m: float, spacing_m: float) -> int:
    return math.ceil(length_m / spacing_m - 1e-9) + 1


def _wanted(project: Project, pathway: PathwayDesign) -> Iterable[_Wanted]:
    """Yield what a pathway is made of, and how much of each; nothing where that is not known."""
    library = project.library
    metres = exact(pathway.length_m)
    if pathway.kind in ("conduit", "sleeve") and pathway.size:
        conduit = _cheapest(
            project, (one for one in library.conduits.values() if one.trade_size == pathway.size)
        )
        if conduit is not None:
            yield conduit, metres
            if pathway.kind == "conduit":
                yield from _fittings(project, pathway, library.conduits[conduit.model].stick)
    elif pathway.kind == "tray" and pathway.size in library.trays:
        tray = library.trays[pathway.size]
        yield tray, metres
        hangers = project.brief.rules.takeoff.tray_hangers * _at_spacing(
            pathway.length_m, tray.support_spacing
        )
        for form in ("threaded rod", "beam clamp"):
            part = _cheapest(project, (one for one in library.supports.values() if one.form == form))
            if part is not None and hangers:
                yield part, Decimal(hangers)
    elif hooks := hooks_along(project, pathway):
        yield library.supports[pathway.size], Decimal(hooks)


def _fittings(project: Project, pathway: PathwayDesign, stick_m: float) -> Iterable[_Wanted]:
    """Yield the elbows of a conduit, one a bend, and the couplings between all its pieces.

    Its bends stand at equal distances, as where cables are pulled through it; each straight part between
    them is made of whole sticks, the last of them cut.
    """
    bends = len(project.building.pathways[pathway.tag].bends)
    straight = math.ceil(pathway.length_m / (bends + 1) / stick_m - 1e-9) * (bends + 1)
    for form, count in (("elbow", bends), ("coupling", straight + bends - 1)):
        fitting = _cheapest(
            project,
            (
                one
                for one in project.library.conduit_fittings.values()
                if one.form == form and one.trade_size == pathway.size
            ),
        )
        if fitting is not None and count:
            yield fitting, Decimal(count)


def _cheapest(project: Project, entries: Iterable[Entry]) -> Entry | None:
    """Return the entry with the least cost, by code where some cost the same; None where there is none."""
    return min(entries, key=lambda one: (unit_cost(project, one), one.model), default=None)
