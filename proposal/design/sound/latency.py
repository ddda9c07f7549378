"""How long sound takes from each kind of microphone to each kind of listener, in every state."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import groupby

from proposal.design.equipment.audio_needs import NETWORKED
from proposal.design.network.switch_paths import SwitchWays
from proposal.design.rooms.room_kinds import RoomKind
from proposal.design.sound.audio_ends import AudioEnd
from proposal.design.sound.channels import Channel, ChannelPlan
from proposal.design.sound.joined_rooms import JoinedRoute
from proposal.design.sound.latency_parts import BUFFER_USE, NETWORK, Part, Parts
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import Breakout
from proposal.model.equipment.entry import Device
from proposal.model.equipment.sound_devices import Amplifier, Mixer
from proposal.model.project import Project
from proposal.standards.latency import path_delay_ms
from proposal.standards.sources import EDITABLE_DEFAULT
from proposal.standards.working import Limit, Working, working

IN_ROOM_USE, ELSEWHERE_USE = "project.rules.latency.in_room", "project.rules.latency.elsewhere"


@dataclass(frozen=True, slots=True, kw_only=True)
class DelayPath:
    """The way of sound from a kind of microphone to a listener: of all such ways the slowest.

    spoken_in: key of the kind of room, or in joined rooms the tag of the room, where people speak.
    rooms: tags of the rooms for which it stands.
    heard_in: tag of the room that is joined to it, where it is heard; empty for the room itself.
    states: states in which it is so; empty for all.
    microphone, model: tag and model code of the microphone.
    listener: what is heard there, such as the loudspeakers of a zone.
    parts: in the order of the signal.
    limit_s: longest delay allowed; uses: what it and the parts rest on, by dotted path.
    """

    spoken_in: str
    rooms: tuple[str, ...]
    heard_in: str
    states: tuple[str, ...]
    microphone: str
    model: str
    listener: str
    parts: tuple[Part, ...]
    limit_s: float
    uses: tuple[str, ...]

    @property
    def known_s(self) -> float:
        """Return the sum of all parts that are known, s."""
        return sum(part.delay_s for part in self.parts if part.delay_s is not None)

    @property
    def unknown(self) -> tuple[Part, ...]:
        """Return the parts of which nobody says how long they take."""
        return tuple(part for part in self.parts if part.delay_s is None)

    @property
    def largest(self) -> Part | None:
        """Return the part that takes longest, the first of equals; None where none is known."""
        known = [part for part in self.parts if part.delay_s is not None]
        return max(known, key=lambda part: part.delay_s or 0.0, default=None)

    @property
    def over_s(self) -> float:
        """Return how much the known parts are over the limit, s; below 0 where they are not."""
        return self.known_s - self.limit_s

    @property
    def verdict(self) -> str:
        """Return fails where known parts are over the limit, else open where one is not known, else holds."""
        if self.working.verdict == "fails":
            return "fails"
        return "open" if self.unknown else "holds"

    @property
    def way(self) -> tuple[str, ...]:
        """Return the tags that sound passes, in order, and the listener."""
        tags = [tag for part in self.parts for tag in part.at]
        return (*(tag for tag, _ in groupby(tags)), self.listener)

    @property
    def workings(self) -> tuple[Working, ...]:
        """Return the workings of the network on its way, and its sum."""
        return (*(part.working for part in self.parts if part.working is not None), self.working)

    @property
    def working(self) -> Working:
        """Return the sum of its known parts against the limit."""
        open_yet = bool(self.unknown) and self.over_s <= 0
        return working(
            path_delay_ms,
            title=f"Delay from {self.microphone} to {self.listener}"
            + (f" in {self.heard_in}" if self.heard_in else ""),
            limit=None if open_yet else Limit(1000 * self.limit_s, "≤", EDITABLE_DEFAULT),
            uses=self.uses,
            note="Not known yet: " + ", ".join(f"{part.name} {part.at[0]}" for part in self.unknown) + "."
            if self.unknown
            else "",
            parts_ms=tuple(1000 * part.delay_s for part in self.parts if part.delay_s is not None),
        )


def delay_paths(
    project: Project,
    kinds: Sequence[RoomKind],
    entries: Mapping[str, Device],
    plan: ChannelPlan,
    ends: Sequence[AudioEnd],
    routes: Sequence[JoinedRoute],
    ways: SwitchWays,
    owners: Mapping[tuple[str, str], str],
) -> tuple[DelayPath, ...]:
    """Return the slowest way from each model of microphone to each listener, by kind of room and joined room.

    kinds: of room.
    entries: library entry by tag, the owner's equipment included.
    plan: channels and streams.
    ends: what comes into and goes out of mixers and breakouts.
    routes: between the mixers of joined rooms.
    ways: through the switches.
    owners: tag of the owner's equipment on the network by room and code of the destination that it is.
    """
    found = _Ways(project, entries, plan, ends, Parts(project, entries, ways), owners)
    kind_of = {tag: kind for kind in kinds for tag in kind.rooms}
    own = [
        replace(path, spoken_in=kind.key, rooms=kind.rooms)
        for kind in kinds
        for path in _slowest(path for tag in kind.rooms for path in found.in_room(tag))
    ]
    states: dict[tuple[str, str], list[str]] = {}
    by_rooms: dict[tuple[str, str], JoinedRoute] = {}
    for route in routes:
        by_rooms.setdefault((route.room, route.other), route)
        states.setdefault((route.room, route.other), []).append(route.state)
    joined = [
        replace(path, states=tuple(states[rooms]))
        for rooms, route in by_rooms.items()
        if route.room in kind_of
        for path in _slowest(found.joined(route))
    ]
    return (*own, *joined)


def _slowest(paths: Iterator[DelayPath]) -> list[DelayPath]:
    """Return of the ways from each model of microphone to each listener the slowest, the first of equals."""
    found: dict[tuple[str, str], DelayPath] = {}
    for path in paths:
        key = (path.model, path.listener)
        other = found.get(key)
        if other is None or path.known_s > other.known_s + 1e-12:
            found[key] = path
    return list(found.values())


class _Ways:
    """Every way through the devices of rooms."""

    def __init__(
        self,
        project: Project,
        entries: Mapping[str, Device],
        plan: ChannelPlan,
        ends: Sequence[AudioEnd],
        parts: Parts,
        owners: Mapping[tuple[str, str], str],
    ) -> None:
        self.project, self.entries, self.parts, self.owners = project, entries, parts, owners
        self.channels: dict[str, list[Channel]] = {}
        for channel in plan.channels:
            # A spare that takes the channel of another has no way of its own.
            if channel.access_point and channel.mixing:
                self.channels.setdefault(channel.room, []).append(channel)
        self.taken_by = {stream.number: stream.receivers for stream in plan.streams}
        self.outputs: dict[str, list[AudioEnd]] = {}
        self.handed_on: set[tuple[str, str]] = set()
        for end in ends:
            if end.direction == "output" and end.port:
                self.outputs.setdefault(end.device, []).append(end)
                self.handed_on |= {(end.device, tag) for tag in end.joined}

    def in_room(self, room: str) -> Iterator[DelayPath]:
        """Yield the ways from the microphones of a room to all that its mixers and breakouts lead to."""
        boxes = dict.fromkeys(channel.mixing for channel in self.channels.get(room, ()))
        hands_to = {box: other for box, other in sorted(self.handed_on) if box in boxes and other in boxes}
        for channel in self.channels.get(room, ()):
            entry = self.entries.get(channel.mixing)
            if isinstance(entry, Breakout) and channel.mixing not in self.outputs:
                parts = self._to(channel, channel.mixing, cancelling=False)
                if parts:
                    yield self._path(channel, "outputs of the breakout", parts, *self._in_room())
            for box in dict.fromkeys((channel.mixing, hands_to.get(channel.mixing, channel.mixing))):
                for end in self.outputs.get(box, ()):
                    yield from self._to_end(channel, end, room)

    def joined(self, route: JoinedRoute) -> Iterator[DelayPath]:
        """Yield the ways from the microphones of a room to what the mixer of a joined room leads to."""
        between = self.parts.network(route.sender, route.receiver)
        if between is None or not route.input:
            return
        for channel in self.channels.get(route.room, ()):
            before = self._to(channel, route.sender, cancelling=False)
            if not before:
                continue
            parts = (*before, between, self.parts.mixing(route.receiver))
            for end in self.outputs.get(route.receiver, ()):
                for path in self._from_output(channel, parts, end, route.other):
                    yield self._by_wall(replace(path, heard_in=route.other))

    def _by_wall(self, path: DelayPath) -> DelayPath:
        """Return a way into another room, with the limit of listeners elsewhere where no wall opens."""
        rooms = {path.spoken_in, path.heard_in}
        states = self.project.building.states.values()
        if path.uses[:1] != (IN_ROOM_USE,) or any(
            rooms <= set(one) for state in states for one in state.join
        ):
            return path
        limit_s = self.project.brief.rules.latency.elsewhere
        return replace(path, limit_s=limit_s, uses=(ELSEWHERE_USE, *path.uses[1:]))

    def _to_end(self, channel: Channel, end: AudioEnd, room: str) -> Iterator[DelayPath]:
        """Yield the way of a channel to an output of a mixer or breakout."""
        layout = self.project.rooms[room].layout
        entry = self.entries.get(end.device)
        if isinstance(entry, Breakout) and not entry.mixes and channel.mixing != end.device:
            return
        cancelling = (
            isinstance(entry, Mixer)
            and entry.echo_cancellers > 0
            and any(code in layout.destinations for code in end.joined)
            and any(not code.startswith("joined-") for code in layout.returns)
        )
        parts = self._to(channel, end.device, cancelling=cancelling)
        if parts:
            yield from self._from_output(channel, parts, end, room)

    def _from_output(
        self, channel: Channel, parts: tuple[Part, ...], end: AudioEnd, room: str
    ) -> Iterator[DelayPath]:
        """Yield the way on from an output: over an amplifier to loudspeakers, or to a destination."""
        for other in end.joined:
            if isinstance(self.entries.get(other), Amplifier):
                whole = (*parts, self.parts.device(other, "amplifier"))
                yield self._path(channel, end.name, whole, *self._in_room())
        destinations = self.project.rooms[room].layout.destinations
        for code in end.joined:
            if code not in destinations:
                continue
            destination = destinations[code]
            sent = parts
            if destination.signal == NETWORKED:
                tag = self.owners.get((room, code), "")
                onward = self.parts.network(end.device, tag) if tag else None
                onward = onward or self.parts.onto_network(end.device, destination.name)
                if onward is None:
                    continue
                sent = (*parts, onward)
            rules = self.project.brief.rules.latency
            limit = destination.latency_limit
            yield self._path(
                channel,
                destination.name,
                sent,
                rules.elsewhere if limit is None else limit,
                (ELSEWHERE_USE,) if limit is None else (),
            )

    def _to(self, channel: Channel, box: str, *, cancelling: bool) -> tuple[Part, ...]:
        """Return the parts from a microphone through a mixer or breakout; none where no way is known."""
        # A breakout that mixes takes every microphone; a mixer takes those at its own inputs alone.
        direct = channel.mixing == box or (
            isinstance(self.entries.get(box), Breakout) and box in self.taken_by.get(channel.stream, ())
        )
        if not direct and (channel.mixing, box) not in self.handed_on:
            return ()
        first = box if direct else channel.mixing
        boxes = (first,) if direct else (first, box)
        parts = list(self.parts.to_access_point(channel))
        sender = channel.access_point
        for one in boxes:
            between = self.parts.network(sender, one)
            if between is None:
                return ()
            parts += [between, self.parts.mixing(one, cancelling=cancelling and one == first)]
            sender = one
        return tuple(parts)

    def _in_room(self) -> tuple[float, tuple[str, ...]]:
        return self.project.brief.rules.latency.in_room, (IN_ROOM_USE,)

    def _path(
        self,
        channel: Channel,
        listener: str,
        parts: tuple[Part, ...],
        limit_s: float,
        uses: tuple[str, ...],
    ) -> DelayPath:
        networked = any(part.name == NETWORK for part in parts)
        return DelayPath(
            spoken_in=channel.room,
            rooms=(channel.room,),
            heard_in="",
            states=(),
            microphone=channel.microphone,
            model=channel.model,
            listener=listener,
            parts=parts,
            limit_s=limit_s,
            uses=(*uses, BUFFER_USE) if networked else uses,
        )
