"""Where the cable of a device below the ceiling goes up to its pathway: at which wall."""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

Point = tuple[float, float]
BESIDE_WALL_M = 0.5
"""What stands as near to a wall has its cable go up there; there and back lies within the slack, m."""
_EXACT_M = 1e-6


def rise_of(start: Point, end: Point, outline: Sequence[Point]) -> Point | None:
    """Return where the cable of a device goes up: at the wall beside it, else at the first that it meets.

    start: of the device, in the room.  end: where its cable enters its first pathway.
    outline: corners of the room.
    None where it stands beside no wall and its right-angled run meets none.
    """
    near = [
        (math.dist(start, at), at)
        for one, other in pairwise((*outline, outline[0]))
        if (at := _nearest(start, one, other)) is not None
    ]
    if near and min(near)[0] <= BESIDE_WALL_M + _EXACT_M:
        return min(near)[1]
    return wall_reached(start, end, outline)


def _nearest(start: Point, one: Point, other: Point) -> Point | None:
    """Return the point of a wall that is nearest to a place; None for a wall without length."""
    way = (other[0] - one[0], other[1] - one[1])
    square = way[0] ** 2 + way[1] ** 2
    if square <= _EXACT_M:
        return None
    share = ((start[0] - one[0]) * way[0] + (start[1] - one[1]) * way[1]) / square
    share = min(1.0, max(0.0, share))
    return round(one[0] + share * way[0], 3), round(one[1] + share * way[1], 3)


def wall_reached(start: Point, end: Point, outline: Sequence[Point]) -> Point | None:
    """Return where a right-angled run first meets a wall, in the building, m; None where it meets none.

    start: of the device, in the room.  end: where its cable enters its first pathway.
    outline: corners of the room.
    The run goes along x, then along y, as its length is told: by this wall it is no longer.
    """
    corner = (end[0], start[1])
    for one, other in ((start, corner), (corner, end)):
        met = [(math.dist(one, at), at) for at in _crossings(one, other, outline)]
        if met:
            return min(met)[1]
    return None


def _crossings(start: Point, end: Point, outline: Sequence[Point]) -> Iterator[Point]:
    """Yield where a straight run along one axis meets the walls of a room."""
    along = 0 if abs(end[0] - start[0]) > _EXACT_M else 1
    across = 1 - along
    low, high = sorted((start[along], end[along]))
    for a, b in pairwise((*outline, outline[0])):
        if abs(a[across] - b[across]) <= _EXACT_M:
            continue
        share = (start[across] - a[across]) / (b[across] - a[across])
        at = a[along] + share * (b[along] - a[along])
        if 0 <= share <= 1 and low - _EXACT_M <= at <= high + _EXACT_M:
            yield (at, start[1]) if along == 0 else (start[0], at)
