"""Cable routes without pathways: right-angled runs, rises between storeys, shafts."""

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from proposal.design.equipment.placed_devices import Placed, Point
from proposal.design.numbers.numbering import natural
from proposal.design.pathways.cable_routes import CableRoute, Level, Stretch, from_the_wall, to_the_wall
from proposal.design.pathways.floor_ways import Rise, led_along_a_wall, rise_of
from proposal.design.pathways.wall_ways import way_round_by_walls
from proposal.model.pathways.building import Shaft
from proposal.model.project import Project
from proposal.quantities.floor_runs import SIDE_BY_SIDE_M


def right_angled_route(
    project: Project,
    start: Point,
    start_height_m: float,
    start_storey: str,
    equipment_room: str,
    rise: Rise | None = None,
) -> CableRoute:
    """Return the shortest right-angled route from a device to the racks of an equipment room.

    start, start_height_m: position in the building and height above the storey's floor, m.
    start_storey: tag of the storey.
    equipment_room: tag of the equipment room.
    rise: the wall at which it goes up, where it stands low.
    The cable goes up or down to the horizontal way of its storey, along x and y, and changes storeys in the
    shaft that makes it shortest; with no shaft, straight above or below the racks. To the wall at which it
    goes up it lies along furniture or along the floor.
    """
    building = project.building
    end = building.equipment_rooms[equipment_room]
    rules = project.brief.rules.cabling
    pathway_m = pathway_height_m(project, start_storey)
    if rise is not None and pathway_m > start_height_m:
        before = to_the_wall(start_height_m, rise.along_m * rules.routing_factor, on_floor=rise.on_floor)
        up_m = 0.0 if rise.on_floor else start_height_m
        route = right_angled_route(project, rise.at, up_m, start_storey, equipment_room)
        return replace(route, stretches=(*before, *route.stretches), rises_at=rise.at)
    first = ("to the ceiling way", abs(pathway_m - start_height_m))
    last_pathway_m = pathway_height_m(project, end.storey)
    start_level_m = building.storeys[start_storey].height + pathway_m
    end_level_m = building.storeys[end.storey].height + last_pathway_m
    last = (f"down to {equipment_room}", abs(last_pathway_m - rules.rack_height))
    if start_storey == end.storey:
        along = ("along x and y", _right_angled(start, end.at) * rules.routing_factor)
        return _route(first, along, last, levels=(_level(start, end.at, start_level_m),))
    rise_m = abs(start_level_m - end_level_m)
    shafts = [
        (tag, shaft.at, f"shaft {_named(tag, shaft)}") for tag, shaft in sorted(building.shafts.items())
    ]
    candidates = []
    for tag, at, name in shafts or [("", end.at, f"the rise at {equipment_room}")]:
        to_shaft = _right_angled(start, at) * rules.routing_factor
        from_shaft = _right_angled(at, end.at) * rules.routing_factor
        route = _route(
            first,
            (f"along x and y to {name}", to_shaft),
            (f"{start_storey} to {end.storey}", rise_m),
            (f"along x and y from {name}", from_shaft),
            last,
            turns=(at, at),
            levels=(_level(start, at, start_level_m), _level(at, end.at, end_level_m)),
        )
        candidates.append((round(route.length_m, 6), natural(tag), route))
    return min(candidates, key=lambda candidate: candidate[:2])[2]


def local_route(project: Project, start: Placed, end: Placed) -> CableRoute:
    """Return the right-angled route between two devices of one room, by the ceiling where they are apart.

    start, end: the devices. What stands low is reached by the nearest wall; where one of two such devices
        stands away from walls, the cable lies along the floor. One near by on a wall is reached along it.
    """
    around = project.brief.rules.cabling.routing_factor
    along = _right_angled(start.at, end.at) * around
    if _stand_together(start, end):
        drop_m, beside = abs(start.height_m - end.height_m), ("side by side", along)
        drop = (("straight up or down", drop_m),) if drop_m else ()
        return _route(*(drop if drop and not along else (beside, *drop)))
    if led_along_a_wall(project, start, end):
        return _along_a_wall(project, start, end, along)
    walls = way_round_by_walls(project, start, end)
    if walls:
        return _along_walls(project, start, end, walls)
    rise, descent = rise_of(project, start), rise_of(project, end)
    if rise and descent and (rise.on_floor or descent.on_floor):
        return _over_the_floor(start, end, along)
    pathway_m = max(start.height_m, end.height_m)
    if rises_to_the_ceiling_pathway(project, start, end):
        pathway_m = pathway_height_m(project, start.storey)
    begins, ends = (start.at, start.height_m), (end.at, end.height_m)
    before: tuple[Stretch, ...] = ()
    after: tuple[Stretch, ...] = ()
    if rise:
        before = to_the_wall(start.height_m, rise.along_m * around, on_floor=rise.on_floor)
        begins = rise.at, 0.0 if rise.on_floor else start.height_m
    if descent:
        along_m = descent.along_m * around
        after = from_the_wall(end.code, end.height_m, along_m, on_floor=descent.on_floor)
        ends = descent.at, 0.0 if descent.on_floor else end.height_m
    route = _route(
        ("to the ceiling way", abs(pathway_m - begins[1])),
        ("along x and y", _right_angled(begins[0], ends[0]) * around),
        ("down the wall" if descent else f"down to {end.code}", abs(pathway_m - ends[1])),
        levels=(_level(begins[0], ends[0], project.building.storeys[start.storey].height + pathway_m),),
    )
    return replace(
        route,
        stretches=(*before, *route.stretches, *after),
        rises_at=rise.at if rise else None,
        comes_down_at=descent.at if descent else None,
    )


