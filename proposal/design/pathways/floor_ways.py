"""Where the cable of a device that stands low goes up: at the nearest wall, and along the floor to it."""

import math

from proposal.design.equipment.placed_devices import Placed, Point, in_building, to_own
from proposal.design.equipment.room_walls import away_m, nearest_wall
from proposal.field_classes import dataclass
from proposal.model.project import Project
from proposal.quantities.floor_runs import AT_THE_WALL_M, SIDE_BY_SIDE_M

STANDING = ("table", "under table", "furniture", "stand")
"""Where devices stand whose cables come up from the floor or down from a table."""


@dataclass(frozen=True, slots=True)
class Rise:
    """Where the cable of a device goes up to what lies above it.

    at: the point of the wall, in the building, m.
    along_m: how far it goes to there at right angles, m.
    on_floor: whether it lies on the floor so far; else its device stands at the wall.
    """

    at: Point
    along_m: float
    on_floor: bool


def rise_of(project: Project, device: Placed) -> Rise | None:
    """Return where the cable of a device goes up, None for one that hangs, stands on a cart or in a rack.

    device: as it is placed; the nearest wall of its room counts.
    """
    room = project.rooms.get(device.room)
    if room is None or device.location not in STANDING or device.storey != room.storey:
        return None
    own = to_own(room, device.at)
    (x1, y1), (x2, y2) = nearest_wall(room.layout.outline, own)
    square = (x2 - x1) ** 2 + (y2 - y1) ** 2
    share = min(1.0, max(0.0, ((own[0] - x1) * (x2 - x1) + (own[1] - y1) * (y2 - y1)) / square))
    foot = in_building(room, (x1 + share * (x2 - x1), y1 + share * (y2 - y1)))
    far_m = math.dist(foot, device.at)
    at = round(foot[0], 3), round(foot[1], 3)
    along_m = abs(at[0] - device.at[0]) + abs(at[1] - device.at[1])
    return Rise(at, along_m, far_m > AT_THE_WALL_M + 1e-6)


def led_along_a_wall(project: Project, start: Placed, end: Placed) -> bool:
    """Return whether a cable lies along one wall between two devices of a room, without going to the ceiling.

    start, end: the devices, near each other: one hangs on the wall, the other does so too, stands at it, or
        stands away from all walls and is reached from this one over the floor.
    """
    room = project.rooms.get(start.room)
    hanging, other = (start, end) if start.location == "wall" else (end, start)
    if room is None or hanging.location != "wall" or math.dist(start.at, end.at) > SIDE_BY_SIDE_M:
        return False
    outline = room.layout.outline
    wall = nearest_wall(outline, to_own(room, hanging.at))
    own = to_own(room, other.at)
    if other.location == "wall":
        return nearest_wall(outline, own) == wall
    rise = rise_of(project, other)
    return rise is not None and (rise.on_floor or away_m(own, wall) <= AT_THE_WALL_M + 1e-6)
