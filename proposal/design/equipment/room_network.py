"""How the network of a room is joined to the building's: as everywhere, over one kept-off port, or not."""

from proposal.model.equipment.devices import Breakout
from proposal.model.equipment.entry import Entry
from proposal.model.project import Project
from proposal.model.rooms import RoomNetwork, RoomType

APART: tuple[RoomNetwork, ...] = ("alone", "isolated")
"""Networks of rooms whose devices are joined in the room itself, wherever it leads."""


def network_of(project: Project, layout: RoomType) -> RoomNetwork:
    """Return how the network of a room is joined; alone where nothing is written and nothing is there.

    layout: of the room; one in which nothing is planned is joined to nothing.
    """
    if layout.nothing_planned:
        return "alone"
    if layout.network == "automatic" and not project.building.equipment_rooms:
        return "alone"
    return layout.network


def further_ports(layout: RoomType) -> int:
    """Return the ports of a room's switch that equipment of others takes: what is on its network besides.

    layout: of the room.
    """
    return len(
        {
            code
            for ends in (layout.destinations, layout.returns)
            for code, end in ends.items()
            if end.signal == "networked audio"
        }
    )


def isolates(entry: Entry) -> bool:
    """Return whether a device has a port that keeps a building's network away from the system."""
    return isinstance(entry, Breakout) and entry.switch is not None and entry.switch.isolating_ports > 0
