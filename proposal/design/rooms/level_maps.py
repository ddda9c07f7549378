"""The level map of each kind of room."""

from collections.abc import Mapping, Sequence

from proposal.design.equipment.placed_devices import Placed
from proposal.design.radio.level_map import LevelMap, level_map
from proposal.design.radio.radio_links import building_surroundings
from proposal.design.radio.received_margins import Margin
from proposal.design.rooms.room_kinds import RoomKind
from proposal.model.equipment.entry import Device
from proposal.model.project import Project


def level_maps(
    project: Project,
    kinds: Sequence[RoomKind],
    devices: Mapping[str, Sequence[Placed]],
    entries: Mapping[str, Device],
    margins: Sequence[Margin],
) -> dict[str, LevelMap]:
    """Return the level map of the first room of each kind with linked microphones, by key of the kind.

    devices: by tag of the room.  entries: the library entry of each device.  margins: of all links.
    """
    by_room: dict[str, list[Margin]] = {}
    for margin in margins:
        by_room.setdefault(margin.room, []).append(margin)
    if not by_room:
        return {}
    around = building_surroundings(project)
    found = {}
    for kind in kinds:
        tag = kind.rooms[0]
        made = level_map(project, around, devices[tag], entries, by_room.get(tag, []))
        if made is not None:
            found[kind.key] = made
    return found
