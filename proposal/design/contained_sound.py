"""Rooms whose sound may not leave them: every way that it could take, searched over what is joined.

From the microphones of such a room the search follows radio links, network cables, lines of mixers and
breakouts, and loudspeaker lines. It ends at the first thing that stands elsewhere, sends sound away or keeps
it, or of which nobody says where it stands. What passes through walls by air is no part of it. A destination
that it may reach all the same ends the search and is no way out: what is done with it there is its owner's.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from proposal.design.connections.ports_and_joins import Graph, Join, Port
from proposal.design.equipment.audio_needs import NETWORKED
from proposal.design.equipment.placed_devices import Placed
from proposal.design.network.switch_paths import OWNERS_NETWORK
from proposal.design.numbers.numbering import natural
from proposal.design.owner.owner_devices import OwnerDevice
from proposal.design.sound.audio_ends import AudioEnd
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import AccessPoint
from proposal.model.equipment.entry import Device
from proposal.model.equipment.sound_devices import AssistiveDevice
from proposal.model.project import Project
from proposal.model.rooms import RoomType

SENDS_AWAY: Mapping[str, str] = {
    "codec": "sends it to the far end",
    "recorder": "keeps it",
    "press feed": "sends it to others",
}
"""Equipment of the owner by which sound leaves a room wherever it stands, and what it does with it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step of a way: what carries the sound, and to what."""

    by: str
    to: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ContainedSound:
    """A room whose sound may not leave it, and what the search found.

    room, reason: its tag, and why.
    reached: tags of all that the sound of its microphones reaches, in order.
    encryption: how its radio links keep speech private; empty where one of them does not.
    states: in which it holds; all where there are none.
    may_reach: names of destinations that its sound may reach all the same.
    may_pass: equipment rooms that count as part of it, each with the reason.
    unplugged: ports, with their device, whose leads are pulled out then; missing: those that are none.
    start, way: tag of the microphone and the steps of the shortest way out; no steps where there is none.
    ends: why the last step is a way out, in words.
    """

    room: str
    reason: str
    reached: tuple[str, ...]
    encryption: tuple[str, ...]
    states: tuple[str, ...] = ()
    may_reach: tuple[str, ...] = ()
    may_pass: tuple[str, ...] = ()
    unplugged: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    start: str = ""
    way: tuple[Step, ...] = ()
    ends: str = ""


def contained_sound(
    project: Project,
    devices: Sequence[Placed],
    entries: Mapping[str, Device],
    owners: Sequence[OwnerDevice],
    joined: Graph,
    ends: Sequence[AudioEnd],
) -> tuple[ContainedSound, ...]:
    """Return what was found of each room whose sound may not leave it, in order of tags.

    devices, owners, ends: of the whole design; entries: of the library by tag.
    joined: what is joined.
    """
    closed = {tag: room.layout.sound_stays for tag, room in project.rooms.items() if room.layout.sound_stays}
    if not closed:
        return ()
    return tuple(
        _searched(project, tag, closed[tag], (owners, devices, joined, ends), entries)
        for tag in sorted(closed, key=natural)
    )


_Graph = Mapping[str, tuple[Step, ...]]
_Joined = tuple[Sequence[OwnerDevice], Sequence[Placed], Graph, Sequence[AudioEnd]]
"""What is joined, before leads are pulled out."""


def _graph(whole: _Joined, pulled: frozenset[str]) -> _Graph:
    """Return the steps from each device, in order; joins that keep sound off are none.

    pulled: ports whose leads are pulled out.
    """
    owners, devices, joined, ends = whole
    steps: dict[str, set[tuple[str, str]]] = {}
    room_of = {device.tag: device.room for device in devices}
    for one in joined.joins:
        start, end = one.start, one.end
        if one.isolated or not pulled.isdisjoint(map(_port, (start, end))):
            continue
        other = end.device or (OWNERS_NETWORK if end.name else one.panel.partition("/")[0])
        steps.setdefault(start.device, set()).add((_carried(one, start), other))
        if one.signal in ("network", "fibre"):
            steps.setdefault(other, set()).add((_carried(one, end), start.device))
    reaches = _networks(joined, pulled)
    for audio in ends:
        if f"{audio.device}/{audio.port}" in pulled:
            continue
        if audio.direction == "output" and audio.signal == NETWORKED:
            for code in audio.joined:
                for other in _others(code, room_of.get(audio.device, ""), owners, room_of):
                    # Between devices that are joined to networks a stream goes no other way than these do.
                    if other not in reaches or other in reaches.get(audio.device, {other}):
                        steps.setdefault(audio.device, set()).add(
                            (f"{audio.signal} {audio.port}".strip(), other)
                        )
    return {
        tag: tuple(Step(by=by, to=to) for by, to in sorted(found, key=lambda one: (natural(one[1]), one[0])))
        for tag, found in steps.items()
    }


def _networks(joined: Graph, pulled: frozenset[str]) -> Mapping[str, frozenset[str]]:
    """Return the devices of one network with each device that has a network port.

    pulled: ports whose leads are pulled out.
    """
    groups: dict[str, set[str]] = {}
    for one in joined.joins:
        if one.signal not in ("network", "fibre"):
            continue
        other = one.end.device or (OWNERS_NETWORK if one.end.name else one.panel.partition("/")[0])
        both = [groups.setdefault(tag, {tag}) for tag in (one.start.device, other)]
        if one.isolated or not pulled.isdisjoint(map(_port, (one.start, one.end))) or both[0] is both[1]:
            continue
        both[0].update(both[1])
        groups.update(dict.fromkeys(both[1], both[0]))
    return {tag: frozenset(group) for tag, group in groups.items()}


def _port(port: Port) -> str:
    return f"{port.device}/{port.name}"


def _carried(join: Join, port: Port) -> str:
    """Return what carries sound from a port: a cable, radio, a cord in a rack, or a lead."""
    if join.signal == "radio":
        return "radio"
    if join.cable:
        return f"cable {join.identity}"
    return f"cord {join.identity}" if join.signal in ("network", "fibre") else f"{join.signal} {port.name}"


def _others(
    joined: str, room: str, owners: Sequence[OwnerDevice], room_of: Mapping[str, str]
) -> Iterator[str]:
    """Yield the tags of what an output is joined to; a destination's code where nobody says what it is."""
    if joined in room_of:
        yield joined
        return
    found = [one.device.tag for one in owners if room in one.rooms and joined in one.written.serves]
    yield from found or [joined]


