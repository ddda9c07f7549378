"""A route fixed by hand: the pathways named, in order, with right-angled runs to and from them."""

from collections.abc import Sequence
from typing import NamedTuple

from proposal.design.pathways.cable_routes import CableRoute, Stretch, right_angled
from proposal.design.pathways.entry_points import Point3, point_between, run_m, turning_shares
from proposal.design.pathways.pathway_graph import node_position, pathway_length_m, pathway_stretch
from proposal.model.pathways.pathways import OPEN_KINDS
from proposal.model.project import Project


class RouteEnd(NamedTuple):
    """Where a cable ends.

    name: as its route names it.  at: in the building, height above datum included, m.  storey: tag of it.
    """

    name: str
    at: Point3
    storey: str


def in_racks_of(project: Project, equipment_room: str) -> RouteEnd:
    """Return the racks of an equipment room as where a cable ends.

    equipment_room: tag of the room.
    """
    building = project.building
    room = building.equipment_rooms[equipment_room]
    height_m = building.storeys[room.storey].height + project.brief.rules.cabling.rack_height
    return RouteEnd(equipment_room, (*room.at, height_m), room.storey)


def pinned_route(
    project: Project, start: Point3, storey: str, end: RouteEnd, tags: Sequence[str]
) -> CableRoute:
    """Return the route along the pathways that the designer named.

    end: where the cable ends.
    start: where the device is in the building, height above datum included, m.
    storey: tag of its storey.
    tags: pathways of the building in order from the device.
    Open pathways are joined and left where they come nearest, others at their ends. Where two do not meet,
    a right-angled run joins them and the route says so.
    """
    building, around = project.building, project.brief.rules.cabling.routing_factor
    here, here_storey = start, storey
    stretches: list[Stretch] = []
    faults: list[str] = []
    first = start[:2]
    for n, tag in enumerate(tags):
        pathway = building.pathways[tag]
        after = building.pathways[tags[n + 1]].between if n + 1 < len(tags) else ()
        shared = [name for name in pathway.between if name in after]
        goal = node_position(project, shared[0]) if shared else end.at
        if after and not shared:
            goal = _nearest_end(project, here, tags[n + 1])
            faults.append(f"{tag} and {tags[n + 1]} do not meet")
        shares = (_share_of(pathway.between, shared[0]),) if shared else _leaving(project, tag, goal)
        entered, left = min(
            (
                (a, b)
                for a in _leaving(project, tag, here)
                for b in shares
                if a != b or pathway.kind in OPEN_KINDS
            ),
            key=lambda pair: (
                run_m(here, _at(project, tag, pair[0]), around)
                + run_m(_at(project, tag, pair[1]), goal, around),
                pair,
            ),
        )
        joined = _at(project, tag, entered)
        outside_m = run_m(here, joined, around)
        if n == 0:
            first = joined[:2]
        if n == 0 or outside_m > 1e-9:
            stretches += right_angled(tag, here, joined, around, height_m=joined[2])
        own = {building.nodes[name].storey for name in pathway.between}
        if n == 0 and here_storey not in own:
            faults.append(f"{tag} does not reach {here_storey}, where it begins")
        if n == len(tags) - 1 and end.storey not in own:
            faults.append(f"{tag} does not reach {end.storey}, where it ends")
        to = {0.0: pathway.between[0], 1.0: pathway.between[1]}.get(left, "")
        length_m = abs(left - entered) * pathway_length_m(project, tag)
        stretches.append(pathway_stretch(project, tag, length_m, to))
        here = _at(project, tag, left)
    stretches += right_angled(end.name, here, end.at, around, height_m=here[2])
    return CableRoute(tuple(stretches), "; ".join(faults), (first, here[:2]))


def _at(project: Project, tag: str, share: float) -> Point3:
    first, last = (node_position(project, name) for name in project.building.pathways[tag].between)
    return point_between(first, last, share)


def _share_of(between: tuple[str, str], node: str) -> float:
    return 0.0 if node == between[0] else 1.0


def _leaving(project: Project, tag: str, towards: Point3) -> tuple[float, ...]:
    """Return the shares of a pathway at which a run to a point may begin or end."""
    pathway = project.building.pathways[tag]
    if pathway.kind not in OPEN_KINDS:
        return 0.0, 1.0
    first, last = (node_position(project, name) for name in pathway.between)
    return 0.0, *turning_shares(first, last, towards), 1.0


def _nearest_end(project: Project, here: Point3, tag: str) -> Point3:
    ends = [node_position(project, name) for name in project.building.pathways[tag].between]
    return min(ends, key=lambda end: run_m(here, end, 1.0))
