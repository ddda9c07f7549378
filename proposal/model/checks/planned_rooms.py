"""Which rooms are planned: each says what it gets, or why it gets nothing, and one of them gets something."""

from collections.abc import Collection, Iterator, Mapping
from typing import Any

from proposal.errors import Place, Problem
from proposal.model.distance_checks import Complaint
from proposal.model.folder import NO_ROOM_TYPE
from proposal.model.project import Path
from proposal.model.reading.project_tree import mapping_at
from proposal.model.rooms import RoomType

_PLANNED = (
    *("microphones", "microphone_rows", "wired_microphones", "loudspeakers", "assistive_listening"),
    *("returns", "destinations"),
)
"""Fields of which a room has one, unless nothing is planned in it."""


def missing_rooms(
    plain: Mapping[str, Any], tops: Mapping[str, Any], broken: Collection[Path]
) -> Iterator[Problem]:
    """Yield what lacks of a building in which something is planned: a room, a room type, a room that gets it.

    plain: the untyped project.  tops: what of it is good, by first key.  broken: what could not be read.
    """
    if not mapping_at(plain, "rooms") and ("rooms",) not in broken:
        yield Problem(Place("rooms.csv"), "", "wanted at least one room; found none")
    if not mapping_at(plain, "room_types"):
        yield Problem(Place("room_types"), "", NO_ROOM_TYPE)
    rooms = tops["rooms"].values()
    if rooms and all(room.layout.nothing_planned for room in rooms):
        wanted = "wanted a room of a type that says nothing of nothing_planned; found none"
        yield Problem(Place("rooms.csv"), "", wanted)


def wrongly_planned(layout: RoomType, path: Path) -> Iterator[Complaint]:
    """Yield what is wrong with a room of which nobody says what it gets, or that it gets nothing.

    path: of the layout.
    """
    planned = [name for name in _PLANNED if getattr(layout, name)]
    if planned and layout.nothing_planned:
        name = planned[0]
        wanted = f"no {name} in a room in which nothing is planned (nothing_planned), or no such reason"
        yield (*path, name), f"wanted {wanted}; found {name}"
    elif not planned and not layout.nothing_planned:
        such = "M1: {form: boundary, pattern: cardioid, at: [2 m, 3 m]}"
        wanted = (
            f"a microphone, such as {such}, or loudspeakers of a room where people listen, or the reason why "
            "the room gets nothing, such as `nothing_planned: people only wait here`"
        )
        yield (*path, "microphones"), f"wanted {wanted}; found none"
