"""Places that must be a mistake: too far from the building, from their room or from the other storeys.

The distances are fixed ones and do not follow from the size of the building: a single meeting room of 8 m may
well be served from a cupboard at 80 m. They are so large that no cable and no radio link spans them.
"""

from collections.abc import Collection, Iterator, Mapping
from statistics import median_low
from typing import Any

from proposal.model.outlines import Box, Point, box_around, corners_in_building
from proposal.model.pathways.building import Building
from proposal.model.project import Fixed, Path
from proposal.model.rooms import Room, RoomType

BUILDING_RADIUS_M = 1000
"""A room farther along x or y from the middle of the building is not of that building."""
OUTSIDE_BUILDING_M = 1000
"""Whatever else stands in the building lies no farther outside the box around its rooms."""
NEIGHBOUR_M = 10_000
"""Others on the radio band may stand in other buildings, but no farther off than this."""
OUTSIDE_ROOM_M = 200
"""What belongs to a room lies no farther outside the box around it."""
LARGEST_ROOM_M = 500
"""No room is longer or wider."""
STOREYS_M = 1000
"""No storey lies farther above or below the middle one."""

Complaint = tuple[Path, str]


def far_places(tops: Mapping[str, Any], said: Collection[Path]) -> Iterator[Complaint]:
    """Yield path and message of every place that is too far from what it belongs to.

    tops: what of the project is good, by the first key of its paths.
    said: paths already complained of; where an outline is, nothing is said of what stands in it.
    """
    building: Building | None = tops.get("building")
    rooms: dict[str, Room] = {}
    types: Mapping[str, RoomType] = tops["room_types"]
    sound = {name for name, layout in types.items() if ("room_types", name, "outline") not in said}
    for name in sorted(sound):
        yield from _far_in_room(types[name], ("room_types", name))
    for tag, room in tops["rooms"].items():
        path: Path = ("rooms", tag, "layout")
        if room.changed and (*path, "outline") not in said:
            yield from _far_in_room(room.layout, path)
            rooms[tag] = room
        elif not room.changed and room.type in sound:
            rooms[tag] = room
    # A room that is too large has been complained of; all else would only follow from it.
    boxes = {
        tag: found
        for tag, room in rooms.items()
        if _is_small_enough(found := box_around(corners_in_building(room)))
    }
    if not boxes:
        return
    if building is not None:
        yield from _far_storeys(building)
    near = dict(boxes)
    for tag, message in _far_rooms(boxes, building):
        del near[tag]
        yield ("rooms", tag, "x"), message
    if near and building is not None:
        around = box_around(corner for box in near.values() for corner in (box[:2], box[2:]))
        yield from _far_in_building(building, around)
    yield from _far_by_hand(tops["fixed"], near, building)


def _far_storeys(building: Building) -> Iterator[Complaint]:
    middle = median_low(storey.height for storey in building.storeys.values())
    for tag, storey in building.storeys.items():
        if abs(storey.height - middle) > STOREYS_M:
            wanted = f"a storey at most {STOREYS_M} m above or below the middle one, {_m(middle)}"
            yield ("building", "storeys", tag, "height"), f"wanted {wanted}; found {_m(storey.height)}"


def _far_rooms(boxes: Mapping[str, Box], building: Building | None) -> Iterator[tuple[str, str]]:
    """Yield tag and message of rooms far from the middle of all rooms and equipment rooms."""
    middles = {tag: box.middle for tag, box in boxes.items()}
    places = [*middles.values(), *(one.at for one in (building.equipment_rooms if building else {}).values())]
    # One room in another country does not move the middle as it would move a mean.
    middle = median_low(x for x, _ in places), median_low(y for _, y in places)
    for tag, at in middles.items():
        if max(abs(at[0] - middle[0]), abs(at[1] - middle[1])) > BUILDING_RADIUS_M:
            wanted = f"a room at most {BUILDING_RADIUS_M} m from the middle of the building, {_shown(middle)}"
            yield tag, f"wanted {wanted}; found {_shown(at)}"


