"""How runs of cables go on the paper of a plan: at right angles, round symbols they do not lead to."""

import math
from collections.abc import Iterable, Iterator, Sequence, Set
from itertools import pairwise

from proposal.drawings.canvas import Point
from proposal.drawings.label_ground import Box, crosses, overlap
from proposal.quantities.wall_openings import right_angled

_ASIDE = (7.5, 11.0, 15.0, 20.0)
"""How far aside of its straight way a run may go round a symbol, pt."""
_SHARED_PT = 4.0
"""How far a run may lie on another one before a way beside it is looked for, pt."""
_INSIDE_M = 0.6
"""How far from a wall a run is drawn that goes along its inner side, m."""
_NEAR_M = 0.05
"""How far an opening may be off the way of a run that passes it, m."""
_WALL_PT, _ON_IT_PT = 100.0, 0.5
"""What going through a wall counts for, beside lying on one, pt; how near to a line a point is on it, pt."""
_ARROW_PT, _SHORTEST_PT = 4.0, 14.0
Route = tuple[Point, ...]


def routes(
    runs: Iterable[tuple[Point, Point]],
    symbols: Sequence[Box],
    lines: Sequence[Route] = (),
    together: Set[int] = frozenset(),
    walls: Sequence[Route] = (),
) -> tuple[Route, ...]:
    """Return the way of each run on paper, in their order.

    runs: start and end of each, pt.  symbols: boxes of what stands on the plan.
    lines: others that no run is to lie on.
    together: which of the runs may lie on others, as those do that share an opening in a wall, from 0.
    walls: of rooms.
    Of the ways at right angles the one that crosses the fewest symbols is taken, then the one that keeps
    off walls, then the one that lies least on runs before it, then the one with the fewest corners, then
    the shortest.
    """
    listed = list(runs)
    taken: dict[int, Route] = {}
    # Short runs are led first, so that long ones go round them.
    for n, (start, end) in sorted(enumerate(listed), key=lambda run: round(_length(run[1]), 1)):
        near = _widened(start, end)
        others = [
            box for box in symbols if overlap(box, near) and not (_holds(box, start) or _holds(box, end))
        ]
        ways = (*lines, *taken.values())
        before = [way for way in ways if any(overlap(_around(*piece), near) for piece in pairwise(way))]
        beside = [piece for wall in walls for piece in pairwise(wall) if overlap(_around(*piece), near)]

        def cost(
            way: Route,
            others: Sequence[Box] = others,
            before: Sequence[Route] = before,
            beside: Sequence[Route] = beside,
        ) -> tuple[float, ...]:
            hit = sum(any(crosses(one, two, box) for one, two in pairwise(way)) for box in others)
            upon = sum(_shared(way, other) for other in before)
            at_walls = sum(_shared(way, wall) for wall in beside) + _WALL_PT * _passes(way, beside)
            return hit, round(at_walls, 1), round(upon, 1), len(way), round(_length(way), 1)

        best = min(_direct(start, end), key=cost)
        if cost(best)[0] or cost(best)[1] or (cost(best)[2] > _SHARED_PT and n not in together):
            best = min((best, *_round(start, end)), key=cost)
        if cost(best)[0] or cost(best)[1]:
            best = min((best, *_round_and_back(start, end)), key=cost)
        taken[n] = best
    return tuple(taken[n] for n in range(len(listed)))


