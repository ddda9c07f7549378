"""Level runs outside pathways: the union of the routes of all cables, cut into stretches between nodes.

A run goes along x first and then along y. Where runs of several cables lie on each other they are one run; a
node is where a run begins, turns, ends, or meets another run's beginning, turn or end.
"""

from collections.abc import Sequence
from itertools import pairwise

from proposal.design.pathways.cable_routes import CableRoute
from proposal.design.pathways.entry_points import Point3
from proposal.field_classes import dataclass

_Line = tuple[str, float, float]
"""The axis along which a line runs, its other coordinate and its height, m."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RunOutside:
    """A straight stretch between two nodes, outside pathways, with the cables that lie on it.

    start, end: where it begins, on the side to which its first cable leads, and where it ends, m.
    length_m: m, routes round obstacles included.
    cables: identities, in order.
    """

    start: Point3
    end: Point3
    length_m: float
    cables: tuple[str, ...]


def runs_outside(routes: Sequence[tuple[str, CableRoute]], around: float) -> tuple[RunOutside, ...]:
    """Return the union of level runs outside pathways, in order of lines and along them.

    routes: identity and route of each cable, in order of identities.
    around: factor on lengths for ways round obstacles.
    """
    pieces: dict[_Line, list[tuple[float, float, str]]] = {}
    for identity, route in routes:
        for start, end in _straights(route):
            line, first, last = _on_line(start, end)
            pieces.setdefault(line, []).append((first, last, identity))
    return tuple(
        run
        for line, on_it in sorted(pieces.items())
        for run in _cut(line, on_it, sorted({place for piece in on_it for place in piece[:2]}), around)
    )


def _straights(route: CableRoute) -> list[tuple[Point3, Point3]]:
    """Return the straight parts of a route's level runs, each along x or along y, in millimetres' steps."""
    straights = []
    for stretch in route.stretches:
        if stretch.level is not None:
            (x1, y1, z), (x2, y2, _) = (tuple(round(at, 3) for at in point) for point in stretch.level)
            turn = x2, y1, z
            straights += [((x1, y1, z), turn), (turn, (x2, y2, z))]
    return [(start, end) for start, end in straights if start != end]


def _on_line(start: Point3, end: Point3) -> tuple[_Line, float, float]:
    """Return the line of a straight part, and where along it the part begins and ends."""
    if start[1] == end[1]:
        return ("x", start[1], start[2]), start[0], end[0]
    return ("y", start[0], start[2]), start[1], end[1]


def _cut(
    line: _Line, pieces: Sequence[tuple[float, float, str]], places: Sequence[float], around: float
) -> list[RunOutside]:
    """Return the stretches of one line between neighbouring nodes that hold cables."""
    runs = []
    for low, high in pairwise(places):
        lying = [
            (first, last, identity)
            for first, last, identity in pieces
            if min(first, last) <= low and high <= max(first, last)
        ]
        if lying:
            leads_up = lying[0][0] < lying[0][1]
            start, end = (high, low) if leads_up else (low, high)
            runs.append(
                RunOutside(
                    start=_point(line, start),
                    end=_point(line, end),
                    length_m=round((high - low) * around, 6),
                    cables=tuple(dict.fromkeys(identity for _, _, identity in lying)),
                )
            )
    return runs


def _point(line: _Line, place: float) -> Point3:
    axis, other, height_m = line
    return (place, other, height_m) if axis == "x" else (other, place, height_m)
