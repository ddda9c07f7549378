"""What comes in and goes out of mixers and breakouts beside the microphones: mix, zones, return audio."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from proposal.design.connections.data_cables import Cable
from proposal.design.connections.line_cables import zone_identity, zone_outputs
from proposal.design.equipment.placed_devices import Placed
from proposal.design.network.streams import Stream
from proposal.design.numbers.numbering import END, Place, assign_places, issued_of, natural
from proposal.model.equipment.devices import Mixer
from proposal.model.equipment.entry import Device
from proposal.model.equipment.parts import Signal
from proposal.model.project import Project


@dataclass(frozen=True, slots=True, kw_only=True)
class AudioEnd:
    """One input or output of a mixer or breakout.

    device: tag.  direction: input or output.
    port: name of the port; for networked audio the number of the stream; empty where none was left.
    name: what is connected, in words.  signal, channels: how it is carried, and how many.
    stream: number of the stream, 0 where it is none.
    identity: under which the port is kept from issued revisions, empty where it is not.
    """

    device: str
    direction: str
    port: str
    name: str
    signal: str
    channels: int
    stream: int
    identity: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Wish:
    """Something that wants a port."""

    key: str
    direction: str
    name: str
    signal: str
    channels: int


def audio_ends(
    project: Project,
    room: str,
    devices: Sequence[Placed],
    cables: Sequence[Cable],
    streams: Sequence[Stream],
) -> tuple[AudioEnd, ...]:
    """Return what is connected to the first mixer or breakout of a room beside its microphones.

    devices, cables: of the room.  streams: of the project.
    Zones of loudspeakers come before other analogue outputs. USB carries everything that goes over it on
    one port.
    """
    ordered = sorted(devices, key=lambda one: natural(one.tag))
    mixing = next((one for one in ordered if one.kind == "mixer"), None)
    breakout = next((one for one in ordered if one.kind == "breakout"), None)
    one = mixing or breakout
    entry = project.library.entry(one.model) if one and one.model else None
    if one is None or not isinstance(entry, Device):
        return ()
    wishes = list(_wishes(project, room, mixer=mixing is not None))
    feeds = {cable.start_port for cable in cables if cable.start == one.tag and cable.signal == "analogue"}
    ends = [
        AudioEnd(
            device=one.tag, direction="output", port=port, name=f"loudspeakers, zone {zone}",
            signal="analogue", channels=1, stream=0, identity=zone_identity(one.tag, zone),
        )
        for zone, port in (zone_outputs(project, one, entry).items() if feeds else ())
    ]  # fmt: skip
    ends += _patched(project, one, entry, [wish for wish in wishes if wish.signal != "networked audio"])
    by_name = {(stream.sender, stream.carries): stream for stream in streams if stream.room == room}
    for stream in by_name.values():
        outgoing = stream.sender == one.tag
        if outgoing or (one.tag in stream.receivers and not _from_a_device(stream, ordered)):
            ends.append(
                AudioEnd(
                    device=one.tag,
                    direction="output" if outgoing else "input",
                    port=f"stream {stream.number}",
                    name=stream.carries,
                    signal="networked audio",
                    channels=stream.channels,
                    stream=stream.number,
                )
            )
    return tuple(sorted(ends, key=lambda end: (end.direction, end.signal, natural(end.port), end.name)))


def _from_a_device(stream: Stream, devices: Sequence[Placed]) -> bool:
    return any(device.tag == stream.sender for device in devices)


def _wishes(project: Project, room: str, *, mixer: bool) -> Iterator[_Wish]:
    """Yield what wants a port; a breakout gives each microphone an output of its own, never a mix."""
    layout = project.rooms[room].layout
    if mixer:
        for zone in sorted({at.zone for at in layout.loudspeakers.values()}):
            yield _Wish(
                key=f"zone-{zone}", direction="output", name=f"loudspeakers, zone {zone}",
                signal="analogue", channels=1,
            )  # fmt: skip
        for code, one in sorted(layout.destinations.items(), key=lambda item: natural(item[0])):
            yield _Wish(
                key=code, direction="output", name=f"mix for {one.name}", signal=one.signal,
                channels=one.channels,
            )  # fmt: skip
    for code, one in sorted(layout.returns.items(), key=lambda item: natural(item[0])):
        yield _Wish(
            key=code, direction="input", name=f"return audio from {one.name}", signal=one.signal,
            channels=one.channels,
        )  # fmt: skip


def _patched(project: Project, one: Placed, entry: Device, wishes: Sequence[_Wish]) -> list[AudioEnd]:
    """Return the ends at ports of the device: a port a channel, and one for all that goes over USB."""
    wanted: list[tuple[str, list[Place]]] = []
    shown: dict[str, tuple[_Wish, int]] = {}
    for wish in wishes:
        if wish.signal == "USB":
            shown[f"{END}/{one.tag}/{wish.direction}/{wish.key}"] = (wish, wish.channels)
            continue
        ports = _analogue_ports(entry, wish.direction)
        for n in range(1, wish.channels + 1):
            identity = f"{END}/{one.tag}/{wish.direction}/{wish.key}/{n}"
            shown[identity] = (wish, 1)
            wanted.append((identity, [Place(f"{one.tag}/{port}", (f"{one.tag}/{port}",)) for port in ports]))
    places = assign_places(wanted, issued_of(project.issued, END))
    usb = entry.ports_carrying("USB")
    ends = []
    for identity, (wish, channels) in shown.items():
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
                stream=0,
                identity=identity if identity in places else "",
            )
        )
    return ends


def _analogue_ports(entry: Device, direction: str) -> tuple[str, ...]:
    """Return the names of analogue ports, made from their count where the library does not list them."""
    signal: Signal = "analogue output" if direction == "output" else "analogue input"
    counted = 0
    if isinstance(entry, Mixer):
        counted = entry.line_outputs if direction == "output" else entry.line_inputs
    return entry.ports_carrying(signal) or tuple(f"line {direction} {n}" for n in range(1, counted + 1))
