"""Every cable: identity, ends, length parts and the checks on link, channel and cords."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from proposal.design.numbering import cable_identity, natural
from proposal.design.placing import Placed
from proposal.design.prices import unit_cost
from proposal.design.routes import Route, local_route, route
from proposal.model.entry import Device
from proposal.model.materials import DataCable, LoudspeakerCable
from proposal.model.project import Project
from proposal.standards import tia568
from proposal.standards.working import Limit, Working, working

CEILING_LOCATIONS = ("ceiling",)
CORD_RULE_M = (70.0, 90.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cable:
    """One cable with its length parts and checks.

    identity: device, its port and what it ends in.
    signal: network or loudspeaker line.
    start, end: tags at both ends; start_port, end_port and connectors likewise.
    room: tag of the room it serves.
    model: model code of the cable, empty where the library has none that suits.
    start_storey, end_storey: tags of storeys.
    way: its route; None where the length was given by hand.
    slack_m: slack at both ends and termination, m.
    length_m: the cable as it lies, m.
    measured: whether the length was given by hand.
    cords_m: cords at both ends together, m; 0 for other signals.
    temperature_c: temperature of the cable, °C.
    limit_m: longest permanent link at that temperature, m; None where nothing is checked.
    screened_wanted: whether the device asks for a screened cable.
    uses: dotted paths of the project inputs that its length rests on; none where it was measured.
    checks: workings of its checks.
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
    way: Route | None
    slack_m: float
    length_m: float
    measured: bool
    cords_m: float = 0.0
    temperature_c: float = 20.0
    limit_m: float | None = None
    screened_wanted: bool = False
    uses: tuple[str, ...] = ()
    checks: tuple[Working, ...] = ()

    @property
    def channel_m(self) -> float:
        """Return the link and its cords together, m."""
        return self.length_m + self.cords_m

    @property
    def holds(self) -> bool:
        """Return whether every check holds."""
        return all(check.verdict != "fails" for check in self.checks)


def room_cables(
    project: Project, devices: Sequence[Placed], host: Placed | None, equipment_room: str, rack: str
) -> tuple[Cable, ...]:
    """Return the cables of one room, in order of identities.

    project: rules, building, library and measured lengths.
    devices: the room's devices.
    host: the breakout whose own switch serves the room, None where every device goes to the rack.
    equipment_room, rack: tags of where cables end.
    """
    cables = []
    for device in devices:
        entry = project.library.entry(device.model) if device.model else None
        if not isinstance(entry, Device) or device.location == rack or device.kind in _UNCABLED:
            continue
        ports = entry.ports_carrying("network")
        if not ports:
            continue
        if host is None or device == host:
            cables.append(_to_rack(project, device, entry, ports[0], equipment_room, rack))
        else:
            cables.append(_to_host(project, device, entry, ports[0], host))
    cables += _loudspeaker_lines(project, devices, equipment_room, rack)
    return tuple(sorted(cables, key=lambda cable: natural(cable.identity)))


_UNCABLED = ("microphone", "loudspeaker")


def _to_rack(
    project: Project, device: Placed, entry: Device, port: str, equipment_room: str, rack: str
) -> Cable:
    rules = project.brief.rules.cabling
    way = route(project, device.at, device.height_m, device.storey, equipment_room)
    end_storey = project.building.equipment_rooms[equipment_room].storey
    plugged = entry.termination == "plug"
    cords_m = rules.equipment_cord + (0.0 if plugged else rules.device_cord)
    slack_m = rules.rack_slack + _slack_at(project, device) + rules.termination
    return _data_cable(project, device, entry, port, rack, end_storey, way, slack_m, cords_m)


def _to_host(project: Project, device: Placed, entry: Device, port: str, host: Placed) -> Cable:
    rules = project.brief.rules.cabling
    way = local_route(project, device, host)
    slack_m = _slack_at(project, device) + _slack_at(project, host) + rules.termination
    return _data_cable(project, device, entry, port, host.tag, host.storey, way, slack_m, rules.device_cord)


