"""Which switch is joined to which, so that every switch reaches every other one over one path."""

from collections.abc import Mapping, Sequence

from proposal.design.network.switches_and_ports import EquipmentRoomSwitches
from proposal.design.numbers.numbering import JOIN, assign, issued_of, natural
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import Switch
from proposal.model.equipment.entry import Device
from proposal.model.project import Project

OWNER = ""
"""What stands for a switch where the owner's network joins two of ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SwitchJoin:
    """Two switches that are joined, the one farther from the first switch of the building first.

    start, end: tags of switches; `end` is empty where the owner's network joins them.
    start_port, end_port: names of their uplink ports, such as U1; at the owner's network its own name.
    start_room, end_room: tags of their equipment rooms; both the same where the owner's network joins them.
    """

    start: str
    start_port: str
    end: str
    end_port: str
    start_room: str
    end_room: str

    @property
    def within_a_room(self) -> bool:
        """Return whether both stand in one equipment room."""
        return self.start_room == self.end_room


@dataclass(frozen=True, slots=True, kw_only=True)
class SwitchJoins:
    """The joins of all switches.

    first: tag of the switch to which every path leads; empty where there is none.
    joins: in order of tags.
    left: tags of switches that found no free uplink port, at them or at a switch they could be joined to.
    """

    first: str
    joins: tuple[SwitchJoin, ...]
    left: tuple[str, ...]

    def beyond(self, join: SwitchJoin) -> frozenset[str]:
        """Return the tags of the switches that reach the first one through a join."""
        found = {join.start}
        grown = True
        while grown:
            more = {one.start for one in self.joins if one.end in found} - found
            grown = bool(more)
            found |= more
        return frozenset(found)


def switch_joins(
    project: Project, closets: Sequence[EquipmentRoomSwitches], entries: Mapping[str, Device]
) -> SwitchJoins:
    """Return who is joined to whom: in each equipment room to one switch, and that one to the next room's.

    closets: the switches of each equipment room.
    entries: the library entry of every device by tag.
    The first switch of a room is the one with most uplinks. A room is joined to the one that building.yaml
    names, else to the first that has switches; an uplink port given in an issued revision stays. The first
    room is joined to the owner's network where it names a port of it: ours hang on a port of theirs then, and
    no device of ours does unless the owner's switch is written with its free ports.
    """
    ours = {closet.equipment_room: _ordered(closet, entries) for closet in closets}
    rooms = {room: tags for room, tags in ours.items() if tags}
    if not rooms:
        return SwitchJoins(first="", joins=(), left=())
    main = _main_room(project, rooms)
    free = {tag: _uplinks(entries[tag]) for tags in rooms.values() for tag in tags}
    pairs: list[tuple[str, str, str, str]] = []
    left: list[str] = []
    joined: dict[str, list[str]] = {}
    for room in [main, *_outwards(project, rooms, main)]:
        first, *further = rooms[room]
        toward = _toward(project, rooms, room, main)
        to_owner = bool(project.building.equipment_rooms[room].owner_port)
        ways = [(first, toward, joined.get(toward, []))] if room != main or to_owner else []
        joined[room] = [] if ways else [first]
        ways += [(tag, room, joined[room]) for tag in further]
        for tag, other, candidates in ways:
            if tag == first and project.building.equipment_rooms[room].owner_port:
                end = OWNER if free[tag] else None
            else:
                end = next((one for one in candidates if free[one] and free[tag]), None)
            if end is None:
                left.append(tag)
                continue
            free[tag] -= 1
            if end != OWNER:
                free[end] -= 1
            pairs.append((tag, end, room, other))
            joined[room].append(tag)
    return SwitchJoins(
        first=rooms[main][0],
        joins=_with_ports(project, pairs, entries),
        left=tuple(sorted(left, key=natural)),
    )


def _ordered(closet: EquipmentRoomSwitches, entries: Mapping[str, Device]) -> list[str]:
    """Return our switches of a room, the one with most uplinks first, then in order of tags."""
    tags = [switch.device.tag for switch in closet.switches if not switch.offered]
    return sorted(tags, key=lambda tag: (-_uplinks(entries[tag]), natural(tag)))


def _uplinks(entry: Device) -> int:
    return entry.uplinks if isinstance(entry, Switch) else 0


def _main_room(project: Project, rooms: Mapping[str, Sequence[str]]) -> str:
    """Return the room to which the others are joined: the first that is not itself joined to another."""
    free = [tag for tag in rooms if project.building.equipment_rooms[tag].joined_to not in rooms]
    return free[0] if free else next(iter(rooms))


def _toward(project: Project, rooms: Mapping[str, Sequence[str]], room: str, main: str) -> str:
    """Return the room to whose switches those of a room are joined."""
    written = project.building.equipment_rooms[room].joined_to
    return written if written is not None and written in rooms else main


def _outwards(project: Project, rooms: Mapping[str, Sequence[str]], main: str) -> list[str]:
    """Return the rooms but the main one, each after the one that it is joined to."""
    found: list[str] = []
    waiting = [room for room in rooms if room != main]
    while waiting:
        ready = [room for room in waiting if _toward(project, rooms, room, main) in (main, *found)]
        # Rooms that name each other in a ring are refused when the project is read.
        found += ready or waiting
        waiting = [room for room in waiting if room not in found]
    return found


def _with_ports(
    project: Project, pairs: Sequence[tuple[str, str, str, str]], entries: Mapping[str, Device]
) -> tuple[SwitchJoin, ...]:
    """Return the joins with the names of their ports: as issued, else the lowest free one.

    Where all ports of a switch were given to joins that are gone, one of those is given again.
    """
    issued = issued_of(project.issued, JOIN)
    wanted: dict[str, list[str]] = {}
    for start, end, _, _ in pairs:
        wanted.setdefault(start, []).append(uplink_identity(start, end))
        if end != OWNER:
            wanted.setdefault(end, []).append(uplink_identity(end, start))
    names: dict[str, str] = {}
    for tag, identities in wanted.items():
        ports = [f"{tag}/U{n}" for n in range(1, _uplinks(entries[tag]) + 1)]
        given = assign(identities, {}, issued, ports)
        without = [identity for identity in identities if identity not in given]
        given |= assign(without, {}, {}, [port for port in ports if port not in given.values()])
        names |= {identity: port.rpartition("/")[2] for identity, port in given.items()}
    joins = [
        SwitchJoin(
            start=start,
            start_port=names[uplink_identity(start, end)],
            end=end,
            end_port=project.building.equipment_rooms[start_room].owner_port
            if end == OWNER
            else names[uplink_identity(end, start)],
            start_room=start_room,
            end_room=start_room if end == OWNER else end_room,
        )
        for start, end, start_room, end_room in pairs
    ]
    return tuple(sorted(joins, key=lambda join: natural(join.start)))


def uplink_identity(switch: str, other: str) -> str:
    """Return the identity in the register of the port by which a switch is joined to another.

    switch, other: tags; the other's is empty for the owner's network.
    """
    return f"{JOIN}/{switch}/{other or 'owner'}"
