"""The signal flow through one kind of room: boxes and what passes between them."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from proposal.design.connections.ports_and_joins import Graph
from proposal.design.equipment.audio_needs import NETWORKED
from proposal.design.equipment.device_capacity import capacity
from proposal.design.equipment.placed_devices import Placed
from proposal.design.network.streams import Stream
from proposal.design.sound.audio_ends import AudioEnd
from proposal.design.sound.channels import Channel
from proposal.design.sound.flow import Flow, listed
from proposal.design.sound.flow_builder import (
    BUILDING,
    NETWORK,
    NETWORK_SIGNAL,
    FlowBuilder,
    by_form,
    counted,
)
from proposal.design.sound.flow_of_lines import flow_of_lines
from proposal.design.sound.flow_of_outputs import add_loudspeakers, add_outputs
from proposal.design.sound.flow_of_returns import add_returns
from proposal.model.equipment.devices import Charger
from proposal.model.joined_sound import heard_from
from proposal.model.project import Project
from proposal.model.rooms import RoomType

_COUNTED = ("access_point", "charger", "mixer", "breakout", "amplifier")


def signal_flow(
    project: Project,
    layout: RoomType,
    devices: Sequence[Placed],
    graph: Graph,
    channels: Sequence[Channel],
    streams: Sequence[Stream],
    ends: Sequence[AudioEnd],
    *,
    host: str,
    joined: str,
    owners: Mapping[str, str],
    lines: Mapping[str, str],
    firsts: Mapping[str, tuple[str, ...]],
) -> Flow:
    """Return the signal flow of a kind of room: microphones, radio, network, mix, outputs, return audio.

    layout: the room's layout.
    devices, channels, streams, ends: those of one room of the kind.
    graph: of the design, from which every join is read.
    host: tag of what holds the switch that serves the room, empty where the equipment room's does.
    joined: isolating port of the host that joins the room to the building, `building` where no port isolates,
        empty where nothing leads out of the room.
    owners: code in the room, or tag elsewhere, of the owner's equipment by the destination or return it is.
    lines: what the loudspeaker line of each zone is, in words.
    firsts: codes of the loudspeakers at which the line of each zone begins, in all rooms of the kind.
    """
    if layout.nothing_planned:
        return Flow((), (), {})
    by_kind: dict[str, list[Placed]] = {}
    for device in devices:
        by_kind.setdefault(device.kind, []).append(device)
    capacities = {
        device.code: capacity(project.library.entry(device.model))
        for device in devices
        if device.kind in _COUNTED
    }
    chargers = {
        device.code: entry
        for device in by_kind.get("charger", ())
        if isinstance(entry := project.library.entry(device.model), Charger)
    }
    flow = FlowBuilder(
        layout=layout,
        by_kind=by_kind,
        capacities=capacities,
        chargers=chargers,
        project=project,
        devices={device.tag: device for device in devices},
        graph=graph,
        channels=channels,
        streams=streams,
        ends=ends,
        owners=owners,
        lines=lines,
        firsts=firsts,
        room=devices[0].room,
        joined=heard_from(project.rooms, project.building).get(devices[0].room, ()),
    )
    groups = {one.code: by_form(layout, one) for one in flow.of("access_point")}
    _microphones(flow, groups)
    _before_the_network(flow)
    flow.box(NETWORK, "network", "Network", *_switch_lines(devices, host, joined))
    add_outputs(flow, host)
    add_loudspeakers(flow)
    add_returns(flow)
    _led_on(flow, host)
    nodes, edges, held = flow_of_lines(devices, layout, ends)
    flow.nodes += nodes
    flow.edges += edges
    members = {f"{code}-{form}": codes for code, forms in groups.items() for form, codes in forms.items()}
    return Flow(tuple(flow.nodes), tuple(flow.edges), {**members, **held})


def _switch_lines(devices: Sequence[Placed], host: str, joined: str) -> tuple[str, ...]:
    """Return where the switch of the network is, and how the room is kept from the building's, if it is."""
    holding = next((device for device in devices if device.tag == host), None)
    if holding is None and joined:
        return ("managed switch in the equipment room",)
    code = holding.code if holding else ""
    place = f"switch {code} in the room" if holding and holding.kind == "switch" else f"switch inside {code}"
    if not joined:
        return (place if holding else "no switch", "joined to no other network")
    if joined == "building":
        return (place,)
    return (place, f"{code}/{joined} keeps off the building's network")


def _led_on(flow: FlowBuilder, host: str) -> None:
    """Add where the switch inside a device is joined to the building's network, by its cable.

    host: tag of what holds the switch that serves the room, empty where the equipment room's does.
    """
    holding = flow.devices.get(host)
    by = flow.to_network(holding) if holding and holding.kind != "switch" else None
    if holding is None or by is None or by.end.device in flow.devices:
        return
    flow.box(BUILDING, "network", "Building's network", "panel, switch: sheets T")
    flow.join(NETWORK, BUILDING, NETWORKED, "to and from the room", by)
    flow.edges[-1] = replace(flow.edges[-1], start_port=f"{holding.code}/{by.start.name}")


def _microphones(flow: FlowBuilder, groups: Mapping[str, Mapping[str, Sequence[str]]]) -> None:
    """Add one box for each form of microphone that an access point serves."""
    for access_point, forms in groups.items():
        for form, codes in forms.items():
            name = f"{access_point}-{form}"
            flow.box(name, "microphones", f"{len(codes)} × {form}", listed(codes))
            flow.join(name, access_point, "radio", counted(len(codes), "link"))


def _before_the_network(flow: FlowBuilder) -> None:
    """Add access points and chargers."""
    for device in flow.of("access_point"):
        used, most = len(device.serves), flow.capacities[device.code]
        flow.box(
            device.code, "access point", device.code, device.model, f"{used} of {counted(most, 'channel')}"
        )
        flow.join(device.code, NETWORK, NETWORKED, counted(used, "channel"), flow.to_network(device))
    for device in flow.of("charger"):
        entry = flow.chargers.get(device.code)
        # A charger that is not on the network has no part in the signal.
        if entry and entry.ports_carrying("network"):
            slots = counted(flow.capacities[device.code], "slot")
            flow.box(device.code, "charger", device.code, device.model, slots)
            carried = "pairing and charge state" if entry.pairs else "charge state"
            flow.join(device.code, NETWORK, NETWORK_SIGNAL, carried, flow.to_network(device))