def _data_cable(
    project: Project,
    device: Placed,
    entry: Device,
    port: str,
    end: str,
    end_storey: str,
    way: Route,
    slack_m: float,
    cords_m: float,
) -> Cable:
    """Return a data cable with its checks on link, channel and cords."""
    identity = cable_identity(device.tag, port, end)
    fixed = project.fixed.cables.get(identity)
    measured = fixed is not None and fixed.length is not None
    length_m = fixed.length if fixed is not None and fixed.length is not None else way.length_m + slack_m
    model = (fixed.type if fixed else "") or data_cable(project, entry.needs_screened_cable)
    cable = project.library.cables.get(model)
    screened = bool(cable and cable.screened)
    powered = entry.powered_by == "PoE"
    rules = project.brief.rules.cabling
    rise_k = rules.bundle_rise if powered else 0.0
    temperature_c = project.building.ceiling_temperature + rise_k
    storeys = dict.fromkeys((device.storey, end_storey))
    ways = tuple(f"building.storeys.{storey}.pathway_height" for storey in storeys)
    uses = () if measured else (*LENGTH_USES, *ways, *device.uses)
    checks, limit_m = link_checks(length_m, cords_m, temperature_c, screened, rules.cord_gauge, uses)
    return Cable(
        identity=identity,
        signal="network",
        start=device.tag,
        start_port=port,
        start_connector="plug" if entry.termination == "plug" else "outlet",
        end=end,
        end_port="",
        end_connector="8P8C jack",
        room=device.room,
        model=model,
        start_storey=device.storey,
        end_storey=end_storey,
        way=None if measured else way,
        slack_m=slack_m,
        length_m=length_m,
        measured=measured,
        cords_m=cords_m,
        temperature_c=temperature_c,
        limit_m=limit_m,
        screened_wanted=entry.needs_screened_cable,
        uses=uses,
        checks=checks,
    )


LENGTH_USES = (
    "project.rules.cabling.rack_slack",
    "project.rules.cabling.ceiling_slack",
    "project.rules.cabling.table_slack",
    "project.rules.cabling.termination",
    "project.rules.cabling.routing_factor",
    "project.rules.cabling.rack_height",
    "building.shafts",
)
TEMPERATURE_USES = ("building.ceiling_temperature", "project.rules.cabling.bundle_rise")
CORD_USES = ("project.rules.cabling.equipment_cord", "project.rules.cabling.device_cord")


def link_checks(
    length_m: float,
    cords_m: float,
    temperature_c: float,
    screened: bool,
    gauge_awg: int,
    length_uses: tuple[str, ...],
) -> tuple[tuple[Working, ...], float]:
    """Return the workings of a link's checks and the longest link at its temperature, m.

    length_m, cords_m: link, and cords at both ends together, m.
    temperature_c: temperature of the cable, °C.
    screened: whether the cable is screened.
    gauge_awg: gauge of the cords.
    length_uses: dotted paths of the project inputs that the length rests on.
    """
    warm_c = max(temperature_c, 20.0)
    rise = tia568.insertion_loss_rise(min(warm_c, tia568.WARMEST_CABLE_C), screened)
    link = working(
        tia568.weighted_length_m,
        title="Permanent link, weighted by temperature",
        limit=tia568.PERMANENT_LINK_LIMIT,
        uses=(*length_uses, *TEMPERATURE_USES),
        note=f"At {temperature_c:g} °C, {'screened' if screened else 'unscreened'} cable.",
        lengths_m=(length_m,),
        rises=(rise,),
    )
    channel = working(
        tia568.channel_length_m,
        limit=tia568.CHANNEL_LIMIT,
        uses=(*length_uses, *CORD_USES),
        permanent_link_m=length_m,
        cords_m=cords_m,
    )
    checks = [link, channel]
    covered = CORD_RULE_M[0] <= link.result <= CORD_RULE_M[1]
    if covered or (link.result < CORD_RULE_M[0] and cords_m > tia568.CORDS_LIMIT.value):
        checks.append(
            working(
                tia568.cord_length_m,
                title="Cords allowed by the link, at least those used",
                limit=Limit(cords_m, "≥", tia568.CORD_TABLE),
                uses=(*length_uses, *CORD_USES, "project.rules.cabling.cord_gauge"),
                note="" if covered else "Read at 70 m, where the table begins.",
                permanent_link_m=max(link.result, CORD_RULE_M[0]),
                derating=tia568.cord_derating(gauge_awg),
            )
        )
    return tuple(checks), tia568.permitted_permanent_link_m(rise)


