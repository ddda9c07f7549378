"""The level that a microphone would have anywhere in a room, on a coarse grid, and where it is weakest."""

import math
from collections.abc import Mapping, Sequence

import numpy as np

from proposal.design.equipment.placed_devices import Placed, in_building, to_own
from proposal.design.numbers.numbering import natural
from proposal.design.radio.propagation import Surroundings, obstruction_losses_db
from proposal.design.radio.radio_settings import body_loss_db, most_loss_db, radio_end
from proposal.design.radio.received_margins import Margin
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import AccessPoint, Microphone
from proposal.model.equipment.entry import Device
from proposal.model.project import Project

Point = tuple[float, float]

MOST_STEPS = 40
"""Steps of the grid along the longer side of a room; contours need no more."""
LEAST_STEP_M = 0.1
SHOWN = ("microphone", "access_point", "charger", "loudspeaker")


@dataclass(frozen=True, slots=True, kw_only=True)
class LevelMap:
    """Levels over a room, in the room's own coordinates.

    room: tag of the room it was computed for.
    low, high: corners of the grid, m; levels_dbm: its rows from south to north, each from west to east,
        rounded to a tenth.
    wanted_dbm: sensitivity and fade margin at the end that is the weaker one.
    worst, worst_at, worst_dbm, worst_margin_db: code of the weakest microphone, where it is, the level at
        which it is received and how far that lies above what it wants.
    height_m, body_db: of that microphone, for which the map is drawn.
    marks: kind, code and position of what stands in the room.
    """

    room: str
    low: Point
    high: Point
    levels_dbm: tuple[tuple[float, ...], ...]
    wanted_dbm: float
    worst: str
    worst_at: Point
    worst_dbm: float
    worst_margin_db: float
    height_m: float
    body_db: float
    marks: tuple[tuple[str, str, Point], ...]


def level_map(
    project: Project,
    around: Surroundings,
    devices: Sequence[Placed],
    entries: Mapping[str, Device],
    margins: Sequence[Margin],
) -> LevelMap | None:
    """Return the level map of a room, None where none of its microphones is linked.

    around: what lies between the antennas of the building.
    devices: of the room; entries: the library entry of each by tag; margins: of the room's microphones.
    It is drawn for the weakest microphone, carried to every point of the grid and served there by whichever
    access point of the room is received best.
    """
    if not margins:
        return None
    worst = min(margins, key=lambda one: (one.margin_db, natural(one.microphone)))
    weakest = next(device for device in devices if device.tag == worst.microphone)
    entry = entries[worst.microphone]
    room = project.rooms[weakest.room]
    end = radio_end(project, room.layout, entry) if isinstance(entry, Microphone) else None
    if end is None or not isinstance(entry, Microphone):
        return None
    boxes = []
    for device in devices:
        box = entries.get(device.tag)
        other = radio_end(project, room.layout, box) if isinstance(box, AccessPoint) else None
        if other is not None:
            boxes.append((device, other))
    xs, ys = grid_lines(room.layout.outline)
    floor_m = project.building.storeys[room.storey].height
    points = [(x, y) for y in ys for x in xs]
    starts = np.array([(*in_building(room, point), floor_m + weakest.height_m) for point in points])
    body = body_loss_db(project, entry)
    best = np.full(len(points), -math.inf)
    for device, other in boxes:
        storey_m = project.building.storeys[device.storey].height
        ends = np.tile(np.array((*device.at, storey_m + device.height_m)), (len(points), 1))
        loss = around.wanted_loss_db(starts, ends)
        loss = loss + obstruction_losses_db(
            room.layout.radio.obstructions, points, [to_own(room, device.at)] * len(points)
        )
        best = np.maximum(best, worst.sensitivity_dbm + most_loss_db(end, other) - loss - body)
    rows = best.reshape(len(ys), len(xs)).round(1)
    return LevelMap(
        room=weakest.room,
        low=(xs[0], ys[0]),
        high=(xs[-1], ys[-1]),
        levels_dbm=tuple(tuple(row) for row in rows.tolist()),
        wanted_dbm=worst.sensitivity_dbm + worst.fade_db,
        worst=weakest.code,
        worst_at=to_own(room, weakest.at),
        worst_dbm=round(worst.received_dbm, 1),
        worst_margin_db=round(worst.margin_db, 1),
        height_m=weakest.height_m,
        body_db=body,
        marks=tuple(
            (device.kind, device.code, to_own(room, device.at))
            for device in devices
            if device.kind in SHOWN and device.location != "charger"
        ),
    )


def grid_lines(outline: Sequence[Point]) -> tuple[list[float], list[float]]:
    """Return where the lines of the grid over a room run, west to east and south to north, m."""
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    step = max(max(max(xs) - min(xs), max(ys) - min(ys)) / MOST_STEPS, LEAST_STEP_M)
    return _lines(min(xs), max(xs), step), _lines(min(ys), max(ys), step)


def _lines(low: float, high: float, step: float) -> list[float]:
    steps = max(math.ceil((high - low) / step - 1e-9), 1)
    return [round(low + (high - low) * n / steps, 6) for n in range(steps + 1)]
