"""Doors in the walls of a room, and the grid of its ceiling, as lines in metres."""

import math
from collections.abc import Iterable, Sequence

from proposal.field_classes import dataclass

Point = tuple[float, float]
Line = tuple[Point, Point]
_SWING_STEPS = 8
DOUBLE_M = 1.4
"""From this width on, a door is drawn with two leaves."""


@dataclass(frozen=True, slots=True)
class DoorLines:
    """A door as drawn: the gap in the wall, the leaf that stands open, and the way of its edge."""

    gap: Line
    leaf: Line
    swing: tuple[Point, ...]


def doors_of(outline: Sequence[Point], doors: Iterable[tuple[Point, float]]) -> tuple[DoorLines, ...]:
    """Return the leaves of doors as drawn: each in the wall nearest to it, open into the room.

    outline: corners of the room, m.  doors: middle and width of each, m.
    """
    walls = [wall for wall in zip(outline, (*outline[1:], outline[0]), strict=True) if math.dist(*wall) > 0]
    found = []
    for at, width in doors:
        start, end = min(walls, key=lambda wall: round(_away(at, wall), 6))
        length = math.dist(start, end)
        along = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
        inward = (-along[1], along[0])
        if not _inside((at[0] + inward[0] * 0.05, at[1] + inward[1] * 0.05), outline):
            inward = (along[1], -along[0])
        jambs = _moved(at, along, -width / 2), _moved(at, along, width / 2)
        back = (-along[0], -along[1])
        if width < DOUBLE_M:
            found.append(DoorLines(jambs, *_leaf(jambs[0], along, inward, width)))
        else:
            found.append(DoorLines(jambs, *_leaf(jambs[0], along, inward, width / 2)))
            found.append(DoorLines(jambs, *_leaf(jambs[1], back, inward, width / 2)))
    return tuple(found)


def _leaf(hinge: Point, along: Point, inward: Point, width: float) -> tuple[Line, tuple[Point, ...]]:
    """Return the open leaf of a door and the way of its edge."""
    swing = tuple(
        _moved(_moved(hinge, along, width * math.cos(turn)), inward, width * math.sin(turn))
        for turn in (math.pi / 2 * n / _SWING_STEPS for n in range(_SWING_STEPS + 1))
    )
    return (hinge, swing[-1]), swing


def grid_lines(outline: Sequence[Point], tile: Sequence[float]) -> tuple[Line, ...]:
    """Return the lines of a ceiling's grid within a room, from the origin of its coordinates.

    outline: corners in the room's own coordinates, m.  tile: size of a tile along x and y, m; none without.
    """
    if not tile:
        return ()
    lines: list[Line] = []
    for axis, step in enumerate(tile):
        values = [corner[axis] for corner in outline]
        first, last = math.floor(min(values) / step) + 1, math.ceil(max(values) / step)
        for n in range(first, last):
            at = round(n * step, 6)
            cuts = sorted(_cuts(outline, axis, at))
            for low, high in zip(cuts[::2], cuts[1::2], strict=False):
                lines.append(((at, low), (at, high)) if axis == 0 else ((low, at), (high, at)))
    return tuple(lines)


def _cuts(outline: Sequence[Point], axis: int, at: float) -> list[float]:
    """Return where a line across an axis cuts the outline, along the other axis."""
    other = 1 - axis
    found = []
    for one, two in zip(outline, (*outline[1:], outline[0]), strict=True):
        if (one[axis] <= at) != (two[axis] <= at):
            share = (at - one[axis]) / (two[axis] - one[axis])
            found.append(one[other] + share * (two[other] - one[other]))
    return found


def _inside(at: Point, outline: Sequence[Point]) -> bool:
    return sum(cut > at[1] for cut in _cuts(outline, 0, at[0])) % 2 == 1


def _moved(at: Point, way: Point, far: float) -> Point:
    return at[0] + way[0] * far, at[1] + way[1] * far


def _away(at: Point, wall: Line) -> float:
    (x1, y1), (x2, y2) = wall
    share = ((at[0] - x1) * (x2 - x1) + (at[1] - y1) * (y2 - y1)) / math.dist(*wall) ** 2
    share = max(0.0, min(1.0, share))
    return math.dist(at, (x1 + share * (x2 - x1), y1 + share * (y2 - y1)))
