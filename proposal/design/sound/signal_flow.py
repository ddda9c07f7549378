"""The signal flow through one kind of room: boxes and what passes between them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from proposal.design.connections.data_cables import Cable
from proposal.design.connections.line_cables import LOUDSPEAKER_PORT
from proposal.design.connections.ports_and_joins import Graph, Join, Port
from proposal.design.equipment.audio_needs import NETWORKED
from proposal.design.equipment.device_capacity import capacity
from proposal.design.equipment.placed_devices import Placed
from proposal.design.equipment.zone_lines import line_of_each
from proposal.design.network.streams import Stream, in_order, joined_mix
from proposal.design.numbers.numbering import natural
from proposal.design.sound.audio_ends import AudioEnd
from proposal.design.sound.channels import Channel
from proposal.design.sound.flow import Edge, Flow, Node, listed
from proposal.design.sound.flow_of_lines import flow_of_lines
from proposal.model.equipment.devices import Charger
from proposal.model.equipment.entry import Device
from proposal.model.joined_sound import TO_JOINED, from_joined, partners
from proposal.model.project import Project
from proposal.model.rooms import RoomType

NETWORK = "NET"
NETWORK_SIGNAL = "network"
_COUNTED = ("access_point", "charger", "mixer", "breakout", "amplifier")


@dataclass(slots=True, kw_only=True)
class _Drawn:
    """What is known of a room, and the boxes and edges found so far."""

    layout: RoomType
    by_kind: Mapping[str, Sequence[Placed]]
    capacities: Mapping[str, int]
    chargers: Mapping[str, Charger]
    project: Project
    devices: Mapping[str, Placed]
    graph: Graph
    channels: Sequence[Channel]
    streams: Sequence[Stream]
    ends: Sequence[AudioEnd]
    owners: Mapping[str, str]
    lines: Mapping[str, str]
    firsts: Mapping[str, tuple[str, ...]]
    room: str
    joined: Sequence[str]
    nodes: list[Node] = field(default_factory=list)
    edges: list[Edge] = field(default_factory=list)

    def of(self, kind: str) -> Sequence[Placed]:
        return self.by_kind.get(kind, ())

    def to_network(self, device: Placed) -> Join | None:
        """Return the first join of a device to the network."""
        return next((one for one in self.graph.network if one.start.device == device.tag), None)

    def at(self, tag: str, port: str) -> Join | None:
        """Return the join at a port of a device."""
        return next(iter(self.graph.at.get(Port(tag, port), ())), None)

    def fed(self, loudspeaker: str) -> Join | None:
        """Return the join that feeds a loudspeaker."""
        joins = self.graph.at.get(Port(loudspeaker, LOUDSPEAKER_PORT), ())
        return next((one for one in joins if one.end.device == loudspeaker), None)

    def box(self, code: str, kind: str, title: str, *lines: str) -> None:
        self.nodes.append(Node(code, kind, title, lines))

    def join(
        self,
        start: str,
        end: str,
        signal: str,
        label: str,
        by: Join | None = None,
        *,
        returning: bool = False,
    ) -> None:
        ports = self._ports(by) if by else {}
        cable = by.cable if by else None
        self.edges.append(
            Edge(
                start=start,
                end=end,
                signal=signal,
                label=label,
                returning=returning,
                cable=f"{self._code(cable.start)}/{cable.start_port}" if cable else "",
                start_port=ports.get(self.owners.get(start, start), ""),
                end_port=ports.get(self.owners.get(end, end), ""),
                connector=self._connector(cable) if cable else "",
            )
        )

    def _code(self, tag: str) -> str:
        return tag.removeprefix(f"{self.room}-")

    def _ports(self, by: Join) -> Mapping[str, str]:
        """Return the ports of a join by the code of the box that has them; none at a switch in a rack."""
        if by.signal == NETWORK_SIGNAL and by.end.device not in self.devices:
            return {self._code(by.start.device): by.start.name}
        ports = {self._code(one.device): one.name for one in (by.start, by.end)}
        if by.signal == NETWORK_SIGNAL:
            # A switch that a device holds is drawn as the network.
            ports[NETWORK] = f"{self._code(by.end.device)}/{by.end.name}"
        return ports

    def _connector(self, cable: Cable) -> str:
        """Return what a cable ends in where it begins, and the highest analogue level there."""
        device = self.devices.get(cable.start)
        entry = self.project.library.entry(device.model) if device and device.model else None
        level = entry.level_of(cable.start_port) if isinstance(entry, Device) else None
        return f"{cable.start_connector}, {level:g} dBu" if level is not None else cable.start_connector

    @property
    def codes(self) -> Mapping[str, str]:
        """Return the code of each device in its room by its tag."""
        return {device.tag: device.code for devices in self.by_kind.values() for device in devices}

    def ends_with(self, other: str, direction: str) -> list[AudioEnd]:
        """Return the inputs or outputs that lead to a device, by tag, or to what others furnish, by code."""
        mix = self.joined_mixes.get(other)
        return [
            end
            for end in self.ends
            if end.direction == direction and (other in end.joined or (mix and end.name == mix))
        ]

    @property
    def joined_mixes(self) -> Mapping[str, str]:
        """Return what goes to and comes from joined rooms, by the code of the destination or return."""
        others = {from_joined(one): joined_mix(one) for one in self.joined}
        return {TO_JOINED: joined_mix(self.room), **others} if others else {}

    def owner_lines(self, code: str) -> tuple[str, ...]:
        """Return the tag of the owner's equipment that a destination or return is, none where it is open."""
        return (self.owners[code],) if code in self.owners else ()

    @property
    def mixing(self) -> Sequence[Placed]:
        return [*self.of("mixer"), *self.of("breakout")]


