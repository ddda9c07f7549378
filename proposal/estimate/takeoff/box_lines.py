"""Lines of the take-off for boxes behind outlets, with plates for their other gangs, where they are ours."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from proposal.design.connections.cable_ends import OUTLET_PLACES, outlet_location
from proposal.design.connections.data_cables import Cable
from proposal.design.design import Design
from proposal.design.equipment.our_duties import BOXES, is_ours
from proposal.design.solving.objective import Option, cover
from proposal.estimate.takeoff.lines import TakeoffLine, line, piece_cost
from proposal.model.equipment.materials import Box, DataCable
from proposal.model.project import Project
from proposal.standards.cable_pulling import least_bend_radius_m

OUTLET_GANGS = 1
"""Gangs that an outlet with its plate covers."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxBehind:
    """The box behind the outlet at the end of a cable.

    cable: with the outlet.  box: its entry.  blanks: plates without openings for its other gangs, by model.
    """

    cable: Cable
    box: Box
    blanks: Mapping[str, int]


def box_lines(project: Project, design: Design) -> Iterator[TakeoffLine]:
    """Yield the boxes of each room that are ours to furnish, and their blank plates; nothing by others."""
    counts: dict[tuple[str, str], list[str]] = {}
    for one in boxes_for_us(project, design, "furnish"):
        counts.setdefault((one.cable.room, one.box.model), []).append(one.cable.identity)
        for model, number in one.blanks.items():
            counts.setdefault((one.cable.room, model), []).extend([one.cable.identity] * number)
    for (room, model), causes in counts.items():
        entry = project.library.entry(model)
        count = Decimal(len(causes))
        yield line(project, "termination", entry, room, count, Decimal(0), dict.fromkeys(causes))


def boxes_for_us(
    project: Project, design: Design, duty: Literal["furnish", "install"]
) -> tuple[BoxBehind, ...]:
    """Return the boxes behind outlets that are ours to furnish or to install, in order of cables.

    duty: the one that is asked for.
    One outlet has one box: where it is built in, as deep as the cable needs to be bent, at least cost with
    the plates that close its other gangs.
    """
    row = BOXES[project.brief.rules.takeoff.price_pathways]
    if not is_ours(project, row, duty):
        return ()
    placed = {device.tag: device for device in design.devices}
    found = []
    for cable in design.cables:
        entry = project.library.cables.get(cable.model)
        if cable.signal != "network" or cable.start_connector != "outlet" or entry is None:
            continue
        device = placed.get(cable.start)
        chosen = _box(project, entry, outlet_location(device) if device else "")
        if chosen is not None:
            found.append(BoxBehind(cable=cable, box=chosen[0], blanks=chosen[1]))
    return tuple(found)


def _box(project: Project, cable: DataCable, location: str) -> tuple[Box, Mapping[str, int]] | None:
    """Return the least-cost box for an outlet, with the plates of its other gangs; None where none fits."""
    places = {one.removesuffix(" box") for one in OUTLET_PLACES.get(location, (location,))}
    fitting = []
    for code, one in sorted(project.library.boxes.items()):
        blanks = _blanks(project, one.gangs - OUTLET_GANGS)
        deep = one.depth >= least_bend_radius_m(cable.outside_diameter) - 1e-9
        if one.place not in places or not deep or blanks is None:
            continue
        plates = project.library.plates
        cost = piece_cost(project, one)
        cost += sum((n * piece_cost(project, plates[model]) for model, n in blanks.items()), Decimal(0))
        fitting.append((cost, code, one, blanks))
    if not fitting:
        return None
    _, _, box, plates_of_it = min(fitting, key=lambda each: each[:2])
    return box, plates_of_it


def _blanks(project: Project, gangs: int) -> Mapping[str, int] | None:
    """Return the least-cost plates without openings for so many gangs and no more; None without any."""
    if not gangs:
        return {}
    options = tuple(
        Option(code, piece_cost(project, one), (one.gangs,))
        for code, one in project.library.plates.items()
        if one.openings == 0 and one.gangs <= gangs
    )
    chosen = cover(options, (gangs,))
    exact = chosen and sum(project.library.plates[code].gangs * count for code, count in chosen) == gangs
    return dict(chosen) if chosen and exact else None
