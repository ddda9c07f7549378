"""The way of a cable along the walls of a room, where nothing may be fixed to the ceiling over it."""

from collections.abc import Sequence

from proposal.design.equipment.placed_devices import Placed, Point, in_building, to_own
from proposal.design.equipment.room_walls import away_m, nearest_wall, walls_of
from proposal.model.project import Project

_SAME_M = 1e-6


def way_round_by_walls(project: Project, start: Placed, end: Placed) -> tuple[Point, ...]:
    """Return the corners of the shorter way along the walls from one device to another, both among them.

    start, end: devices that hang on the walls of one room.
    Empty where cables may hang from the ceiling or nothing may be fixed to the walls, where a device hangs
    elsewhere, and where walls do not meet at right angles. In the building, m.
    """
    room = project.rooms.get(start.room)
    if room is None or start.room != end.room or {start.location, end.location} != {"wall"}:
        return ()
    untouchable, outline = room.layout.untouchable, room.layout.outline
    if "ceiling" not in untouchable or "walls" in untouchable or not _right_angled(outline):
        return ()
    one, other = to_own(room, start.at), to_own(room, end.at)
    off_m = min(away_m(at, nearest_wall(outline, at)) for at in (one, other))
    return tuple(
        (round(x, 6), round(y, 6))
        for x, y in (in_building(room, at) for at in _round(outline, off_m, one, other))
    )


def _right_angled(outline: Sequence[Point]) -> bool:
    return all(min(abs(x2 - x1), abs(y2 - y1)) < _SAME_M for (x1, y1), (x2, y2) in walls_of(outline))


def _round(outline: Sequence[Point], off_m: float, start: Point, end: Point) -> list[Point]:
    """Return the way from start to end by the corners of a room, the shorter of the two ways round.

    off_m: how far from the walls it lies.
    """
    from shapely import Point as Spot
    from shapely import Polygon

    inside = Polygon(outline).buffer(-off_m, join_style="mitre") if off_m > _SAME_M else Polygon(outline)
    if inside.geom_type != "Polygon" or inside.is_empty:
        return []
    ring = inside.exterior
    begins, ends = ring.project(Spot(start)), ring.project(Spot(end))
    corners = [(ring.project(Spot(one)), (float(one[0]), float(one[1]))) for one in ring.coords[:-1]]

    def between(first_m: float, last_m: float) -> tuple[float, list[Point]]:
        """Return the length along the ring from one place on to another, and the corners passed."""
        led_m = (last_m - first_m) % ring.length
        passed = sorted(((at_m - first_m) % ring.length, one) for at_m, one in corners)
        return led_m, [one for at_m, one in passed if _SAME_M < at_m < led_m - _SAME_M]

    on, back = between(begins, ends), between(ends, begins)
    way = on[1] if on[0] <= back[0] + _SAME_M else back[1][::-1]
    return [start, *way, end]
