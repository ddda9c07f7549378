"""What comes into and goes out of the mixers or breakouts of a room, and whether some boxes carry it.

One box of a room is the first: it takes return audio, sends to every destination and feeds the amplifiers.
Further mixers take microphones and hand their mix on to it, an output of theirs and an input of the first;
further breakouts bring out microphones.
"""

from collections.abc import Sequence

from proposal.field_classes import dataclass
from proposal.model.equipment.devices import AccessPoint, Breakout
from proposal.model.equipment.sound_devices import Mixer
from proposal.model.rooms import RoomType
from proposal.standards import aes67

NETWORKED = "networked audio"
MIXES = "mixes"
MICROPHONE_INPUTS = "microphone inputs with phantom power"
WHOLE_STREAMS = "network channels taken up, of streams that come whole"
Mixing = Mixer | Breakout


@dataclass(frozen=True, slots=True)
class Carried:
    """One sort of input or output of a room's mixers or breakouts: how many are needed and given.

    what: in words, such as `networked inputs`.
    """

    what: str
    need: int
    given: int

    @property
    def spare(self) -> int:
        """Return what is given over the need; negative where it falls short."""
        return self.given - self.need


@dataclass(frozen=True, slots=True, kw_only=True)
class AudioNeeds:
    """What a room sends through its mixers or breakouts, in channels.

    microphones: in use, and spare ones that are paired for use at once.
    networked_in, line_in, usb_in: return audio by the way that it is carried.
    wired: wired microphones, each an analogue input with gain and phantom power.
    networked_out, line_out, usb_out: to destinations; zones of loudspeakers and transmitters for assistive
        listening are among the analogue ones.
    to_talkers: return audio that is sent to access points for those who hear it at their microphones.
    mixed: what must be given a mix, in words: it has fewer channels than the room has microphones.
    stream_channels: channels of the streams that hold the microphones, at most.
    streams: channels of each of them, the largest first.
    """

    microphones: int
    networked_in: int
    line_in: int
    usb_in: int
    networked_out: int
    line_out: int
    usb_out: int
    to_talkers: int
    mixed: tuple[str, ...]
    stream_channels: int
    streams: tuple[int, ...]
    wired: int = 0


def microphones_at_once(layout: RoomType) -> int:
    """Return the microphones that may be heard at once: those in use, and spares paired for use at once."""
    paired = sum(layout.spare_microphones.values()) if layout.spares_paired else 0
    return len(layout.microphones) + paired


def audio_needs(
    layout: RoomType,
    access_points: Sequence[AccessPoint],
    transmitters: int = 0,
    lines: Sequence[str] | None = None,
) -> AudioNeeds:
    """Return what a room sends through its mixers or breakouts.

    access_points: those that its microphones are linked to.
    transmitters: those for assistive listening, each fed by an analogue output.
    lines: of its loudspeakers, each fed likewise; one a zone where they are left out.
    """
    zones = sorted({one.zone for one in layout.loudspeakers.values()}) if lines is None else lines
    count = microphones_at_once(layout)
    heard = count + len(layout.wired_microphones)
    ends = layout.destinations.values()

    def out(signal: str) -> int:
        return sum(one.channels for one in ends if one.signal == signal)

    def back(signal: str) -> int:
        return sum(one.channels for one in layout.returns.values() if one.signal == signal)

    mixed = [one.name for one in ends if one.channels < heard]
    mixed += [f"loudspeakers, zone {zone}" for zone in zones if heard > 1]
    mixed += ["assistive listening"] if transmitters and heard > 1 else []
    if not heard and layout.returns:
        # Only what mixes brings sound from elsewhere to its own outputs.
        mixed += [one.name for one in ends] + [f"loudspeakers, zone {zone}" for zone in zones]
        mixed += ["assistive listening"] if transmitters else []
    hearing = any(position.return_audio for position in layout.microphones.values())
    # A breakout cannot pass on what comes by the network: access points take that from its sender.
    passed_on = sum(
        one.channels for one in layout.returns.values() if layout.output == "mixer" or one.signal != NETWORKED
    )
    stream_channels = _most_stream_channels(count, access_points)
    return AudioNeeds(
        microphones=count,
        networked_in=back(NETWORKED),
        line_in=back("analogue"),
        usb_in=back("USB"),
        networked_out=out(NETWORKED),
        line_out=out("analogue") + len(zones) + transmitters,
        usb_out=out("USB"),
        to_talkers=passed_on if hearing else 0,
        mixed=tuple(sorted(set(mixed))),
        stream_channels=stream_channels,
        streams=_largest_streams(stream_channels, access_points),
        wired=len(layout.wired_microphones),
    )


def stream_sizes(access_point: AccessPoint) -> tuple[int, ...]:
    """Return the channels of each stream that an access point sends: all that it has, taken or free."""
    most = aes67.MOST_CHANNELS
    if access_point.network:
        most = min(most, access_point.network.channels_a_stream)
    whole, rest = divmod(access_point.channels, most)
    return (*[most] * whole, *([rest] if rest else []))


def _most_stream_channels(microphones: int, access_points: Sequence[AccessPoint]) -> int:
    """Return the channels of all streams that hold a microphone, however microphones are shared out.

    An access point gives its channels from the first on, so that it fills one stream before the next.
    """
    # For each number of microphones served so far, the most channels that their streams have.
    most: dict[int, int] = {0: 0}
    for one in access_points:
        after: dict[int, int] = {}
        sizes = stream_sizes(one)
        for served, channels in most.items():
            held = sent = 0
            after[served] = max(after.get(served, 0), channels)
            for size in sizes:
                sent += size
                for _ in range(size):
                    held += 1
                    if served + held <= microphones:
                        reached = after.get(served + held, 0)
                        after[served + held] = max(reached, channels + sent)
        most = after
    return most.get(microphones, microphones)


