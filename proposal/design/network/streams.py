"""The streams of networked audio of every room, and their numbers."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TypeVar

from proposal.design.equipment.audio_needs import NETWORKED, stream_sizes
from proposal.design.equipment.mixing_choice import first_mixing
from proposal.design.equipment.placed_devices import Placed
from proposal.design.numbers.numbering import assign, device_tag, issued_of, multicast_group, natural
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import AccessPoint, Breakout
from proposal.model.equipment.entry import Device
from proposal.model.equipment.sound_devices import Mixer
from proposal.model.joined_sound import TO_JOINED, from_joined, heard_from, heard_in
from proposal.model.project import Project
from proposal.model.rooms import RoomType, SoundEnd
from proposal.standards import aes67

End = TypeVar("End", bound=SoundEnd)
"""A destination or a source of return audio."""
STREAM = "stream"
MOST_STREAMS = 254 * 256


@dataclass(frozen=True, slots=True, kw_only=True)
class Stream:
    """A stream of networked audio.

    number: in the whole project; it makes the multicast group.
    name: as receivers list it.
    sender: tag of the device that sends it, or the code of what others furnish in the room.
    carries: what it carries, in words.  channels: how many.
    receivers: tags of the devices that take it, or codes of what others furnish.
    """

    number: int
    name: str
    sender: str
    room: str
    carries: str
    channels: int
    receivers: tuple[str, ...]

    @property
    def group(self) -> str:
        """Return its multicast group."""
        return multicast_group(self.number)

    @property
    def bandwidth_bit_per_s(self) -> float:
        """Return what it takes of a link."""
        return aes67.stream_bandwidth_bit_per_s(self.channels)


@dataclass(frozen=True, slots=True, kw_only=True)
class WantedStream:
    """A stream before it has its number."""

    identity: str
    name: str
    sender: str
    room: str
    carries: str
    channels: int
    receivers: tuple[str, ...]


def channels_a_stream(entry: Device) -> int:
    """Return the most channels of one stream that a device sends."""
    most = entry.network.channels_a_stream if entry.network else aes67.MOST_CHANNELS
    return min(most, aes67.MOST_CHANNELS)


def numbered_streams(
    project: Project, wanted: Sequence[WantedStream]
) -> tuple[tuple[Stream, ...], dict[str, str]]:
    """Return the streams in order of their numbers, and the numbers by identity."""
    issued = issued_of(project.issued, STREAM)
    most = len(wanted) + len(issued) + 1
    candidates = dict.fromkeys(
        [
            *(str(n) for n in range(1, most + 1)),
            *(n for one in issued.values() if _is_stream(n := one.number)),
        ]
    )
    numbers = assign([one.identity for one in wanted], {}, issued, candidates)
    streams = tuple(
        Stream(
            number=int(numbers[one.identity]),
            name=one.name,
            sender=one.sender,
            room=one.room,
            carries=one.carries,
            channels=one.channels,
            receivers=one.receivers,
        )
        for one in wanted
    )
    return tuple(sorted(streams, key=lambda one: one.number)), numbers


def _is_stream(number: str) -> bool:
    """Return whether a text is the number of a stream, for which there is a multicast group."""
    return number.isascii() and number.isdecimal() and number[0] != "0" and int(number[:6]) <= MOST_STREAMS


def room_streams(
    project: Project,
    room: str,
    devices: Sequence[Placed],
    radio: Mapping[str, tuple[str, int]],
    inputs: Mapping[str, tuple[str, str]],
) -> Iterator[WantedStream]:
    """Yield the streams of a room: of its access points, of its mixes, of its return audio.

    radio: access point and channel by microphone.  inputs: mixer and input, or breakout and output, likewise.
    """
    layout = project.rooms[room].layout
    ordered = sorted(devices, key=lambda one: natural(one.tag))
    entries = [(one, project.library.entry(one.model)) for one in ordered if one.kind == "access_point"]
    access_points = [(one, entry) for one, entry in entries if isinstance(entry, AccessPoint)]
    first = first_mixing(project, layout, devices)
    entry = project.library.entry(first.model) if first else None
    mixes = isinstance(entry, Mixer) or (isinstance(entry, Breakout) and entry.mixes and plays_a_mix(layout))
    mixing = {first.tag} if first and isinstance(entry, Breakout) and mixes else set()
    for one, point in access_points:
        yield from _of_access_point(room, one.tag, point, radio, inputs, mixing)
    most = channels_a_stream(entry) if isinstance(entry, Device) else aes67.MOST_CHANNELS
    if first and first.kind == "mixer":
        for one in ordered:
            if one.kind == "mixer" and one.tag != first.tag:
                carries = f"mix of {one.tag} handed on"
                yield from _split(room, one.tag, "handed-on", carries, 1, {first.tag}, most)
    for code, destination in in_order(layout.destinations):
        if first and mixes and destination.signal == NETWORKED:
            carries = f"{' and '.join(destination.carries) or 'mix'} for {destination.name}"
            yield from _split(room, first.tag, code, carries, destination.channels, {code}, most)
    hearing = {
        one.tag
        for one, _ in access_points
        if any(layout.microphones[code].return_audio for code in one.serves)
    }
    for code, source in in_order(layout.returns):
        # A breakout sends on what enters it on a wire; what comes by the network, talkers take themselves.
        passed_on = first is not None and (first.kind == "mixer" or source.signal == "analogue")
        if source.signal == NETWORKED:
            takers = ({first.tag} if first and mixes else set()) | (set() if passed_on else hearing)
            if takers:
                carries = f"return audio from {source.name}"
                yield from _split(room, code, "return", carries, source.channels, takers, aes67.MOST_CHANNELS)
        if hearing and first and passed_on:
            carries = f"return audio of {source.name} for talkers"
            yield from _split(room, first.tag, f"return-{code}", carries, source.channels, hearing, most)


def between_joined_rooms(
    project: Project, wanted: Sequence[WantedStream], firsts: Mapping[str, str]
) -> list[WantedStream]:
    """Return streams of which each mix for other rooms is one stream that all their mixers take.

    wanted: as each room asks for them by itself.  firsts: mixer by tag of the room.
    """
    coming = heard_from(project.rooms, project.building)
    going = heard_in(project.rooms, project.building)
    found = []
    for one in wanted:
        if one.sender in {from_joined(other) for other in coming.get(one.room, ())}:
            continue
        if TO_JOINED in one.receivers:
            receivers = _sorted({firsts[other] for other in going.get(one.room, ()) if other in firsts})
            one = replace(one, carries=joined_mix(one.room), receivers=receivers)
        found.append(one)
    return found


def joined_mix(room: str) -> str:
    """Return what the stream for other rooms carries, in words.

    room: tag of the room whose mix it is.
    """
    return f"mix of {room} for other rooms"


def plays_a_mix(layout: RoomType) -> bool:
    """Return whether a room has something that a mix could go to."""
    return bool(layout.destinations or layout.loudspeakers)


def in_order(ends: Mapping[str, End]) -> list[tuple[str, End]]:
    """Return destinations or sources of return audio by their codes, in order of codes."""
    return sorted(ends.items(), key=lambda item: natural(item[0]))


def _of_access_point(
    room: str,
    tag: str,
    entry: AccessPoint,
    radio: Mapping[str, tuple[str, int]],
    inputs: Mapping[str, tuple[str, str]],
    mixing: set[str],
) -> Iterator[WantedStream]:
    """Yield the streams of an access point, which carry every channel that it has, taken or free.

    mixing: tag of the breakout that takes every microphone into its mix, if there is one.
    """
    before = 0
    for ordinal, size in enumerate(stream_sizes(entry), 1):
        last = before + size
        inside = [mic for mic, (serving, n) in radio.items() if serving == tag and before < n <= last]
        taking = {inputs[mic][0] for mic in inside if mic in inputs}
        yield WantedStream(
            identity=f"{STREAM}/{tag}/{ordinal}",
            name=f"{tag} {ordinal}",
            sender=tag,
            room=room,
            carries=f"microphone channels {before + 1} to {last}",
            channels=size,
            receivers=_sorted(taking | (mixing if inside else set())),
        )
        before = last


def _split(
    room: str, sender: str, key: str, carries: str, channels: int, receivers: set[str], most: int
) -> Iterator[WantedStream]:
    """Yield as many streams as the channels take.

    most: channels of one stream of its sender.
    """
    # What others furnish has a code alone; with its room it is told from the same in other rooms.
    full = sender if sender.startswith(device_tag(room, "")) else device_tag(room, sender)
    for ordinal, first in enumerate(range(0, channels, most), 1):
        yield WantedStream(
            identity=f"{STREAM}/{full}/{key}/{ordinal}",
            name=f"{full} {key}" + (f" {ordinal}" if channels > most else ""),
            sender=sender,
            room=room,
            carries=carries,
            channels=min(most, channels - first),
            receivers=_sorted(receivers),
        )


def _sorted(tags: set[str]) -> tuple[str, ...]:
    return tuple(sorted(tags, key=natural))
