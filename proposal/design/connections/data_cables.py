"""The data cables of a room: identity, ends, length parts and checks; and what every cable has."""

from collections.abc import Mapping, Sequence

from proposal.design.connections.cable_checks import (
    AMBIENT_USE,
    CORD_GAUGE_USE,
    DATA_CABLE_USE,
    DEVICE_CORD_USE,
    EQUIPMENT_CORD_USE,
    LinkChecks,
    LinkUses,
)
from proposal.design.connections.cable_choice import data_cable
from proposal.design.connections.cable_temperature import TemperatureSegment, hottest_c, temperature_segments
from proposal.design.connections.jackets import in_ceilings, jacket_needs, jacket_uses
from proposal.design.connections.patch_cords import Cord, CordEnd, cord
from proposal.design.equipment.placed_devices import Placed
from proposal.design.numbers.numbering import cable_identity
from proposal.design.pathways.cable_routes import CableRoute
from proposal.design.pathways.manual_routes import RouteEnd, pinned_route
from proposal.design.pathways.right_angled_runs import (
    local_route,
    pathway_height_uses,
    rises_to_the_ceiling_pathway,
)
from proposal.design.pathways.routing import Router
from proposal.field_classes import dataclass
from proposal.model.equipment.entry import Device
from proposal.model.pathways.pathways import Carries
from proposal.model.project import Project
from proposal.standards import ieee8023
from proposal.standards.working import Working

CORD_USES: Mapping[CordEnd, str] = {"rack": EQUIPMENT_CORD_USE, "device": DEVICE_CORD_USE}
UNCABLED = ("microphone", "wired_microphone", "loudspeaker")
PANEL_JACK = "8P8C jack"


@dataclass(frozen=True, slots=True, kw_only=True)
class Cable:
    """One cable with its length parts and checks.

    identity: device, its port and what it ends in.
    signal: network, analogue or loudspeaker line.
    start, end: tags at both ends; start_port, end_port and connectors likewise.
    room: tag of the room it serves.
    model: model code of the cable, empty where the library has none that suits.
    start_storey, end_storey: tags of storeys.
    route: the route it takes, also where the length was given by hand.
    slack_m: slack at both ends and termination, m.
    slack_ends_m: slack left at its device and at its far end, m.
    length_m: the cable as it lies, m.
    measured: whether the length was given by hand.
    warmth: how much of it lies at which temperature.
    source_w: power that its port's source allocates by class, W; 0 where it carries none.
    poe_class: class of power over Ethernet that it carries, None where it carries none.
    cords: patch cords at its ends; none for other signals.
    screened_wanted: whether the device asks for a screened cable.
    uses: dotted paths of the project inputs that its length rests on; none where it was measured.
    route_uses: those that its route rests on, and so who lies beside it.
    link_uses: those behind its checks, but for what warms it; None for other signals.
    checked: its checks on link, channel and cords; None for other signals.
    reach_m: farthest that the fibre modules at its ends drive, cords included, m; None for other signals.
    start_rack, start_panel: rack and panel port where it begins, of a cable from rack to rack; else empty.
    """

    identity: str
    signal: str
    start: str
    start_port: str
    start_connector: str
    end: str
    end_port: str
    end_connector: str
    room: str
    model: str
    start_storey: str
    end_storey: str
    route: CableRoute
    slack_m: float
    slack_ends_m: tuple[float, float]
    length_m: float
    measured: bool
    warmth: tuple[TemperatureSegment, ...]
    source_w: float = 0.0
    poe_class: int | None = None
    cords: tuple[Cord, ...] = ()
    screened_wanted: bool = False
    uses: tuple[str, ...] = ()
    route_uses: tuple[str, ...] = ()
    link_uses: LinkUses | None = None
    checked: LinkChecks | None = None
    reach_m: float | None = None
    start_rack: str = ""
    start_panel: str = ""

    @property
    def in_rack(self) -> bool:
        """Return whether it is a lead that lies inside a rack."""
        return any(stretch.in_rack for stretch in self.route.stretches)

    @property
    def temperature_c(self) -> float:
        """Return the highest temperature along the cable, °C."""
        return hottest_c(self.warmth)

    @property
    def cords_m(self) -> float:
        """Return the cords at both ends together, m; 0 for other signals."""
        return sum(cord.length_m for cord in self.cords)

    @property
    def channel_m(self) -> float:
        """Return the link and its cords together, m."""
        return self.length_m + self.cords_m

    @property
    def limit_m(self) -> float | None:
        """Return the longest link, for its temperature or modules, m; None where nothing is checked."""
        if self.reach_m is not None:
            return self.reach_m - self.cords_m
        return self.checked.limit_m if self.checked else None

    @property
    def checks(self) -> tuple[Working, ...]:
        """Return the workings of its checks."""
        return self.checked.workings if self.checked else ()

    @property
    def holds(self) -> bool:
        """Return whether every check holds."""
        within_reach = self.reach_m is None or self.channel_m <= self.reach_m
        return within_reach and (self.checked is None or self.checked.holds)


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


