"""The part of a room's signal flow behind the mix: destinations, amplifiers and loudspeakers."""

from proposal.design.equipment.audio_needs import NETWORKED
from proposal.design.equipment.placed_devices import Placed
from proposal.design.equipment.zone_lines import line_of_each
from proposal.design.network.streams import in_order
from proposal.design.numbers.numbering import natural
from proposal.design.sound.flow import listed
from proposal.design.sound.flow_builder import (
    NETWORK,
    FlowBuilder,
    carried_words,
    counted,
    outside_code,
    outside_join,
    with_returns,
)


def add_outputs(flow: FlowBuilder, host: str = "") -> None:
    """Add mixers or breakouts with the microphones they take, and what their outputs lead to.

    host: tag of what holds the switch that serves the room, empty where the equipment room's does.
    """
    for device in flow.mixing:
        most = flow.capacities[device.code]
        taken = sum(one.mixing == device.tag for one in flow.channels)
        inputs = taken + sum(
            end.channels
            for end in flow.ends
            if end.device == device.tag and end.direction == "input" and end.signal == NETWORKED
        )
        if device.kind == "mixer":
            told = f"{inputs} of {counted(most, 'input')}"
        else:
            outputs = sum(
                end.device == device.tag and end.direction == "output" and bool(end.port)
                for end in flow.ends
                if end.signal == "analogue"
            )
            told = f"{taken + outputs} of {counted(most, 'output')}"
        flow.box(device.code, device.kind, device.code, device.model, told, *_left_open(flow, device))
        received = _channels_received(flow, device)
        if received:
            # Inside what holds the switch nothing is cabled: its cable leads on to the building's network.
            by = None if device.tag == host else flow.to_network(device)
            flow.join(NETWORK, device.code, NETWORKED, counted(received, "channel"), by)
    mixers = {device.tag: device.code for device in flow.of("mixer")}
    for end in flow.ends:
        if end.device in mixers and end.direction == "output" and set(end.joined) & set(mixers):
            flow.join(mixers[end.device], mixers[end.joined[0]], NETWORKED, "mix handed on by the network")
    taken_codes = {node.code for node in flow.nodes}
    for code, destination in in_order(flow.layout.destinations):
        joined = [end for end in flow.ends_with(code, "output") if end.port]
        if not joined:
            continue
        name = outside_code(code, taken_codes)
        channels = counted(destination.channels, "channel")
        if destination.carries:
            channels += ": " + ", ".join(f"{n} {one}" for n, one in enumerate(destination.carries, 1))
        flow.box(name, "destination", destination.name, channels, *flow.owner_lines(code))
        for tag in dict.fromkeys(end.device for end in joined):
            here = [end for end in joined if end.device == tag]
            channels = counted(sum(end.channels for end in here), "channel") + with_returns(here)
            by = outside_join(flow, code, destination.signal, tag, here)
            flow.join(
                flow.codes[tag], name, destination.signal, carried_words(channels, destination.signal), by
            )


def _left_open(flow: FlowBuilder, device: Placed) -> tuple[str, ...]:
    """Return which outputs of a breakout carry single microphones to no cable, in words; none of a mixer."""
    ports = [
        one.input
        for one in flow.channels
        if one.mixing == device.tag and one.input and flow.at(device.tag, one.input) is None
    ]
    if device.kind != "breakout" or not ports:
        return ()
    return (f"{listed(ports)}: a microphone each, no cable",)


def _channels_received(flow: FlowBuilder, device: Placed) -> int:
    """Return the channels of microphones that a mixer or breakout takes from the network.

    A breakout that makes the room's mix takes every one.
    """
    numbers = {stream.number for stream in flow.streams if device.tag in stream.receivers}
    if device.kind == "breakout":
        return sum(one.stream in numbers for one in flow.channels if one.stream)
    return sum(one.mixing == device.tag for one in flow.channels)


def add_loudspeakers(flow: FlowBuilder) -> None:
    """Add amplifiers and one box for the loudspeakers of each zone that is fed."""
    zones: dict[str, list[str]] = {}
    names = line_of_each(flow.project, flow.layout)
    for code in sorted(names, key=natural):
        zones.setdefault(names[code], []).append(code)
    for device in flow.of("amplifier"):
        feeds = [end for end in flow.ends_with(device.tag, "output") if end.port]
        if not feeds:
            continue
        flow.box(device.code, "amplifier", device.code, device.model)
        feeding = next(one for one in flow.mixing if one.tag == feeds[0].device)
        for end in feeds:
            zone = end.name.rpartition("zone ")[2]
            feed = flow.at(feeding.tag, end.port)
            flow.join(feeding.code, device.code, "analogue", f"zone {zone}{with_returns([end])}", feed)
            codes = zones[zone]
            name = f"LS-{zone}"
            flow.box(
                name, "loudspeakers", f"Loudspeakers, zone {zone}", listed(codes), *_line_words(flow, zone)
            )
            firsts = flow.firsts.get(zone, ())
            first = flow.fed(f"{flow.room}-{firsts[0]}") if len(firsts) == 1 else None
            # Rooms of one kind lie differently to their racks, and so may begin at another one.
            label = f"zone {zone}" if len(firsts) < 2 else f"zone {zone}, from {' or '.join(firsts)} on"
            flow.join(device.code, name, "loudspeaker line", label, first)


def _line_words(flow: FlowBuilder, zone: str) -> tuple[str, ...]:
    """Return what the line of a zone is, none where it has none."""
    return (flow.lines[zone],) if zone in flow.lines else ()
