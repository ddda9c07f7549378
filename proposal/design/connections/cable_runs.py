"""How a cable lies: from a device to a rack or between two devices of a room."""

from collections.abc import Sequence

from proposal.design.connections.jackets import in_ceilings
from proposal.design.equipment.placed_devices import Placed
from proposal.design.numbers.numbering import cable_identity
from proposal.design.pathways.cable_routes import CableRoute
from proposal.design.pathways.floor_ways import rise_of
from proposal.design.pathways.manual_routes import RouteEnd, pinned_route
from proposal.design.pathways.right_angled_runs import (
    local_route,
    pathway_height_uses,
    rises_to_the_ceiling_pathway,
)
from proposal.design.pathways.routing import Router
from proposal.field_classes import dataclass
from proposal.model.pathways.pathways import Carries
from proposal.model.project import Project


@dataclass(frozen=True, slots=True, kw_only=True)
class CableRun:
    """How a cable lies: its far end, its route, its slack and the inputs that these rest on."""

    end: str
    end_storey: str
    route: CableRoute
    slack_m: float
    slack_ends_m: tuple[float, float]
    uses: tuple[str, ...]

    @property
    def route_uses(self) -> tuple[str, ...]:
        """Return the inputs that its way rests on: slack and terminations are no part of it."""
        return tuple(use for use in self.uses if not use.endswith(("_slack", ".termination")))


def run_to_rack(
    project: Project,
    router: Router,
    device: Placed,
    port: str,
    equipment_room: str,
    rack: str,
    carries: Carries = "network",
) -> CableRun:
    """Return how a cable lies from a port of a device to the rack.

    device, port: where the cable begins.
    equipment_room, rack: tags of where it ends.
    carries: what the cable carries, for the pathways that it may take.
    """
    fixed = project.fixed.cables.get(cable_identity(device.tag, port, rack))
    route = router.route(
        device.at,
        device.height_m,
        device.storey,
        equipment_room,
        carries=carries,
        from_ceiling=device.location == "ceiling",
        rise=rise_of(project, device),
        pinned=fixed.route if fixed else (),
    )
    rules = project.brief.rules.cabling
    end_storey = project.building.equipment_rooms[equipment_room].storey
    route = in_ceilings(project, route, device.room, device.storey, end_storey)
    slack_m, slack_use = _slack_at(project, device)
    routes = dict.fromkeys((device.storey, end_storey))
    uses = (
        "project.rules.cabling.rack_slack",
        slack_use,
        "project.rules.cabling.termination",
        "project.rules.cabling.routing_factor",
        "project.rules.cabling.rack_height",
        f"rooms.{device.room}.equipment_room",
        *(("building.shafts",) if len(routes) > 1 else ()),
        *(use for storey in routes for use in pathway_height_uses(project, storey)),
        *(route_uses(project, route) if route.pathways else ()),
        *device.uses,
    )
    return CableRun(
        end=rack,
        end_storey=end_storey,
        route=route,
        slack_m=rules.rack_slack + slack_m + rules.termination,
        slack_ends_m=(slack_m, rules.rack_slack),
        uses=tuple(dict.fromkeys(uses)),
    )


def route_uses(project: Project, route: CableRoute) -> tuple[str, ...]:
    """Return the dotted paths of the project inputs that a route along pathways rests on."""
    nodes = [stretch.to for stretch in route.stretches if stretch.to]
    at_cable_runs = [
        project.building.nodes[tag].storey for tag in nodes if project.building.nodes[tag].height is None
    ]
    return (
        "project.rules.pathways.outside_factor",
        *(f"building.pathways.{tag}.length" for tag in route.pathways),
        *(f"building.nodes.{tag}.height" for tag in nodes),
        *(use for storey in at_cable_runs for use in pathway_height_uses(project, storey)),
    )


def run_between(project: Project, start: Placed, port: str, end: Placed) -> CableRun:
    """Return how a cable lies between two devices of one room: by pathways where they are fixed by hand.

    port: of the device where the cable begins.
    """
    fixed = project.fixed.cables.get(cable_identity(start.tag, port, end.tag))
    route = _by_hand(project, start, end, fixed.route) if fixed and fixed.route else None
    start_m, start_use = _slack_at(project, start)
    end_m, end_use = _slack_at(project, end)
    rises = route is None and rises_to_the_ceiling_pathway(project, start, end)
    uses = (
        start_use,
        end_use,
        "project.rules.cabling.termination",
        "project.rules.cabling.routing_factor",
        *(pathway_height_uses(project, start.storey) if rises else ()),
        *(route_uses(project, route) if route else ()),
        *start.uses,
        *end.uses,
    )
    return CableRun(
        end=end.tag,
        end_storey=end.storey,
        route=in_ceilings(
            project, route or local_route(project, start, end), start.room, start.storey, end.storey
        ),
        slack_m=start_m + end_m + project.brief.rules.cabling.termination,
        slack_ends_m=(start_m, end_m),
        uses=tuple(dict.fromkeys(uses)),
    )


def room_cable_m(project: Project, start: Placed, end: Placed) -> tuple[float, float]:
    """Return the length of the way between two devices of one room, m, and the slack of a cable there, m."""
    start_m, end_m = _slack_at(project, start)[0], _slack_at(project, end)[0]
    slack_m = start_m + end_m + project.brief.rules.cabling.termination
    return local_route(project, start, end).length_m, slack_m


def _by_hand(project: Project, start: Placed, end: Placed, tags: Sequence[str]) -> CableRoute:
    """Return the route between two devices along the pathways that the designer named."""
    storeys = project.building.storeys
    from_, to = ((*one.at, storeys[one.storey].height + one.height_m) for one in (start, end))
    return pinned_route(project, from_, start.storey, RouteEnd(end.code, to, end.storey), tags)


def length_by_hand(project: Project, identity: str) -> float | None:
    """Return the length that somebody measured, m; None where nobody did.

    identity: of the cable.
    """
    fixed = project.fixed.cables.get(identity)
    return fixed.length if fixed else None


def model_by_hand(project: Project, identity: str) -> str:
    """Return the model of cable that the designer chose, empty where the choice is free.

    identity: of the cable.
    """
    fixed = project.fixed.cables.get(identity)
    return fixed.type if fixed else ""


def _slack_at(project: Project, device: Placed) -> tuple[float, str]:
    """Return the slack left at a device, m, and the rule that sets it."""
    rules = project.brief.rules.cabling
    if device.location == "ceiling":
        return rules.ceiling_slack, "project.rules.cabling.ceiling_slack"
    return rules.table_slack, "project.rules.cabling.table_slack"
