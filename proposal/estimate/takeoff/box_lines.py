"""Lines of the take-off for boxes behind outlets, with plates for their other gangs, where they are ours."""

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from typing import Literal

from proposal.design.connections.cable import Cable
from proposal.design.connections.cable_ends import OUTLET_PLACES, outlet_location
from proposal.design.design import Design
from proposal.design.equipment.our_duties import BOXES, is_ours
from proposal.design.equipment.placed_devices import Point
from proposal.design.solving.objective import Option, cover
from proposal.estimate.takeoff.lines import TakeoffLine, line, piece_cost
from proposal.field_classes import dataclass
from proposal.model.equipment.materials import Box
from proposal.model.project import Project
from proposal.standards.cable_pulling import least_bend_radius_m

OUTLET_GANGS = 1
"""Gangs that an outlet with its plate covers."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxBehind:
    """A box behind the outlets at the ends of cables.

    cables: with the outlets, one or more.  box: its entry.
    blanks: plates without openings for its other gangs, by model.
    """

    cables: tuple[Cable, ...]
    box: Box
    blanks: Mapping[str, int]

    @property
    def room(self) -> str:
        """Return the tag of the room that its outlets serve."""
        return self.cables[0].room


def box_lines(project: Project, design: Design) -> Iterator[TakeoffLine]:
    """Yield the boxes of each room that are ours to furnish, and their blank plates; nothing by others."""
    counts: dict[tuple[str, str], list[tuple[int, BoxBehind]]] = {}
    for one in boxes_for_us(project, design, "furnish"):
        counts.setdefault((one.room, one.box.model), []).append((1, one))
        for model, number in one.blanks.items():
            counts.setdefault((one.room, model), []).append((number, one))
    for (room, model), needed in counts.items():
        entry = project.library.entry(model)
        count = Decimal(sum(number for number, _ in needed))
        causes = dict.fromkeys(cable.identity for _, one in needed for cable in one.cables)
        yield line(project, "termination", entry, room, count, Decimal(0), causes)


def boxes_for_us(
    project: Project, design: Design, duty: Literal["furnish", "install"]
) -> tuple[BoxBehind, ...]:
    """Return the boxes behind outlets that are ours to furnish or to install, in order of cables.

    duty: the one that is asked for.
    The outlets at one spot of a room share boxes: where they are built in, as deep as their cables need to be
    bent, at least cost with the plates that close gangs which no outlet takes.
    """
    row = BOXES[project.brief.rules.takeoff.price_pathways]
    if not is_ours(project, row, duty):
        return ()
    placed = {device.tag: device for device in (*design.devices, *(one.device for one in design.owners))}
    spots: dict[tuple[str, Point, str], list[Cable]] = {}
    for cable in design.cables:
        if cable.signal != "network" or cable.start_connector != "outlet":
            continue
        device = placed.get(cable.start)
        if cable.model in project.library.cables and device is not None:
            spots.setdefault((cable.room, device.at, outlet_location(device)), []).append(cable)
    found = [
        one
        for (_, _, location), cables in spots.items()
        for one in boxes_at_a_spot(project, tuple(cables), location)
    ]
    order = {cable.identity: n for n, cable in enumerate(design.cables)}
    return tuple(sorted(found, key=lambda one: order[one.cables[0].identity]))


def boxes_at_a_spot(project: Project, cables: tuple[Cable, ...], location: str) -> Sequence[BoxBehind]:
    """Return the least-cost boxes for the outlets at a spot, then the fewest; none where none fits.

    cables: with the outlets.  location: where the outlets are, such as table or wall.
    """
    places = {one.removesuffix(" box") for one in OUTLET_PLACES.get(location, (location,))}
    deepest_m = max(
        least_bend_radius_m(project.library.cables[cable.model].outside_diameter) for cable in cables
    )
    fitting = [
        one
        for _, one in sorted(project.library.boxes.items())
        if one.place in places and one.depth >= deepest_m - 1e-9
    ]
    plates = project.library.plates
    # What the first outlets of the spot cost, with their boxes.
    best: list[tuple[Decimal, tuple[BoxBehind, ...]]] = [(Decimal(0), ())]
    for outlets in range(1, len(cables) + 1):
        ways = []
        for box in fitting:
            for held in range(1, min(box.gangs // OUTLET_GANGS, outlets) + 1):
                blanks = _blanks(project, box.gangs - held * OUTLET_GANGS)
                if blanks is None or len(best) <= outlets - held:
                    continue
                cost = piece_cost(project, box)
                cost += sum(
                    (n * piece_cost(project, plates[model]) for model, n in blanks.items()), Decimal(0)
                )
                before, boxes = best[outlets - held]
                one = BoxBehind(cables=cables[outlets - held : outlets], box=box, blanks=blanks)
                ways.append((before + cost, (*boxes, one)))
        if not ways:
            return ()
        best.append(min(ways, key=lambda way: (way[0], len(way[1]), [one.box.model for one in way[1]])))
    return best[-1][1]


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
