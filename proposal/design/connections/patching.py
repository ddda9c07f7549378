"""Where data cables end: ports of patch panels in racks, ports of a breakout's own switch."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from proposal.design.connections.cable import Cable
from proposal.design.equipment.built_in_switch import BUILT_IN_HEADROOM_USE
from proposal.design.equipment.placed_devices import Placed
from proposal.design.equipment.poe_sources import sources_wanted
from proposal.design.network.injectors import Injector, beside, fed_by_injectors
from proposal.design.network.port_demand import HEADROOM_USE, Attached, SwitchPorts, attached
from proposal.design.numbers.numbering import assign_ports, natural
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import Breakout, Switch
from proposal.model.equipment.entry import Device
from proposal.model.project import Project
from proposal.model.tags import DEVICE_CODES
from proposal.standards.reserve import usable_power_w

UPLINK = 1
PANELS = {"network": ("patch_panel", "copper"), "fibre": ("fibre_panel", "fibre")}
"""Kind of panel and its medium, by the signal of the cables that end on it."""


def start_of(identity: str) -> str:
    """Return the identity in the register of the panel port where a cable from rack to rack begins."""
    return f"{identity}/start"


def panel_port(number: str, medium: str) -> tuple[int, int]:
    """Return the panel and the port of a panel port, zeros where it is none.

    number: such as PP1/3.
    medium: what the panel is for, copper or fibre.
    """
    panel, _, port = number.partition("/")
    (code,) = (DEVICE_CODES[kind] for kind, of_medium in PANELS.values() if of_medium == medium)
    digits = panel.removeprefix(code)
    known = panel.startswith(code) and digits.isdecimal() and port.isdecimal()
    if not known or max(len(digits), len(port)) >= 6 or not int(digits) or not int(port):
        return 0, 0
    return int(digits), int(port)


def on_own_switch(
    project: Project,
    host: Placed,
    cables: Sequence[Cable],
    devices: Mapping[str, Placed],
    entries: Mapping[str, Device],
) -> tuple[SwitchPorts, tuple[Injector, ...]] | None:
    """Return the ports of the switch that serves a room, and the PoE sources beside it.

    host: the breakout that holds it, or the switch that stands in the room.
    cables: the room's cables; devices, entries: what they join, and its ports and power, by tag.
    Where a cable leads to the building's network, it has the first port; the next ones feed devices that
    take power. Where none does, ports that isolate are taken last. Sources feed what the switch does not.
    """
    switch = _switch_in(project, host)
    if switch is None:
        return None
    plugged = []
    uplink = None
    for cable in cables:
        if cable.signal != "network":
            continue
        if cable.start == host.tag:
            uplink = Attached(tag=cable.end, cable=cable.identity, poe_class=None, priority=0)
        elif cable.end == host.tag:
            device = devices[cable.start]
            plugged.append(
                attached(project.brief.rules.priorities, device, entries[device.tag], cable.identity)
            )
    classes = [device.poe_class for device in plugged if device.poe_class is not None]
    usable_w = usable_power_w(switch.budget_w, switch.headroom)
    wanted = sources_wanted(project, switch.poe_ports, switch.poe_class, usable_w, classes)
    plugged, sources = fed_by_injectors(project, host.room, plugged, wanted or {}, beside(project, host))
    plugged.sort(key=lambda device: (device.port_class is None, natural(device.tag)))
    by_tag = {device.tag: device for device in plugged}
    kept = max(switch.isolating, UPLINK if uplink else 0)
    free = range(kept + 1, switch.ports + 1)
    numbers = assign_ports(
        host.tag, by_tag, {}, project.issued, free if uplink else (*free, *range(1, kept + 1))
    )
    ports = {number: by_tag[tag] for tag, number in numbers.items()}
    if uplink:
        ports[UPLINK] = uplink
    made = SwitchPorts(
        device=host,
        access_ports=switch.ports,
        poe_class=switch.poe_class,
        poe_type=switch.poe_type,
        budget_w=switch.budget_w,
        headroom=switch.headroom,
        headroom_use=switch.headroom_use,
        spare_ports=switch.spare_ports,
        ports=dict(sorted(ports.items())),
        priorities=switch.priorities,
        names=entries[host.tag].ports_carrying("network"),
    )
    return made, sources


@dataclass(frozen=True, slots=True, kw_only=True)
class _RoomSwitch:
    """What a switch in a room gives, whatever it is part of; isolating: how many of its ports can isolate."""

    ports: int
    poe_ports: int
    poe_class: int
    poe_type: int
    budget_w: float
    headroom: float
    headroom_use: str
    spare_ports: float
    isolating: int
    priorities: int


def _switch_in(project: Project, host: Placed) -> _RoomSwitch | None:
    """Return what the switch of a room gives, None where the device has none."""
    entry, rules = project.library.entry(host.model), project.brief.rules
    if isinstance(entry, Switch):
        return _RoomSwitch(
            ports=entry.access_ports,
            poe_ports=entry.poe_ports,
            poe_class=entry.poe_class,
            poe_type=entry.poe_type,
            budget_w=entry.budget,
            headroom=rules.power.headroom,
            headroom_use=HEADROOM_USE,
            spare_ports=rules.network.spare_ports,
            isolating=0,
            priorities=entry.priorities,
        )
    if not isinstance(entry, Breakout) or entry.switch is None:
        return None
    return _RoomSwitch(
        ports=entry.switch.ports,
        poe_ports=entry.switch.poe_ports,
        poe_class=entry.switch.poe_class,
        poe_type=entry.switch.poe_type,
        budget_w=entry.switch.budget,
        headroom=rules.power.built_in_headroom,
        headroom_use=BUILT_IN_HEADROOM_USE,
        spare_ports=0.0,
        isolating=entry.switch.isolating_ports,
        priorities=entry.switch.priorities,
    )


def with_host_ports(cables: Sequence[Cable], host: SwitchPorts) -> list[Cable]:
    """Return a room's cables, those that end in a breakout's own switch with the port they end in."""
    number_of = {device.cable: number for number, device in host.ports.items()}
    return [
        replace(cable, end_port=host.port_name(number_of[cable.identity]))
        if cable.end == host.device.tag and number_of.get(cable.identity, 0) in range(1, len(host.names) + 1)
        else cable
        for cable in cables
    ]