def signal_flow(
    project: Project,
    layout: RoomType,
    devices: Sequence[Placed],
    graph: Graph,
    channels: Sequence[Channel],
    streams: Sequence[Stream],
    ends: Sequence[AudioEnd],
    *,
    host: str,
    joined: str,
    owners: Mapping[str, str],
    lines: Mapping[str, str],
    firsts: Mapping[str, tuple[str, ...]],
) -> Flow:
    """Return the signal flow of a kind of room: microphones, radio, network, mix, outputs, return audio.

    layout: the room's layout.
    devices, channels, streams, ends: those of one room of the kind.
    graph: of the design, from which every join is read.
    host: tag of what holds the switch that serves the room, empty where the equipment room's does.
    joined: isolating port of the host that joins the room to the building, `building` where no port isolates,
        empty where nothing leads out of the room.
    owners: code in the room, or tag elsewhere, of the owner's equipment by the destination or return it is.
    lines: what the loudspeaker line of each zone is, in words.
    firsts: codes of the loudspeakers at which the line of each zone begins, in all rooms of the kind.
    """
    by_kind: dict[str, list[Placed]] = {}
    for device in devices:
        by_kind.setdefault(device.kind, []).append(device)
    capacities = {
        device.code: capacity(project.library.entry(device.model))
        for device in devices
        if device.kind in _COUNTED
    }
    chargers = {
        device.code: entry
        for device in by_kind.get("charger", ())
        if isinstance(entry := project.library.entry(device.model), Charger)
    }
    drawn = _Drawn(
        layout=layout,
        by_kind=by_kind,
        capacities=capacities,
        chargers=chargers,
        project=project,
        devices={device.tag: device for device in devices},
        graph=graph,
        channels=channels,
        streams=streams,
        ends=ends,
        owners=owners,
        lines=lines,
        firsts=firsts,
        room=devices[0].room,
        joined=partners(project.rooms, project.building.states).get(devices[0].room, ()),
    )
    groups = {one.code: _by_form(layout, one) for one in drawn.of("access_point")}
    _microphones(drawn, groups)
    _before_the_network(drawn)
    drawn.box(NETWORK, "network", "Network", *_switch_lines(devices, host, joined))
    _outputs(drawn)
    _loudspeakers(drawn)
    _returns(drawn)
    nodes, edges, held = flow_of_lines(devices, layout, ends)
    drawn.nodes += nodes
    drawn.edges += edges
    members = {f"{code}-{form}": codes for code, forms in groups.items() for form, codes in forms.items()}
    return Flow(tuple(drawn.nodes), tuple(drawn.edges), {**members, **held})


def _switch_lines(devices: Sequence[Placed], host: str, joined: str) -> tuple[str, ...]:
    """Return where the switch of the network is, and how the room is kept from the building's, if it is."""
    holding = next((device for device in devices if device.tag == host), None)
    if holding is None and joined:
        return ("managed switch in the equipment room",)
    code = holding.code if holding else ""
    place = f"switch {code} in the room" if holding and holding.kind == "switch" else f"switch inside {code}"
    if not joined:
        return (place if holding else "no switch", "joined to no other network")
    if joined == "building":
        return (place,)
    return (place, f"{code}/{joined} keeps off the building's network")


