"""What states of a building name and join: rooms, storeys, kinds of day, and the walls open in them."""

from collections.abc import Iterator
from typing import Any

from proposal.model.checks.references import Dangling
from proposal.model.project import Path
from proposal.model.reading.project_tree import Untyped, layouts, mapping_at, text_at
from proposal.quantities.messages import shown

STATES = ("building", "states")
Complaint = tuple[Path, str]


def unknown_in_states(tree: Untyped) -> Iterator[Dangling]:
    """Yield the rooms, kinds of day and states that are named and do not exist in the project.

    tree: the untyped project; what is malformed is passed over, since validation reports it.
    """
    rooms, states = tuple(mapping_at(tree, "rooms")), tuple(mapping_at(tree, *STATES))
    days = tuple(dict.fromkeys(day for above in layouts(tree) for day in mapping_at(tree, *above, "days")))
    for state in states:
        for path, tag in _joined(tree, state):
            if tag not in rooms:
                yield Dangling(path, "the tag of a room", rooms, tag)
        for path, tag in _hearing(tree, state):
            if tag not in rooms:
                yield Dangling(path, "the tag of a room", rooms, tag)
        yield from _unknown_portable(tree, state)
        day = text_at(tree, *STATES, state, "day")
        if day and day not in days:
            yield Dangling((*STATES, state, "day"), "a kind of day of a room type", days, day)
    for layout in layouts(tree):
        for place, name in enumerate(_list(mapping_at(tree, *layout).get("sound_stays_in"))):
            if isinstance(name, str) and name not in states:
                yield Dangling((*layout, "sound_stays_in", place), "a state of building.yaml", states, name)
    for wall in mapping_at(tree, "building", "radio", "walls"):
        above: tuple[str, ...] = ("building", "radio", "walls", wall)
        for place, name in enumerate(_list(mapping_at(tree, *above).get("open_in"))):
            if isinstance(name, str) and name not in states:
                yield Dangling((*above, "open_in", place), "a state of building.yaml", states, name)


def _unknown_portable(tree: Untyped, state: str) -> Iterator[Dangling]:
    """Yield portable sets and places of a state that building.yaml does not list."""
    sets = tuple(mapping_at(tree, "building", "portable_sets"))
    places = tuple(mapping_at(tree, "building", "portable_places"))
    for tag, place in mapping_at(tree, *STATES, state, "portable").items():
        path: Path = (*STATES, state, "portable", tag)
        if tag not in sets:
            yield Dangling(path, "a portable set of building.yaml", sets, tag)
        elif isinstance(place, str) and place not in places:
            yield Dangling(path, "a place of portable_places", places, place)


def unknown_portable_sets(tree: Untyped) -> Iterator[Dangling]:
    """Yield portable sets that are no line of the room schedule, and storeys of places that are not there.

    tree: the untyped project; what is malformed is passed over.
    """
    rooms = tuple(mapping_at(tree, "rooms"))
    storeys = tuple(mapping_at(tree, "building", "storeys"))
    path: Path
    for tag in mapping_at(tree, "building", "portable_sets"):
        if tag not in rooms:
            yield Dangling(("building", "portable_sets", tag), "the tag of a line of rooms.csv", rooms, tag)
    for place in mapping_at(tree, "building", "portable_places"):
        path = ("building", "portable_places", place, "storey")
        storey = text_at(tree, *path)
        if storey and storey not in storeys:
            yield Dangling(path, "a storey of building.yaml", storeys, storey)


def wrong_portable_places(tree: Untyped) -> Iterator[Complaint]:
    """Yield path and message of places without the storey they need, or with one too many, and joined sets.

    tree: the untyped project; what is malformed is passed over.
    """
    rooms, sets = mapping_at(tree, "rooms"), mapping_at(tree, "building", "portable_sets")
    for place in mapping_at(tree, "building", "portable_places"):
        path: Path = ("building", "portable_places", place)
        storey = text_at(tree, "building", "portable_places", place, "storey")
        if place in sets:
            yield path, f"wanted a room or a place outdoors; found the portable set {shown(place)}"
        elif place in rooms and storey:
            yield (*path, "storey"), f"wanted nothing, since {shown(place)} is a room; found {shown(storey)}"
        elif place not in rooms and not storey:
            yield (
                (*path, "storey"),
                f"wanted the storey on whose height the ground lies, since {shown(place)} is the tag of no "
                "room; found nothing",
            )
    for state in mapping_at(tree, *STATES):
        for path, tag in _joined(tree, state):
            if tag in sets:
                yield path, f"wanted a room; found the portable set {shown(tag)}"


def wrong_states(tree: Untyped) -> Iterator[Complaint]:
    """Yield path and message of rooms that a state joins twice, and of those it joins across storeys.

    tree: the untyped project; what is malformed is passed over.
    """
    for state in mapping_at(tree, *STATES):
        for path, tag in _hearing(tree, state):
            if len(path) > 5 and tag == path[4]:
                yield path, f"wanted another room; found {shown(tag)} itself"
            if tag in mapping_at(tree, "building", "portable_sets"):
                yield path, f"wanted a room; found the portable set {shown(tag)}"
        taken: set[str] = set()
        first: dict[int, str] = {}
        for path, tag in _joined(tree, state):
            if tag in taken:
                yield path, f"wanted each room joined once in a state; found {shown(tag)} again"
                continue
            taken.add(tag)
            storey = text_at(tree, "rooms", tag, "storey")
            group = path[-2]
            assert isinstance(group, int)
            other = first.setdefault(group, tag)
            storeys = mapping_at(tree, "building", "storeys")
            if (
                storey in storeys
                and storey != (there := text_at(tree, "rooms", other, "storey"))
                and there in storeys
            ):
                yield (
                    path,
                    f"wanted rooms of one storey; found {shown(tag)} on {shown(storey)} with "
                    f"{shown(other)} on {shown(there)}",
                )


def _joined(tree: Untyped, state: str) -> Iterator[tuple[Path, str]]:
    """Yield every tag in the lists of rooms that a state joins, with its path."""
    for group, tags in enumerate(_list(mapping_at(tree, *STATES, state).get("join"))):
        for place, tag in enumerate(_list(tags)):
            if isinstance(tag, str):
                yield (*STATES, state, "join", group, place), tag


def _hearing(tree: Untyped, state: str) -> Iterator[tuple[Path, str]]:
    """Yield the tag of every room that hears others in a state, and of those it hears, with its path."""
    hearing = mapping_at(tree, *STATES, state, "hear")
    for tag, heard in hearing.items():
        path: Path = (*STATES, state, "hear", tag)
        yield path, tag
        for place, one in enumerate(_list(heard)):
            if isinstance(one, str):
                yield (*path, place), one


def _list(value: Any) -> list[Any]:
    return value if isinstance(value, list) else []