def _far_in_building(building: Building, around: Box) -> Iterator[Complaint]:
    """Yield what stands far outside the box around all rooms."""
    places: list[tuple[Path, Point]] = [
        *((("equipment_rooms", tag, "at"), one.at) for tag, one in building.equipment_rooms.items()),
        *((("shafts", tag, "at"), one.at) for tag, one in building.shafts.items()),
        *((("nodes", tag, "at"), one.at) for tag, one in building.nodes.items()),
        *(
            (("radio", "walls", tag, "along", n), at)
            for tag, wall in building.radio.walls.items()
            for n, at in enumerate(wall.along)
        ),
    ]
    users: list[tuple[Path, Point]] = [
        (("radio", "other_users", tag, "at"), one.at) for tag, one in building.radio.other_users.items()
    ]
    for most_m, where in ((OUTSIDE_BUILDING_M, places), (NEIGHBOUR_M, users)):
        wanted = f"at most {most_m} m outside the rooms of the building, which lie {_lies(around)}"
        for path, at in where:
            if around.outside_m(at) > most_m:
                yield ("building", *path), f"wanted a place {wanted}; found {_shown(at)}"


def _far_by_hand(fixed: Fixed, rooms: Mapping[str, Box], building: Building | None) -> Iterator[Complaint]:
    """Yield devices that fixed.yaml puts far from the room that their tag begins with."""
    for tag, device in fixed.devices.items():
        own, _, _ = tag.rpartition("-")
        racks_at = building.equipment_rooms[own].at if building and own in building.equipment_rooms else None
        if device.at is None:
            continue
        if own in rooms:
            around = rooms[own]
            wanted = f"a place at most {OUTSIDE_ROOM_M} m outside room {own}, which lies {_lies(around)}"
        elif racks_at is not None:
            around = Box(*racks_at, *racks_at)
            wanted = f"a place at most {OUTSIDE_ROOM_M} m from equipment room {own} at {_shown(racks_at)}"
        else:
            continue  # the design says which devices there are
        if around.outside_m(device.at) > OUTSIDE_ROOM_M:
            yield ("fixed", "devices", tag, "at"), f"wanted {wanted}; found {_shown(device.at)}"


def _far_in_room(layout: RoomType, path: Path) -> Iterator[Complaint]:
    """Yield an outline that is too large, or what stands far outside it."""
    outline = getattr(layout, "outline", ())
    if not outline:
        return
    around = box_around(outline)
    if not _is_small_enough(around):
        size = f"{_m(around.right - around.left)} by {_m(around.high - around.low)}"
        wanted = f"a room at most {LARGEST_ROOM_M} m long and wide"
        yield (*path, "outline"), f"wanted {wanted}; found {size}"
        return
    wanted = f"a position at most {OUTSIDE_ROOM_M} m outside the room's outline, which lies {_lies(around)}"
    for inside, at in _positions(layout):
        if around.outside_m(at) > OUTSIDE_ROOM_M:
            yield (*path, *inside), f"wanted {wanted}; found {_shown(at)}"


def _positions(layout: RoomType) -> Iterator[tuple[Path, Point]]:
    """Yield path and position of all that stands in a room, but for microphones: they must be inside."""
    for name in ("charging_at", "breakouts_at"):
        at: Point | None = getattr(layout, name)
        if at is not None:
            yield (name,), at
    for tag, at in layout.access_points_at.items():
        yield ("access_points_at", tag), at
    for tag, seat in layout.seats.items():
        yield ("seats", tag, "at"), seat.at
    for tag, door in layout.doors.items():
        yield ("doors", tag, "at"), door.at
    for tag, loudspeaker in layout.loudspeakers.items():
        yield ("loudspeakers", tag, "at"), loudspeaker.at
    for tag, one in layout.furniture.items():
        for n, at in enumerate(one.outline):
            yield ("furniture", tag, "outline", n), at
    for tag, obstruction in layout.radio.obstructions.items():
        for n, at in enumerate(obstruction.outline):
            yield ("radio", "obstructions", tag, "outline", n), at


def _is_small_enough(around: Box) -> bool:
    # A room that is turned may need a larger box.
    return max(around.right - around.left, around.high - around.low) <= LARGEST_ROOM_M


def _lies(around: Box) -> str:
    return f"from {_shown(around[:2])} to {_shown(around[2:])}"


def _shown(point: Point) -> str:
    return f"[{_m(point[0])}, {_m(point[1])}]"


def _m(value: float) -> str:
    return f"{round(value, 2) + 0.0:.10g} m"