def _along_a_wall(project: Project, start: Placed, end: Placed, along_m: float) -> CableRoute:
    """Return the route along a wall between two devices near each other, over the floor to one away from it.

    along_m: between the devices at right angles, m.
    """
    rises = [one for device in (start, end) if (one := rise_of(project, device)) is not None]
    if any(one.on_floor for one in rises):
        return _over_the_floor(start, end, along_m)
    drop_m = start.height_m - end.height_m
    upright = Stretch("down the wall" if drop_m > 0 else "up the wall", abs(drop_m), vertical=True)
    return CableRoute((Stretch("along the wall", along_m), upright))


def _along_walls(project: Project, start: Placed, end: Placed, way: Sequence[Point]) -> CableRoute:
    """Return the route along the walls, as high as the higher of two devices that hang on them.

    way: from device to device by the corners.
    """
    high_m = max(start.height_m, end.height_m)
    level_m = project.building.storeys[start.storey].height + high_m
    around = project.brief.rules.cabling.routing_factor
    legs = (
        Stretch("along the walls", _right_angled(one, two) * around, level=_level(one, two, level_m))
        for one, two in pairwise(way)
    )
    up = Stretch("up the wall", high_m - start.height_m, vertical=True)
    down = Stretch("down the wall", high_m - end.height_m, vertical=True)
    return CableRoute((up, *legs, down), turns=tuple(way[1:-1]))


def _over_the_floor(start: Placed, end: Placed, along_m: float) -> CableRoute:
    return CableRoute(
        (
            Stretch("down to the floor", start.height_m, vertical=True),
            Stretch("along the floor", along_m, on_floor=True),
            Stretch(f"up to {end.code}", end.height_m, vertical=True),
        )
    )


def rises_to_the_ceiling_pathway(project: Project, start: Placed, end: Placed) -> bool:
    """Return whether a cable between two devices of one room goes up to the way above the ceiling.

    It does where neither is on the ceiling, and they neither stand together nor are led to along walls.
    """
    if _stand_together(start, end) or "ceiling" in (start.location, end.location):
        return False
    if way_round_by_walls(project, start, end):
        return False
    return not led_along_a_wall(project, start, end)


def _stand_together(start: Placed, end: Placed) -> bool:
    """Return whether two devices stand above each other, or side by side on furniture."""
    if start.at == end.at:
        return True
    fixed = {"ceiling", "wall"} & {start.location, end.location}
    return not fixed and math.dist(start.at, end.at) <= SIDE_BY_SIDE_M


def _named(tag: str, shaft: Shaft) -> str:
    return tag if shaft.name == tag else f"{tag} ({shaft.name})"


def pathway_height_m(project: Project, storey: str) -> float:
    """Return the height of horizontal cable ways above a storey's floor, m."""
    level = project.building.storeys[storey]
    if level.pathway_height is not None:
        return level.pathway_height
    return level.slab_to_slab - project.brief.rules.pathways.below_floor_above


def pathway_height_uses(project: Project, storey: str) -> tuple[str, ...]:
    """Return the dotted paths of the inputs that the height of a storey's horizontal cable ways rests on."""
    own = f"building.storeys.{storey}.pathway_height"
    if project.building.storeys[storey].pathway_height is not None:
        return (own,)
    return own, "project.rules.pathways.below_floor_above"


_HORIZONTAL = ("along", "side")


def _route(
    *stretches: tuple[str, float], turns: tuple[Point, ...] = (), levels: tuple[Level, ...] = ()
) -> CableRoute:
    """Return a route of stretches by name and length.

    levels: where those along x and y begin and end, in order.
    """
    ends = iter(levels)
    return CableRoute(
        tuple(
            Stretch(name, length_m, level=next(ends, None))
            if name.startswith(_HORIZONTAL)
            else Stretch(name, length_m, vertical=True)
            for name, length_m in stretches
        ),
        turns=turns,
    )


def _level(start: Point, end: Point, height_m: float) -> Level:
    return (*start, height_m), (*end, height_m)


def _right_angled(start: Point, end: Point) -> float:
    return abs(end[0] - start[0]) + abs(end[1] - start[1])
