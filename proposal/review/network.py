"""Rules about switches, their ports and addresses."""

import ipaddress
from collections import Counter
from collections.abc import Iterator

from proposal.design.design import Design
from proposal.design.equipment.built_in_switch import carries_audio
from proposal.design.network.addresses import PlannedVlan, prefix_for
from proposal.model.equipment.devices import Switch
from proposal.model.project import Project
from proposal.review.cable_remedies import MOST_NAMED
from proposal.review.finding import Finding, Rule, counted, listed
from proposal.review.port_remedies import ports_for
from proposal.standards.sources import COMMON_PRACTICE, EDITABLE_DEFAULT, Source

IPV4 = Source("IETF RFC 791 and RFC 4632")


def ports_left(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for devices that found no switch port, a warning where too few are spare."""
    for closet in design.closets:
        place = project.place("building", "equipment_rooms", closet.equipment_room)
        if closet.left:
            yield Finding(
                rule="no-switch-port",
                severity="error",
                where=closet.equipment_room,
                place=place,
                message=f"No switch port was left for {listed(closet.left)}.",
                source=COMMON_PRACTICE,
                remedy=ports_for(project, design, closet),
            )
        if not closet.spare_holds and not closet.left:
            yield Finding(
                rule="few-spare-ports",
                severity="warning",
                where=closet.equipment_room,
                place=place,
                message="Fewer switch ports are spare than required.",
                value=float(closet.access_ports),
                limit=float(closet.wanted_ports),
                unit="ports",
                source=EDITABLE_DEFAULT,
                remedy="Use switches with "
                f"{counted(closet.wanted_ports - closet.access_ports, 'port', more=True)} in "
                "all, or agree to fewer spare ones (rules).",
            )


def switches_unsuited(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each switch, fixed by hand, that networked audio cannot be trusted to."""
    for device in design.devices:
        entry = design.entries.get(device.tag)
        if isinstance(entry, Switch) and not carries_audio(entry):
            lacks = [
                words
                for words, there in (
                    ("cannot be managed", entry.managed),
                    ("is slower than a gigabit a second", entry.speed >= 1e9),
                    ("always saves energy", entry.energy_efficient_ethernet != "always on"),
                )
                if not there
            ]
            yield Finding(
                rule="switch-unsuited",
                severity="error",
                where=device.tag,
                place=project.place("fixed", "devices", device.tag, "model"),
                message=f"{device.model} {listed(lacks)}, so networked audio is not safe on it.",
                source=COMMON_PRACTICE,
                remedy=_suited(project),
            )


def _suited(project: Project) -> str:
    """Return the switches of the library that networked audio can be trusted to."""
    models = [code for code, entry in sorted(project.library.switches.items()) if carries_audio(entry)]
    if models:
        return f"Use {' or '.join(models[:MOST_NAMED])}, or leave the choice to the program."
    return "Add a managed gigabit switch on which energy saving can be turned off to the library."


def _addresses(design: Design) -> int:
    """Return how many addresses the devices of a design take."""
    ours = sum(entry.network.addresses for entry in design.entries.values() if entry.network)
    return ours + sum(one.written.addresses for one in design.owners if one.on_network)


def addresses_missing(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning where the project gives no network, an error where it is too small."""
    plan = design.addresses
    if not plan.network:
        yield Finding(
            rule="no-network",
            severity="warning",
            where="network",
            place=project.place("project", "name"),
            message="The project gives no network, so no addresses are planned.",
            source=COMMON_PRACTICE,
            remedy="Ask the client's network team for an address range that holds "
            f"{_addresses(design)} addresses and its gateway, and write it under subnets.",
        )
    elif plan.left:
        vlan = plan.vlan_of[plan.left[0]]
        name = vlan.name
        takes = {tag: entry.network.addresses for tag, entry in design.entries.items() if entry.network}
        takes |= {one.device.tag: one.written.addresses for one in design.owners if one.on_network}
        there = sum(len(given) for tag, given in plan.by_tag.items() if plan.vlan_of.get(tag) == vlan)
        wanted = sum(count for tag, count in takes.items() if plan.vlan_of.get(tag) == vlan)
        prefix = prefix_for(plan.wanted_of(vlan, takes))
        kept = f", and {counted(vlan.kept, 'address')} issued once" if vlan.kept else ""
        others = counted(len(plan.left) - 1, "other device") if len(plan.left) > 1 else ""
        yield Finding(
            rule="network-full",
            severity="error",
            where=name,
            place=project.place("project", "subnets", name, "network"),
            message=f"{vlan.network} has too few addresses: "
            f"none is left for {plan.left[0]}{f' and {others}' if others else ''}.",
            value=float(wanted),
            limit=float(there),
            unit="addresses",
            source=IPV4,
            remedy=f"Ask for a range with the prefix /{prefix}: it holds all of them, the gateway's{kept}.",
        )


def addresses_by_hand(project: Project, design: Design) -> Iterator[Finding]:
    """Yield errors for addresses fixed by hand that are doubled, outside the network or not for devices."""
    plan = design.addresses
    if not plan.network:
        return
    times = Counter(address for given in plan.by_tag.values() for address in given)
    for tag, fixed in sorted(project.fixed.devices.items()):
        if not fixed.address or tag not in plan.by_tag:
            continue
        address = plan.by_tag[tag][0]
        rule, message = "", ""
        if times[address] > 1:
            others = [
                other
                for other, given in plan.by_tag.items()
                for one in given
                if one == address and other != tag
            ]
            rule, message = "address-twice", f"{address} is also the address of {listed(others)}."
        wrong = _wrong_address(plan.vlan_of[tag], address)
        for name, words in (*(((rule, message),) if rule else ()), *wrong):
            yield Finding(
                rule=name,
                severity="error",
                where=tag,
                place=project.place("fixed", "devices", tag, "address"),
                message=words,
                source=IPV4,
                remedy=_free_address(plan.vlan_of[tag], times),
            )


def _free_address(plan: PlannedVlan, times: Counter[str]) -> str:
    """Return the lowest address of a network that nothing has, as what to write; times: what is taken."""
    hosts = (str(one) for one in ipaddress.ip_network(plan.network).hosts())
    free = next((one for one in hosts if one != plan.gateway and not times[one]), "")
    if not free:
        return "Leave the choice to the program, in a larger network: none of its addresses is free."
    return f"Write {free}, which is free, or leave the choice to the program."


def _wrong_address(plan: PlannedVlan, address: str) -> Iterator[tuple[str, str]]:
    """Yield rule and message of what is wrong with an address by itself."""
    network, one = ipaddress.ip_network(plan.network), ipaddress.ip_address(address)
    if one not in network:
        yield "address-outside", f"{address} lies outside {plan.network}."
    elif one in (network.network_address, network.broadcast_address):
        yield "address-reserved", f"{address} stands for {plan.network} as a whole, not for a device."
    elif address == plan.gateway:
        yield "address-reserved", f"{address} is the gateway's."


def subnets_unused(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a note for each subnet that nothing stands in, since another one has the same purpose."""
    for name in design.addresses.unused:
        yield Finding(
            rule="subnet-unused",
            severity="note",
            where=name,
            place=project.place("project", "subnets", name, "network"),
            message="Nothing is given an address of this network: another one serves the same purpose.",
            source=COMMON_PRACTICE,
            remedy="Leave it out, or say with purpose what travels on each network.",
        )


NETWORK_RULES: tuple[Rule, ...] = (
    ports_left,
    switches_unsuited,
    addresses_missing,
    addresses_by_hand,
    subnets_unused,
)
