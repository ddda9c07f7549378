"""Which sheets there are of racks and of switches: each has places for so many of them."""

from collections.abc import Iterator, Sequence

from proposal.design.design import Design
from proposal.design.numbers.numbering import natural
from proposal.design.sheets.splitting import WHOLE, Part
from proposal.model.project import Project

SWITCHES_A_SHEET = 4
"""Switches that a sheet of the network has places for."""
RACKS_A_SHEET = 2
"""Racks that a sheet of elevations has places for."""


def rack_elevations(design: Design) -> Iterator[tuple[str, tuple[Part, ...]]]:
    """Yield the sheets of rack elevations of a building, none where no rack is known."""
    racks = [rack.device.tag for rack in design.racks if rack.entry]
    if racks:
        yield "", _parts(racks, RACKS_A_SHEET)


def equipment_room_plans(project: Project) -> Iterator[tuple[str, tuple[Part, ...]]]:
    """Yield the tag of each equipment room whose walls are given, with its one sheet."""
    rooms = project.building.equipment_rooms
    yield from ((tag, WHOLE) for tag in sorted(rooms, key=natural) if rooms[tag].outline)


def networks(design: Design) -> Iterator[tuple[str, tuple[Part, ...]]]:
    """Yield the sheets of the network of a building, none without switches."""
    tags = sorted((one.device.tag for closet in design.closets for one in closet.switches), key=natural)
    if tags:
        yield "", _parts(tags, SWITCHES_A_SHEET)


def _parts(tags: Sequence[str], most: int) -> tuple[Part, ...]:
    parts = tuple(Part(tuple(tags[n : n + most])) for n in range(0, len(tags), most))
    return WHOLE if len(parts) == 1 else parts
