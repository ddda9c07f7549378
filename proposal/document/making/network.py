"""Rows for the client's network team."""

from collections.abc import Iterator, Mapping, Sequence
from typing import TypedDict

from proposal.design.design import Design
from proposal.design.mute_panels import panel_ports
from proposal.design.network.addresses import PlannedVlan, vlan_of
from proposal.design.network.clock_leader import clock_plans
from proposal.design.network.network_uses import use_called
from proposal.design.network.streams import Stream
from proposal.design.network.switch_paths import OWNERS_NETWORK
from proposal.design.numbers.numbering import natural
from proposal.design.owner.owner_streams import with_owner_tags
from proposal.design.switch_traffic import SwitchTraffic, switch_traffic
from proposal.design.wanted_ports import to_owners_network
from proposal.document.making.asked_questions import asked
from proposal.document.rows.client_steps import NETWORK_TEAM
from proposal.document.rows.network import (
    NOT_ENCRYPTED,
    NetworkHostRow,
    NetworkModelRow,
    NetworkQuestionRow,
    NetworkUseRow,
    SwitchTrafficRow,
    VlanRow,
)
from proposal.model.equipment.devices import AccessPoint, Switch
from proposal.model.equipment.entry import Device
from proposal.model.equipment.parts import NetworkNeeds
from proposal.model.project import Project
from proposal.quantities.formatting import count_of, listed

_FACTS: Mapping[str, str] = {
    "found_by": "how it is found on the network",
    "updated_by": "how it is updated",
    "time_needed": "what it needs of time and clock",
    "names_needed": "what it needs of name servers",
    "encryption": "whether sound and settings are encrypted on the network",
    "certificates": "which certificates it holds",
}


class NetworkParts(TypedDict):
    """The rows for the client's network team."""

    vlans: tuple[VlanRow, ...]
    network_hosts: tuple[NetworkHostRow, ...]
    switch_traffic: tuple[SwitchTrafficRow, ...]
    network_uses: tuple[NetworkUseRow, ...]
    network_models: tuple[NetworkModelRow, ...]
    network_questions: tuple[NetworkQuestionRow, ...]


def network_parts(project: Project, design: Design) -> NetworkParts:
    """Return the fields of the document that are for the client's network team, by name."""
    hosts = _hosts(design)
    models = _models(design)
    return {
        "vlans": tuple(_vlan(design, one) for one in design.addresses.vlans if _holds(design, one)),
        "network_hosts": hosts,
        "switch_traffic": tuple(_traffic(design, one) for one in switch_traffic(design)),
        "network_uses": _uses(design),
        "network_models": models,
        "network_questions": tuple(_questions(project, design, models)),
    }


ALONE = "static, on a network of its own"


def _holds(design: Design, vlan: PlannedVlan) -> bool:
    """Return whether a device stands on a VLAN: one in a room out of which nothing leads does not."""
    alone = _alone(design)
    return any(one == vlan and tag not in alone for tag, one in design.addresses.vlan_of.items())


def _vlan(design: Design, vlan: PlannedVlan) -> VlanRow:
    plan, apart = design.addresses, design.on_networks_apart
    clock, alone = clock_plans(design.entries, apart)[""], _alone(design)
    given = {tag: len(found) for tag, found in plan.by_tag.items() if plan.vlan_of.get(tag) == vlan}
    of_audio = vlan.number == plan.vlan
    streams = [one for one in design.channels.streams if of_audio and one.sender not in apart]
    return VlanRow(
        name=vlan.name,
        vlan=vlan.number,
        purpose=vlan.purpose,
        network=vlan.network,
        gateway=vlan.gateway,
        addressing=_ADDRESSING[vlan.addressing],
        addresses_used=sum(count for tag, count in given.items() if tag not in alone),
        addresses_kept=vlan.kept,
        addresses_free=max(0, vlan.hosts - vlan.kept - sum(given.values())),
        querier=design.querier if of_audio else "",
        clock_leader=clock.leader if of_audio else "",
        clock_next=clock.next if of_audio else "",
        groups=len(streams),
        audio_bit_s=sum(stream.bandwidth_bit_per_s for stream in streams),
    )


def _alone(design: Design) -> frozenset[str]:
    """Return the tags of devices of rooms out of which nothing leads: they are on no VLAN of the building."""
    return frozenset(tag for tag, room in design.on_networks_apart.items() if room in design.alone)


_ADDRESSING = {"static": "static", "reserved": "reserved by the building's DHCP"}


