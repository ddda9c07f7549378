"""Operable walls at a room: where its sides move away, so that nothing can hang on them."""

import math
from collections.abc import Sequence

from proposal.design.equipment.placed_devices import Point, to_own
from proposal.design.equipment.room_walls import Wall, away_m, nearest_wall
from proposal.model.project import Project
from proposal.model.rooms import Room, RoomType

_SAME_WAY = math.sin(math.radians(10))
"""Walls that run along each other differ by no more than this, as the sine of the angle between them."""


def operable_walls(project: Project, room: Room) -> tuple[Wall, ...]:
    """Return the pieces of the walls on a room's storey that open in some state, in its own coordinates."""
    return tuple(
        (to_own(room, start), to_own(room, end))
        for _, wall in sorted(project.building.radio.walls.items())
        if wall.open_in and wall.storey == room.storey
        for start, end in zip(wall.along, wall.along[1:], strict=False)
        if start != end
    )


def operable_walls_of_kind(project: Project, layout: RoomType) -> tuple[Wall, ...]:
    """Return the same for all rooms of a layout together, as their devices have the same places."""
    rooms = [room for room in project.rooms.values() if room.layout is layout or room.layout == layout]
    return tuple(dict.fromkeys(wall for room in rooms for wall in operable_walls(project, room)))


def is_on_one(outline: Sequence[Point], point: Point, walls: Sequence[Wall], same_m: float) -> bool:
    """Return whether what hangs on a room's nearest side hangs on one of some walls.

    outline: corners of the room.  point: where it hangs.  walls: in the room's own coordinates.
    same_m: up to which distance a side and a wall that run along each other are one, m.
    """
    if not walls:
        return False
    side = nearest_wall(outline, point)
    at = _foot(point, side)
    return any(_same_way(side, wall) and away_m(at, wall) <= same_m for wall in walls)


def _foot(point: Point, side: Wall) -> Point:
    (x1, y1), (x2, y2) = side
    along = ((point[0] - x1) * (x2 - x1) + (point[1] - y1) * (y2 - y1)) / math.dist(*side) ** 2
    along = max(0.0, min(1.0, along))
    return x1 + along * (x2 - x1), y1 + along * (y2 - y1)


def _same_way(one: Wall, other: Wall) -> bool:
    (x1, y1), (x2, y2) = one
    (x3, y3), (x4, y4) = other
    across = (x2 - x1) * (y4 - y3) - (y2 - y1) * (x4 - x3)
    return abs(across) <= _SAME_WAY * math.dist(*one) * math.dist(*other)
