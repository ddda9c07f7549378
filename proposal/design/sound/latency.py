"""How long sound takes from microphones, and from where it comes back, to each kind of listener."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from proposal.design.equipment.audio_needs import NETWORKED
from proposal.design.network.streams import joined_mix
from proposal.design.network.switch_paths import SwitchWays
from proposal.design.rooms.room_kinds import RoomKind
from proposal.design.sound.audio_ends import AudioEnd
from proposal.design.sound.channels import Channel, ChannelPlan
from proposal.design.sound.delay_path import ELSEWHERE_USE, IN_ROOM_USE, DelayPath
from proposal.design.sound.joined_rooms import JoinedRoute
from proposal.design.sound.latency_parts import BUFFER_USE, NETWORK, Part, Parts
from proposal.model.equipment.devices import Breakout
from proposal.model.equipment.entry import Device
from proposal.model.equipment.sound_devices import Amplifier, Mixer
from proposal.model.project import Project
from proposal.model.rooms import SoundEnd


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
    """Return the slowest ways of sound by kind of room and joined room.

    From each model of microphone to each listener, and from what each return comes from to who hears it.

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
        for path in _slowest(
            path for tag in kind.rooms for path in (*found.in_room(tag), *found.returned(tag))
        )
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
    """Return of the ways from each model or return to each listener the slowest, the first of equals."""
    found: dict[tuple[str, str, str], DelayPath] = {}
    for path in paths:
        key = (path.returned_from, path.model, path.listener)
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
        self.plan, self.ends = plan, ends
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

    def returned(self, room: str) -> Iterator[DelayPath]:
        """Yield the ways of return audio into a room: to its loudspeakers, and by radio to its talkers."""
        layout = self.project.rooms[room].layout
        for code, source in layout.returns.items():
            for end in self.ends:
                if (
                    end.direction != "input"
                    or code not in end.joined
                    or not end.device.startswith(f"{room}-")
                ):
                    continue
                owner = self.owners.get((room, code), "")
                before = self._from_outside(end, owner, source.name)
                for output in self.outputs.get(end.device, ()):
                    if end.name in output.carries:
                        yield from self._heard(room, source, (*before, self.parts.mixing(end.device)), output)
            taken = {
                tag for one in self.plan.streams_of_room(room) if one.sender == code for tag in one.receivers
            }
            yield from self._to_talkers(room, source, (), self.owners.get((room, code), ""), taken)

    def _from_outside(self, end: AudioEnd, owner: str, name: str) -> tuple[Part, ...]:
        """Return the network from what return audio comes from to the mixer; nothing where a wire carries it.

        owner: tag of what it comes from, empty where nobody placed that.
        name: what it is called.
        """
        if end.signal != NETWORKED:
            return ()
        part = self.parts.network(owner, end.device) if owner else None
        part = part or self.parts.onto_network(end.device, name)
        return (part,) if part else ()

    def _heard(
        self, room: str, source: SoundEnd, before: tuple[Part, ...], output: AudioEnd
    ) -> Iterator[DelayPath]:
        """Yield the way of return audio on from an output: over an amplifier, or by a stream to talkers."""
        for other in output.joined:
            if isinstance(self.entries.get(other), Amplifier):
                parts = (*before, self.parts.device(other, "amplifier"))
                yield self._return_path(room, source, output.name, parts)
        yield from self._to_talkers(room, source, before, output.device, set(output.joined))

    def _to_talkers(
        self, room: str, source: SoundEnd, before: tuple[Part, ...], sender: str, points: set[str]
    ) -> Iterator[DelayPath]:
        """Yield the ways of return audio from a sender over access points to the microphones that play it."""
        for channel in self.channels.get(room, ()):
            point = channel.access_point
            if not channel.return_audio or point not in points:
                continue
            between = self.parts.network(sender, point) if sender else None
            between = between or self.parts.onto_network(point, source.name)
            if between is not None:
                back = self.parts.to_access_point(channel)[::-1]
                listener = f"talkers at {channel.model}"
                yield self._return_path(room, source, listener, (*before, between, *back))

    def _return_path(self, room: str, source: SoundEnd, listener: str, parts: tuple[Part, ...]) -> DelayPath:
        networked = any(part.name == NETWORK for part in parts)
        return DelayPath(
            spoken_in=room,
            rooms=(room,),
            heard_in="",
            states=(),
            microphone="",
            model="",
            returned_from=source.name,
            listener=listener,
            parts=parts,
            limit_s=source.latency_limit,
            uses=(BUFFER_USE,) if networked else (),
        )

    def joined(self, route: JoinedRoute) -> Iterator[DelayPath]:
        """Yield the ways from the microphones of a room to what the mixer of a joined room leads to."""
        between = self.parts.network(route.sender, route.receiver)
        if between is None or not route.input:
            return
        for channel in self.channels.get(route.room, ()):
            before = self._to(channel, route.sender, cancelling=False)
            if not before:
                continue
            for end in self.outputs.get(route.receiver, ()):
                if joined_mix(route.room) not in end.carries:
                    continue
                # What plays the far end there is cancelled there, out of the mix that comes over, too.
                mixer = self.parts.mixing(route.receiver, cancelling=self._cancels(end, route.other))
                parts = (*before, between, mixer)
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
        entry = self.entries.get(end.device)
        if isinstance(entry, Breakout) and not entry.mixes and channel.mixing != end.device:
            return
        parts = self._to(channel, end.device, cancelling=self._cancels(end, room))
        if parts:
            yield from self._from_output(channel, parts, end, room)

    def _cancels(self, end: AudioEnd, room: str) -> bool:
        """Return whether what goes out of a mixer passes its echo cancellers on to who may talk back."""
        layout, entry = self.project.rooms[room].layout, self.entries.get(end.device)
        return (
            isinstance(entry, Mixer)
            and entry.echo_cancellers > 0
            and any(code in layout.destinations for code in end.joined)
            and any(not code.startswith("joined-") for code in layout.returns)
        )

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
            here = destination.heard_in_room
            of_rules, use = (rules.in_room, IN_ROOM_USE) if here else (rules.elsewhere, ELSEWHERE_USE)
            limit = destination.latency_limit
            yield self._path(
                channel,
                destination.name,
                sent,
                of_rules if limit is None else limit,
                (use,) if limit is None else (),
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
