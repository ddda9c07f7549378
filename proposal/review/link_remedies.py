"""What would make a link short enough: another equipment room, a switch on its route, or fibre."""

from proposal.design.connections.cable import Cable
from proposal.design.design import Design
from proposal.design.pathways.floor_ways import rise_of
from proposal.design.pathways.routing import Router
from proposal.model.project import Project
from proposal.review.finding import length_words
from proposal.standards.tia568 import CHANNEL_LIMIT


class LinkRemedies:
    """Finds what would make links of one design short enough."""

    def __init__(self, project: Project, design: Design) -> None:
        """Keep what every remedy needs."""
        self._project = project
        self._devices = {device.tag: device for device in design.devices}
        self._serving = {room.tag: room.equipment_room for room in design.rooms}
        self._router = Router(project)

    def remedy(self, cable: Cable) -> str:
        """Return what would make a link short enough, with the length it would have."""
        limit_m = min(cable.limit_m or 0.0, CHANNEL_LIMIT.value - cable.cords_m)
        return " ".join((self._other_room(cable, limit_m), self._switch(cable, limit_m)))

    def _other_room(self, cable: Cable, limit_m: float) -> str:
        device = self._devices[cable.start]
        served = self._serving[cable.room]
        lengths = sorted(
            (
                self._router.route(
                    device.at,
                    device.height_m,
                    device.storey,
                    tag,
                    from_ceiling=device.location == "ceiling",
                    rise=rise_of(self._project, device),
                ).length_m
                + cable.slack_m,
                tag,
            )
            for tag in self._project.building.equipment_rooms
            if tag != served
        )
        if not lengths:
            return "There is no other equipment room."
        length_m, tag = lengths[0]
        shown = length_words(length_m, self._project.brief.units)
        if length_m <= limit_m:
            return f"Serve room {cable.room} from {tag}: the link becomes {shown}."
        return f"No other equipment room is near enough; from {tag} the link would be {shown}."

    def _switch(self, cable: Cable, limit_m: float) -> str:
        """Return where a switch on the way would have to stand, and how much fibre would feed it."""
        units = self._project.brief.units
        behind_m, last = cable.slack_m, None
        for stretch in cable.route.stretches:
            behind_m += stretch.length_m
            if stretch.to and behind_m <= limit_m:
                last = (stretch.to, behind_m)
        if last is not None:
            node, link_m = last
            fibre_m = cable.route.length_m + cable.slack_m - link_m
            return (
                f"Or put a switch along the route, at {node}: "
                f"the link becomes {length_words(link_m, units)}; "
                f"feed it over {length_words(fibre_m, units)} of optical fibre."
            )
        most_m = max(limit_m - cable.slack_m, 0.0)
        return (
            f"Or put a switch along the route, within {length_words(most_m, units)} of {cable.start}, "
            "and feed it by optical fibre."
        )
