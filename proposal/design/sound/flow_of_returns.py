"""The part of a room's signal flow that brings return audio to those who hear it."""

from proposal.design.equipment.audio_needs import NETWORKED
from proposal.design.network.streams import in_order
from proposal.design.numbers.numbering import natural
from proposal.design.sound.flow_builder import (
    NETWORK,
    FlowBuilder,
    by_form,
    carried_words,
    counted,
    outside_code,
    outside_join,
)


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
        if name not in {node.code for node in flow.nodes}:
            flow.box(name, "return", source.name, channels, *flow.owner_lines(code))
        for tag in dict.fromkeys(end.device for end in joined):
            here = [end for end in joined if end.device == tag]
            by = outside_join(flow, code, source.signal, tag, here)
            carried = carried_words(channels, source.signal)
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
