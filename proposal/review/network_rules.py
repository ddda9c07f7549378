"""Rules about switches, power over Ethernet and addresses."""

import ipaddress
from collections import Counter
from collections.abc import Iterator

from proposal.design.design import Design
from proposal.model.project import Project
from proposal.review.findings import Finding, Rule
from proposal.standards.ieee8023 import CLASSES, IEEE_802_3
from proposal.standards.working import COMMON_PRACTICE, EDITABLE_DEFAULT, Source

IPV4 = Source("IETF RFC 791 and RFC 4632")


def ports(project: Project, design: Design) -> Iterator[Finding]:
    """Yield errors for ports whose class, cable or voltage does not suffice."""
    for port in design.ports:
        device = port.attached
        if device.poe_class is None:
            continue
        where = f"{port.switch}/{port.port}"
        place = project.place("fixed", "devices", port.switch, "model")
        if port.class_short:
            entry = design.entries[device.tag]
            effect = entry.poe.when_short if entry.poe else "off"
            derated = f": {entry.poe.derated}" if entry.poe and entry.poe.derated else ""
            yield Finding(
                rule="poe-class-short",
                severity="error",
                where=where,
                place=place,
                message=f"{device.tag} asks for class {device.poe_class}; the port gives less, "
                f"so it is {effect}{derated}.",
                value=float(device.poe_class),
                limit=float(_port_class(design, port.switch)),
                unit="class",
                source=IEEE_802_3,
                remedy=f"Use a switch whose ports give class {device.poe_class}.",
            )
        if not port.carries:
            yield Finding(
                rule="poe-not-carried",
                severity="error",
                where=where,
                place=project.place("fixed", "cables", device.cable),
                message=f"The cable to {device.tag} cannot carry its power at the least source voltage.",
                value=port.loop_ohm,
                limit=CLASSES[device.poe_class].channel_loop_ohm,
                unit="Ω",
                source=IEEE_802_3,
                remedy="Use thicker conductors or a shorter way.",
            )
        elif port.device_v is not None and port.least_v is not None and port.device_v < port.least_v:
            yield Finding(
                rule="poe-voltage-low",
                severity="error",
                where=where,
                place=project.place("fixed", "cables", device.cable),
                message=f"The voltage at {device.tag} is too low at its highest power.",
                value=port.device_v,
                limit=port.least_v,
                unit="V",
                source=IEEE_802_3,
                remedy="Use thicker conductors, a shorter way or a source of a higher Type.",
            )


def _port_class(design: Design, switch: str) -> int:
    return next(one.switch.model.poe_class for one in design.switches if one.switch.device.tag == switch)