def legs_through(
    ends: tuple[Point, Point], openings: Iterable[tuple[Point, bool]], shared_m: float
) -> tuple[tuple[Point, Point], ...]:
    """Return the legs of a run from opening to opening in the walls that it passes, m.

    ends: of the run.  openings: in walls of the storey, and whether each wall runs from south to north.
    shared_m: so near to one another cables share an opening.
    A run that passes none is one leg, and may turn either way. Of several openings of one wall it takes the
    nearest; it is led there from up to half as far as cables share an opening. It goes along x first, but
    along y where that leads it straight through an opening.
    """
    openings = tuple(openings)
    start, end = ends
    straight = [
        at for at, upright in openings if not upright and _lies_on(at, start, (start[0], end[1]), 1, 0.0)
    ]
    if straight and abs(start[0] - end[0]) > _NEAR_M:
        stops = [start, *sorted(straight, key=lambda at: abs(at[1] - start[1])), end]
        if abs(stops[-2][1] - end[1]) < _NEAR_M:
            # It comes down at the wall that it passes: it goes along that on the inner side.
            inside = stops[-2][1] + math.copysign(_INSIDE_M, stops[-2][1] - start[1])
            stops[-1:] = [(stops[-2][0], inside), (end[0], inside), end]
        return tuple(pairwise(stops))
    way = right_angled(*ends)
    legs: list[tuple[Point, Point]] = []
    passed = False
    here = way[0]
    for one, two in pairwise(way):
        along = 0 if abs(two[0] - one[0]) > abs(two[1] - one[1]) else 1
        nearest: dict[float, Point] = {}
        for at, upright in openings:
            if upright == (along == 0) and _lies_on(at, one, two, along, shared_m / 2):
                wall = round(at[along], 1)
                aside = abs(at[1 - along] - one[1 - along])
                if wall not in nearest or aside < abs(nearest[wall][1 - along] - one[1 - along]):
                    nearest[wall] = at
        on_leg = sorted(nearest.values(), key=lambda at: abs(one[along] - at[along]))
        passed |= bool(on_leg)
        corner = two
        if on_leg and two != way[-1]:
            # It turns where it comes along from the opening, not where the opening was aside of it.
            corner = (two[0], on_leg[-1][1]) if along == 0 else (on_leg[-1][0], two[1])
        for stop in (*on_leg, corner):
            if math.dist(here, stop) > _NEAR_M:
                legs.append((here, stop))
                here = stop
    return tuple(legs) if passed and legs else (ends,)


def _lies_on(at: Point, one: Point, two: Point, along: int, aside_m: float) -> bool:
    """Return whether a point lies on an upright or level line between two others, or not far aside of it."""
    low, high = sorted((one[along], two[along]))
    aside = abs(at[1 - along] - one[1 - along])
    return low - _NEAR_M < at[along] < high + _NEAR_M and aside < aside_m + _NEAR_M


def joined(legs: Sequence[Route]) -> Route:
    """Return legs that follow one another as one way."""
    return legs[0] if len(legs) == 1 else _plain([point for leg in legs for point in leg])


def _direct(start: Point, end: Point) -> tuple[Route, Route]:
    """Return the ways at right angles from a point to another with one corner, or none."""
    (x1, y1), (x2, y2) = start, end
    return _plain((start, (x2, y1), end)), _plain((start, (x1, y2), end))


def _round(start: Point, end: Point) -> Iterator[Route]:
    """Yield ways at right angles from a point to another that go aside first or last."""
    (x1, y1), (x2, y2) = start, end
    for aside in (sign * far for far in _ASIDE for sign in (1, -1)):
        yield _plain((start, (x1, y1 + aside), (x2, y1 + aside), end))
        yield _plain((start, (x1 + aside, y1), (x1 + aside, y2), end))
        yield _plain((start, (x1, y2 + aside), (x2, y2 + aside), end))
        yield _plain((start, (x2 + aside, y1), (x2 + aside, y2), end))


def _round_and_back(start: Point, end: Point) -> Iterator[Route]:
    """Yield ways that go aside at their start and are back in line before their end, as at an opening."""
    (x1, y1), (x2, y2) = start, end
    for aside in (sign * far for far in _ASIDE for sign in (1, -1)):
        for back in (_ASIDE[0], -_ASIDE[0]):
            yield _plain((start, (x1 + aside, y1), (x1 + aside, y2 + back), (x2, y2 + back), end))
            yield _plain((start, (x1, y1 + aside), (x2 + back, y1 + aside), (x2 + back, y2), end))


