"""The graph of a design, built of its devices, cables, ports, channels and ends of audio."""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from proposal.design.connections.amplifier_channels import AmplifierChannel
from proposal.design.connections.cable import Cable
from proposal.design.connections.line_cables import LOUDSPEAKER_PORT
from proposal.design.connections.patch_cords import cord
from proposal.design.connections.ports_and_joins import RADIO, Graph, Join, JoinSignal, Port, Through
from proposal.design.connections.switch_links import SwitchLink
from proposal.design.equipment.audio_needs import NETWORKED
from proposal.design.equipment.placed_devices import Placed
from proposal.design.network.port_demand import Attached
from proposal.design.numbers.numbering import cable_identity, natural
from proposal.design.owner.owner_devices import OwnerDevice
from proposal.design.owner.owner_joins import OwnerJoin
from proposal.design.power.port_power import PoweredPort
from proposal.design.room_designs import RoomDesign
from proposal.design.sound.audio_ends import AudioEnd
from proposal.design.sound.channels import Channel
from proposal.field_classes import dataclass
from proposal.model.equipment.entry import Device
from proposal.model.project import Project

_LINES: Mapping[str, JoinSignal] = {"analogue": "analogue", "loudspeaker line": "loudspeaker line"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Connected:
    """What a graph is built of: all of a design.

    to_owners_network: rooms that lead to the owner's network themselves, with the port there.
    """

    project: Project
    rooms: Sequence[RoomDesign]
    devices: Sequence[Placed]
    entries: Mapping[str, Device]
    owners: Sequence[OwnerDevice]
    owner_joins: Sequence[OwnerJoin]
    cables: Sequence[Cable]
    ports: Sequence[PoweredPort]
    switches: Sequence[str]
    switch_links: Sequence[SwitchLink]
    to_owners_network: Sequence[tuple[RoomDesign, str]]
    channels: Sequence[Channel]
    ends: Sequence[AudioEnd]
    amplifier_channels: Sequence[AmplifierChannel]


def connection_graph(known: Connected) -> Graph:
    """Return the graph of a design.

    known: what it is built of.
    """
    network = [*_to_switches(known), *_between_switches(known), *_to_owners_network(known)]
    network += _not_joined(known, {one.cable.identity for one in network if one.cable})
    # All that goes over USB between two devices shares one lead.
    others = {one.identity: one for one in _of_others(known)}
    joins = [*network, *_radio(known), *_lines(known), *others.values()]
    throughs = [*_in_access_points(known, network), *_in_mixing(known, network), *_to_loudspeakers(known)]
    return Graph(
        joins=tuple(sorted(joins, key=lambda one: natural(one.identity))),
        throughs=tuple(
            sorted(throughs, key=lambda one: (natural(one.device), natural(one.start), natural(one.end)))
        ),
        switches=frozenset(known.switches),
    )


def _to_switches(known: Connected) -> Iterator[Join]:
    """Yield the joins of devices to the switches of equipment rooms and to those inside breakouts."""
    cables = {cable.identity: cable for cable in known.cables}
    hosts = {room.host for room in known.rooms if room.host}
    isolating = {(room.host, room.isolating_port) for room in known.rooms if room.isolating_port}
    rooms = {device.tag: device.room for device in known.devices}
    for port in known.ports:
        cable = cables.get(port.attached.cable)
        if cable is not None and cable.start == port.switch:
            # The way out of a room: its breakout is the device of that join, at the next switch.
            continue
        if cable is None:
            room = rooms.get(port.attached.tag, "")
            yield _by_cord(known, port.attached, Port(port.switch, str(port.port)), room)
            continue
        name = cable.end_port if port.switch in hosts else str(port.port)
        yield _by_cable(
            cable,
            Port(port.switch, name),
            in_rack=cable.end != port.switch,
            source=port.attached.injector,
            isolated=(cable.start, cable.start_port) in isolating,
        )


def _by_cord(known: Connected, attached: Attached, end: Port, room: str) -> Join:
    """Return the join of a device in a rack, which a cord alone ties to its switch."""
    entry, source = known.entries.get(attached.tag), attached.injector
    names = entry.ports_carrying("network") if isinstance(entry, Device) else ()
    name = names[0] if names else ""
    one = cord(known.project, "rack", None)
    model = one.model if one else ""
    return Join(
        identity=cable_identity(attached.tag, name, end.device),
        signal="network",
        start=Port(attached.tag, name),
        end=end,
        room=room,
        last_cord=model,
        source=source,
        source_cord=model if source else "",
    )


def _by_cable(
    cable: Cable, end: Port, *, in_rack: bool = True, source: str = "", isolated: bool = False
) -> Join:
    """Return the join that a cable of the network makes from a device to a port.

    in_rack: whether it ends on a panel, with a cord from there on.
    """
    return Join(
        identity=cable.identity,
        signal="network",
        start=Port(cable.start, cable.start_port),
        end=end,
        room=cable.room,
        cable=cable,
        first_cord=_model(cable, "device"),
        panel=f"{cable.end}/{cable.end_port}" if in_rack else "",
        last_cord=_model(cable, "rack") if in_rack else "",
        source=source,
        source_cord=cable.cords[-1].model if source and cable.cords else "",
        isolated=isolated,
    )


def _between_switches(known: Connected) -> Iterator[Join]:
    """Yield the joins of switches to each other; the owner's network stands without a tag."""
    for link in known.switch_links:
        if not link.medium:
            # Nothing in the library joins them: a finding, and no way.
            continue
        join, cable = link.join, link.cable
        models = [one.model for one in link.cords]
        yield Join(
            identity=link.identity,
            signal="fibre" if link.medium == "fibre" else "network",
            start=Port(join.start, join.start_port),
            end=Port(join.end, join.end_port),
            room=join.start_room,
            cable=cable,
            first_cord=models[0] if cable and models else "",
            first_panel=f"{cable.start_rack}/{cable.start_panel}" if cable else "",
            panel=f"{cable.end}/{cable.end_port}" if cable else "",
            last_cord=models[-1] if models else "",
        )


def _to_owners_network(known: Connected) -> Iterator[Join]:
    """Yield the joins of rooms that keep the building's network off to a port of the owner's network."""
    cables = {(cable.start, cable.start_port): cable for cable in known.cables}
    for room, port in known.to_owners_network:
        yield _by_cable(cables[room.host, room.isolating_port], Port("", port), isolated=True)


def _not_joined(known: Connected, joined: set[str]) -> Iterator[Join]:
    """Yield the cables of the network that found no port: each ends on its panel."""
    for cable in known.cables:
        if cable.signal == "network" and cable.identity not in joined:
            yield _by_cable(cable, Port("", ""))


def _model(cable: Cable, end: str) -> str:
    return next((one.model for one in cable.cords if one.at == end), "")


def _radio(known: Connected) -> Iterator[Join]:
    """Yield the link of every microphone that has a channel."""
    for one in known.channels:
        if one.access_point:
            yield Join(
                identity=cable_identity(one.microphone, RADIO, one.access_point),
                signal="radio",
                start=Port(one.microphone, RADIO),
                end=Port(one.access_point, _radio_port(one)),
                room=one.room,
            )


def _radio_port(channel: Channel) -> str:
    return f"channel {channel.channel}"


def _lines(known: Connected) -> Iterator[Join]:
    """Yield the joins by cables of analogue sound and loudspeaker lines, from where the sound comes."""
    tags = {device.tag for device in known.devices} | {one.device.tag for one in known.owners}
    inputs = {(end.device, end.port) for end in known.ends if end.direction == "input"}
    for cable in known.cables:
        if cable.signal not in _LINES:
            continue
        tag, _, name = cable.end_port.rpartition("/")
        first = Port(cable.start, cable.start_port)
        last = Port(tag, name) if tag in tags else Port(cable.end, cable.end_port)
        backwards = cable.signal == "loudspeaker line" or (first.device, first.name) in inputs
        from_end = cable.signal == "analogue" and (last.device, last.name) in {
            (end.device, end.port) for end in known.ends if end.direction == "output"
        }
        start, end = (last, first) if backwards or from_end else (first, last)
        yield Join(
            identity=cable.identity, signal=_LINES[cable.signal], start=start, end=end, room=cable.room,
            cable=cable,
        )  # fmt: skip


def _of_others(known: Connected) -> Iterator[Join]:
    """Yield the joins over USB, and those to equipment that has no port left for them."""
    owned = {(one.end.device, one.end.port, one.end.name): one for one in known.owner_joins}
    serves = {(room, code) for one in known.owners for room in one.rooms for code in one.written.serves}
    room_of = {device.tag: device.room for device in known.devices}
    for end in known.ends:
        if end.signal == NETWORKED or not end.port:
            continue
        own, join = Port(end.device, end.port), owned.get((end.device, end.port, end.name))
        room = room_of.get(end.device, "")
        if join and not join.cable:
            yield _lead(end, own, Port(join.owner, join.owner_port), room)
        elif not join and end.signal == "USB":
            for code in end.joined:
                if code not in room_of and (room, code) not in serves:
                    yield _lead(end, own, Port(code, ""), room)


def _lead(end: AudioEnd, own: Port, other: Port, room: str) -> Join:
    start, last = (own, other) if end.direction == "output" else (other, own)
    return Join(
        identity=cable_identity(own.device, own.name, other.device),
        signal="USB" if end.signal == "USB" else "analogue",
        start=start,
        end=last,
        room=room,
    )


def _network_ports(network: Sequence[Join]) -> dict[str, dict[str, None]]:
    """Return the ports by which each device is joined to the network, by its tag."""
    found: dict[str, dict[str, None]] = {}
    for port in (*(one.start for one in network), *(one.end for one in network)):
        found.setdefault(port.device, {})[port.name] = None
    return found


def _in_access_points(known: Connected, network: Sequence[Join]) -> Iterator[Through]:
    """Yield the way of every channel through its access point to the network."""
    ports = _network_ports(network)
    for one in known.channels:
        for port in ports.get(one.access_point, ()) if one.access_point else ():
            yield Through(device=one.access_point, start=_radio_port(one), end=port, channels=1)


def _in_mixing(known: Connected, network: Sequence[Join]) -> Iterator[Through]:
    """Yield the ways through mixers and breakouts: all that comes in to all that goes out, where they mix."""
    ports_of = _network_ports(network)
    ends_of: dict[str, list[AudioEnd]] = {one.device: [] for one in known.ends}
    for end in known.ends:
        if end.port:
            ends_of[end.device].append(end)
    mixed: dict[str, list[Channel]] = {}
    for one in known.channels:
        if one.mixing:
            mixed.setdefault(one.mixing, []).append(one)
    for tag in sorted({*mixed, *ends_of}, key=natural):
        ports, ends, channels = ports_of.get(tag, {}), ends_of.get(tag, []), mixed.get(tag, [])
        received = len(channels)
        received += sum(end.channels for end in ends if end.signal == NETWORKED and end.direction == "input")
        ins = [(port, received) for port in ports if received]
        ins += [(end.port, end.channels) for end in _wired(ends, "input")]
        outs = [(end.port, end.channels, bool(_mixes(known, tag))) for end in _wired(ends, "output")]
        outs += [
            (port, sum(end.channels for end in ends if end.signal == NETWORKED and end.direction == "output"),
             bool(_mixes(known, tag)))
            for port in ports
        ]  # fmt: skip
        taken = {end.port for end in _wired(ends, "output")}
        outs += [
            (one.input, 1, False)
            for one in channels
            if one.input and not _is_mixer(known, tag) and one.input not in taken
        ]
        for start, _ in dict.fromkeys(ins):
            for to, count, mixes in dict.fromkeys(outs):
                if start != to and count:
                    yield Through(device=tag, start=start, end=to, channels=count, mixes=mixes)


def _wired(ends: Iterable[AudioEnd], direction: str) -> Iterator[AudioEnd]:
    return (end for end in ends if end.signal != NETWORKED and end.direction == direction)


def _is_mixer(known: Connected, tag: str) -> bool:
    return getattr(known.entries.get(tag), "kind", "") == "mixer"


def _mixes(known: Connected, tag: str) -> bool:
    return _is_mixer(known, tag) or bool(getattr(known.entries.get(tag), "mixes", False))


def _to_loudspeakers(known: Connected) -> Iterator[Through]:
    """Yield the channels of amplifiers, and the way on from one loudspeaker of a line to the next."""
    for one in known.amplifier_channels:
        if one.input and one.output:
            yield Through(device=one.amplifier, start=one.input, end=one.output, channels=1)
    for device in known.devices:
        if device.kind == "loudspeaker":
            yield Through(device=device.tag, start=LOUDSPEAKER_PORT, end=LOUDSPEAKER_PORT, channels=1)
