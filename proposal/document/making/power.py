"""Rows about power over network cables: switches, and what each of their ports gives."""

from collections.abc import Iterator, Mapping, Sequence

from proposal.design.design import Design
from proposal.design.network.addresses import vlan_of
from proposal.design.network.switch_paths import OWNERS_NETWORK
from proposal.design.patch_table import Patch
from proposal.design.power.port_power import PoweredPort
from proposal.document.making.by_name import ByName
from proposal.document.rows.power import PortRow, SwitchRow
from proposal.model.equipment.devices import Switch
from proposal.standards.ieee8023 import CLASSES

_PORT = ByName(PortRow, PoweredPort, "port", "drawn_w")


def switch_rows(design: Design) -> tuple[SwitchRow, ...]:
    """Return every switch with its power and its spare ports."""
    return tuple(
        SwitchRow(
            tag=power.switch.device.tag,
            model=power.switch.device.model,
            ports=power.switch.access_ports,
            used=len(power.switch.ports),
            spare=power.switch.access_ports - len(power.switch.ports),
            spare_wanted=power.switch.spare_wanted,
            budget_w=power.switch.budget_w,
            usable_w=power.switch.usable_w,
            allocated_w=power.allocated_w,
            drawn_w=power.drawn_w,
            drops_first=tuple(port.attached.tag for port in power.drops),
            worst_port=power.worst.full_name if power.worst else "",
            worst_spare_v=power.worst.spare_v if power.worst else None,
            supplies=power.lost_supply.supplies if power.lost_supply else None,
            left_w=power.lost_supply.left_w if power.lost_supply else None,
            drops_then=tuple(port.attached.tag for port in power.lost_supply.drops)
            if power.lost_supply
            else (),
            verdict="holds" if power.holds else "fails",
        )
        for power in design.switches
    )


def port_rows(design: Design, joins: Sequence[Patch]) -> tuple[PortRow, ...]:
    """Return every port of every switch, uplinks after those for devices, spare ones too.

    joins: of the network; they tell the port at the other end, past the panels of a rack.
    """
    there = {(one.switch, one.switch_port): (one.device, one.device_port) for one in joins}
    there |= {(one.device, one.device_port): (one.switch, one.switch_port) for one in joins}
    by_number = {(port.switch, port.port): port for port in design.ports}
    rows = []
    for power in design.switches:
        tag = power.switch.device.tag
        for number in sorted({*power.switch.numbers, *power.switch.ports}):
            port = by_number.get((tag, number))
            order = [one.port for one in power.order]
            spare = PortRow(switch=tag, port=power.switch.port_name(number))
            rows.append(_port(port, design, order, there) if port else spare)
        rows += _uplinks(design, tag)
    return tuple(rows)


def _uplinks(design: Design, tag: str) -> Iterator[PortRow]:
    """Yield the uplink ports of a switch: what each is joined to, by which cable or cord, spare ones too."""
    entry = design.entries.get(tag)
    joined: dict[str, tuple[str, str, str]] = {}
    for link in design.switch_links if isinstance(entry, Switch) else ():
        one, cable = link.join, link.cable.identity if link.cable else ""
        if one.start == tag:
            joined[one.start_port] = one.end or OWNERS_NETWORK, one.end_port, cable
        if one.end == tag:
            joined[one.end_port] = one.start, one.start_port, cable
    for n in range(1, (entry.uplinks if isinstance(entry, Switch) else 0) + 1):
        device, device_port, cable = joined.get(f"U{n}", ("", "", ""))
        yield PortRow(switch=tag, port=f"U{n}", device=device, device_port=device_port, cable=cable)


def _port(
    port: PoweredPort,
    design: Design,
    order: Sequence[int],
    there: Mapping[tuple[str, str], tuple[str, str]],
) -> PortRow:
    """Return the row of a port.

    order: powered ports of its switch in the order in which they lose power.
    there: device and port at the other end of each port of the network.
    """
    device, device_port = there.get((port.switch, port.name), (port.attached.tag, ""))
    powered = port.attached.poe_class is not None
    asked = None if port.attached.poe_class is None else CLASSES[port.attached.poe_class]
    alone = {room.host for room in design.rooms if room.tag in design.alone}
    return _PORT.of(
        port,
        port=port.name,
        device=device,
        device_port=device_port,
        cable=port.attached.cable,
        vlan=None if port.switch in alone else vlan_of(design.addresses, port.attached.tag),
        poe_class=port.attached.poe_class,
        poe_source=port.attached.injector,
        allocated_w=port.attached.allocated_w,
        drawn_w=0.0 if port.attached.injector else port.drawn_w,
        priority=port.attached.priority if port.attached.port_class is not None else 0,
        pairs=asked.pairs if asked else None,
        allowed_w=asked.device_power_w if asked else None,
        place_in_drop=order.index(port.port) + 1 if port.port in order else None,
        verdict=("holds" if port.holds else "fails") if powered else "",
    )
