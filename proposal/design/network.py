"""Switches, their ports and the addresses of everything on the network."""

import ipaddress
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from proposal.design.choosing import Option, cover
from proposal.design.numbering import assign, device_code, device_tag, natural
from proposal.design.placing import Placed
from proposal.design.prices import unit_cost
from proposal.model.devices import Switch
from proposal.model.entry import Device
from proposal.model.project import Project
from proposal.standards import ieee8023

PRIORITIES: Mapping[str, int] = {"access_point": 1, "mixer": 1, "breakout": 2, "charger": 3}
LOWEST_PRIORITY = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Attached:
    """A device that wants a switch port.

    tag: its tag.
    cable: identity of its cable; empty where a patch cord in the rack does.
    poe_class: class it asks for, None where it takes no power from the port.
    priority: order in which power is kept, 1 first.
    """

    tag: str
    cable: str
    poe_class: int | None
    priority: int

    @property
    def allocated_w(self) -> float:
        """Return the power a source sets aside for it, W."""
        return 0.0 if self.poe_class is None else ieee8023.CLASSES[self.poe_class].source_power_w


@dataclass(frozen=True, slots=True, kw_only=True)
class SwitchPorts:
    """One switch and what is patched to it.

    device: the switch.
    model: its entry.
    ports: what is attached, by port number.
    """

    device: Placed
    model: Switch
    ports: Mapping[int, Attached]


@dataclass(frozen=True, slots=True, kw_only=True)
class Closet:
    """The switches of one equipment room.

    wanted_ports: ports that its devices and the spare share ask for.
    switches: in order of tags.
    left: tags of devices that found no port.
    """

    equipment_room: str
    wanted_ports: int
    switches: tuple[SwitchPorts, ...]
    left: tuple[str, ...]


def attached(device: Placed, entry: Device, cable: str) -> Attached:
    """Return what a device asks of a switch port.

    device, entry: the device and its entry of the library.
    cable: identity of its cable, empty in a rack.
    """
    powered = entry.poe is not None and entry.powered_by == "PoE"
    return Attached(
        tag=device.tag,
        cable=cable,
        poe_class=entry.poe.device_class if powered and entry.poe else None,
        priority=PRIORITIES.get(device.kind, LOWEST_PRIORITY),
    )


def closet(project: Project, equipment_room: str, wanting: Sequence[Attached]) -> Closet:
    """Return the least-cost managed switches of an equipment room and who is patched where.

    wanting: devices that want a port.
    Devices that take power come first, those that take most before others, each to the first switch whose
    power and ports suffice, spare ports kept on every switch as far as that goes; where one is left out, more
    power is asked for and the choice made again.
    """
    if not wanting:
        return Closet(equipment_room=equipment_room, wanted_ports=0, switches=(), left=())
    rules = project.brief.rules
    ports = math.ceil(round(len(wanting) / (1 - rules.network.spare_ports), 6))
    powered = [device for device in wanting if device.poe_class is not None]
    watts = math.ceil(round(sum(d.allocated_w for d in powered) / (1 - rules.power.headroom), 6))
    highest = max((d.poe_class or 0 for d in powered), default=0)
    entries = {
        code: switch
        for code, switch in sorted(project.library.switches.items())
        if switch.managed and (not powered or switch.poe_class >= highest)
    }
    options = tuple(
        Option(
            code,
            unit_cost(project, switch),
            (switch.access_ports, switch.poe_ports, math.floor(switch.budget)),
        )
        for code, switch in entries.items()
    )
    for extra_w in range(0, 400, 20):
        chosen = cover(options, (ports, len(powered), watts + extra_w if powered else 0))
        if chosen is None:
            break
        switches = _switches(project, equipment_room, chosen, entries)
        patched, left = _patch(project, switches, wanting)
        if not left:
            return Closet(equipment_room=equipment_room, wanted_ports=ports, switches=patched, left=())
    return Closet(
        equipment_room=equipment_room,
        wanted_ports=ports,
        switches=patched if chosen else (),
        left=left if chosen else tuple(device.tag for device in wanting),
    )


def _switches(
    project: Project, equipment_room: str, chosen: Sequence[tuple[str, int]], entries: Mapping[str, Switch]
) -> list[tuple[Placed, Switch]]:
    """Return the switches chosen, each with its tag and what the designer fixed of it."""
    place = project.building.equipment_rooms[equipment_room]
    rack = device_tag(equipment_room, sorted(place.racks, key=natural)[0])
    models = [code for code, count in chosen for _ in range(count)]
    switches = []
    for n, model in enumerate(models, 1):
        code = device_code("switch", n)
        tag = device_tag(equipment_room, code)
        fixed = project.fixed.devices.get(tag)
        if fixed and fixed.model in project.library.switches:
            model = fixed.model
        entry = entries.get(model) or project.library.switches[model]
        placed = Placed(
            tag=tag,
            code=code,
            kind="switch",
            model=model,
            room=equipment_room,
            storey=place.storey,
            at=place.at,
            height_m=project.brief.rules.cabling.rack_height,
            location=rack,
        )
        switches.append((placed, entry))
    return switches