def _searched(
    project: Project,
    tag: str,
    reason: str,
    whole: _Joined,
    entries: Mapping[str, Device],
) -> ContainedSound:
    owners, devices, joined, ends = whole
    layout = project.rooms[tag].layout
    pulled = layout.pulled_out(tag)
    graph = _graph(whole, pulled)
    there_are = {_port(port) for one in joined.joins for port in (one.start, one.end)}
    there_are |= {f"{one.device}/{one.port}" for one in ends}
    states = [one for name, one in project.building.states.items() if _holds_in(layout, name)]
    sets = {cart for state in states for cart, at in state.portable.items() if at == tag}
    there = {tag, *sets}
    inside = {
        device.tag: device
        for device in devices
        if (_rack_room(project, device) in layout.sound_may_pass)
        or (device.room in there and not in_a_rack(project, device))
    }
    there |= set(layout.sound_may_pass)
    kinds = {one.device.tag: one.written.kind for one in owners if one.device.room in there}
    microphones = sorted(
        (one.tag for one in inside.values() if one.kind == "microphone" and one.room in there), key=natural
    )
    points = {
        step.to: entries.get(step.to)
        for microphone in microphones
        for step in graph.get(microphone, ())
        if step.by == "radio"
    }
    spoken = [one.encryption if isinstance(one, AccessPoint) else "" for one in points.values()]
    found = ContainedSound(
        room=tag,
        reason=reason,
        reached=(),
        encryption=tuple(sorted(set(spoken))) if all(spoken) else (),
        states=layout.sound_stays_in,
        unplugged=tuple(sorted(pulled, key=natural)),
        may_reach=tuple(layout.destinations[code].name for code in layout.sound_may_reach),
        may_pass=tuple(
            f"{project.building.equipment_rooms[code].name} ({code}; {why.rstrip('.')})"
            for code, why in layout.sound_may_pass.items()
        ),
        missing=tuple(sorted(pulled - there_are, key=natural)),
    )
    agreed = frozenset(layout.sound_may_reach)
    agreed |= {one.device.tag for one in owners if tag in one.rooms and agreed & set(one.written.serves)}
    came: dict[str, tuple[str, Step] | None] = dict.fromkeys(microphones)
    waiting = list(microphones)
    for name in waiting:
        if name in agreed:
            continue
        why = _leaves(name, tag, inside, kinds, entries)
        if why:
            return _with_way(found, name, came, why)
        for step in graph.get(name, ()):
            if step.to not in came:
                came[step.to] = (name, step)
                waiting.append(step.to)
    return _joined(project, tag, found, tuple(sorted(came, key=natural)))