def budgets(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each switch whose budget is short, a warning where only the headroom is."""
    for power in design.switches:
        if power.holds:
            continue
        budget = power.switch.model.budget
        over = power.allocated_w > budget
        drops = ", ".join(power.drops_first)
        tag = power.switch.device.tag
        yield Finding(
            rule="poe-budget-short" if over else "poe-headroom-short",
            severity="error" if over else "warning",
            where=tag,
            place=project.place("fixed", "devices", tag, "model"),
            message=f"The power set aside exceeds the budget; {drops} lose power first."
            if over
            else "The power set aside leaves less headroom than wanted.",
            value=power.allocated_w,
            limit=budget if over else power.usable_w,
            unit="W",
            source=IEEE_802_3,
            remedy="Use a switch with a larger budget, or spread the devices over two.",
        )


def ports_left(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for devices that found no switch port, a warning where too few are spare."""
    for closet in design.closets:
        if closet.left:
            yield Finding(
                rule="no-switch-port",
                severity="error",
                where=closet.equipment_room,
                place=project.place("building", "equipment_rooms", closet.equipment_room),
                message=f"No switch port was left for {', '.join(closet.left)}.",
                value=float(len(closet.left)),
                limit=0.0,
                unit="ports",
                source=EDITABLE_DEFAULT,
                remedy="Add a managed switch of the class and budget needed to the library, "
                "or change the switches and ports fixed by hand.",
            )
        given = sum(switch.model.access_ports for switch in closet.switches)
        if given < closet.wanted_ports and not closet.left:
            yield Finding(
                rule="few-spare-ports",
                severity="warning",
                where=closet.equipment_room,
                place=project.place("building", "equipment_rooms", closet.equipment_room),
                message="Fewer switch ports are spare than wanted.",
                value=float(given),
                limit=float(closet.wanted_ports),
                unit="ports",
                source=EDITABLE_DEFAULT,
                remedy="Use larger switches.",
            )
        for switch in closet.switches:
            for number in switch.ports:
                if number > switch.model.access_ports:
                    device = switch.ports[number].tag
                    yield Finding(
                        rule="no-such-port",
                        severity="error",
                        where=f"{switch.device.tag}/{number}",
                        place=project.place("fixed", "devices", device, "switch_port"),
                        message=f"{device} is fixed to a port that the switch does not have.",
                        value=float(number),
                        limit=float(switch.model.access_ports),
                        unit="ports",
                        source=COMMON_PRACTICE,
                        remedy="Fix it to another port, or leave the choice to the program.",
                    )


def switch_ports_by_hand(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each port that two devices are fixed to, or that lies on no switch."""
    switches = {power.switch.device.tag for power in design.switches}
    wanted: dict[str, list[str]] = {}
    for tag, device in sorted(project.fixed.devices.items()):
        if device.switch_port:
            wanted.setdefault(device.switch_port, []).append(tag)
    for port, tags in wanted.items():
        switch, _, number = port.rpartition("/")
        if len(tags) > 1 or switch not in switches or not number.isdigit():
            yield Finding(
                rule="port-fixed-twice" if len(tags) > 1 else "no-such-switch",
                severity="error",
                where=port,
                place=project.place("fixed", "devices", tags[-1], "switch_port"),
                message=f"{' and '.join(tags)} are fixed to the same port."
                if len(tags) > 1
                else f"{tags[0]} is fixed to a port of a switch that is not there.",
                source=COMMON_PRACTICE,
                remedy="Write each port once, as the tag of a switch and a number, such as ER1-SW1/4.",
            )


def address_plan(project: Project, design: Design) -> Iterator[Finding]:
    """Yield errors for addresses that are missing, doubled or outside the network."""
    plan = design.addresses
    if not plan.network:
        yield Finding(
            rule="no-network",
            severity="warning",
            where="network",
            place=project.place("project"),
            message="The project gives no network, so no addresses are planned.",
            source=COMMON_PRACTICE,
            remedy="Ask the client's network people for an address range and write it under subnets.",
        )
        return
    name, _ = sorted(project.brief.subnets.items())[0]
    if plan.left:
        yield Finding(
            rule="network-full",
            severity="error",
            where=name,
            place=project.place("project", "subnets", name, "network"),
            message=f"{plan.network} has no address left for {len(plan.left)} devices, {plan.left[0]} first.",
            value=float(len(plan.by_tag) + len(plan.left)),
            limit=float(len(plan.by_tag)),
            unit="addresses",
            source=IPV4,
            remedy="Ask for a larger range.",
        )
    counted = Counter(plan.by_tag.values())
    network = ipaddress.ip_network(plan.network)
    for tag, address in plan.by_tag.items():
        fixed = project.fixed.devices.get(tag)
        if not fixed or not fixed.address:
            continue
        place = project.place("fixed", "devices", tag, "address")
        if counted[address] > 1:
            others = [other for other, same in plan.by_tag.items() if same == address and other != tag]
            yield Finding(
                rule="address-twice",
                severity="error",
                where=tag,
                place=place,
                message=f"{address} is also the address of {', '.join(others)}.",
                source=IPV4,
                remedy="Give each device an address of its own.",
            )
        if ipaddress.ip_address(address) not in network:
            yield Finding(
                rule="address-outside",
                severity="error",
                where=tag,
                place=place,
                message=f"{address} lies outside {plan.network}.",
                source=IPV4,
                remedy="Choose an address of the network, or leave the choice to the program.",
            )


NETWORK_RULES: tuple[Rule, ...] = (ports, budgets, ports_left, switch_ports_by_hand, address_plan)