def _patch(
    project: Project, switches: Sequence[tuple[Placed, Switch]], wanting: Sequence[Attached]
) -> tuple[tuple[SwitchPorts, ...], tuple[str, ...]]:
    """Return who is patched to which port, and who is left without one."""
    headroom = project.brief.rules.power.headroom
    kept_free = project.brief.rules.network.spare_ports
    usable_w = {placed.tag: entry.budget * (1 - headroom) for placed, entry in switches}
    free_poe = {placed.tag: entry.poe_ports for placed, entry in switches}
    free = {placed.tag: entry.access_ports for placed, entry in switches}
    members: dict[str, list[Attached]] = {placed.tag: [] for placed, _ in switches}
    by_hand = {
        device.tag: fixed.switch_port
        for device in wanting
        if (fixed := project.fixed.devices.get(device.tag)) and fixed.switch_port
    }
    order = sorted(
        wanting, key=lambda device: (device.tag not in by_hand, -device.allocated_w, natural(device.tag))
    )
    left = []
    spare = {placed.tag: math.ceil(round(entry.access_ports * kept_free, 6)) for placed, entry in switches}
    for device in order:
        wished = by_hand.get(device.tag, "").rpartition("/")[0]
        for tag, least_free in [(tag, spare[tag]) for tag in free] + [(tag, 0) for tag in free]:
            if wished and wished != tag:
                continue
            fits = device.poe_class is None or (
                free_poe[tag] > 0 and device.allocated_w <= usable_w[tag] + 1e-9
            )
            if free[tag] > (0 if wished else least_free) and (fits or wished):
                members[tag].append(device)
                free[tag] -= 1
                if device.poe_class is not None:
                    free_poe[tag] -= 1
                    usable_w[tag] -= device.allocated_w
                break
        else:
            left.append(device.tag)
    patched = tuple(
        SwitchPorts(device=placed, model=entry, ports=_ports(project, placed.tag, entry, members[placed.tag]))
        for placed, entry in switches
    )
    return patched, tuple(left)


def _ports(project: Project, switch: str, entry: Switch, members: Sequence[Attached]) -> dict[int, Attached]:
    """Return the attached devices by port number: powered ones on the lowest ports, by tag."""
    by_tag = {f"{switch}/{device.tag}": device for device in members}
    fixed = {}
    for identity, device in by_tag.items():
        by_hand = project.fixed.devices.get(device.tag)
        if by_hand and by_hand.switch_port.startswith(f"{switch}/"):
            fixed[identity] = by_hand.switch_port.rpartition("/")[2]
    order = sorted(by_tag, key=lambda i: (by_tag[i].poe_class is None, natural(by_tag[i].tag)))
    candidates = [str(n) for n in range(1, entry.access_ports + 1)]
    issued = {i: number for i, number in project.issued.items() if i.startswith(f"{switch}/")}
    numbers = assign(order, fixed, issued, candidates)
    return {int(number): by_tag[identity] for identity, number in sorted(numbers.items(), key=_by_number)}


def _by_number(item: tuple[str, str]) -> int:
    return int(item[1])


@dataclass(frozen=True, slots=True, kw_only=True)
class Addresses:
    """The addresses of the devices on the network.

    by_tag: address of each device that has one.
    left: tags of devices for which no address was left.
    network: the range, empty where the project gives none.
    vlan: its VLAN.
    """

    by_tag: Mapping[str, str]
    left: tuple[str, ...]
    network: str
    vlan: int | None


def addresses(project: Project, tags: Sequence[str]) -> Addresses:
    """Return an address of the project's first audio network for each device, lowest first.

    tags: devices that need one, in order.
    The gateway's address is kept free; addresses fixed by hand stand, whatever they are.
    """
    if not project.brief.subnets:
        return Addresses(by_tag={}, left=tuple(tags), network="", vlan=None)
    _, subnet = sorted(project.brief.subnets.items())[0]
    network = ipaddress.ip_network(subnet.network)
    hosts = network.hosts()
    gateway = subnet.gateway or str(next(network.hosts()))
    most = len(tags) + len(project.issued) + len(project.fixed.devices) + 2
    candidates = [str(host) for host, _ in zip(hosts, range(most), strict=False)]
    fixed = {
        tag: str(ipaddress.ip_address(project.fixed.devices[tag].address))
        for tag in tags
        if tag in project.fixed.devices and project.fixed.devices[tag].address
    }
    issued = {
        identity.removeprefix("address/"): number
        for identity, number in project.issued.items()
        if identity.startswith("address/")
    }
    by_tag = assign(tags, fixed, issued, [host for host in candidates if host != gateway])
    left = tuple(tag for tag in tags if tag not in by_tag)
    return Addresses(by_tag=by_tag, left=left, network=str(network), vlan=subnet.vlan)