def data_cables(
    project: Project,
    router: Router,
    devices: Sequence[Placed],
    host: Placed | None,
    equipment_room: str,
    rack: str,
) -> list[Cable]:
    """Return the data cables of one room.

    project: rules, building, library and measured lengths.
    router: finds the routes.
    devices: the room's devices.
    host: the breakout or switch that serves the room, None where every device goes to the rack.
    equipment_room, rack: tags of where cables end; empty where none leaves the room.
    """
    cables = []
    for device in devices:
        entry = project.library.entry(device.model) if device.model else None
        if not isinstance(entry, Device) or device.location == rack or device.kind in UNCABLED:
            continue
        port = entry.joined_port
        if not port:
            continue
        if host is None or device == host:
            if not equipment_room:
                continue
            lie = run_to_rack(project, router, device, port, equipment_room, rack)
            ends: tuple[CordEnd, ...] = ("rack",) if entry.termination == "plug" else ("rack", "device")
        else:
            lie = run_between(project, device, port, host)
            # It is plugged into the breakout's own switch; a cord is at its outlet alone, if it has one.
            ends = () if entry.termination == "plug" else ("device",)
        cables.append(data_cable_of(project, device, entry, port, lie, ends))
    return cables


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
    rises = route is None and rises_to_the_ceiling_pathway(start, end)
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


def data_cable_of(
    project: Project,
    device: Placed,
    entry: Device,
    port: str,
    lie: CableRun,
    cord_ends: tuple[CordEnd, ...],
) -> Cable:
    """Return a data cable, its temperatures and checks left for when all cables have their routes.

    device, entry, port: where it begins.
    lie: how it lies.
    cord_ends: the ends at which there is a patch cord.
    """
    identity = cable_identity(device.tag, port, lie.end)
    measured_m = length_by_hand(project, identity)
    length_m = lie.route.length_m + lie.slack_m if measured_m is None else measured_m
    by_hand = model_by_hand(project, identity)
    needs = jacket_needs(project, lie.route, rises=device.storey != lie.end_storey)
    model = by_hand or data_cable(project, entry.needs_screened_cable, needs)
    cable = project.library.cables.get(model)
    poe_class = entry.poe.device_class if entry.poe and entry.powered_by == "PoE" else None
    jacket = () if by_hand else jacket_uses(project, lie.route, device.storey, lie.end_storey)
    cords = tuple(one for end in cord_ends if (one := cord(project, end, cable)))
    cord_uses = (*(CORD_USES[end] for end in cord_ends), *((CORD_GAUGE_USE,) if cord_ends else ()))
    if cord_ends and not by_hand:
        # The category and the screen of the cable are asked of its cords.
        cord_uses += (DATA_CABLE_USE, *jacket)
    uses = () if measured_m is not None else lie.uses
    warmth_uses = (*_warmth_uses(project, lie, bool(by_hand)), *jacket)
    return Cable(
        identity=identity,
        signal="network",
        start=device.tag,
        start_port=port,
        start_connector="plug" if entry.termination == "plug" else "outlet",
        end=lie.end,
        end_port="",
        end_connector=PANEL_JACK,
        room=device.room,
        model=model,
        start_storey=device.storey,
        end_storey=lie.end_storey,
        route=lie.route,
        slack_m=lie.slack_m,
        slack_ends_m=lie.slack_ends_m,
        length_m=length_m,
        measured=measured_m is not None,
        warmth=temperature_segments(project, lie.route, length_m, {}),
        source_w=0.0 if poe_class is None else ieee8023.CLASSES[poe_class].source_power_w,
        poe_class=poe_class,
        cords=cords,
        screened_wanted=entry.needs_screened_cable,
        uses=uses,
        route_uses=lie.route_uses,
        link_uses=LinkUses(length=uses, warmth=warmth_uses, cords=cord_uses),
    )


def _warmth_uses(project: Project, lie: CableRun, by_hand: bool) -> tuple[str, ...]:
    """Return the dotted paths of the inputs behind the air around a cable and its kind.

    Where spaces are described, both rest on the way that the cable takes through them.
    """
    spaces = dict.fromkeys(stretch.space for stretch in lie.route.stretches if stretch.space)
    return (
        AMBIENT_USE,
        *(f"building.spaces.{tag}.temperature" for tag in spaces),
        *(() if by_hand else (DATA_CABLE_USE,)),
        *(lie.uses if project.building.spaces else ()),
    )


def _slack_at(project: Project, device: Placed) -> tuple[float, str]:
    """Return the slack left at a device, m, and the rule that sets it."""
    rules = project.brief.rules.cabling
    if device.location == "ceiling":
        return rules.ceiling_slack, "project.rules.cabling.ceiling_slack"
    return rules.table_slack, "project.rules.cabling.table_slack"
