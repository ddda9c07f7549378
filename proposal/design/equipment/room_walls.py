"""Walls of a room in its own coordinates: the nearest, how far it is, and where the room lies from it."""

import math
from collections.abc import Sequence

from proposal.design.equipment.placed_devices import Point, signed_area_m2

Wall = tuple[Point, Point]
AT_A_WALL_M = 0.6
"""What hangs on a wall is no farther from it than this: its own depth, a bracket, and how plans are drawn."""


def walls_of(corners: Sequence[Point]) -> list[Wall]:
    """Return the walls between the corners of an outline, in order."""
    return list(zip(corners, (*corners[1:], corners[0]), strict=True))


def inward(wall: Wall, corners: Sequence[Point]) -> Point:
    """Return the unit vector from a wall into the room, by the turning sense of the outline."""
    start, end = wall
    length = math.dist(start, end)
    across = (-(end[1] - start[1]) / length, (end[0] - start[0]) / length)
    return across if signed_area_m2(corners) > 0 else (-across[0], -across[1])


def away_m(point: Point, wall: Wall) -> float:
    """Return how far a point is from a wall, m."""
    (x1, y1), (x2, y2) = wall
    length = math.dist(*wall)
    along = ((point[0] - x1) * (x2 - x1) + (point[1] - y1) * (y2 - y1)) / length**2 if length else 0.0
    along = max(0.0, min(1.0, along))
    return math.dist(point, (x1 + along * (x2 - x1), y1 + along * (y2 - y1)))


def nearest_wall(corners: Sequence[Point], point: Point) -> Wall:
    """Return the wall that is nearest to a point, the first of those equally near.

    corners: of the room; walls without length are none.
    """
    there = [wall for wall in walls_of(corners) if math.dist(*wall) > 0]
    return min(there, key=lambda wall: round(away_m(point, wall), 6))
