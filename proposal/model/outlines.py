"""Outlines of rooms as they lie in the building, and the boxes around them."""

import math
from collections.abc import Iterable
from typing import NamedTuple

from proposal.model.rooms import Room

Point = tuple[float, float]


class Box(NamedTuple):
    """The smallest box around some points, its sides along x and y, m."""

    left: float
    low: float
    right: float
    high: float

    @property
    def middle(self) -> Point:
        """Return its middle."""
        return (self.left + self.right) / 2, (self.low + self.high) / 2

    def outside_m(self, point: Point) -> float:
        """Return how far a point lies outside along x or y, whichever is more; 0 inside."""
        x, y = point
        return max(self.left - x, x - self.right, self.low - y, y - self.high, 0.0)

    def apart_m(self, other: "Box") -> float:
        """Return how far another box lies apart, negative where they reach into each other."""
        return max(
            self.left - other.right, other.left - self.right, self.low - other.high, other.low - self.high
        )


def box_around(points: Iterable[Point]) -> Box:
    """Return the box around some points, at least one."""
    xs, ys = zip(*points, strict=True)
    return Box(min(xs), min(ys), max(xs), max(ys))


def corners_in_building(room: Room) -> list[Point]:
    """Return the corners of a room's outline in the building, in order, m."""
    turn = math.radians(room.rotation)
    cosine, sine = math.cos(turn), math.sin(turn)
    corners = []
    for x, y in room.layout.outline:
        across = -x if room.mirrored else x
        corners.append((room.x + across * cosine - y * sine, room.y + across * sine + y * cosine))
    return corners
