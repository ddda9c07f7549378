"""Which way every cable takes: fixed by hand, along pathways, or right-angled where there are none."""

from proposal.design.equipment.placed_devices import Point
from proposal.design.numbers.numbering import natural
from proposal.design.pathways.cable_routes import CableRoute
from proposal.design.pathways.entry_points import Point3
from proposal.design.pathways.manual_routes import pinned_way
from proposal.design.pathways.pathway_graph import Network
from proposal.design.pathways.right_angled_runs import route
from proposal.model.pathways.pathways import Carries
from proposal.model.project import Project


class Router:
    """Finds ways through one building; what it has worked out it keeps for the next cable."""

    def __init__(self, project: Project) -> None:
        """Keep the project; networks are made when the first cable asks for one."""
        self._project = project
        self._networks: dict[Carries, Network] = {}

    def way(
        self,
        at: Point,
        height_m: float,
        storey: str,
        equipment_room: str,
        *,
        carries: Carries = "network",
        from_ceiling: bool = False,
        pinned: tuple[str, ...] = (),
    ) -> CableRoute:
        """Return the way from a device to the racks of an equipment room.

        equipment_room: tag of the room where the cable ends.
        at, height_m: position in the building and height above the storey's floor, m.
        storey: tag of the storey.
        carries: what the cable carries.
        from_ceiling: whether the device hangs from the ceiling.
        pinned: tags of the pathways that the designer fixed, in order from the device.
        """
        start: Point3 = (*at, self._project.building.storeys[storey].height + height_m)
        if pinned:
            return pinned_way(self._project, start, storey, equipment_room, pinned)
        if self._project.building.pathways:
            if carries not in self._networks:
                self._networks[carries] = Network(self._project, carries)
            way = self._networks[carries].way(start, storey, equipment_room, from_ceiling=from_ceiling)
            if way is not None:
                return way
        return route(self._project, at, height_m, storey, equipment_room)

    def serving(self, at: Point, height_m: float, storey: str) -> str:
        """Return the equipment room with the shortest way, the first in order of tags among equals.

        at, height_m, storey: where the room's chargers stand.
        """
        ways = [
            (round(self.way(at, height_m, storey, tag).length_m, 6), natural(tag), tag)
            for tag in self._project.building.equipment_rooms
        ]
        return min(ways)[2]