def _holds_in(layout: RoomType, state: str) -> bool:
    """Return whether the sound of a room has to stay in it in a state."""
    return not layout.sound_stays_in or state in layout.sound_stays_in


def in_a_rack(project: Project, device: Placed) -> bool:
    """Return whether a device stands in a rack of an equipment room, which serves its room from elsewhere."""
    return bool(_rack_room(project, device))


def _rack_room(project: Project, device: Placed) -> str:
    """Return the equipment room in whose rack a device stands; empty where it stands in none."""
    room = device.location.rpartition("-")[0]
    return room if room in project.building.equipment_rooms else ""


def _leaves(
    name: str,
    room: str,
    inside: Mapping[str, Placed],
    kinds: Mapping[str, str],
    entries: Mapping[str, Device],
) -> str:
    """Return why sound that has come to something has left the room, empty where it has not."""
    if name in kinds:
        return f"{name} {SENDS_AWAY[kinds[name]]}" if kinds[name] in SENDS_AWAY else ""
    if name in inside:
        entry = entries.get(name)
        if isinstance(entry, AccessPoint) and not entry.encryption:
            return f"the radio of {name} is not said to be encrypted"
        if isinstance(entry, AssistiveDevice) and entry.role == "transmitter" and entry.carrier == "radio":
            return f"the radio of {name} can be received outside the room"
        return ""
    return f"{name} stands outside {room}, or nobody says where it stands"


def _with_way(
    found: ContainedSound, last: str, came: Mapping[str, tuple[str, Step] | None], why: str
) -> ContainedSound:
    steps: list[Step] = []
    name = last
    while (before := came[name]) is not None:
        name, step = before
        steps.insert(0, step)
    reached = tuple(sorted(came, key=natural))
    return replace(found, reached=reached, start=name, way=tuple(steps), ends=why)


def _joined(project: Project, tag: str, found: ContainedSound, reached: tuple[str, ...]) -> ContainedSound:
    """Return what was found with the way through an operable wall, where a state opens one."""
    opened = next(
        (
            (name, other)
            for name, state in project.building.states.items()
            if _holds_in(project.rooms[tag].layout, name)
            for group in state.join
            if tag in group
            for other in group
            if other != tag
        ),
        None,
    )
    if opened is None:
        return replace(found, reached=reached)
    return replace(
        found,
        reached=reached,
        start=tag,
        way=(Step(by="the open wall", to=opened[1]),),
        ends=f"the state {opened[0]} joins {tag} and {opened[1]} to one room",
    )


def way_in_words(start: str, way: Sequence[Step]) -> str:
    """Return a way as one line: `C103-M1, by radio to C103-AP1, by cable … to ER1-RK1`.

    start: where it begins.
    """
    return ", ".join([start, *(f"by {step.by} to {step.to}" for step in way)])