def _by_form(layout: RoomType, access_point: Placed) -> dict[str, tuple[str, ...]]:
    """Return the microphones that an access point serves by form, in order."""
    by_form: dict[str, tuple[str, ...]] = {}
    for code in access_point.serves:
        form = layout.microphones[code].form
        by_form[form] = (*by_form.get(form, ()), code)
    return dict(sorted(by_form.items()))


def _microphones(drawn: _Drawn, groups: Mapping[str, Mapping[str, Sequence[str]]]) -> None:
    """Add one box for each form of microphone that an access point serves."""
    for access_point, forms in groups.items():
        for form, codes in forms.items():
            name = f"{access_point}-{form}"
            drawn.box(name, "microphones", f"{len(codes)} × {form}", listed(codes))
            drawn.join(name, access_point, "radio", _count(len(codes), "link"))


def _before_the_network(drawn: _Drawn) -> None:
    """Add access points and chargers."""
    for device in drawn.of("access_point"):
        used, most = len(device.serves), drawn.capacities[device.code]
        drawn.box(
            device.code, "access point", device.code, device.model, f"{used} of {_count(most, 'channel')}"
        )
        drawn.join(device.code, NETWORK, NETWORKED, _count(used, "channel"), drawn.to_network(device))
    for device in drawn.of("charger"):
        entry = drawn.chargers.get(device.code)
        # A charger that is not on the network has no part in the signal.
        if entry and entry.ports_carrying("network"):
            slots = _count(drawn.capacities[device.code], "slot")
            drawn.box(device.code, "charger", device.code, device.model, slots)
            carried = "pairing and charge state" if entry.pairs else "charge state"
            drawn.join(device.code, NETWORK, NETWORKED, carried, drawn.to_network(device))


def _outputs(drawn: _Drawn) -> None:
    """Add mixers or breakouts with the microphones they take, and what their outputs lead to."""
    for device in drawn.mixing:
        most = drawn.capacities[device.code]
        taken = sum(one.mixing == device.tag for one in drawn.channels)
        inputs = taken + sum(
            end.channels
            for end in drawn.ends
            if end.device == device.tag and end.direction == "input" and end.signal == NETWORKED
        )
        if device.kind == "mixer":
            told = f"{inputs} of {_count(most, 'input')}"
        else:
            outputs = sum(
                end.device == device.tag and end.direction == "output" and bool(end.port)
                for end in drawn.ends
                if end.signal == "analogue"
            )
            told = f"{taken + outputs} of {_count(most, 'output')}"
        drawn.box(device.code, device.kind, device.code, device.model, told)
        received = _channels_received(drawn, device)
        if received:
            drawn.join(NETWORK, device.code, NETWORKED, _count(received, "channel"), drawn.to_network(device))
    mixers = {device.tag: device.code for device in drawn.of("mixer")}
    for end in drawn.ends:
        if end.device in mixers and end.direction == "output" and set(end.joined) & set(mixers):
            drawn.join(mixers[end.device], mixers[end.joined[0]], NETWORKED, "mix handed on by the network")
    taken_codes = {node.code for node in drawn.nodes}
    for code, destination in in_order(drawn.layout.destinations):
        joined = [end for end in drawn.ends_with(code, "output") if end.port]
        if not joined:
            continue
        name = _outside(code, taken_codes)
        channels = _count(destination.channels, "channel")
        drawn.box(name, "destination", destination.name, channels, *drawn.owner_lines(code))
        for tag in dict.fromkeys(end.device for end in joined):
            here = [end for end in joined if end.device == tag]
            channels = _count(sum(end.channels for end in here), "channel")
            by = _outside_join(drawn, code, destination.signal, tag, here)
            drawn.join(drawn.codes[tag], name, destination.signal, _carried(channels, destination.signal), by)


def _analogue_join(drawn: _Drawn, tag: str, ends: Sequence[AudioEnd]) -> Join | None:
    """Return the join of the first analogue input or output of a device that leads somewhere."""
    return next((drawn.at(tag, end.port) for end in ends if end.signal == "analogue"), None)


def _outside_join(drawn: _Drawn, code: str, signal: str, tag: str, ends: Sequence[AudioEnd]) -> Join | None:
    """Return the join of a destination or return: its own to the network, else that of the mixer's output."""
    if signal != NETWORKED:
        return _analogue_join(drawn, tag, ends)
    owner = drawn.owners.get(code, "")
    tags = (f"{drawn.room}-{owner}", owner)
    return next((one for one in drawn.graph.network if one.start.device in tags), None)