def _plain(points: Sequence[Point]) -> Route:
    """Return a way without corners that stand on one another or on a straight line."""
    kept: list[Point] = []
    for point in points:
        if kept and _same(kept[-1], point):
            continue
        if len(kept) > 1 and _straight(kept[-2], kept[-1], point):
            kept.pop()
        kept.append(point)
    return tuple(kept) if len(kept) > 1 else (points[0], points[-1])


def _same(one: Point, two: Point) -> bool:
    return abs(one[0] - two[0]) < 0.05 and abs(one[1] - two[1]) < 0.05


def _straight(one: Point, two: Point, three: Point) -> bool:
    return any(
        abs(one[axis] - two[axis]) < 0.05
        and abs(two[axis] - three[axis]) < 0.05
        and (two[1 - axis] - one[1 - axis]) * (three[1 - axis] - two[1 - axis]) > 0
        for axis in (0, 1)
    )


def _around(one: Point, two: Point) -> Box:
    return min(one[0], two[0]), min(one[1], two[1]), max(one[0], two[0]), max(one[1], two[1])


def _widened(one: Point, two: Point) -> Box:
    left, top, right, bottom = _around(one, two)
    far = _ASIDE[-1] + 2
    return left - far, top - far, right + far, bottom + far


def _holds(box: Box, at: Point) -> bool:
    return box[0] - 1 <= at[0] <= box[2] + 1 and box[1] - 1 <= at[1] <= box[3] + 1


def _shared(way: Route, other: Route) -> float:
    """Return how far a way lies on another one, pt."""
    far = 0.0
    for one, two in pairwise(way):
        for three, four in pairwise(other):
            for axis in (0, 1):
                if max(abs(one[axis] - point[axis]) for point in (two, three, four)) < 1.5:
                    low = max(min(one[1 - axis], two[1 - axis]), min(three[1 - axis], four[1 - axis]))
                    high = min(max(one[1 - axis], two[1 - axis]), max(three[1 - axis], four[1 - axis]))
                    far += max(0.0, high - low)
    return far


def _passes(way: Route, walls: Sequence[Route]) -> int:
    """Return how often a way goes through walls, each a straight piece; touching one is no passing."""
    return sum(
        _side(one, two, three) * _side(one, two, four) < 0
        and _side(three, four, one) * _side(three, four, two) < 0
        for one, two in pairwise(way)
        for three, four in walls
    )


def _side(one: Point, two: Point, at: Point) -> float:
    """Return on which side of a line a point lies, by its sign; 0 on it or next to it."""
    far = (two[0] - one[0]) * (at[1] - one[1]) - (two[1] - one[1]) * (at[0] - one[0])
    return 0.0 if abs(far) < _ON_IT_PT * math.dist(one, two) else far


def _length(way: Route) -> float:
    return sum(abs(two[0] - one[0]) + abs(two[1] - one[1]) for one, two in pairwise(way))


def arrow_along(way: Route) -> Route:
    """Return the corners of an arrow head that points along a way, on the longest piece; none if too short.

    way: from its first point to its last.
    """
    one, two = max(pairwise(way), key=lambda piece: _length(piece))
    length = _length((one, two))
    if length < _SHORTEST_PT:
        return ()
    along = ((two[0] - one[0]) / length, (two[1] - one[1]) / length)
    middle = ((one[0] + two[0]) / 2, (one[1] + two[1]) / 2)
    tip = (middle[0] + along[0] * _ARROW_PT / 2, middle[1] + along[1] * _ARROW_PT / 2)
    back = (middle[0] - along[0] * _ARROW_PT / 2, middle[1] - along[1] * _ARROW_PT / 2)
    half = _ARROW_PT * 0.45
    return (
        tip,
        (back[0] - along[1] * half, back[1] + along[0] * half),
        (back[0] + along[1] * half, back[1] - along[0] * half),
    )
