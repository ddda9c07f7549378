"""The channel list: from every microphone by radio and network to its input or output."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from proposal.design.charge_slots import Berth, berths
from proposal.design.numbering import Place, assign, assign_places, device_tag, multicast_group, natural
from proposal.design.placing import Placed
from proposal.model.devices import AccessPoint, Breakout, Microphone, Mixer
from proposal.model.entry import Device
from proposal.model.project import Numbered, Project
from proposal.model.rooms import RoomType
from proposal.standards import aes67

CHANNEL, INPUT, STREAM = "channel", "input", "stream"
OUTSIDE = "by others"


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
class Channel:
    """A microphone and the way of its sound.

    microphone: tag.  room, code: its room, and its code there.
    name: by which every device on its way knows it: code and who speaks at it.
    access_point, channel: tag, and its channel there; 0 where it has none until it replaces another.
    stream, position: number of the network stream and channel in it; 0 where it has none.
    mixing, input: tag of the mixer or breakout and name of its input or output; empty where it has none.
    berth: charger and slots, empty where there are none.
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


@dataclass(frozen=True, slots=True, kw_only=True)
class ChannelPlan:
    """Every channel and stream of the project, and every number given here by its identity."""

    channels: tuple[Channel, ...]
    streams: tuple[Stream, ...]
    numbers: Mapping[str, str]

    def of_room(self, room: str) -> tuple[Channel, ...]:
        """Return the channels of a room."""
        return tuple(one for one in self.channels if one.room == room)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Wanted:
    """A stream before it has its number."""

    identity: str
    name: str
    sender: str
    room: str
    carries: str
    channels: int
    receivers: tuple[str, ...]


def channel_plan(project: Project, rooms: Sequence[tuple[str, Sequence[Placed]]]) -> ChannelPlan:
    """Return the channel list of every room.

    rooms: tag and devices of each, in order.
    """
    numbers: dict[str, str] = {}
    wanted: list[_Wanted] = []
    lists: list[tuple[str, dict[str, tuple[str, int]], dict[str, tuple[str, str]], dict[str, Berth]]] = []
    for tag, devices in rooms:
        found = _Room.of(project, tag, devices)
        radio = found.radio(issued_of(project, CHANNEL))
        inputs = found.inputs(issued_of(project, INPUT))
        homes = berths(project, devices)
        lists.append((tag, radio, inputs, homes))
        wanted += found.streams(radio, inputs)
        numbers |= {f"{CHANNEL}/{mic}": f"{ap}/{n}" for mic, (ap, n) in radio.items()}
        numbers |= {f"{INPUT}/{mic}": f"{box}/{name}" for mic, (box, name) in inputs.items()}
        numbers |= {f"slot/{mic}": berth.number for mic, berth in homes.items()}
    streams, ordinals = _numbered(project, wanted)
    numbers |= ordinals
    by_place = {identity: int(number) for identity, number in ordinals.items()}
    channels: list[Channel] = []
    for (tag, radio, inputs, homes), (_, devices) in zip(lists, rooms, strict=True):
        channels += _channels(project, tag, devices, radio, inputs, homes, by_place)
    return ChannelPlan(channels=tuple(channels), streams=streams, numbers=dict(sorted(numbers.items())))


def issued_of(project: Project, kind: str) -> dict[str, Numbered]:
    """Return the numbers of one kind that issued revisions gave, by identity."""
    return {identity: one for identity, one in project.issued.items() if identity.startswith(f"{kind}/")}


def channels_a_stream(entry: Device) -> int:
    """Return the most channels of one stream that a device sends."""
    most = entry.network.channels_a_stream if entry.network else aes67.MOST_CHANNELS
    return min(most, aes67.MOST_CHANNELS)


