"""Rules about the signal path: inputs and outputs that are missing or taken twice."""

from collections import Counter
from collections.abc import Iterator, Sequence

from proposal.design.design import Design
from proposal.design.equipment.audio_needs import microphones_at_once
from proposal.design.network.streams import Stream, plays_a_mix
from proposal.design.owner.recorders import keeps_sound
from proposal.model.equipment.devices import Breakout
from proposal.model.equipment.entry import Device
from proposal.model.joined_sound import has_sound, joined_by_mixers, stands_alone, ways_in
from proposal.model.project import Project
from proposal.review.finding import Finding, Rule, counted, listed, written_place
from proposal.review.model_remedies import with_ports
from proposal.standards.sources import COMMON_PRACTICE, EDITABLE_DEFAULT


def ports_missing(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each mixer or breakout that has no port left for something the room wants."""
    missing: dict[str, list[str]] = {}
    for end in design.ends:
        if not end.port:
            missing.setdefault(end.device, []).append(f"{end.name} ({end.direction}, {end.signal})")
    for tag, wanted in missing.items():
        room = next(one for one in design.rooms if any(device.tag == tag for device in one.devices))
        yield Finding(
            rule="port-missing",
            severity="error",
            where=tag,
            place=project.place("rooms", room.tag, "layout", "destinations"),
            message=f"{tag} has no port left for {listed(list(dict.fromkeys(wanted)))}.",
            value=0.0,
            limit=float(len(wanted)),
            unit="ports",
            source=COMMON_PRACTICE,
            remedy=with_ports(project, next(one for one in design.kinds if room.tag in one.rooms)),
        )


def outputs_shared(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each breakout whose output both carries a microphone and feeds an amplifier."""
    taken = Counter((end.device, end.port) for end in design.ends if end.direction == "output")
    for room in design.rooms:
        shared = [one for one in design.channels.of_room(room.tag) if taken[one.mixing, one.input]]
        if not shared:
            continue
        yield Finding(
            rule="output-shared",
            severity="warning",
            where=room.tag,
            place=project.place("rooms", room.tag, "layout", "output"),
            message=(
                f"On {counted(len(shared), 'output')} of the breakouts of {room.tag} a microphone stands "
                f"where an amplifier is fed: {listed([one.code for one in shared])}."
            ),
            source=COMMON_PRACTICE,
            remedy=f"Fix breakouts with {counted(len(shared), 'output', more=True)} in all in fixed.yaml, or "
            "let a mixer make the room's mix (output: mixer).",
        )


def streams_not_taken(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each device that sends or receives more networked audio than it can.

    What it receives counts by channel used, or by whole streams where it can take no part of one.
    """
    for tag, entry in design.entries.items():
        if entry.network is None:
            continue
        sent, taken = design.channels.streams_from(tag), design.channels.streams_to(tag)
        widest = max((one.channels for one in (*sent, *taken)), default=0)
        for what, value, limit in (
            ("sends", sum(one.channels for one in sent), entry.network.sent_channels),
            (
                "receives",
                sum(_channels_taken(design, tag, entry, one) for one in taken),
                entry.network.received_channels,
            ),
            ("has in one stream", widest, entry.network.channels_a_stream),
        ):
            if value > limit:
                yield Finding(
                    rule="stream-not-taken",
                    severity="error",
                    where=tag,
                    place=written_place(project, ("fixed", "devices", tag), ("rooms", _room_of(design, tag))),
                    message=f"{tag} {what} more channels of networked audio than it can.",
                    value=float(value),
                    limit=float(limit),
                    unit="channels",
                    source=EDITABLE_DEFAULT,
                    remedy=f"Choose a device that carries {counted(value, 'channel')} instead of "
                    f"{entry.model}, or take {counted(value - limit, 'channel')} from it.",
                )


def sound_not_joined(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for rooms that a state joins and that have no mixers to join, with what it takes."""
    for name, state in project.building.states.items():
        for tags in state.join:
            if joined_by_mixers(project.rooms, tags):
                continue
            without = [tag for tag in tags if project.rooms[tag].layout.output != "mixer"]
            boxes = [one.tag for one in design.devices if one.room in without and one.kind == "breakout"]
            inputs = [
                f"{microphones_at_once(project.rooms[tag].layout) + len(tags) - 1} in {tag}"
                for tag in without
            ]
            yield Finding(
                rule="sound-not-joined",
                severity="warning",
                where=tags[0],
                place=project.place("building", "states", name),
                message=f"The state {name} joins {listed(tags)}, but the sound of {listed(without)} leaves "
                f"by {listed(boxes)}: without a mixer in each, no stream joins their sound and no mute acts "
                "in all.",
                value=float(len(tags) - len(without)),
                limit=float(len(tags)),
                unit="mixers",
                source=COMMON_PRACTICE,
                remedy="Let sound leave through a mixer there (output: mixer), with so many networked "
                f"inputs for microphones and joined rooms: {listed(inputs)}; and a networked output each.",
            )


def not_heard(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each room that is to hear another in a state, and does not."""
    for name, state in project.building.states.items():
        ways = set(ways_in(project.rooms, project.building, state))
        for listener, heard in state.hear.items():
            for one in heard:
                if (one, listener) not in ways:
                    yield _not_heard(project, name, one, listener)


def no_way_between_mixers(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each room that is to hear another in a state without a way over the network."""
    led = {(route.state, route.room, route.other) for route in design.joined_routes}
    inputs = {
        (end.joined[0], end.device)
        for end in design.ends
        if end.direction == "input" and end.stream and end.port and len(end.joined) == 1
    }
    rooms = {device.tag: device.room for device in design.devices}
    mixers = {(rooms.get(one), rooms[other]): (one, other) for one, other in inputs}
    for name, state in project.building.states.items():
        for one, listener in ways_in(project.rooms, project.building, state):
            pair = mixers.get((one, listener))
            if pair is None or (name, one, listener) in led:
                continue
            switches = [design.switch_ways.switch_of(tag) or "no switch" for tag in pair]
            yield Finding(
                rule="room-not-heard",
                severity="error",
                where=listener,
                place=project.place("building", "states", name),
                message=f"In the state {name} {listener} is to hear {one}, but no way leads over the network "
                f"from {pair[0]} (on {switches[0]}) to {pair[1]} (on {switches[1]}).",
                source=COMMON_PRACTICE,
                remedy=f"Join {switches[0]} and {switches[1]}: one link of 2 uplink ports, as the finding of "
                f"the switch says, or serve {one} and {listener} from one equipment room.",
            )


def joined_without_network(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for rooms that a state joins, one of which has a network that is joined to no other."""
    for name, state in project.building.states.items():
        for tags in state.join:
            alone = _alone(project, tags)
            if alone and joined_by_mixers(project.rooms, tags):
                others = [tag for tag in tags if tag != alone[0]]
                yield Finding(
                    rule="room-not-heard",
                    severity="error",
                    where=alone[0],
                    place=project.place("building", "states", name),
                    message=f"The state {name} joins {listed(tags)}, but {_on_its_own(alone)}, so no sound "
                    f"passes between {alone[0]} and {listed(others)}.",
                    source=COMMON_PRACTICE,
                    remedy=_join_network(alone, f"take {listed(alone)} out of what the state joins"),
                )


def _not_heard(project: Project, state: str, one: str, listener: str) -> Finding:
    """Return the error that a listener does not hear another room in a state, with what is in the way."""
    without = [tag for tag in (one, listener) if project.rooms[tag].layout.output != "mixer"]
    alone = _alone(project, (one, listener))
    if without:
        why = f"{listed(without)} {'has' if len(without) == 1 else 'have'} no mixer"
        remedy = f"Let sound leave {listed(without)} through a mixer (output: mixer)."
    elif not has_sound(project.rooms[one].layout):
        why = f"{one} has no sound of its own"
        remedy = f"Put microphones into {one}, or take it out of what {listener} hears."
    else:
        why = _on_its_own(alone)
        remedy = _join_network(
            alone,
            f"carry the sound by an analogue line in place of hear: a destination of {one} and a return of "
            f"{listener} (signal: analogue)",
        )
    return Finding(
        rule="room-not-heard",
        severity="error",
        where=listener,
        place=project.place("building", "states", state, "hear", listener),
        message=f"In the state {state} {listener} is to hear {one}, but {why}.",
        source=COMMON_PRACTICE,
        remedy=remedy,
    )


def _alone(project: Project, tags: Sequence[str]) -> list[str]:
    """Return the rooms whose network is joined to no other."""
    return [tag for tag in tags if stands_alone(project.rooms[tag].layout, project.building)]


def _on_its_own(alone: Sequence[str]) -> str:
    networks = "network of" if len(alone) == 1 else "networks of"
    return f"the {networks} {listed(alone)} {'is' if len(alone) == 1 else 'are'} joined to no other"


def _join_network(alone: Sequence[str], otherwise: str) -> str:
    return f"Join {listed(alone)} to an equipment room (network: rack), or {otherwise}."


def nothing_to_hear(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each kind of room where people are to listen and no sound comes from anywhere."""
    for kind in design.kinds:
        layout = kind.layout
        if not (layout.loudspeakers or layout.assistive_listening) or has_sound(layout) or layout.returns:
            continue
        yield Finding(
            rule="nothing-to-hear",
            severity="error",
            where=kind.key,
            place=written_place(project, (*kind.path, "loudspeakers"), kind.path),
            message=f"People are to listen in {layout.name}, but it has no microphone, and no sound comes "
            "into it.",
            source=COMMON_PRACTICE,
            remedy="Write where its sound comes from under returns, or which room it hears in a state of "
            "building.yaml (hear).",
        )


def recorders_without_operator(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each kind of room that is recorded without a word of who starts and stops it."""
    for kind in design.kinds:
        layout = kind.layout
        if not (layout.microphones or layout.wired_microphones):
            continue
        for code, end in layout.destinations.items():
            if end.operated_by or not keeps_sound(code, end, design.owners, kind.rooms):
                continue
            yield Finding(
                rule="recorder-without-operator",
                severity="warning",
                where=kind.key,
                place=written_place(project, (*kind.path, "destinations", code), kind.path),
                message=f"{layout.name} is recorded ({end.name}), and nobody says who starts and stops it.",
                source=COMMON_PRACTICE,
                remedy=f"Ask the client, and write who does it under destinations.{code}.operated_by.",
            )


def _channels_taken(design: Design, tag: str, entry: Device, stream: Stream) -> int:
    """Return the channels of a stream that count against what a device receives."""
    in_it = design.channels.in_stream(stream.number)
    if not in_it or (entry.network and entry.network.whole_streams):
        return stream.channels
    layout = design.project.rooms[stream.room].layout
    mixes = isinstance(entry, Breakout) and entry.mixes and plays_a_mix(layout)
    return sum(mixes or one.mixing == tag for one in in_it)


def _room_of(design: Design, tag: str) -> str:
    return next(one.room for one in design.devices if one.tag == tag)


CHANNEL_RULES: tuple[Rule, ...] = (
    ports_missing,
    outputs_shared,
    streams_not_taken,
    sound_not_joined,
    not_heard,
    no_way_between_mixers,
    joined_without_network,
    nothing_to_hear,
    recorders_without_operator,
)
