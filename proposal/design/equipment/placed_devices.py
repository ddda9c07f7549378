"""A device where it stands, and points of a room in the building."""

import math
from collections.abc import Sequence
from dataclasses import replace

from proposal.field_classes import dataclass
from proposal.model.project import FixedDevice
from proposal.model.rooms import Room, RoomType

Point = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """One device and where it stands.

    tag, code: tag, and code within its room.
    kind, model: kind of entry and model code.
    room: tag of the room or equipment room it serves.
    storey: tag of the storey it stands on.
    at: position in the building, m.
    height_m: above that storey's floor.
    location: ceiling, table, wall, hand or the tag of a rack.
    serves: codes of the microphones an access point serves.
    uses: dotted paths of the project inputs that its position and the end of its cable rest on.
    own_at: of an access point: where it hangs in its room's own coordinates, m, whatever fixed.yaml says.
    """

    tag: str
    code: str
    kind: str
    model: str
    room: str
    storey: str
    at: Point
    height_m: float
    location: str
    serves: tuple[str, ...] = ()
    uses: tuple[str, ...] = ()
    own_at: Point | None = None


def in_building(room: Room, point: Point) -> Point:
    """Return a point of a room's own coordinates in the building's, both m."""
    x, y = (-point[0] if room.mirrored else point[0]), point[1]
    turn = math.radians(room.rotation)
    cosine, sine = math.cos(turn), math.sin(turn)
    return (
        round(room.x + x * cosine - y * sine, 6),
        round(room.y + x * sine + y * cosine, 6),
    )


def floor_height_m(layout: RoomType, level: str) -> float:
    """Return the height of the floor of a level above the floor of its room, m.

    level: its tag; empty for the floor of the room.
    """
    return layout.levels[level].height if level else 0.0


def to_own(room: Room, point: tuple[float, float]) -> tuple[float, float]:
    """Return a point of the building in a room's own coordinates: the way back of `in_building`."""
    east, north = in_building(room, (1.0, 0.0)), in_building(room, (0.0, 1.0))
    dx, dy = point[0] - room.x, point[1] - room.y
    ax, ay = east[0] - room.x, east[1] - room.y
    bx, by = north[0] - room.x, north[1] - room.y
    return round(dx * ax + dy * ay, 6), round(dx * bx + dy * by, 6)


def signed_area_m2(corners: Sequence[Point]) -> float:
    """Return the area of an outline, positive where its corners run counter-clockwise."""
    total = 0.0
    for (x1, y1), (x2, y2) in zip(corners, (*corners[1:], corners[0]), strict=True):
        total += x1 * y2 - x2 * y1
    return total / 2


def by_hand(device: Placed, fixed: FixedDevice | None) -> Placed:
    """Return a device with what the designer decided about it."""
    if fixed is None:
        return device
    return replace(
        device,
        model=fixed.model or device.model,
        at=fixed.at if fixed.at is not None else device.at,
        height_m=fixed.height if fixed.height is not None else device.height_m,
    )
