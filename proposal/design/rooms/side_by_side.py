"""Where devices stand that nobody gave places of their own: in a row, along a wall or on a table."""

import math
from collections.abc import Callable, Mapping, Sequence

from proposal.design.equipment.assistive_choice import assistive_set
from proposal.design.equipment.placed_devices import Point
from proposal.design.equipment.room_network import APART, network_of
from proposal.design.equipment.room_walls import nearest_wall
from proposal.design.equipment.sizing import Sizing
from proposal.model.project import Project
from proposal.model.rooms import RoomType

IN_RACKS = ("switch", "mixer", "amplifier")
"""What stands in a rack, where the room has one."""
BETWEEN_M = 0.1
"""How far devices that stand in a row are from each other."""
OWNER_WIDTH_M = 0.48
"""Width taken for equipment of the owner, of which none is written: that of a rack."""
CLEAR_OF_SEATS_M, CLEAR_OF_DOORS_M = 0.6, 0.3
"""How far chargers stand from the middle of a seat, and from the opening of a door."""
NOT_INSIDE = 3
"""How a place outside the room is judged; 0 is a good one."""


def places_of(
    project: Project, tag: str, layout: RoomType, sizing: Sizing, charging: Point
) -> Mapping[str, Point]:
    """Return where chargers stand, and what else stands in the room without a place of its own, by code.

    project: its library.  tag, layout, sizing: of the room and its microphone system.
    charging: where the chargers stand; all of a portable set stands there, on its cart.
    The owner's equipment for which nobody wrote a place is among the others, by its own code.
    """
    chargers = _codes(sizing, ("charger",))
    racked = IN_RACKS if network_of(project, layout) in APART else ()
    others = _codes(sizing, ("breakout", *racked))
    assistive = assistive_set(project, layout)
    listening = [
        code
        for code, (role, _) in (assistive.by_code if assistive else {}).items()
        if role == "receiver charger"
    ]
    owned = [
        code
        for place in (tag, project.rooms[tag].type)
        for code, one in project.building.owner_equipment.get(place, {}).items()
        if one.at is None
    ]
    if tag in project.building.portable_sets:
        return dict.fromkeys((*chargers, *others, *listening, *owned), charging)
    width_m = _widest_m(project)
    if layout.breakouts_at is None:
        return side_by_side(layout, charging, width_m, chargers, (*others, *listening, *owned))
    beside = side_by_side(layout, charging, width_m, chargers, (*listening, *owned))
    return {**beside, **side_by_side(layout, layout.breakouts_at, width_m, (), others)}


def _codes(sizing: Sizing, kinds: Sequence[str]) -> list[str]:
    """Return the codes of the devices of some kinds in a room, in order."""
    return [code for kind in kinds if (size := sizing.size(kind)) for code in size.by_code]


def _widest_m(project: Project) -> float:
    """Return the width that each place of a row takes, m: that of the widest thing that may stand there.

    It is one for all rooms, so that another model in one place moves nothing in the next.
    """
    library = project.library
    held = (*library.chargers.values(), *library.breakouts.values(), *library.assistive_devices.values())
    return max(OWNER_WIDTH_M, *(one.width for one in held))


def side_by_side(
    layout: RoomType, at: Point, width_m: float, onward: Sequence[str], back: Sequence[str]
) -> Mapping[str, Point]:
    """Return where devices stand that share a place, by code.

    layout: the room's layout.  at: where the first one stands.  width_m: of each place of the row, m.
    onward, back: their codes; the ones go on along the wall, the others back from the first.
    The row lies on the furniture that the place is on, else along the nearest wall. It goes on where it keeps
    clear of seats and doors, and stays in the room; where neither end does, devices stand on each other.
    """
    both = [*((code, 1) for code in onward), *((code, -1) for code in back)]
    found: dict[str, Point] = {}
    if len(both) < 2:
        return {code: at for code, _ in both}
    along, fits = _along(layout, at), _fitting(layout, at)
    taken = {1: 0, -1: 0}
    for code, side in both:
        if not found:
            found[code] = at
            continue
        offered = {
            way: _moved(at, along, way * (taken[way] + 1) * (width_m + BETWEEN_M)) for way in (side, -side)
        }
        worst = {way: fits(point, along, width_m) for way, point in offered.items()}
        way = min(offered, key=lambda one: worst[one])
        if worst[way] == NOT_INSIDE:
            found[code] = at
            continue
        found[code] = offered[way]
        taken[way] += 1
    return found


def _moved(at: Point, along: Point, by_m: float) -> Point:
    return round(at[0] + along[0] * by_m, 3), round(at[1] + along[1] * by_m, 3)


def _along(layout: RoomType, at: Point) -> Point:
    """Return the direction of a row, as a unit vector: its table's longest side, else the nearest wall."""
    table = _furniture_at(layout, at)
    if table:
        start, end = max(
            zip(table, (*table[1:], table[0]), strict=True), key=lambda side: round(math.dist(*side), 6)
        )
    else:
        start, end = nearest_wall(layout.outline, at)
    length = math.dist(start, end)
    return (end[0] - start[0]) / length, (end[1] - start[1]) / length


def _furniture_at(layout: RoomType, at: Point) -> Sequence[Point]:
    """Return the outline of the furniture that a place is on; empty where it is on none."""
    from shapely import Point as Place
    from shapely import Polygon

    return next(
        (
            one.outline
            for _, one in sorted(layout.furniture.items())
            if Polygon(one.outline).covers(Place(at))
        ),
        (),
    )


def _fitting(layout: RoomType, at: Point) -> Callable[[Point, Point, float], int]:
    """Return what judges a place: by its middle, the direction of its row and the width of its device, m."""
    from shapely import LineString, Polygon

    room, outline = Polygon(layout.outline), _furniture_at(layout, at)
    table = Polygon(outline) if outline else None

    def judged(point: Point, along: Point, width: float) -> int:
        across = LineString([_moved(point, along, -width / 2), _moved(point, along, width / 2)])
        if not room.covers(across):
            return NOT_INSIDE
        seated = any(math.dist(point, seat.at) < CLEAR_OF_SEATS_M for seat in layout.seats.values())
        in_a_door = any(
            math.dist(point, door.at) < door.width / 2 + CLEAR_OF_DOORS_M for door in layout.doors.values()
        )
        return 2 if table is not None and not table.covers(across) else int(seated or in_a_door)

    return judged