def _carried(channels: str, signal: str) -> str:
    """Return what passes between a mixer and what others furnish: networked audio by way of the network."""
    return f"{channels}, by the network" if signal == NETWORKED else channels


def _channels_received(drawn: _Drawn, device: Placed) -> int:
    """Return the channels of microphones that a mixer or breakout takes from the network.

    A breakout that makes the room's mix takes every one.
    """
    numbers = {stream.number for stream in drawn.streams if device.tag in stream.receivers}
    if device.kind == "breakout":
        return sum(one.stream in numbers for one in drawn.channels if one.stream)
    return sum(one.mixing == device.tag for one in drawn.channels)


def _loudspeakers(drawn: _Drawn) -> None:
    """Add amplifiers and one box for the loudspeakers of each zone that is fed."""
    zones: dict[str, list[str]] = {}
    names = line_of_each(drawn.project, drawn.layout)
    for code in sorted(names, key=natural):
        zones.setdefault(names[code], []).append(code)
    for device in drawn.of("amplifier"):
        feeds = [end for end in drawn.ends_with(device.tag, "output") if end.port]
        if not feeds:
            continue
        drawn.box(device.code, "amplifier", device.code, device.model)
        feeding = next(one for one in drawn.mixing if one.tag == feeds[0].device)
        for end in feeds:
            zone = end.name.rpartition("zone ")[2]
            feed = drawn.at(feeding.tag, end.port)
            drawn.join(feeding.code, device.code, "analogue", f"zone {zone}", feed)
            codes = zones[zone]
            name = f"LS-{zone}"
            drawn.box(
                name, "loudspeakers", f"Loudspeakers, zone {zone}", listed(codes), *_line_words(drawn, zone)
            )
            firsts = drawn.firsts.get(zone, ())
            first = drawn.fed(f"{drawn.room}-{firsts[0]}") if len(firsts) == 1 else None
            # Rooms of one kind lie differently to their racks, and so may begin at another one.
            label = f"zone {zone}" if len(firsts) < 2 else f"zone {zone}, from {' or '.join(firsts)} on"
            drawn.join(device.code, name, "loudspeaker line", label, first)


def _line_words(drawn: _Drawn, zone: str) -> tuple[str, ...]:
    """Return what the line of a zone is, none where it has none."""
    return (drawn.lines[zone],) if zone in drawn.lines else ()


def _returns(drawn: _Drawn) -> None:
    """Add return audio: from its sources by mixer or breakout and the network to those who hear it."""
    points = {device.tag: device for device in drawn.of("access_point")}
    taken_codes = {node.code for node in drawn.nodes if node.kind != "destination"}
    reached: dict[str, None] = {}
    for code, source in in_order(drawn.layout.returns):
        channels = _count(source.channels, "channel")
        joined = [end for end in drawn.ends_with(code, "input") if end.port]
        straight = [
            tag
            for stream in drawn.streams
            if stream.sender == code
            for tag in stream.receivers
            if tag in points
        ]
        if not joined and not straight:
            continue
        name = _outside(code, taken_codes)
        if name not in {node.code for node in drawn.nodes}:
            drawn.box(name, "return", source.name, channels, *drawn.owner_lines(code))
        for tag in dict.fromkeys(end.device for end in joined):
            here = [end for end in joined if end.device == tag]
            by = _outside_join(drawn, code, source.signal, tag, here)
            carried = _carried(channels, source.signal)
            drawn.join(name, drawn.codes[tag], source.signal, carried, by, returning=True)
        if straight:
            drawn.join(name, NETWORK, NETWORKED, channels, returning=True)
            reached |= dict.fromkeys(straight)
    for device in drawn.mixing:
        sent = [
            tag
            for stream in drawn.streams
            if stream.sender == device.tag
            for tag in stream.receivers
            if tag in points
        ]
        if sent:
            drawn.join(device.code, NETWORK, NETWORKED, "return audio", returning=True)
            reached |= dict.fromkeys(sent)
    for tag in sorted(reached, key=natural):
        drawn.join(NETWORK, points[tag].code, NETWORKED, "return audio", returning=True)
    for tag in sorted(reached, key=natural):
        for form, codes in _by_form(drawn.layout, points[tag]).items():
            if any(drawn.layout.microphones[code].return_audio for code in codes):
                code = points[tag].code
                drawn.join(code, f"{code}-{form}", "radio", "return audio", returning=True)


def _outside(code: str, taken: set[str]) -> str:
    """Return the code of something outside the system, made different where a box of it has the same."""
    return f"{code} (outside)" if code in taken or code.startswith("LS-") else code


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"
