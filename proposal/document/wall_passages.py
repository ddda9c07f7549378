"""Openings in the walls of a storey: of pathways, and of cables on their way to and from pathways."""

from collections.abc import Iterable
from itertools import pairwise

from proposal.document.document import Document
from proposal.document.rows.cabling import CableRow
from proposal.document.rows.pathways import PathwayRow, PenetrationRow
from proposal.quantities.level_ways import level_parts
from proposal.quantities.wall_openings import (
    CableWay,
    Passing,
    Point,
    WallOpening,
    onward_along,
    wall_openings,
)

_STRAIGHT_M = 0.01


def openings_on(document: Document, storey: str) -> tuple[WallOpening, ...]:
    """Return the openings in walls of rooms and in walls that are given on a storey."""
    rooms = {room.tag: room.outline for room in document.rooms if room.storey == storey}
    walls = {tag: points for row in document.storeys if row.tag == storey for tag, _, points in row.walls}
    walls |= {
        row.tag: (*row.outline, row.outline[0])
        for row in document.equipment_rooms
        if row.storey == storey and row.outline
    }
    return wall_openings(rooms, walls, (*_pathways(document, storey), *_runs(document, storey)))


def shared_opening_m(document: Document, storey: str) -> float:
    """Return how near cables are led to one opening in a wall of a storey, m."""
    return next((row.shared_opening_m for row in document.storeys if row.tag == storey), 0.0)


def _pathways(document: Document, storey: str) -> Iterable[Passing]:
    nodes = {node.tag: node for node in document.nodes}
    for row in document.pathways:
        ends = [nodes[tag] for tag in (row.from_node, row.to_node) if tag in nodes]
        if not makes_openings(row):
            continue
        if len(ends) == 2 and all(node.storey == storey for node in ends) and row.cables:
            heights = ends[0].height_m, ends[1].height_m
            for part in level_parts((ends[0].at, ends[1].at), heights, row.drops_at):
                yield Passing(row.tag, part.points, part.height_m)


def makes_openings(row: PathwayRow) -> bool:
    """Return whether a pathway asks for openings at known places: it is new, and goes straight."""
    return row.straight and not row.existing


def _runs(document: Document, storey: str) -> Iterable[Passing]:
    at = {device.tag: device.at for device in document.devices}
    led_m = shared_opening_m(document, storey)
    onward = onward_of(document)
    for cable in document.cables:
        start, end = at.get(cable.from_tag), at.get(cable.to_tag)
        if start is None or end is None:
            continue
        yield from CableWay(
            name=cable.identity,
            ends=(start, end),
            storeys=(cable.from_storey, cable.to_storey),
            at_walls=(cable.rises_at, cable.comes_down_at),
            turns=cable.turns,
            heights_m=(cable.first_run_m, cable.last_run_m),
            onward=onward[cable.identity],
            led_m=led_m,
        ).runs_on(storey)


def onward_of(document: Document) -> dict[str, Point]:
    """Return how far each cable goes on in its first pathway along x and y, m, by its identity."""
    ends = {row.tag: (row.from_node, row.to_node) for row in document.pathways}
    nodes = {node.tag: node.at for node in document.nodes}
    found = {}
    for cable in document.cables:
        first, second = (*(ends.get(tag, ()) for tag in cable.pathways[:2]), (), ())[:2]
        found[cable.identity] = onward_along(first, second, nodes, cable.turns)
    return found


def sleeve_words(row: PenetrationRow) -> tuple[str, ...]:
    """Return the sleeves to set in an opening, each size with what passes in it."""
    return tuple(f"sleeve {words}" for words in row.sleeves)


def diameters_m(document: Document, cables: Iterable[CableRow]) -> tuple[float, ...]:
    """Return the outside diameter of each cable, m, the widest first; none where one's is not known."""
    known = {row.type: row.diameter_m for row in document.pathway_contents}
    found = [known.get(cable.type, 0.0) for cable in cables]
    return tuple(sorted(found, reverse=True)) if all(found) else ()


def beside(document: Document, storey: str, one: Point, two: Point) -> tuple[float, str] | None:
    """Return how far a straight pathway lies from the nearest wall along it, m, and to which side of which.

    None where it runs aslant, or no wall runs along it.
    """
    upright = abs(two[1] - one[1]) > abs(two[0] - one[0])
    if min(abs(two[0] - one[0]), abs(two[1] - one[1])) > _STRAIGHT_M:
        return None
    across, along = (0, 1) if upright else (1, 0)
    low, high = sorted((one[along], two[along]))
    ways, names = (("W", "E"), ("west", "east")) if upright else (("S", "N"), ("south", "north"))
    sides: list[tuple[float, bool, str]] = []
    for name, corners, room in _walls_on(document, storey):
        values = [corner[across] for corner in corners]
        middle = (min(values) + max(values)) / 2
        for first, last in pairwise((*corners, corners[0]) if room else corners):
            straight = abs(first[across] - last[across]) <= _STRAIGHT_M
            ends = sorted((first[along], last[along]))
            far = one[across] - first[across]
            if straight and abs(far) > _STRAIGHT_M and min(high, ends[1]) - max(low, ends[0]) > _STRAIGHT_M:
                side = f"{names[first[across] > middle]} wall of " if room else ""
                sides.append((round(abs(far), 3), not room, f"{ways[far > 0]} of {side}{name}"))
    if not sides:
        return None
    far, _, words = min(sides)
    return far, words


def _walls_on(document: Document, storey: str) -> Iterable[tuple[str, tuple[Point, ...], bool]]:
    yield from ((room.tag, room.outline, True) for room in document.rooms if room.storey == storey)
    yield from (
        (tag, points, False) for row in document.storeys if row.tag == storey for tag, _, points in row.walls
    )