def name_of(layout: RoomType, code: str, form: str) -> str:
    """Return the name of a microphone: its code and who speaks at it, else its seat, else its form."""
    position = layout.microphones.get(code)
    if position is None:
        return f"{code} spare {form}"
    seat = layout.seats.get(position.seat)
    return f"{code} {(seat.name if seat else '') or position.seat or form}"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Room:
    """A room's devices by what they do to the signal."""

    project: Project
    tag: str
    layout: RoomType
    talkers: tuple[Placed, ...]
    spares: tuple[Placed, ...]
    access_points: tuple[tuple[Placed, AccessPoint], ...]
    mixers: tuple[tuple[Placed, Mixer], ...]
    breakouts: tuple[tuple[Placed, Breakout], ...]

    @classmethod
    def of(cls, project: Project, tag: str, devices: Sequence[Placed]) -> "_Room":
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
        )

    def radio(self, issued: Mapping[str, Numbered]) -> dict[str, tuple[str, int]]:
        """Return access point and channel by microphone; linked spares take what talkers leave."""
        serving = {code: one.tag for one, _ in self.access_points for code in one.serves}
        sizes = {one.tag: entry.channels for one, entry in self.access_points}
        linked = self.spares if self.layout.spares_linked else ()
        wanted = [(one.tag, [serving[one.code]]) for one in self.talkers if one.code in serving]
        wanted += [(one.tag, list(sizes)) for one in linked]
        places = assign_places(
            [
                (f"{CHANNEL}/{mic}", _places((tag, str(n)) for tag in tags for n in range(1, sizes[tag] + 1)))
                for mic, tags in wanted
            ],
            issued,
        )
        return {mic: (tag, int(number)) for mic, (tag, number) in _split(places).items()}

    def inputs(self, issued: Mapping[str, Numbered]) -> dict[str, tuple[str, str]]:
        """Return mixer and input, or breakout and output, by microphone in use."""
        offered = [(one.tag, str(n)) for one, entry in self.mixers for n in range(1, entry.inputs + 1)]
        if not self.mixers:
            offered = [
                (one.tag, port)
                for one, entry in self.breakouts
                for port in entry.ports_carrying("analogue output")[: entry.channels]
            ]
        wanted = [(f"{INPUT}/{one.tag}", _places(offered)) for one in self.talkers]
        return _split(assign_places(wanted, issued))

    def streams(
        self, radio: Mapping[str, tuple[str, int]], inputs: Mapping[str, tuple[str, str]]
    ) -> Iterator[_Wanted]:
        """Yield the streams of the room: of its access points, of its mix, of its return audio."""
        for one, entry in self.access_points:
            most = channels_a_stream(entry)
            for ordinal, first in enumerate(range(0, entry.channels, most), 1):
                inside = [
                    mic for mic, (tag, n) in radio.items() if tag == one.tag and first < n <= first + most
                ]
                receivers = {inputs[mic][0] for mic in inside if mic in inputs}
                yield self._stream(
                    one.tag, str(ordinal), f"{one.tag} {ordinal}",
                    f"microphone channels {first + 1} to {min(first + most, entry.channels)}",
                    min(most, entry.channels - first), receivers,
                )  # fmt: skip
        sending = [one.tag for one, _ in self.mixers][:1]
        for code, destination in sorted(self.layout.destinations.items(), key=lambda item: natural(item[0])):
            if sending and destination.signal == "networked audio":
                yield from self._split_stream(
                    sending[0], code, f"mix for {destination.name}", destination.channels, {code}
                )
        hearing = {
            one.tag
            for one, _ in self.access_points
            if any(code in one.serves and at.return_audio for code, at in self.layout.microphones.items())
        }
        mixing = [one.tag for one, _ in self.mixers] or [one.tag for one, _ in self.breakouts]
        for code, source in sorted(self.layout.returns.items(), key=lambda item: natural(item[0])):
            if source.signal == "networked audio":
                yield from self._split_stream(
                    code, "return", f"return audio from {source.name}", source.channels, set(mixing[:1])
                )
            if hearing and mixing:
                yield from self._split_stream(
                    mixing[0], f"return-{code}", f"return audio of {source.name} for talkers",
                    source.channels, hearing,
                )  # fmt: skip

    def _split_stream(
        self, sender: str, key: str, carries: str, channels: int, receivers: set[str]
    ) -> Iterator[_Wanted]:
        most = aes67.MOST_CHANNELS
        for ordinal, first in enumerate(range(0, channels, most), 1):
            several = f" {ordinal}" if channels > most else ""
            yield self._stream(
                sender, f"{key}/{ordinal}", f"{self._full(sender)} {key}{several}", carries,
                min(most, channels - first), receivers,
            )  # fmt: skip

    def _stream(
        self, sender: str, key: str, name: str, carries: str, channels: int, receivers: set[str]
    ) -> _Wanted:
        return _Wanted(
            identity=f"{STREAM}/{self._full(sender)}/{key}",
            name=name,
            sender=sender,
            room=self.tag,
            carries=carries,
            channels=channels,
            receivers=tuple(sorted(receivers, key=natural)),
        )

    def _full(self, sender: str) -> str:
        """Return a device's tag as it is, and the code of what others furnish with its room."""
        return sender if sender.startswith(device_tag(self.tag, "")) else device_tag(self.tag, sender)


def _places(offered: Iterable[tuple[str, str]]) -> list[Place]:
    return [Place(f"{tag}/{name}", (f"{tag}/{name}",)) for tag, name in offered]


def _split(places: Mapping[str, Place]) -> dict[str, tuple[str, str]]:
    """Return tag and name of the places by microphone."""
    found = {}
    for identity, place in places.items():
        tag, _, name = place.number.rpartition("/")
        found[identity.partition("/")[2]] = (tag, name)
    return dict(sorted(found.items(), key=lambda item: natural(item[0])))


def _numbered(project: Project, wanted: Sequence[_Wanted]) -> tuple[tuple[Stream, ...], dict[str, str]]:
    """Return the streams with their numbers, and the numbers by identity."""
    issued = issued_of(project, STREAM)
    most = len(wanted) + len(issued) + 1
    candidates = dict.fromkeys(
        [*(str(n) for n in range(1, most + 1)), *(one.number for one in issued.values())]
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


def _channels(
    project: Project,
    tag: str,
    devices: Sequence[Placed],
    radio: Mapping[str, tuple[str, int]],
    inputs: Mapping[str, tuple[str, str]],
    homes: Mapping[str, Berth],
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
            switch=entry.mute_switch,
            return_audio=position_of.return_audio if position_of else False,
        )
