"""What would do where a pathway does not: sizes, hooks, distances, with amounts."""

import math

from proposal.design.connections.cable import Cable
from proposal.design.pathways.fill import PathwayDesign, chosen_tubing, fitting_supports
from proposal.design.pathways.fill import jams as jams_at
from proposal.model.pathways.pathways import ROUND_KINDS
from proposal.model.project import Project
from proposal.quantities.formatting import listed, quantity
from proposal.quantities.units import in_units
from proposal.review.cable_remedies import MOST_NAMED
from proposal.review.finding import length_words
from proposal.standards.cable_pulling import (
    GRAVITY_M_S2,
)
from proposal.standards.nfpa70 import (
    JAMMING_CABLES,
    TUBING,
    conduit_fill,
    jam_ratio,
    permitted_fill,
)


def short_words(project: Project, length_m: float) -> str:
    """Return a short length for a sentence that no rounding makes shorter, in the project's units.

    length_m: m.
    """
    value, unit = in_units(length_m, "short_length", project.brief.units)
    return f"{math.ceil(value * 10 - 1e-6) / 10:g} {unit}"


def next_size(one: PathwayDesign) -> str:
    """Return the size that would hold one more cable of the widest type."""
    if one.kind not in ROUND_KINDS or one.tubing is None:
        return "Take a larger one where cables may be added later."
    diameters_m = (*one.diameters_m, max(one.diameters_m))
    larger = chosen_tubing(diameters_m)
    if larger is None:
        return "Lay another conduit beside it where cables may be added later."
    return f"Take trade size {larger.trade_size} where cables may be added later."


def stronger_hooks(project: Project, one: PathwayDesign, hung_n: float) -> str:
    """Return what would carry the cables of overloaded hooks.

    hung_n: what hangs on one now, N.
    """
    fill = project.brief.rules.pathways.tray_fill
    carrying = fitting_supports(project, project.building.pathways[one.tag], one.cables, fill)
    if carrying:
        return f"Use {' or '.join(carrying[:MOST_NAMED])}, strong enough for them, or a tray."
    kg = hung_n / GRAVITY_M_S2
    mass, unit = in_units(math.ceil(kg * 10) / 10, "mass", project.brief.units)
    return (
        f"Add hooks to the library that carry {mass:.3g} {unit} or more each at this spacing, or use a tray."
    )


def second_tray(one: PathwayDesign, hung_n: float, carried_n: float) -> str:
    """Return how many trays would carry the cables of an overloaded one.

    hung_n, carried_n: what lies on a metre of it and what that carries, N.
    """
    count = math.ceil(hung_n / carried_n - 1e-9)
    return f"Lay the cables on {count} trays like {one.size}, or add a stronger one to the library."


def size_without_jam(one: PathwayDesign) -> str:
    """Return in which trade size the three cables of a conduit do not jam."""
    free = chosen_tubing(one.diameters_m)
    if free is None or jams_at(jam_ratio(free.internal_diameter_m, sum(one.diameters_m) / JAMMING_CABLES)):
        return "Pull one cable by itself."
    return f"Take trade size {free.trade_size}, or pull one cable by itself."


def pathway_beside(one: PathwayDesign) -> str:
    """Return what would hold the cables of an overfull pathway that is there already: one more beside it."""
    if one.kind not in ROUND_KINDS or one.tubing is None:
        return "It is there already: take cables by another pathway, or add one beside it."
    area_m2, before = one.tubing.area_m2, len(one.owner_cables_m)
    most = next(
        (
            n
            for n in range(len(one.cables) - 1, 0, -1)
            if conduit_fill(one.diameters_m[: before + n], area_m2) <= permitted_fill(before + n)
        ),
        0,
    )
    rest_m = one.diameters_m[before + most :]
    added = chosen_tubing(rest_m)
    size = f"one of trade size {added.trade_size}" if added else "a tray"
    return (
        f"It is there already and holds {most}: take the other {len(rest_m)} by another pathway, or add "
        f"{size} beside it for them."
    )


def larger_pathway(one: PathwayDesign) -> str:
    """Return what would hold the cables of an overfull pathway."""
    if one.kind not in ROUND_KINDS:
        return "Use a larger one, or take cables by another route."
    allowed = permitted_fill(len(one.diameters_m))
    larger = next(
        (
            tubing.trade_size
            for tubing in TUBING.values()
            if conduit_fill(one.diameters_m, tubing.area_m2) <= allowed
        ),
        None,
    )
    if larger:
        return f"Use trade size {larger}."
    largest = list(TUBING.values())[-1]
    count = 2
    while conduit_fill(one.diameters_m, largest.area_m2 * count) > allowed:
        count += 1
    return f"Lead the cables through {count} conduits of trade size {largest.trade_size}, or a tray."


def pathway_there(project: Project, cable: Cable, most_m: float) -> str:
    """Return between which points a pathway would have to lie, so that less of a cable lies outside.

    cable: that runs far outside pathways.  most_m: may lie outside without a word.
    The longest level runs outside are taken, as few as are enough.
    """
    left_m = cable.route.outside_m
    levels = [
        (one, one.level)
        for one in cable.route.stretches
        if one.level and not one.pathway and one.length_m > 0
    ]
    told = []
    for stretch, (start, end) in sorted(levels, key=lambda one: -one[0].length_m):
        if left_m <= most_m:
            break
        left_m -= stretch.length_m
        told.append(
            f"from {_at(project, start)} to {_at(project, end)} on storey {_storey_below(project, start[2])} "
            f"({_length(project, stretch.length_m)} along x and y)"
        )
    if not told:
        return "What lies outside goes straight up or down: plan its supports in the risers of the room."
    return (
        f"Describe the pathway that the cables take {listed(told)}, or a new one there: "
        f"{_length(project, left_m)} would be left outside."
    )


def _at(project: Project, point: tuple[float, float, float]) -> str:
    return ", ".join(length_words(one, project.brief.units) for one in point[:2])


def _length(project: Project, length_m: float) -> str:
    return quantity(length_m, "length", project.brief.units, project.brief.locale)


def _storey_below(project: Project, height_m: float) -> str:
    """Return the storey in which something lies at a height above datum."""
    storeys = project.building.storeys
    below = [tag for tag, one in storeys.items() if one.height <= height_m]
    return max(below or storeys, key=lambda tag: storeys[tag].height)
