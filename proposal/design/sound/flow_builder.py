"""The signal flow of one kind of room while it is put together: what is known, boxes and edges so far."""

from collections.abc import Mapping, Sequence
from dataclasses import field

from proposal.design.connections.cable import Cable
from proposal.design.connections.line_cables import LOUDSPEAKER_PORT
from proposal.design.connections.ports_and_joins import Graph, Join, Port
from proposal.design.equipment.audio_needs import NETWORKED
from proposal.design.equipment.placed_devices import Placed
from proposal.design.network.streams import Stream, joined_mix
from proposal.design.sound.audio_ends import AudioEnd
from proposal.design.sound.carried_sound import RETURN_FROM
from proposal.design.sound.channels import Channel
from proposal.design.sound.flow import Edge, Node
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import Charger
from proposal.model.equipment.entry import Device
from proposal.model.joined_sound import TO_JOINED, from_joined
from proposal.model.project import Project
from proposal.model.rooms import RoomType

NETWORK, BUILDING = "NET", "BUILDING"
NETWORK_SIGNAL = "network"


@dataclass(slots=True, kw_only=True)
class FlowBuilder:
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
        """Return the devices of a kind in the room."""
        return self.by_kind.get(kind, ())

    def to_network(self, device: Placed) -> Join | None:
        """Return the first join of a device to the network."""
        return next((one for one in self.graph.network if one.start.device == device.tag), None)

    def at(self, tag: str, port: str) -> Join | None:
        """Return the join at a port of a device, given by its tag, or None."""
        return next(iter(self.graph.at.get(Port(tag, port), ())), None)

    def fed(self, loudspeaker: str) -> Join | None:
        """Return the join that feeds a loudspeaker."""
        joins = self.graph.at.get(Port(loudspeaker, LOUDSPEAKER_PORT), ())
        return next((one for one in joins if one.end.device == loudspeaker), None)

    def box(self, code: str, kind: str, title: str, *lines: str) -> None:
        """Add a box with its code in the room, its kind, its title and further lines."""
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
        """Add what passes from one box to another.

        start, end: codes of boxes.
        signal: radio, networked audio, analogue, USB or loudspeaker line.
        label: what it carries.
        by: the join of the design that carries it, None where it needs no cable.
        returning: whether it is return audio.
        """
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
            # A switch that a device holds is flow as the network.
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
        """Return the inputs or outputs that lead to a device or to what others furnish.

        other: tag of the device, or code of the destination or return.
        direction: input or output.
        """
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
        return {TO_JOINED: joined_mix(self.room), **others}

    def owner_lines(self, code: str) -> tuple[str, ...]:
        """Return the tag of the owner's equipment that a destination or return is, none where it is open.

        code: of the destination or return.
        """
        return (self.owners[code],) if code in self.owners else ()

    @property
    def mixing(self) -> Sequence[Placed]:
        """Return the mixers and breakouts of the room."""
        return [*self.of("mixer"), *self.of("breakout")]


def by_form(layout: RoomType, access_point: Placed) -> dict[str, tuple[str, ...]]:
    """Return the microphones that an access point serves by form, in order."""
    by_form: dict[str, tuple[str, ...]] = {}
    for code in access_point.serves:
        form = layout.microphones[code].form
        by_form[form] = (*by_form.get(form, ()), code)
    return dict(sorted(by_form.items()))


def outside_code(code: str, taken: set[str]) -> str:
    """Return the code of something outside the system, made different where a box of it has the same.

    taken: codes of boxes there are.
    """
    return f"{code} (outside)" if code in taken or code.startswith("LS-") else code


def carried_words(channels: str, signal: str) -> str:
    """Return what passes between a mixer and what others furnish, and by what: the network, or its USB cord.

    channels: how many, in words.
    """
    if signal == "USB":
        return f"{channels}, cord of the equipment"
    return f"{channels}, by the network" if signal == NETWORKED else channels


def with_returns(ends: Sequence[AudioEnd]) -> str:
    """Return that outputs carry return audio besides the mix, `, with return audio`; empty where none does.

    ends: outputs that lead to one place.
    """
    sent = any(one.startswith(RETURN_FROM) for end in ends for one in end.carries if len(end.carries) > 1)
    return ", with return audio" if sent else ""


def _wired_join(flow: FlowBuilder, tag: str, ends: Sequence[AudioEnd]) -> Join | None:
    """Return the join of the first input or output of a device that leads somewhere by a cable or cord."""
    return next((flow.at(tag, end.port) for end in ends if end.signal != NETWORKED), None)


def outside_join(
    flow: FlowBuilder, code: str, signal: str, tag: str, ends: Sequence[AudioEnd]
) -> Join | None:
    """Return the join of a destination or return: its own to the network, else that of the mixer's output.

    code: of the destination or return; tag: of the mixer; ends: its inputs or outputs that lead there.
    """
    if signal != NETWORKED:
        return _wired_join(flow, tag, ends)
    owner = flow.owners.get(code, "")
    tags = (f"{flow.room}-{owner}", owner)
    return next((one for one in flow.graph.network if one.start.device in tags), None)


def counted(number: int, noun: str) -> str:
    """Return a number with its noun, in the plural unless it is one."""
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"
