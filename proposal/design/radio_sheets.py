"""The drawing sheets about radio: a level map a kind of room, the neighbours of each storey."""

from proposal.design.design import Design
from proposal.design.numbers.numbering import LEVEL_MAP, NEIGHBOURS
from proposal.design.radio.level_map import LevelMap, level_map
from proposal.design.radio.radio_links import Margin, building_surroundings
from proposal.design.sheets import splitting as sheets
from proposal.design.sheets.drawing_list import Sheet, numbered


def level_maps(design: Design) -> dict[str, LevelMap]:
    """Return the level map of the first room of each kind with linked microphones, by key of the kind."""
    by_room: dict[str, list[Margin]] = {}
    for margin in design.radio.margins:
        by_room.setdefault(margin.room, []).append(margin)
    if not by_room:
        return {}
    around = building_surroundings(design.project)
    devices = {room.tag: room.devices for room in design.rooms}
    found = {}
    for kind in design.kinds:
        tag = kind.rooms[0]
        made = level_map(design.project, around, devices[tag], design.entries, by_room.get(tag, []))
        if made is not None:
            found[kind.key] = made
    return found


def radio_sheets(design: Design, mapped: dict[str, LevelMap]) -> tuple[Sheet, ...]:
    """Return the sheets about radio, numbered.

    mapped: the level maps by key of the kind of room.
    """
    rooms = design.project.rooms
    linked = {rooms[margin.room].storey for margin in design.radio.margins}
    storeys = sorted(design.project.building.storeys.items(), key=lambda item: item[1].height)
    wanted = [(LEVEL_MAP, "level map", key, sheets.WHOLE) for key in mapped]
    wanted += [(NEIGHBOURS, "radio neighbours", tag, sheets.WHOLE) for tag, _ in storeys if tag in linked]
    return numbered(design.project, wanted)
