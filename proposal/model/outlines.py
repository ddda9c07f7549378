"""Outlines of rooms as they lie in the building, and the boxes around them."""

import math
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from proposal.model.rooms import Room

Point = tuple[float, float]
ON_THE_EDGE_M = 0.05
"""So far outside an outline a point still counts as on its edge."""


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


def from_sides_m(point: Point, outline: Sequence[Point]) -> float:
    """Return the distance of a point from the nearest side of an outline."""
    nearest = math.inf
    for (x1, y1), (x2, y2) in zip(outline, (*outline[1:], outline[0]), strict=True):
        dx, dy = x2 - x1, y2 - y1
        square = dx * dx + dy * dy
        along = ((point[0] - x1) * dx + (point[1] - y1) * dy) / square if square else 0.0
        share = min(max(along, 0.0), 1.0)
        nearest = min(nearest, math.dist(point, (x1 + share * dx, y1 + share * dy)))
    return nearest


def _inside(point: Point, outline: Sequence[Point]) -> bool:
    """Say whether a point lies inside an outline, by the crossings of a line to the east."""
    inside = False
    for (x1, y1), (x2, y2) in zip(outline, (*outline[1:], outline[0]), strict=True):
        if (y1 > point[1]) != (y2 > point[1]):
            crossing = x1 + (point[1] - y1) * (x2 - x1) / (y2 - y1)
            inside = inside != (crossing > point[0])
    return inside


def is_on(point: Point, outline: Sequence[Point]) -> bool:
    """Return whether a point lies inside an outline or on its edge."""
    return _inside(point, outline) or from_sides_m(point, outline) <= ON_THE_EDGE_M
