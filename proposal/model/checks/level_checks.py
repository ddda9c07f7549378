"""What stands on levels of a room, and wired microphones: where, and under which tags."""

from collections.abc import Collection, Iterator, Mapping

from proposal.model.checks.planned_rooms import wrongly_planned
from proposal.model.distance_checks import Complaint
from proposal.model.microphone_positions import MicrophonePosition, WiredPosition
from proposal.model.outlines import Point, is_on
from proposal.model.project import Path
from proposal.model.room_shape import Seat
from proposal.model.rooms import RoomType


def wrong_in_rooms(layouts: Mapping[Path, RoomType], said: Collection[Path]) -> Iterator[tuple[Path, str]]:
    """Yield path and message of what stands beside its level or its room, and of tags given twice.

    layouts: of room types and changed rooms by path.
    said: paths already complained of; where an outline is, nothing is said of what stands in it.
    """
    for path, layout in layouts.items():
        if (*path, "outline") not in said and layout.outline:
            yield from wrongly_planned(layout, path)
            yield from _beside(layout, path)
            yield from _twice(layout, path)


def _beside(layout: RoomType, path: Path) -> Iterator[Complaint]:
    holders: Mapping[str, Mapping[str, Seat | MicrophonePosition | WiredPosition]] = {
        "seats": layout.seats,
        "microphones": layout.microphones,
        "wired_microphones": layout.wired_microphones,
    }
    for holder, places in holders.items():
        for tag, one in places.items():
            level = layout.levels.get(one.level)
            where = (*path, holder, tag, "at")
            if level and not is_on(one.at, level.outline):
                wanted = f"a position on {one.level} ({level.name}), within its outline"
                yield where, f"wanted {wanted}; found {_shown(one.at)}, beside it"
            elif holder == "wired_microphones" and not is_on(one.at, layout.outline):
                yield (
                    where,
                    f"wanted a position inside the room's outline; found {_shown(one.at)}, outside it",
                )


def _twice(layout: RoomType, path: Path) -> Iterator[Complaint]:
    taken = {tag.casefold(): "wireless microphone" for tag in layout.microphones}
    taken |= {tag.casefold(): "loudspeaker" for tag in layout.loudspeakers}
    for tag in layout.wired_microphones:
        if tag.casefold() in taken:
            wanted = f"a tag that no {taken[tag.casefold()]} of the room has, such as W1"
            yield (*path, "wired_microphones", tag), f"wanted {wanted}; found {tag}"


def _shown(point: Point) -> str:
    return f"[{point[0]:g} m, {point[1]:g} m]"
