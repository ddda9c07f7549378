"""Checks of radio and places across fields: constructions, rooms and what stands in them."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import combinations
from typing import Any

from proposal.model.outlines import box_around, corners_in_building, from_sides_m, is_on
from proposal.model.pathways.building import Building
from proposal.model.project import Path
from proposal.model.radio.radio import RadioLosses
from proposal.model.reading.project_tree import Untyped, layouts, mapping_at, text_at
from proposal.model.rooms import Room, RoomType
from proposal.quantities.messages import wanted_one_of

IN_A_WALL_M = 0.05
"""Nearer to a wall's line than this an access point stands in the wall."""
OVERLAP_M = 0.05
"""Rooms that reach into each other by less than this are drawn so and built side by side."""

MOST_PAIRS_OF_A_USER = 120
"""Slot pairs of one other user of the band: ten carriers of twelve hold no more."""
MOST_PAIRS_OF_USERS = 1200
"""Slot pairs of all other users together, ten times what the band holds in one place."""

Complaint = tuple[Path, str]
_Point = tuple[float, float]


def wrong_radio(tree: Untyped, losses: RadioLosses) -> Iterator[Complaint]:
    """Yield path and message of storeys and constructions that radio's part of a project names wrongly.

    tree: the untyped project; what is malformed is passed over, since validation reports it.
    losses: the table of constructions.
    """
    storeys = tuple(mapping_at(tree, "building", "storeys"))
    above = ("building", "radio")
    for name in ("walls", "other_users"):
        for tag in mapping_at(tree, *above, name):
            found = text_at(tree, *above, name, tag, "storey")
            if found and storeys and found not in storeys:
                yield (
                    (*above, name, tag, "storey"),
                    wanted_one_of(found, storeys, "a storey of building.yaml"),
                )
    places: list[tuple[str, ...]] = [
        (*above, "walls", tag, "construction") for tag in mapping_at(tree, *above, "walls")
    ]
    places += [(*layout, "radio", "walls") for layout in layouts(tree)]
    for path in places:
        found = text_at(tree, *path)
        if found and found not in (*losses.walls, "unknown"):
            yield path, wanted_one_of(found, tuple(losses.walls), "a construction")


def unknown_slabs(tree: Untyped) -> Iterator[Complaint]:
    """Yield path and message of floors under storeys that are not there; the key is wrong.

    tree: the untyped project.
    """
    storeys = tuple(mapping_at(tree, "building", "storeys"))
    for tag in mapping_at(tree, "building", "radio", "slabs"):
        if storeys and tag not in storeys:
            path = ("building", "radio", "slabs", tag)
            yield path, wanted_one_of(tag, storeys, "a storey of building.yaml")


def crowded_band(building: Building | None) -> Iterator[Complaint]:
    """Yield path and message of other users that hold more of the band than there is.

    building: None where it is no good.
    """
    together = 0
    for tag, user in (building.radio.other_users if building else {}).items():
        path = ("building", "radio", "other_users", tag, "links")
        pairs = user.links * user.slot_pairs
        before, together = together, together + pairs
        if pairs > MOST_PAIRS_OF_A_USER:
            most = f"at most {MOST_PAIRS_OF_A_USER} slot pairs in all, which is what ten carriers hold"
            yield path, f"wanted links with {most}; found {user.links} of {user.slot_pairs}"
        elif before <= MOST_PAIRS_OF_USERS < together:
            most = f"at most {MOST_PAIRS_OF_USERS} slot pairs in all, ten times what ten carriers hold"
            yield path, f"wanted other users with {most}; found {together}"


def wrong_places(tops: Mapping[str, Any], said: Collection[Path]) -> Iterator[Complaint]:
    """Yield path and message of microphones outside their room, access points in walls and rooms in rooms.

    tops: what of the project is good, by the first key of its paths.
    said: paths already complained of; where an outline is, nothing is said of what stands in it.
    """
    kinds: Mapping[str, RoomType] = tops["room_types"]
    rooms: Mapping[str, Room] = tops["rooms"]
    sound: dict[str, Room] = {}
    for name, layout in kinds.items():
        if ("room_types", name, "outline") not in said:
            yield from _wrong_in_room(layout, ("room_types", name))
    for tag, room in rooms.items():
        own: Path = ("rooms", tag, "layout") if room.changed else ("room_types", room.type)
        if (*own, "outline") not in said:
            sound[tag] = room
            if room.changed:
                yield from _wrong_in_room(room.layout, own)
    yield from _overlaps(sound)


def _wrong_in_room(layout: RoomType, path: Path) -> Iterator[Complaint]:
    outline = getattr(layout, "outline", ())
    if not outline:
        return
    for tag, microphone in layout.microphones.items():
        if not is_on(microphone.at, outline):
            yield (
                (*path, "microphones", tag, "at"),
                (f"wanted a position inside the room's outline; found {_shown(microphone.at)}, outside it"),
            )
    for tag, at in layout.access_points_at.items():
        if from_sides_m(at, outline) < IN_A_WALL_M:
            yield (
                (*path, "access_points_at", tag),
                (f"wanted a position clear of the walls by {IN_A_WALL_M:g} m; found {_shown(at)}, in a wall"),
            )


def _shown(point: _Point) -> str:
    return f"[{point[0]:g} m, {point[1]:g} m]"


def _overlaps(rooms: Mapping[str, Room]) -> Iterator[Complaint]:
    """Yield every room that lies in a room above it in the schedule, once."""
    by_storey: dict[str, list[tuple[str, list[_Point]]]] = {}
    for tag, room in rooms.items():
        if getattr(room.layout, "outline", ()):
            by_storey.setdefault(room.storey, []).append((tag, corners_in_building(room)))
    told: set[str] = set()
    for members in by_storey.values():
        boxes = {tag: box_around(corners) for tag, corners in members}
        near = (
            (one, other)
            for one, other in combinations(members, 2)
            if boxes[one[0]].apart_m(boxes[other[0]]) < -OVERLAP_M
        )
        for (first, corners), (second, others) in near:
            if second not in told and _reach_m2(corners, others):
                told.add(second)
                yield ("rooms", second, "x"), f"wanted rooms that do not overlap; found it in room {first}"


def _reach_m2(one: Sequence[_Point], other: Sequence[_Point]) -> bool:
    """Say whether two outlines reach into each other by more than rounding."""
    from shapely import Polygon

    # Boxes that overlap are rare, so that the library is imported for few projects.
    inner = Polygon(one).buffer(-OVERLAP_M / 2), Polygon(other).buffer(-OVERLAP_M / 2)
    return bool(inner[0].intersects(inner[1]))