def data_cable(project: Project, screened: bool) -> str:
    """Return the data cable for a device: the project's own choice, else the least-cost one that suits.

    screened: whether the device asks for a screened cable.
    """
    if project.brief.rules.cabling.data_cable:
        return project.brief.rules.cabling.data_cable
    fitting = [
        (unit_cost(project, cable), code)
        for code, cable in project.library.cables.items()
        if suits(cable, screened)
    ]
    return min(fitting)[1] if fitting else ""


def suits(cable: DataCable, screened: bool) -> bool:
    """Return whether a cable may be used for links to devices.

    screened: whether a screen is asked for.
    """
    horizontal = cable.stranding == "solid" and cable.conductor == "copper" and cable.jacket.riser
    return horizontal and (cable.screened or not screened)


def _slack_at(project: Project, device: Placed) -> float:
    rules = project.brief.rules.cabling
    return rules.ceiling_slack if device.location in CEILING_LOCATIONS else rules.table_slack


def _loudspeaker_lines(
    project: Project, devices: Iterable[Placed], equipment_room: str, rack: str
) -> list[Cable]:
    """Return the lines from the rack to the first loudspeaker of each zone and on from one to the next."""
    rules = project.brief.rules.cabling
    loudspeakers = [device for device in devices if device.kind == "loudspeaker"]
    if not loudspeakers:
        return []
    layout = project.rooms[loudspeakers[0].room].layout
    by_zone: dict[str, list[Placed]] = {}
    for device in loudspeakers:
        by_zone.setdefault(layout.loudspeakers[device.code].zone, []).append(device)
    model = loudspeaker_cable(project)
    lines = []
    for zone in by_zone.values():
        before: Placed | None = None
        for device in zone:
            if before is None:
                way = route(project, device.at, device.height_m, device.storey, equipment_room)
                end, end_storey = rack, project.building.equipment_rooms[equipment_room].storey
                slack_m = rules.rack_slack + rules.ceiling_slack + rules.termination
            else:
                way = local_route(project, device, before)
                end, end_storey = before.tag, before.storey
                slack_m = 2 * rules.ceiling_slack + rules.termination
            identity = cable_identity(device.tag, "L1", end)
            fixed = project.fixed.cables.get(identity)
            measured = fixed is not None and fixed.length is not None
            length_m = fixed.length if fixed is not None and fixed.length else way.length_m + slack_m
            lines.append(
                Cable(
                    identity=identity,
                    signal="loudspeaker line",
                    start=device.tag,
                    start_port="L1",
                    start_connector="terminals",
                    end=end,
                    end_port="L1" if before else "",
                    end_connector="terminals",
                    room=device.room,
                    model=(fixed.type if fixed else "") or model,
                    start_storey=device.storey,
                    end_storey=end_storey,
                    way=None if measured else way,
                    slack_m=slack_m,
                    length_m=length_m,
                    measured=measured,
                )
            )
            before = device
    return lines


def loudspeaker_cable(project: Project) -> str:
    """Return the least-cost copper loudspeaker cable of the library, empty where there is none."""
    entries: Mapping[str, LoudspeakerCable] = project.library.loudspeaker_cables
    fitting = [
        (unit_cost(project, cable), code) for code, cable in entries.items() if cable.conductor == "copper"
    ]
    return min(fitting)[1] if fitting else ""
