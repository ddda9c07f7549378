"""Cable routes without pathways: right-angled runs, rises between storeys, shafts."""

from proposal.design.equipment.placed_devices import Placed, Point
from proposal.design.numbers.numbering import natural
from proposal.design.pathways.cable_routes import CableRoute, Level, Stretch
from proposal.model.pathways.building import Shaft
from proposal.model.project import Project


def right_angled_route(
    project: Project, start: Point, start_height_m: float, start_storey: str, equipment_room: str
) -> CableRoute:
    """Return the shortest right-angled route from a device to the racks of an equipment room.

    start, start_height_m: position in the building and height above the storey's floor, m.
    start_storey: tag of the storey.
    equipment_room: tag of the equipment room.
    The cable goes up or down to the horizontal way of its storey, along x and y, and changes storeys in the
    shaft that makes it shortest; with no shaft, straight above or below the racks.
    """
    building = project.building
    end = building.equipment_rooms[equipment_room]
    rules = project.brief.rules.cabling
    pathway_m = pathway_height_m(project, start_storey)
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

    start, end: the devices.
    """
    along = _right_angled(start.at, end.at) * project.brief.rules.cabling.routing_factor
    if start.at == end.at:
        drop_m = abs(start.height_m - end.height_m)
        return _route(("straight up or down" if drop_m else "side by side", drop_m))
    pathway_m = max(start.height_m, end.height_m)
    if rises_to_the_ceiling_pathway(start, end):
        pathway_m = pathway_height_m(project, start.storey)
    return _route(
        ("to the ceiling way", abs(pathway_m - start.height_m)),
        ("along x and y", along),
        (f"down to {end.code}", abs(pathway_m - end.height_m)),
        levels=(_level(start.at, end.at, project.building.storeys[start.storey].height + pathway_m),),
    )


def rises_to_the_ceiling_pathway(start: Placed, end: Placed) -> bool:
    """Return whether a cable between two devices of one room goes up to the way above the ceiling.

    It does where neither is on the ceiling and one does not stand above the other.
    """
    return start.at != end.at and "ceiling" not in (start.location, end.location)


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
