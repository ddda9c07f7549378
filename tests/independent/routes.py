"""The cheapest way of a cable over pathways, found by trying where it may enter and leave each of them.

Outside pathways cables run at right angles, and a metre there counts three times. What an entry costs then
bends only where the pathway passes level with the device in one of the three directions, so that these points
and the ends are tried. Cables enter trays and hooks anywhere, conduits, sleeves and shafts at their ends, and
on the storey where they end. Runs outside described pathways lie in the ceiling space: up to the horizontal
ways of the storey, along x and y, and down again.
"""

import heapq
from dataclasses import dataclass
from itertools import pairwise
from math import inf

from tests.independent.inputs import Inputs, Point, Way, metres

OUTSIDE = 3.0
OPEN = ("tray", "hooks")


@dataclass(frozen=True)
class Place:
    """Where a cable ends: a storey, and a point whose height is above the lowest floor."""

    storey: str
    point: Point


@dataclass(frozen=True)
class Route:
    """A way: its length in all and outside pathways, and the pathways that it takes in order."""

    length_m: float
    outside_m: float
    ways: tuple[str, ...]

    @property
    def cost(self) -> float:
        return self.length_m + (OUTSIDE - 1) * self.outside_m


def apart(a: Point, b: Point) -> float:
    return sum(abs(one - other) for one, other in zip(a, b, strict=True))


def across(a: Point, b: Point) -> float:
    return abs(a[0] - b[0]) + abs(a[1] - b[1])


def admits(way: Way, signal: str) -> bool:
    """Say whether a signal may run in a pathway: loudspeaker lines never with data in one enclosure."""
    line = signal == "loudspeaker line"
    if way.carries:
        return (way.carries == "loudspeaker lines") is line
    return way.kind in (*OPEN, "riser shaft") or not line


@dataclass(frozen=True)
class Rise:
    """Where the cable of a device on furniture goes up at a wall.

    place: of the wall, on the floor or level with the device.  reach_m: from the device to there.
    floor_m: how much of that lies on the floor.
    """

    place: Place
    reach_m: float
    floor_m: float


def through_the_ceiling(inputs: Inputs, start: Place, end: Place, rise: Rise | None = None) -> Route:
    """Return the shortest way without pathways: by the ceiling spaces, and between storeys by a shaft."""
    if rise is not None:
        length = rise.reach_m + through_the_ceiling(inputs, rise.place, end).length_m
        return Route(length, length, ())
    levels = [inputs.floor_m(place.storey) + inputs.ways_m(place.storey) for place in (start, end)]
    upright = abs(levels[0] - start.point[2]) + abs(levels[1] - end.point[2]) + abs(levels[0] - levels[1])
    level = [across(start.point, end.point)]
    if start.storey != end.storey:
        shafts = inputs.building.get("shafts", {}).values()
        places = [(metres(shaft["at"][0]), metres(shaft["at"][1]), 0.0) for shaft in shafts]
        level = [across(start.point, at) + across(at, end.point) for at in places] or level
    length = upright + min(level)
    return Route(length, length, ())


def entries(inputs: Inputs, way: Way, ends: tuple[Place, ...]) -> list[tuple[float, Point]]:
    """Return where a cable may enter or leave a pathway: metres from its start, and the place."""
    start, end = inputs.nodes[way.start], inputs.nodes[way.end]
    length = way.length_m if way.length_m is not None else apart(start, end)
    shares = {0.0, 1.0}
    if way.kind in OPEN:
        for place in ends:
            for here, a, b in zip(place.point, start, end, strict=True):
                if a != b and 0 < (here - a) / (b - a) < 1:
                    shares.add((here - a) / (b - a))
    found = []
    for share in sorted(shares):
        x, y, z = (a + share * (b - a) for a, b in zip(start, end, strict=True))
        found.append((share * length, (x, y, z)))
    return found


def cheapest(
    inputs: Inputs,
    signal: str,
    start: Place,
    end: Place,
    fixed: tuple[str, ...] = (),
    rise: Rise | None = None,
) -> Route:
    """Return the cheapest way between two places, the one through the ceiling where pathways save nothing.

    fixed: the pathways that a designer names; empty where none are.
    rise: by which a cable reaches what lies above its start; None where it goes straight up.
    """
    edges: dict[object, list[tuple[object, float, str]]] = {}

    def join(a: object, b: object, length: float, tag: str) -> None:
        edges.setdefault(a, []).append((b, length, tag))
        edges.setdefault(b, []).append((a, length, tag))

    for way in inputs.ways:
        if not admits(way, signal) or (fixed and way.tag not in fixed):
            continue
        points = entries(inputs, way, (start, end, rise.place) if rise else (start, end))
        names = [way.start, *((way.tag, n) for n in range(1, len(points) - 1)), way.end]
        for (one, (here, _)), (other, (there, _)) in pairwise(zip(names, points, strict=True)):
            join(one, other, there - here, way.tag)
        storeys = [inputs.building["nodes"][node]["storey"] for node in (way.start, way.end)]
        for name, (along, at) in zip(names, points, strict=True):
            for terminal, place in (("start", start), ("end", end)):
                if place.storey == storeys[along > 0]:
                    length = apart(place.point, at)
                    if rise and terminal == "start" and at[2] > place.point[2]:
                        length = rise.reach_m + apart(rise.place.point, at)
                    join(terminal, name, length, "")
    best: dict[object, float] = {}
    queue: list[tuple[float, int, object, Route]] = [(0.0, 0, "start", Route(0.0, 0.0, ()))]
    pushed = 0
    over = None
    while queue and over is None:
        cost, _, here, route = heapq.heappop(queue)
        if best.get(here, inf) <= cost:
            continue
        best[here] = cost
        if here == "end":
            over = route
        for there, length, tag in edges.get(here, ()):
            pushed += 1
            ways = route.ways if not tag or route.ways[-1:] == (tag,) else (*route.ways, tag)
            more = Route(route.length_m + length, route.outside_m + (0.0 if tag else length), ways)
            heapq.heappush(queue, (more.cost, pushed, there, more))
    without = through_the_ceiling(inputs, start, end, rise)
    if over is None or (not fixed and without.cost <= over.cost + 1e-9):
        return without
    return over
