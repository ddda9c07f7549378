"""Kinds of room: rooms that are built alike and so are designed once."""

from collections.abc import Iterator, Mapping, Sequence

from proposal.design.equipment.built_in_switch import BUILT_IN_HEADROOM_USE
from proposal.design.equipment.sizing import Sizing, size_room
from proposal.design.numbers.numbering import device_tag, natural
from proposal.design.rooms.kept_codes import Earlier, coded, earlier_devices
from proposal.field_classes import dataclass
from proposal.model.base import unwritten
from proposal.model.joined_sound import TO_JOINED
from proposal.model.project import FixedRoom, Project
from proposal.model.rooms import RoomType


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomKind:
    """A kind of room, the rooms built so and their system.

    key: the room type's name, or the tag of its first room where that room's own file, decisions by hand or
        the codes of its devices in issued revisions part it from its type; the tag of a portable set.
    type: name of the room type.
    path: where its layout stands in the project.
    rooms: tags of the rooms built so, in order.
    """

    key: str
    type: str
    path: tuple[str, ...]
    rooms: tuple[str, ...]
    layout: RoomType
    sizing: Sizing


def room_kinds(project: Project) -> tuple[RoomKind, ...]:
    """Return the kinds of room: one for each type, and one for each room that departs from its type.

    Rooms of a type that depart from it by the same sizes alone are of one kind.
    """
    grouped: dict[tuple[str, str], list[str]] = {}
    sized: list[str] = []
    for tag in sorted(project.rooms, key=natural):
        own = tag if _departs(project, tag) else ""
        if not own and tag in project.fixed.rooms:
            own = next((one for one in sized if _sized_alike(project, one, tag)), tag)
            sized.append(tag)
        grouped.setdefault((project.rooms[tag].type, own), []).append(tag)
    history = earlier_devices(project.issued)
    kinds: list[RoomKind] = []
    for (name, own), tags in sorted(grouped.items()):
        kinds += _kinds(project, history, name, own, tags)
    return tuple(kinds)


def _departs(project: Project, tag: str) -> bool:
    """Return whether a room is a cart or joined, or its own file or models change its type."""
    stem = device_tag(tag, "")
    models = any(name.startswith(stem) and one.model for name, one in project.fixed.devices.items())
    return (
        project.rooms[tag].changed
        or models
        or tag in project.building.portable_sets
        or TO_JOINED in project.rooms[tag].layout.destinations
    )


def _sized_alike(project: Project, one: str, other: str) -> bool:
    """Return whether two rooms of one type have the same sizes by hand."""
    of_type = project.rooms[one].type == project.rooms[other].type
    return of_type and project.fixed.rooms[one] == project.fixed.rooms[other]


def _kinds(
    project: Project, history: Mapping[str, Earlier], name: str, own: str, tags: list[str]
) -> Iterator[RoomKind]:
    """Yield rooms built alike as one kind, or as several where issued revisions call devices otherwise."""
    layout = project.rooms[tags[0]].layout
    sizing = size_room(project, layout, project.fixed.rooms.get(own) or unwritten(FixedRoom))
    changed = bool(own) and project.rooms[own].changed
    for n, (rooms, system) in enumerate(coded(project, history, tags, layout, sizing, own)):
        yield RoomKind(
            key=rooms[0] if n else own or name,
            type=name,
            path=("rooms", own, "layout") if changed else ("room_types", name),
            rooms=rooms,
            layout=layout,
            sizing=system,
        )


def only_room(project: Project, kind: RoomKind) -> str:
    """Return the one room of a kind that others of its type are parted from; empty where it needs no name.

    kind: of room, whose name would not tell it from the others.
    """
    if kind.key in project.rooms:
        return kind.key
    of_type = sum(room.type == kind.type for room in project.rooms.values())
    return kind.rooms[0] if len(kind.rooms) == 1 < of_type else ""


def devices_uses(kinds: Sequence[RoomKind]) -> tuple[str, ...]:
    """Return the inputs on which it rests how many devices there are, and which are on switches."""
    of_kinds = (
        ".".join((*kind.path, field))
        for kind in kinds
        for field in ("network", "spare_microphones", "spares_paired")
    )
    return (
        BUILT_IN_HEADROOM_USE,
        *of_kinds,
        *(f"rooms.{tag}.equipment_room" for kind in kinds for tag in kind.rooms),
    )