def _largest_streams(channels: int, access_points: Sequence[AccessPoint]) -> tuple[int, ...]:
    """Return the largest streams of access points that together have so many channels."""
    found: list[int] = []
    for size in sorted((size for one in access_points for size in stream_sizes(one)), reverse=True):
        if sum(found) >= channels:
            break
        found.append(size)
    return tuple(found)


def streams_placed(streams: Sequence[int], left: Sequence[int]) -> tuple[int | None, ...]:
    """Return the box that takes each stream whole, the first that has the channels left; None for none.

    streams: channels of each.  left: channels that each box can still receive.
    """
    free = list(left)
    places: list[int | None] = []
    for size in streams:
        box = next((n for n, channels in enumerate(free) if channels >= size), None)
        if box is not None:
            free[box] -= size
        places.append(box)
    return tuple(places)


def received_most(entry: Mixing) -> int:
    """Return the networked channels that a mixer or breakout can take: its inputs, and what it receives."""
    inputs = entry.inputs if isinstance(entry, Mixer) else entry.channels
    return min(inputs, entry.network.received_channels) if entry.network else inputs


def takes_whole_streams(entry: Mixing) -> bool:
    """Return whether every channel of a stream counts against what a device receives."""
    return bool(entry.network and entry.network.whole_streams)


def sent_most(entry: Mixing) -> int:
    """Return the networked channels that a mixer or breakout can send."""
    sent = entry.network.sent_channels if entry.network else 0
    return min(sent, entry.networked_outputs) if isinstance(entry, Mixer) else sent


def _streams_shared_out(needs: AudioNeeds, boxes: Sequence[Mixing], at_first: int) -> list[Carried]:
    """Return how many streams find a box that takes them whole, where there are several boxes."""
    if len(boxes) < 2:
        return []
    left = [received_most(one) - (0 if n else at_first) for n, one in enumerate(boxes)]
    places = streams_placed(needs.streams, left)
    return [Carried("streams taken whole by one box", len(places), len(places) - places.count(None))]


def carried_by_mixers(needs: AudioNeeds, first: Mixer, others: Sequence[Mixer]) -> tuple[Carried, ...]:
    """Return what a room's mixers need and give of each sort of input and output.

    first: the mixer that all others hand their mix on to.
    """
    handed_on = len(others)
    at_first = needs.networked_in + handed_on
    # Inputs of the first that return audio and handed-on mixes leave carry microphones like all others.
    given = received_most(first) + sum(received_most(one) for one in others)
    found = [
        Carried("networked inputs", needs.microphones + at_first, given),
        Carried("networked outputs", needs.networked_out + needs.to_talkers, sent_most(first)),
        Carried("analogue inputs", needs.line_in + needs.wired, first.line_inputs),
        Carried(MICROPHONE_INPUTS, needs.wired, first.microphone_inputs),
        Carried("analogue outputs", needs.line_out, first.line_outputs),
        Carried("USB channels in", needs.usb_in, first.usb_channels),
        Carried("USB channels out", needs.usb_out, first.usb_channels),
    ]
    if handed_on:
        found.append(Carried("inputs of the first mixer", at_first, received_most(first)))
        sending = sum(min(sent_most(one), 1) for one in others)
        found.append(Carried("outputs to hand on to the first mixer", handed_on, sending))
    if any(takes_whole_streams(one) for one in (first, *others)):
        received = sum(one.network.received_channels for one in (first, *others) if one.network)
        found.append(Carried(WHOLE_STREAMS, needs.stream_channels + at_first, received))
        found += _streams_shared_out(needs, (first, *others), at_first)
    return tuple(found)


def carried_by_breakouts(
    needs: AudioNeeds, first: Breakout, others: Sequence[Breakout]
) -> tuple[Carried, ...]:
    """Return what a room's breakouts need and give of each sort of input and output.

    first: the breakout that sends to every destination and takes return audio.
    Where something needs a mix, the first has to make it, and takes every microphone.
    """
    boxes = (first, *others)
    found = [
        Carried("analogue outputs", needs.microphones + needs.line_out, sum(one.channels for one in boxes)),
        Carried("analogue outputs of the first breakout", needs.line_out, first.channels),
        Carried("analogue inputs", needs.line_in, first.return_inputs),
        Carried(MICROPHONE_INPUTS, needs.wired, 0),
        Carried("networked outputs", needs.networked_out + needs.to_talkers, sent_most(first)),
        Carried("USB channels in", needs.usb_in, 0),
        Carried("USB channels out", needs.usb_out, 0),
        Carried(MIXES, len(needs.mixed), len(needs.mixed) if first.mixes else 0),
    ]
    if needs.mixed:
        taken = needs.microphones + needs.networked_in
        found.append(Carried("networked channels into the mix", taken, received_most(first)))
    if any(takes_whole_streams(one) for one in boxes):
        received = sum(one.network.received_channels for one in boxes if one.network)
        found.append(Carried(WHOLE_STREAMS, needs.stream_channels, received))
        found += _streams_shared_out(needs, boxes, 0)
    return tuple(found)
