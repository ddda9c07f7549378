"""The channel list: from every microphone by radio and network to its input or output."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cached_property
from typing import TypeVar

from proposal.design.charging.charge_slots import SlotAssignment, charge_slots
from proposal.design.connections.cable import Cable
from proposal.design.equipment.audio_needs import (
    NETWORKED,
    received_most,
    stream_sizes,
    takes_whole_streams,
)
from proposal.design.equipment.microphone_switches import switch_of
from proposal.design.equipment.mixing_choice import first_mixing
from proposal.design.equipment.placed_devices import Placed
from proposal.design.network.streams import (
    STREAM,
    Stream,
    WantedStream,
    between_joined_rooms,
    channels_a_stream,
    numbered_streams,
    room_streams,
)
from proposal.design.numbers.numbering import END, INPUT, Place, assign_places, issued_of, natural
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import AccessPoint, Breakout, Microphone
from proposal.model.equipment.sound_devices import Mixer
from proposal.model.project import Numbered, Project
from proposal.model.rooms import RoomType

CHANNEL = "channel"
_Key = TypeVar("_Key")
_Member = TypeVar("_Member")


@dataclass(frozen=True, slots=True, kw_only=True)
class Channel:
    """A microphone and the path of its signal.

    microphone: tag.  room, code: its room, and its code there.
    name: by which every device on its way knows it: code and who speaks at it.
    access_point, channel: tag, and its channel there; 0 where it has none until it replaces another.
    stream, position: number of the network stream and channel in it; 0 where it has none.
    mixing, input: tag of the mixer or breakout and name of its input or output; empty where it has none.
    berth: charger and slot, empty where there is none.
    mute_group, switch: its mute group, and what its switch does.
    """

    microphone: str
    room: str
    code: str
    name: str
    spare: bool
    form: str
    model: str
    access_point: str
    channel: int
    stream: int
    position: int
    mixing: str
    input: str
    berth: str
    mute_group: str
    switch: str
    return_audio: bool


@dataclass(frozen=True, kw_only=True)
class ChannelPlan:
    """Every channel and stream of the project, and every number given here by its identity."""

    channels: tuple[Channel, ...]
    streams: tuple[Stream, ...]
    numbers: Mapping[str, str]

    @property
    def linked(self) -> Mapping[str, str]:
        """Return the access point of every microphone that has a channel, by tag."""
        return {one.microphone: one.access_point for one in self.channels if one.access_point}

    def of_room(self, room: str) -> tuple[Channel, ...]:
        """Return the channels of a room."""
        return self._by_room.get(room, ())

    def in_stream(self, number: int) -> tuple[Channel, ...]:
        """Return the channels that a stream carries."""
        return self._by_stream.get(number, ())

    def streams_of_room(self, room: str) -> tuple[Stream, ...]:
        """Return the streams of a room."""
        return self._streams_by_room.get(room, ())

    def streams_from(self, tag: str) -> tuple[Stream, ...]:
        """Return the streams that a device sends, by its tag."""
        return self._streams_by_sender.get(tag, ())

    def streams_to(self, tag: str) -> tuple[Stream, ...]:
        """Return the streams that a device takes, by its tag."""
        return self._streams_by_receiver.get(tag, ())

    @cached_property
    def _by_room(self) -> Mapping[str, tuple[Channel, ...]]:
        return _grouped((one.room, one) for one in self.channels)

    @cached_property
    def _by_stream(self) -> Mapping[int, tuple[Channel, ...]]:
        return _grouped((one.stream, one) for one in self.channels)

    @cached_property
    def _streams_by_room(self) -> Mapping[str, tuple[Stream, ...]]:
        return _grouped((one.room, one) for one in self.streams)

    @cached_property
    def _streams_by_sender(self) -> Mapping[str, tuple[Stream, ...]]:
        return _grouped((one.sender, one) for one in self.streams)

    @cached_property
    def _streams_by_receiver(self) -> Mapping[str, tuple[Stream, ...]]:
        return _grouped((tag, one) for one in self.streams for tag in dict.fromkeys(one.receivers))


def _grouped(pairs: Iterable[tuple[_Key, _Member]]) -> Mapping[_Key, tuple[_Member, ...]]:
    """Return the members of each key, in order."""
    found: dict[_Key, list[_Member]] = {}
    for key, member in pairs:
        found.setdefault(key, []).append(member)
    return {key: tuple(members) for key, members in found.items()}


def channel_plan(
    project: Project, rooms: Sequence[tuple[str, Sequence[Placed], Sequence[Cable]]]
) -> ChannelPlan:
    """Return the channel list of every room.

    rooms: tag, devices and cables of each, in order.
    """
    numbers: dict[str, str] = {}
    issued_channels, issued_inputs = issued_of(project.issued, CHANNEL), issued_of(project.issued, INPUT)
    wanted: list[WantedStream] = []
    lists: list[
        tuple[str, dict[str, tuple[str, int]], dict[str, tuple[str, str]], dict[str, SlotAssignment]]
    ] = []
    for tag, devices, cables in rooms:
        found = _Room.of(project, tag, devices, cables)
        radio = found.radio(issued_channels)
        inputs = found.inputs(issued_inputs, radio)
        homes = charge_slots(project, devices)
        lists.append((tag, radio, inputs, homes))
        wanted += room_streams(project, tag, devices, radio, inputs)
        numbers |= {f"{CHANNEL}/{mic}": f"{ap}/{n}" for mic, (ap, n) in radio.items()}
        numbers |= {f"{INPUT}/{mic}": f"{box}/{name}" for mic, (box, name) in inputs.items()}
        numbers |= {f"slot/{mic}": berth.number for mic, berth in homes.items()}
    firsts = {
        tag: first.tag
        for tag, devices, _ in rooms
        if (first := first_mixing(project, project.rooms[tag].layout, devices))
    }
    streams, ordinals = numbered_streams(project, between_joined_rooms(project, wanted, firsts))
    numbers |= ordinals
    by_place = {identity: int(number) for identity, number in ordinals.items()}
    channels: list[Channel] = []
    for (tag, radio, inputs, homes), (_, devices, _) in zip(lists, rooms, strict=True):
        channels += _channels(project, tag, devices, radio, inputs, homes, by_place)
    return ChannelPlan(channels=tuple(channels), streams=streams, numbers=dict(sorted(numbers.items())))


def name_of(layout: RoomType, code: str, form: str) -> str:
    """Return the name of a microphone: its code and who speaks at it, else its seat, else its form."""
    position = layout.microphones.get(code)
    if position is None:
        return f"{code} spare {form}"
    seat = layout.seats.get(position.seat)
    return f"{code} {(seat.name if seat else '') or position.seat or form}"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Room:
    """A room's devices by what they do to the signal, and the outputs that feed amplifiers.

    first: tag of the mixer or breakout that return audio enters and that sends the mix, empty for none.
    """

    project: Project
    tag: str
    layout: RoomType
    talkers: tuple[Placed, ...]
    spares: tuple[Placed, ...]
    access_points: tuple[tuple[Placed, AccessPoint], ...]
    mixers: tuple[tuple[Placed, Mixer], ...]
    breakouts: tuple[tuple[Placed, Breakout], ...]
    feeds: frozenset[tuple[str, str]]
    first: str

    @classmethod
    def of(cls, project: Project, tag: str, devices: Sequence[Placed], cables: Sequence[Cable]) -> "_Room":
        ordered = sorted(devices, key=lambda one: natural(one.tag))
        entries = [(one, project.library.entry(one.model)) for one in ordered if one.model]
        microphones = [one for one in ordered if one.kind == "microphone"]
        return cls(
            project=project,
            tag=tag,
            layout=project.rooms[tag].layout,
            talkers=tuple(one for one in microphones if one.location != "charger"),
            spares=tuple(one for one in microphones if one.location == "charger"),
            access_points=tuple((one, e) for one, e in entries if isinstance(e, AccessPoint)),
            mixers=tuple((one, e) for one, e in entries if isinstance(e, Mixer)),
            breakouts=tuple((one, e) for one, e in entries if isinstance(e, Breakout)),
            first=one.tag if (one := first_mixing(project, project.rooms[tag].layout, devices)) else "",
            feeds=frozenset((one.start, one.start_port) for one in cables if one.signal == "analogue"),
        )

    def radio(self, issued: Mapping[str, Numbered]) -> dict[str, tuple[str, int]]:
        """Return access point and channel by microphone; paired spares take what talkers leave."""
        serving = {code: one.tag for one, _ in self.access_points for code in one.serves}
        sizes = {one.tag: entry.channels for one, entry in self.access_points}
        paired = self.spares if self.layout.spares_paired else ()
        wanted = [(one.tag, [serving[one.code]]) for one in self.talkers if one.code in serving]
        wanted += [(one.tag, list(sizes)) for one in paired]
        places = assign_places(
            [
                (f"{CHANNEL}/{mic}", _places((tag, str(n)) for tag in tags for n in range(1, sizes[tag] + 1)))
                for mic, tags in wanted
            ],
            issued,
        )
        return {mic: (tag, int(number)) for mic, (tag, number) in _split(places).items()}

    def inputs(
        self, issued: Mapping[str, Numbered], radio: Mapping[str, tuple[str, int]]
    ) -> dict[str, tuple[str, str]]:
        """Return mixer and input, or breakout and output, by microphone that may be heard.

        radio: access point and channel by microphone.
        What the first mixer or breakout needs for return audio, handed-on mixes and destinations comes last,
        and outputs that feed an amplifier after that.
        """
        if self.mixers:
            offered = self._ordered(
                [(one.tag, [str(n) for n in range(1, entry.inputs + 1)]) for one, entry in self.mixers],
                sum(one.channels for one in self.layout.returns.values() if one.signal == NETWORKED)
                + len(self.mixers)
                - 1,
            )
        else:
            offered = self._ordered(
                [
                    (one.tag, entry.ports_carrying("analogue output")[: entry.channels])
                    for one, entry in self.breakouts
                ],
                sum(one.channels for one in self.layout.destinations.values() if one.signal == "analogue"),
            )
        heard = [*self.talkers, *(one for one in self.spares if one.tag in radio)]
        boxes = self._boxes_of_streams(radio)
        places = _places(offered)
        # Those of its own box come first, the others in their order.
        own_first = {
            box: sorted(places, key=lambda place: not place.number.startswith(f"{box}/"))
            for box in {"", *boxes.values()}
        }
        wanted = [(f"{INPUT}/{one.tag}", own_first[boxes.get(one.tag, "")]) for one in heard]
        return _split(assign_places(wanted, issued))

    def _ordered(self, boxes: Sequence[tuple[str, Sequence[str]]], kept: int) -> list[tuple[str, str]]:
        """Return tag and name of inputs or outputs, those of the first box that are kept for others last.

        kept: how many inputs or outputs of the first box others need: those that they were issued, then the
            highest.
        """
        free = [(tag, name) for tag, names in boxes for name in names if (tag, name) not in self.feeds]
        fed = [(tag, name) for tag, names in boxes for name in names if (tag, name) in self.feeds]
        of_first = [one for one in free if one[0] == self.first]
        issued = {one.number for one in issued_of(self.project.issued, END).values() if not one.retired}
        by_use = sorted(of_first, key=lambda one: f"{one[0]}/{one[1]}" in issued)
        last = set(by_use[len(by_use) - kept :] if kept else ())
        return sorted(free, key=lambda one: one in last) + fed

    def _boxes_of_streams(self, radio: Mapping[str, tuple[str, int]]) -> dict[str, str]:
        """Return the mixer or breakout that takes each microphone, where whole streams have to be shared out.

        radio: access point and channel by microphone.
        """
        boxes: Sequence[tuple[Placed, Mixer | Breakout]] = self.mixers or self.breakouts
        if len(boxes) < 2 or not any(takes_whole_streams(entry) for _, entry in boxes):
            return {}
        left = {one.tag: received_most(entry) for one, entry in boxes}
        if self.first in left:
            back = sum(one.channels for one in self.layout.returns.values() if one.signal == NETWORKED)
            left[self.first] -= back + (len(boxes) - 1 if self.mixers else 0)
        found: dict[str, str] = {}
        for one, entry in self.access_points:
            before = 0
            for size in stream_sizes(entry):
                inside = [
                    mic for mic, (tag, n) in radio.items() if tag == one.tag and before < n <= before + size
                ]
                before += size
                box = next((tag for tag, channels in left.items() if channels >= size), "")
                if inside and box:
                    left[box] -= size
                    found |= dict.fromkeys(inside, box)
        return found


def _places(offered: Iterable[tuple[str, str]]) -> list[Place]:
    return [Place(f"{tag}/{name}", (f"{tag}/{name}",)) for tag, name in offered]


def _split(places: Mapping[str, Place]) -> dict[str, tuple[str, str]]:
    """Return tag and name of the places by microphone."""
    found = {}
    for identity, place in places.items():
        tag, _, name = place.number.rpartition("/")
        found[identity.partition("/")[2]] = (tag, name)
    return dict(sorted(found.items(), key=lambda item: natural(item[0])))


def _channels(
    project: Project,
    tag: str,
    devices: Sequence[Placed],
    radio: Mapping[str, tuple[str, int]],
    inputs: Mapping[str, tuple[str, str]],
    homes: Mapping[str, SlotAssignment],
    stream_numbers: Mapping[str, int],
) -> Iterator[Channel]:
    layout = project.rooms[tag].layout
    most = {
        one.tag: channels_a_stream(entry)
        for one in devices
        if one.kind == "access_point" and isinstance(entry := project.library.entry(one.model), AccessPoint)
    }
    microphones = [one for one in devices if one.kind == "microphone" and one.model]
    for one in sorted(microphones, key=lambda device: (device.location == "charger", natural(device.tag))):
        entry = project.library.entry(one.model)
        if not isinstance(entry, Microphone):
            continue
        access_point, channel = radio.get(one.tag, ("", 0))
        ordinal, position = divmod(channel - 1, most[access_point]) if channel else (0, -1)
        mixing, name = inputs.get(one.tag, ("", ""))
        position_of = layout.microphones.get(one.code)
        yield Channel(
            microphone=one.tag,
            room=tag,
            code=one.code,
            name=name_of(layout, one.code, entry.form),
            spare=position_of is None,
            form=entry.form,
            model=one.model,
            access_point=access_point,
            channel=channel,
            stream=stream_numbers[f"{STREAM}/{access_point}/{ordinal + 1}"] if channel else 0,
            position=position + 1,
            mixing=mixing,
            input=name,
            berth=homes[one.tag].number if one.tag in homes else "",
            mute_group=position_of.mute_group if position_of else "",
            switch=switch_of(layout, one.code, entry),
            return_audio=position_of.return_audio if position_of else False,
        )
