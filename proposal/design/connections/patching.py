"""Where data cables end: ports of patch panels in racks, ports of a breakout's own switch."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from proposal.design.connections.data_cables import Cable
from proposal.design.equipment.built_in_switch import BUILT_IN_HEADROOM_USE
from proposal.design.equipment.placed_devices import Placed
from proposal.design.equipment.unit_costs import unit_cost
from proposal.design.network.port_demand import Attached, SwitchPorts, attached
from proposal.design.numbers.numbering import (
    DEVICE_CODES,
    PANEL,
    assign,
    assign_ports,
    device_code,
    device_tag,
    issued_at,
    natural,
)
from proposal.model.equipment.devices import Breakout
from proposal.model.equipment.entry import Device
from proposal.model.project import Project

UPLINK = 1
PANELS = {"network": ("patch_panel", "copper"), "fibre": ("fibre_panel", "fibre")}
"""Kind of panel and its medium, by the signal of the cables that end on it."""


def with_panel_ports(project: Project, cables: Sequence[Cable]) -> tuple[Cable, ...]:
    """Return the cables in order of identities, each data or fibre cable with the panel ports it ends in."""
    ordered = sorted(cables, key=lambda cable: natural(cable.identity))
    racks = {
        device_tag(tag, code)
        for tag, place in project.building.equipment_rooms.items()
        for code in place.racks
    }
    numbers: dict[str, str] = {}
    for signal, (kind, medium) in PANELS.items():
        ports = _panel_ports(project, medium)
        for rack in sorted(racks):
            ending = [cable.identity for cable in ordered if cable.end == rack and cable.signal == signal]
            ending += [
                start_of(cable.identity)
                for cable in ordered
                if cable.start_rack == rack and cable.signal == signal
            ]
            issued = issued_at(project.issued, PANEL, rack)
            most = len(ending) + len(issued)
            places = [f"{device_code(kind, n // ports + 1)}/{n % ports + 1}" for n in range(most)]
            # Where panels have become larger, a port on a later one is still there.
            kept = (one.number for one in issued.values() if 1 <= _port(one.number, kind) <= ports)
            numbers |= assign(ending, {}, issued, dict.fromkeys((*places, *kept)))
    return tuple(
        replace(
            cable,
            end_port=numbers.get(cable.identity, cable.end_port),
            start_panel=numbers.get(start_of(cable.identity), ""),
        )
        for cable in ordered
    )


def start_of(identity: str) -> str:
    """Return the identity in the register of the panel port where a cable from rack to rack begins."""
    return f"{identity}/start"


def _port(number: str, kind: str) -> int:
    """Return the port of a panel port such as PP1/3, 0 where it is none."""
    panel, _, port = number.partition("/")
    code = DEVICE_CODES[kind]
    known = panel.startswith(code) and panel.removeprefix(code).isdecimal() and port.isdecimal()
    return int(port) if known and len(port) < 6 else 0


def _panel_ports(project: Project, medium: str) -> int:
    """Return the ports of the panel that costs least; where there is none, as the rules assume."""
    usual = project.brief.rules.cabling.panel_ports
    panels = [panel for panel in project.library.patch_panels.values() if panel.medium == medium]
    cheapest = min(panels, key=lambda panel: (unit_cost(project, panel), panel.model), default=None)
    return usual if cheapest is None else cheapest.ports


def on_own_switch(
    project: Project, host: Placed, cables: Sequence[Cable], devices: Mapping[str, Placed]
) -> SwitchPorts | None:
    """Return the ports of a breakout's own switch, which serves its room.

    host: the breakout.
    cables: the room's cables; devices: the room's devices by tag.
    Its first port leads to the building's network, the next ones feed devices that take power.
    """
    entry = project.library.entry(host.model)
    if not isinstance(entry, Breakout) or entry.switch is None:
        return None
    plugged = []
    uplink = None
    for cable in cables:
        if cable.signal != "network":
            continue
        if cable.start == host.tag:
            uplink = Attached(tag=cable.end, cable=cable.identity, poe_class=None, priority=0)
        elif cable.end == host.tag:
            plugged.append(_plugged(project, devices[cable.start], cable))
    plugged.sort(key=lambda device: (device.poe_class is None, natural(device.tag)))
    by_tag = {device.tag: device for device in plugged}
    free = range(UPLINK + 1, entry.switch.ports + 1)
    numbers = assign_ports(host.tag, by_tag, {}, project.issued, free)
    ports = {number: by_tag[tag] for tag, number in numbers.items()}
    if uplink:
        ports[UPLINK] = uplink
    return SwitchPorts(
        device=host,
        access_ports=entry.switch.ports,
        poe_class=entry.switch.poe_class,
        poe_type=entry.switch.poe_type,
        budget_w=entry.switch.budget,
        headroom=project.brief.rules.power.built_in_headroom,
        headroom_use=BUILT_IN_HEADROOM_USE,
        spare_ports=0.0,
        ports=dict(sorted(ports.items())),
    )


def _plugged(project: Project, device: Placed, cable: Cable) -> Attached:
    entry = project.library.entry(device.model)
    if not isinstance(entry, Device):
        raise TypeError(f"{device.model} is no device")
    return attached(project.brief.rules.priorities, device, entry, cable.identity)


def with_host_ports(cables: Sequence[Cable], host: SwitchPorts, port_names: Sequence[str]) -> list[Cable]:
    """Return a room's cables, those that end in a breakout's own switch with the port they end in.

    port_names: names of the breakout's network ports, in order.
    """
    number_of = {device.cable: number for number, device in host.ports.items()}
    return [
        replace(cable, end_port=port_names[number_of[cable.identity] - 1])
        if cable.end == host.device.tag and number_of.get(cable.identity, 0) in range(1, len(port_names) + 1)
        else cable
        for cable in cables
    ]
