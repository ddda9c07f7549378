"""Where the cable of a device in the room goes up to a pathway that begins outside it: at which wall."""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

Point = tuple[float, float]
_EXACT_M = 1e-6


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
