"""Which route every cable takes: fixed by hand, along pathways, or right-angled where there are none."""

import math

from proposal.design.equipment.placed_devices import Point
from proposal.design.numbers.numbering import natural
from proposal.design.pathways.cable_routes import CableRoute, laid_on_floors
from proposal.design.pathways.entry_points import Point3
from proposal.design.pathways.floor_ways import Rise
from proposal.design.pathways.manual_routes import in_racks_of, pinned_route
from proposal.design.pathways.pathway_graph import Network
from proposal.design.pathways.right_angled_runs import right_angled_route
from proposal.model.pathways.pathways import Carries
from proposal.model.project import Project

SHORTER_M = 1e-3
"""By so much sums of lengths are allowed to come out under the straight line."""


class Router:
    """Finds routes through one building; what it has worked out it keeps for the next cable."""

    def __init__(self, project: Project) -> None:
        """Keep the project; networks are made when the first cable asks for one."""
        self._project = project
        self._networks: dict[Carries, Network] = {}

    def route(
        self,
        at: Point,
        height_m: float,
        storey: str,
        equipment_room: str,
        *,
        carries: Carries = "network",
        from_ceiling: bool = False,
        rise: Rise | None = None,
        pinned: tuple[str, ...] = (),
    ) -> CableRoute:
        """Return the route from a device to the racks of an equipment room.

        equipment_room: tag of the room where the cable ends.
        at, height_m: position in the building and height above the storey's floor, m.
        storey: tag of the storey.
        carries: what the cable carries.
        from_ceiling: whether the device hangs from the ceiling.
        rise: the wall at which its cable goes up, where it stands low.
        pinned: tags of the pathways that the designer fixed, in order from the device.
        """
        floor_m = self._project.building.storeys[storey].height
        start: Point3 = (*at, floor_m + height_m)
        if pinned:
            ends = in_racks_of(self._project, equipment_room)
            return laid_on_floors(pinned_route(self._project, start, storey, ends, pinned), floor_m)
        if self._project.building.pathways:
            if carries not in self._networks:
                self._networks[carries] = Network(self._project, carries)
            route = self._networks[carries].route(
                start, storey, equipment_room, from_ceiling=from_ceiling, rise=rise
            )
            if route is not None:
                return laid_on_floors(route, floor_m)
        return right_angled_route(self._project, at, height_m, storey, equipment_room, rise)

    def serving(self, at: Point, height_m: float, storey: str) -> str:
        """Return the equipment room with the shortest route, the first in order of tags among equals.

        at, height_m, storey: where the room's chargers stand.
        """
        building, rules = self._project.building, self._project.brief.rules.cabling
        start: Point3 = (*at, building.storeys[storey].height + height_m)
        racks: dict[str, Point3] = {
            tag: (*room.at, building.storeys[room.storey].height + rules.rack_height)
            for tag, room in building.equipment_rooms.items()
        }
        nearest_first = sorted((math.dist(start, rack), tag) for tag, rack in racks.items())
        best: tuple[float, tuple[tuple[int, int | str], ...], str] | None = None
        for straight_m, tag in nearest_first:
            # No route is shorter than the straight line, and those that follow are no nearer.
            if best is not None and straight_m - SHORTER_M > best[0]:
                break
            route = round(self.route(at, height_m, storey, tag).length_m, 6), natural(tag), tag
            best = route if best is None else min(best, route)
        assert best is not None, "a building has equipment rooms"
        return best[2]