def _hosts(design: Design) -> tuple[NetworkHostRow, ...]:
    """Return everything on the network in order of tags, the owner's equipment too."""
    on_network = {tag for tag, entry in design.entries.items() if entry.network}
    on_network |= {one.device.tag for one in design.owners if one.on_network}
    leads = _switch_ports(design)
    streams = with_owner_tags(design.channels.streams, design.owners)
    placed = {one.tag: one for one in (*design.devices, *(owner.device for owner in design.owners))}
    return tuple(
        _host(design, tag, placed[tag].kind, placed[tag].room, leads.get(tag, ""), streams)
        for tag in sorted(on_network, key=natural)
    )


def _host(
    design: Design, tag: str, kind: str, room: str, switch_port: str, streams: Sequence[Stream]
) -> NetworkHostRow:
    entry = design.every_entry[tag]
    network = design.entries[tag].network if tag in design.entries else None
    sent = [stream for stream in streams if stream.sender == tag]
    taken = [stream for stream in streams if tag in stream.receivers]
    planned, alone = design.addresses.vlan_of.get(tag), tag in _alone(design)
    return NetworkHostRow(
        device=tag,
        kind="owner's device" if kind == "owner_equipment" else kind.replace("_", " "),
        model=design.entries[tag].model if tag in design.entries else "",
        room=room,
        host=tag.lower(),
        addresses=design.addresses.by_tag.get(tag, ()),
        vlan=None if alone else vlan_of(design.addresses, tag),
        addressing=ALONE if alone and planned else _ADDRESSING[planned.addressing] if planned else "",
        switch_port=switch_port,
        speed_bit_s=_speed(design, entry, switch_port),
        sent_groups=tuple(stream.group for stream in sent),
        taken_groups=tuple(stream.group for stream in taken),
        sent_bit_s=sum(stream.bandwidth_bit_per_s for stream in sent),
        taken_bit_s=sum(stream.bandwidth_bit_per_s for stream in taken),
        control_bit_s=network.control_rate if network else 0.0,
        protocols=tuple(_protocols(network)) if network else (),
    )


def _protocols(network: NetworkNeeds) -> Iterator[str]:
    for use, protocol in sorted(network.protocols.items()):
        known = use_called(use)
        mark = f", DSCP {known.dscp}" if known.dscp else ""
        yield f"{use}: {protocol}, {known.way}{mark}"


def _switch_ports(design: Design) -> dict[str, str]:
    """Return the switch and port to which each device leads: a switch by its way to the first one."""
    leads = {
        one.start.device: f"{one.end.device}/{one.end.name}" if one.end.device else one.end.name
        for one in design.graph.network
        if one.led_on
    }
    isolated = {one.start.device for one in design.graph.network if one.isolated and not one.end.device}
    return leads | {tag: leads.get(tag) or OWNERS_NETWORK for tag in isolated}


def _speed(design: Design, entry: Device, switch_port: str) -> float | None:
    """Return the data rate of a device's port: the slower of the two ends."""
    if isinstance(entry, Switch):
        return next((link.speed_bit_per_s for link in design.switch_links
                     if f"{link.join.end}/{link.join.end_port}" == switch_port), None)  # fmt: skip
    own = [ports.speed for ports in entry.ports.values() if ports.signal == "network" and ports.speed]
    switch = design.entries.get(switch_port.rpartition("/")[0])
    far = [switch.speed] if isinstance(switch, Switch) else []
    return min((*own[:1], *far), default=None)


def _traffic(design: Design, one: SwitchTraffic) -> SwitchTrafficRow:
    held = [power.switch for power in design.switches if power.switch.device.tag == one.tag]
    kept = {(switch.device.tag, number) for switch, number in panel_ports(design).values()}
    return SwitchTrafficRow(
        tag=one.tag,
        ports=sum(len(switch.numbers) for switch in held),
        free=sum(number not in switch.ports for switch in held for number in switch.numbers),
        for_panels=sum(tag == one.tag for tag, _ in kept),
        verdict="holds" if one.holds else "fails",
        passing_bit_s=one.passing_bit_per_s,
        rate_bit_s=one.rate_bit_per_s,
        groups=one.groups,
        most_groups=one.most_groups,
        vlans=one.vlans,
        most_vlans=one.most_vlans,
        queues=one.queues,
        clock="boundary clock" if one.boundary_clock else "handed on only",
        fullest_port=one.fullest_port,
        fullest_bit_s=one.fullest_bit_per_s,
        fullest_rate_bit_s=one.port_rate_bit_per_s,
    )


