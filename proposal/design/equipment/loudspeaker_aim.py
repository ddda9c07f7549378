"""How far off the axis of a loudspeaker a listener is: of one on the ceiling, of one on a wall."""

import math

from proposal.design.equipment.room_walls import inward, nearest_wall
from proposal.field_classes import dataclass
from proposal.model.equipment.sound_devices import Loudspeaker as LoudspeakerEntry
from proposal.model.room_shape import Point
from proposal.model.rooms import Loudspeaker, RoomType
from proposal.standards import loudspeaker_lines

_WEAKEST_DB = 60.0
_RIGHT_ANGLE_DEG = 90.0


@dataclass(frozen=True, slots=True)
class Aim:
    """Where a loudspeaker hangs and what it plays to.

    at, height_m: of its middle, m.
    across_deg: coverage; for one that is taller than wide, from side to side.
    upright_deg: coverage from top to bottom, where it is another; None where it is the same.
    bearing_deg: direction that it faces in the plan, from the x axis; None where it plays straight down.
    tilt_deg: how far it is turned down from level.
    """

    at: Point
    height_m: float
    across_deg: float
    upright_deg: float | None
    bearing_deg: float | None
    tilt_deg: float


def aim_of(
    layout: RoomType, written: Loudspeaker, entry: LoudspeakerEntry, at: Point, height_m: float
) -> Aim:
    """Return where a loudspeaker of a room plays: straight down, or from the nearest wall into the room.

    layout: of its room; written: what its room says of it; entry: of the library.
    at, height_m: where it hangs, in its room's own coordinates, m.
    """
    bearing_deg = None
    if written.mounting == "wall":
        x, y = inward(nearest_wall(layout.outline, at), layout.outline)
        bearing_deg = round(math.degrees(math.atan2(y, x)), 6)
    return Aim(
        at=at,
        height_m=height_m,
        across_deg=entry.coverage,
        upright_deg=entry.upright_coverage,
        bearing_deg=bearing_deg,
        tilt_deg=written.tilt,
    )


def off_axis_db(aim: Aim, listener: Point, ear_m: float) -> float:
    """Return how much weaker a loudspeaker plays to a listener than on its axis, dB; 60 at most.

    listener: position in the room, m; ear_m: height of the ears, m.
    One that covers another angle upright than across weakens by both.
    """
    away_m, below_m = math.dist(aim.at, listener), aim.height_m - ear_m
    if aim.bearing_deg is None:
        angle = math.degrees(math.atan2(away_m, below_m))
        return min(loudspeaker_lines.off_axis_loss_db(angle, aim.across_deg), _WEAKEST_DB)
    down = math.degrees(math.atan2(below_m, away_m))
    towards = math.degrees(math.atan2(listener[1] - aim.at[1], listener[0] - aim.at[0]))
    turned = abs((towards - aim.bearing_deg + 180) % 360 - 180) if away_m else _RIGHT_ANGLE_DEG
    if aim.upright_deg is not None:
        lost = loudspeaker_lines.off_axis_loss_db(turned, aim.across_deg)
        lost += loudspeaker_lines.off_axis_loss_db(abs(down - aim.tilt_deg), aim.upright_deg)
        return min(lost, _WEAKEST_DB)
    level, tilted = math.radians(down), math.radians(aim.tilt_deg)
    straight = math.cos(level) * math.cos(tilted) * math.cos(math.radians(turned))
    straight += math.sin(level) * math.sin(tilted)
    angle = math.degrees(math.acos(max(-1.0, min(1.0, straight))))
    return min(loudspeaker_lines.off_axis_loss_db(angle, aim.across_deg), _WEAKEST_DB)
