"""The part of a room's signal flow that brings return audio to those who hear it."""

from collections.abc import Sequence
from dataclasses import replace

from proposal.design.equipment.audio_needs import NETWORKED
from proposal.design.network.streams import in_order
from proposal.design.numbers.numbering import natural
from proposal.design.sound.audio_ends import AudioEnd
from proposal.design.sound.flow_builder import (
    NETWORK,
    FlowBuilder,
    by_form,
    carried_words,
    counted,
    outside_code,
    outside_join,
)


def _inputs(signal: str, ends: Sequence[AudioEnd]) -> str:
    """Return at which inputs of a mixer's matrix networked return audio arrives; empty for all else.

    ends: inputs of one mixer or breakout.
    """
    if signal != NETWORKED:
        return ""
    ports = [end.port for end in ends]
    return f", input{'' if len(ports) == 1 else 's'} {', '.join(ports)}"


def add_returns(flow: FlowBuilder) -> None:
    """Add return audio: from its sources by mixer or breakout and the network to those who hear it."""
    points = {device.tag: device for device in flow.of("access_point")}
    taken_codes = {node.code for node in flow.nodes if node.kind != "destination"}
    reached: dict[str, None] = {}
    for code, source in in_order(flow.layout.returns):
        channels = counted(source.channels, "channel")
        joined = [end for end in flow.ends_with(code, "input") if end.port]
        straight = [
            tag
            for stream in flow.streams
            if stream.sender == code
            for tag in stream.receivers
            if tag in points
        ]
        if not joined and not straight:
            continue
        name = outside_code(code, taken_codes)
        there = next((n for n, node in enumerate(flow.nodes) if node.code == name), None)
        if there is None:
            flow.box(name, "return", source.name, f"{channels} back", *flow.owner_lines(code))
        else:
            first, *further = flow.nodes[there].lines
            lines = f"{first}; {channels} back", *further
            flow.nodes[there] = replace(flow.nodes[there], lines=lines)
        for tag in dict.fromkeys(end.device for end in joined):
            here = [end for end in joined if end.device == tag]
            by = outside_join(flow, code, source.signal, tag, here)
            carried = carried_words(channels, source.signal) + _inputs(source.signal, here)
            flow.join(name, flow.codes[tag], source.signal, carried, by, returning=True)
        if straight:
            flow.join(name, NETWORK, NETWORKED, channels, returning=True)
            reached |= dict.fromkeys(straight)
    for device in flow.mixing:
        sent = [
            tag
            for stream in flow.streams
            if stream.sender == device.tag
            for tag in stream.receivers
            if tag in points
        ]
        if sent:
            flow.join(device.code, NETWORK, NETWORKED, "return audio", returning=True)
            reached |= dict.fromkeys(sent)
    for tag in sorted(reached, key=natural):
        flow.join(NETWORK, points[tag].code, NETWORKED, "return audio", returning=True)
    for tag in sorted(reached, key=natural):
        for form, codes in by_form(flow.layout, points[tag]).items():
            if any(flow.layout.microphones[code].return_audio for code in codes):
                code = points[tag].code
                flow.join(code, f"{code}-{form}", "radio", "return audio", returning=True)