def _uses(design: Design) -> tuple[NetworkUseRow, ...]:
    """Return every use of the network, with how many devices it is for."""
    found: dict[tuple[str, str], list[str]] = {}
    kinds = {one.tag: one.kind.replace("_", " ") for one in design.devices}
    alone = _alone(design)
    for tag, entry in design.entries.items():
        if tag in alone:
            continue  # nothing is opened for them
        for use, protocol in (entry.network.protocols if entry.network else {}).items():
            found.setdefault((use, protocol), []).append(kinds[tag])
    rows = []
    for (use, protocol), of_kinds in sorted(found.items()):
        known = use_called(use)
        rows.append(
            NetworkUseRow(
                use=use,
                protocol=protocol,
                way=known.way,
                group=known.group,
                dscp=known.dscp,
                opening=known.opening,
                devices=len(of_kinds),
                kinds=tuple(sorted(set(of_kinds))),
            )
        )
    return tuple(rows)


def _models(design: Design) -> tuple[NetworkModelRow, ...]:
    """Return every model on the network, in order of codes."""
    counts: dict[str, int] = {}
    kinds: dict[str, str] = {}
    for one in design.devices:
        if one.tag in design.entries and design.entries[one.tag].network:
            counts[one.model] = counts.get(one.model, 0) + 1
            kinds[one.model] = one.kind.replace("_", " ")
    needs = {entry.model: entry.network for entry in design.entries.values() if entry.network}
    points = (entry for entry in design.entries.values() if isinstance(entry, AccessPoint))
    on_air = {entry.model: entry.encryption or NOT_ENCRYPTED for entry in points}
    return tuple(
        NetworkModelRow(
            model=model,
            kind=kinds[model],
            devices=counts[model],
            **{name: getattr(needs[model], name) for name in _FACTS},
            encryption_on_air=on_air.get(model, ""),
        )
        for model in sorted(counts)
    )


def _questions(
    project: Project, design: Design, models: Sequence[NetworkModelRow]
) -> Iterator[NetworkQuestionRow]:
    """Yield what the network team, then what makers are to be asked."""
    plan = design.addresses
    if not plan.vlans:
        yield NetworkQuestionRow(
            asked=NETWORK_TEAM,
            question="Which VLAN and which range of addresses may the system use, with which gateway?",
            until_then="No addresses are planned.",
        )
    if plan.vlans and any(not join.end for join in design.switch_joins.joins) | _by_owner(design):
        yield NetworkQuestionRow(
            asked=NETWORK_TEAM,
            question="Does the owner's network ask who listens (IGMP querier) in the VLAN of audio?",
            until_then=f"No: {design.querier} asks." if design.querier else "Yes: none of our switches does.",
        )
    for room, port in to_owners_network(project, design.closets, design.rooms):
        if not port:
            yield NetworkQuestionRow(
                asked=NETWORK_TEAM,
                question=f"To which port of the owner's network in {room.equipment_room} may {room.host}/"
                f"{room.isolating_port} lead? It keeps that network off the room's own.",
                until_then="The cable ends on its panel, and a cord lies ready.",
            )
    for one in project.questions:
        if one.path[:2] == ("project", "subnets") or one.path[-1] == "owner_port":
            yield NetworkQuestionRow(
                asked=NETWORK_TEAM,
                question=f"{asked(one, project.standing.questions)[0]} ({one.path[-2]})",
                until_then=str(one.value or "nothing"),
            )
    if plan.vlans and not any(not join.end for join in design.switch_joins.joins) and not _by_owner(design):
        yield NetworkQuestionRow(
            asked=NETWORK_TEAM,
            question="Are panels or computers that mute or control the system to stand in the owner's own "
            "network? If so, at which of its ports may we join ours to it?",
            until_then="No: they stand in the network of the microphones, and no link leads to the owner's "
            "network.",
        )
    for name in sorted({part.asked for path in design.delays for part in path.unknown}):
        people = name == OWNERS_NETWORK
        yield NetworkQuestionRow(
            asked=NETWORK_TEAM if people else f"the maker, {project.library.entry(name).maker}",
            question=f"How long does sound take in {name}?",
            until_then="Not counted: the delay of sound that passes it has no verdict.",
        )
    for row in models:
        missing = [words for name, words in _FACTS.items() if not getattr(row, name)]
        if missing:
            maker = project.library.entry(row.model).maker
            yield NetworkQuestionRow(
                asked=f"the maker, {maker}",
                question=f"Of {row.model}, {count_of(row.devices, 'device')}: {listed(missing)}.",
                until_then="Nothing is planned for it.",
            )


def _by_owner(design: Design) -> bool:
    """Return whether the owner's switches serve devices of the system."""
    return any(switch.offered for closet in design.closets for switch in closet.switches)
