"""What comes in and goes out of mixers and breakouts beside the microphones: mix, zones, return audio."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from proposal.design.connections.amplifier_channels import (
    AmplifierChannel,
    analogue_outputs,
    zone_identity,
    zone_outputs,
)
from proposal.design.equipment.audio_needs import NETWORKED
from proposal.design.equipment.mixing_choice import first_mixing
from proposal.design.equipment.placed_devices import Placed
from proposal.design.equipment.zone_lines import lines_of
from proposal.design.network.streams import Stream, in_order
from proposal.design.numbers.numbering import END, Place, assign_places, issued_of, natural
from proposal.design.sound.channels import ChannelPlan
from proposal.field_classes import dataclass
from proposal.model.equipment.entry import Device
from proposal.model.equipment.sound_devices import Mixer
from proposal.model.project import Project
from proposal.model.rooms import RoomType


@dataclass(frozen=True, slots=True, kw_only=True)
class AudioEnd:
    """One input or output of a mixer or breakout.

    device: tag.  direction: input or output.
    port: name of the port; for what a mixer takes by the network the number of its input, else that of the
        stream; empty where none was left.
    name: what is connected, in words.  signal, channels: how it is carried, and how many.
    stream, position: number of the stream, and the channel of it, 0 where it is none.
    carries: what an output carries, in words, in order.
    joined: tags of the devices at its other end, or codes of what others furnish.
    identity: under which the port is kept from issued revisions, empty where it is not.
    """

    device: str
    direction: str
    port: str
    name: str
    signal: str
    channels: int
    stream: int
    joined: tuple[str, ...] = ()
    identity: str = ""
    position: int = 0
    carries: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Wish:
    """Something that wants a port."""

    key: str
    direction: str
    name: str
    signal: str
    channels: int
    joined: tuple[str, ...]
    stream: int = 0
    names: tuple[str, ...] = ()

    def named(self, n: int) -> str:
        """Return what is connected to a channel, counted from 1, in words."""
        return self.names[n - 1] if self.names else self.name


def audio_ends(
    project: Project,
    room: str,
    devices: Sequence[Placed],
    channels: Mapping[str, AmplifierChannel],
    plan: ChannelPlan,
) -> tuple[AudioEnd, ...]:
    """Return what is connected to the mixers or breakouts of a room beside its microphones.

    devices: of the room.  channels: of its amplifiers, by the line that they play.
    plan: channels and streams of the project.
    Everything comes into and goes out of the first of them; further mixers hand their mix on to it. Zones of
    loudspeakers come before other analogue outputs. USB carries everything that goes over it on one port.
    """
    layout = project.rooms[room].layout
    one = first_mixing(project, layout, devices)
    entry = project.library.entry(one.model) if one else None
    if one is None or not isinstance(entry, Device):
        return ()
    streams = plan.streams_of_room(room)
    mixers = {device.tag for device in devices if device.kind == "mixer"}
    amplifiers = {zone: at.amplifier for zone, at in channels.items()}
    lines = lines_of(project, layout)
    wishes = [*_wired(devices), *_wishes(layout, lines, amplifiers), *_listening(project, devices)]
    if one.kind == "mixer":
        wishes += _taken_by_network(
            [
                stream
                for stream in streams
                if one.tag in stream.receivers
                and (stream.sender in mixers or stream.sender in layout.returns)
            ]
        )
        wishes += _taken_by_network([stream for stream in plan.streams_to(one.tag) if stream.room != room])
    taken = {(channel.mixing, channel.input) for channel in plan.of_room(room)}
    free = {
        "output": [port for port in _analogue_ports(entry, "output") if (one.tag, port) not in taken],
        "input": list(_analogue_ports(entry, "input")),
        NETWORKED: [
            str(n)
            for n in range(1, (entry.inputs if isinstance(entry, Mixer) else 0) + 1)
            if (one.tag, str(n)) not in taken
        ],
    }
    ends: list[AudioEnd] = []
    outputs = zone_outputs(project, one, entry)
    for wish in [wish for wish in wishes if wish.key.startswith(ZONE)]:
        ends.append(
            AudioEnd(
                device=one.tag, direction="output", name=wish.name, signal="analogue", channels=1,
                port=outputs.get(wish.key.removeprefix(ZONE), ""), stream=0, joined=wish.joined,
                identity=zone_identity(one.tag, wish.key.removeprefix(ZONE)),
            )
        )  # fmt: skip
        wishes.remove(wish)
    fed = set(outputs.values())
    free["output"] = [port for port in free["output"] if port not in fed]
    ends += _patched(project, one, entry, free, wishes)
    ends += [
        _stream_end(stream, stream.sender, "output")
        for stream in streams
        if stream.sender == one.tag or stream.sender in mixers
    ]
    if one.kind == "breakout":
        ends += [
            _stream_end(stream, one.tag, "input")
            for stream in streams
            if one.tag in stream.receivers and stream.sender in layout.returns
        ]
    return tuple(
        sorted(
            ends,
            key=lambda end: (end.device != one.tag, end.direction, end.signal, natural(end.port), end.name),
        )
    )


def _taken_by_network(streams: Sequence[Stream]) -> Iterator[_Wish]:
    """Yield an input of a mixer for every channel of return audio and mixes that come by the network."""
    before: Counter[str] = Counter()
    for stream in streams:
        before[stream.sender] += 1
        yield _Wish(
            key=f"{NETWORK_KEY}-{stream.sender}-{before[stream.sender]}",
            direction="input",
            name=stream.carries,
            signal=NETWORKED,
            channels=stream.channels,
            joined=(stream.sender,),
            stream=stream.number,
        )


ZONE, NETWORK_KEY = "zone-", "networked"


def _stream_end(stream: Stream, device: str, direction: str) -> AudioEnd:
    """Return the end of a whole stream at a device."""
    return AudioEnd(
        device=device,
        direction=direction,
        port=f"stream {stream.number}",
        name=stream.carries,
        signal=NETWORKED,
        channels=stream.channels,
        stream=stream.number,
        joined=stream.receivers if direction == "output" else (stream.sender,),
    )


def _wishes(layout: RoomType, lines: Sequence[str], amplifiers: Mapping[str, str]) -> Iterator[_Wish]:
    """Yield what wants a port of its own: zones, destinations and return audio that come on a wire.

    lines: of its loudspeakers.  amplifiers: tag by line.
    """
    for zone in lines:
        yield _Wish(
            key=f"{ZONE}{zone}", direction="output", name=f"loudspeakers, zone {zone}",
            signal="analogue", channels=1, joined=(amplifiers[zone],) if zone in amplifiers else (),
        )  # fmt: skip
    for code, one in in_order(layout.destinations):
        if one.signal != NETWORKED:
            carried = [f"{source_words(layout, source)} for {one.name}" for source in one.carries]
            yield _Wish(
                key=code, direction="output", name=f"mix for {one.name}", signal=one.signal,
                channels=one.channels, joined=(code,), names=tuple(carried),
            )  # fmt: skip
    for code, source in in_order(layout.returns):
        if source.signal != NETWORKED:
            yield _Wish(
                key=code, direction="input", name=f"return audio from {source.name}", signal=source.signal,
                channels=source.channels, joined=(code,),
            )  # fmt: skip


def source_words(layout: RoomType, source: str) -> str:
    """Return what a channel carries, in words.

    layout: of the room.  source: as a destination writes it.
    """
    if source.startswith("return "):
        code = source.removeprefix("return ")
        return f"return audio from {layout.returns[code].name if code in layout.returns else code}"
    return source if source == "mix" or source.startswith("group ") else f"microphone {source}"


WIRED = "wired-"


def _wired(devices: Sequence[Placed]) -> Iterator[_Wish]:
    """Yield an input for every wired microphone of a room."""
    for one in devices:
        if one.kind == "wired_microphone" and one.model:
            yield _Wish(
                key=f"{WIRED}{one.code}", direction="input", name=f"microphone {one.code}", signal="analogue",
                channels=1, joined=(one.tag,),
            )  # fmt: skip


def _listening(project: Project, devices: Sequence[Placed]) -> Iterator[_Wish]:
    """Yield an output for every transmitter for assistive listening of a room."""
    for one in devices:
        entry = project.library.assistive_devices.get(one.model)
        if entry is not None and entry.role == "transmitter":
            yield _Wish(
                key=f"listening-{one.code}", direction="output", name=f"mix for listeners, {one.code}",
                signal="analogue", channels=1, joined=(one.tag,),
            )  # fmt: skip


def _patched(
    project: Project, one: Placed, entry: Device, free: Mapping[str, Sequence[str]], wishes: Sequence[_Wish]
) -> list[AudioEnd]:
    """Return the ends at ports of the device: a port a channel, and one for all that goes over USB.

    free: ports left by way, and networked inputs.
    """
    wanted: list[tuple[str, list[Place]]] = []
    shown: dict[str, tuple[_Wish, int, int]] = {}
    for wish in wishes:
        if wish.signal == "USB":
            shown[f"{END}/{one.tag}/{wish.direction}/{wish.key}"] = (wish, wish.channels, 0)
            continue
        ports = _ports_for(entry, wish, free)
        for n in range(1, wish.channels + 1):
            identity = f"{END}/{one.tag}/{wish.direction}/{wish.key}/{n}"
            shown[identity] = (replace(wish, name=wish.named(n)), 1, n)
            wanted.append((identity, [Place(f"{one.tag}/{port}", (f"{one.tag}/{port}",)) for port in ports]))
    places = assign_places(wanted, issued_of(project.issued, END))
    usb = entry.ports_carrying("USB")
    ends = []
    for identity, (wish, channels, n) in shown.items():
        port = places[identity].number.rpartition("/")[2] if identity in places else ""
        if wish.signal == "USB" and usb:
            port = usb[0]
        ends.append(
            AudioEnd(
                device=one.tag,
                direction=wish.direction,
                port=port,
                name=wish.name,
                signal=wish.signal,
                channels=channels,
                stream=wish.stream,
                joined=wish.joined,
                identity=identity if identity in places else "",
                position=n if wish.stream else 0,
            )
        )
    return ends


def _ports_for(entry: Device, wish: _Wish, free: Mapping[str, Sequence[str]]) -> Sequence[str]:
    """Return the ports that suit a wish; wired microphones take those with gain and phantom power.

    free: ports left by way, and networked inputs.
    """
    ports = free[NETWORKED if wish.signal == NETWORKED else wish.direction]
    if not wish.key.startswith(WIRED):
        return ports
    many = entry.microphone_inputs if isinstance(entry, Mixer) else 0
    with_gain = set(_analogue_ports(entry, "input")[:many])
    return [port for port in ports if port in with_gain]


def _analogue_ports(entry: Device, direction: str) -> tuple[str, ...]:
    """Return the names of analogue ports, made from their count where the library does not list them."""
    if direction == "output":
        return analogue_outputs(entry)
    counted = entry.line_inputs if isinstance(entry, Mixer) else 0
    return entry.ports_carrying("analogue input") or tuple(f"line input {n}" for n in range(1, counted + 1))
