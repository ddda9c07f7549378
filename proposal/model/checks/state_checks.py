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
    """Yield rooms, kinds of day and states that nothing of the project is called.

    tree: the untyped project; what is malformed is passed over, since validation reports it.
    """
    rooms, states = tuple(mapping_at(tree, "rooms")), tuple(mapping_at(tree, *STATES))
    days = tuple(dict.fromkeys(day for above in layouts(tree) for day in mapping_at(tree, *above, "days")))
    for state in states:
        for path, tag in _joined(tree, state):
            if tag not in rooms:
                yield Dangling(path, "the tag of a room", rooms, tag)
        day = text_at(tree, *STATES, state, "day")
        if day and day not in days:
            yield Dangling((*STATES, state, "day"), "a kind of day of a room type", days, day)
    for wall in mapping_at(tree, "building", "radio", "walls"):
        above: tuple[str, ...] = ("building", "radio", "walls", wall)
        for place, name in enumerate(_list(mapping_at(tree, *above).get("open_in"))):
            if isinstance(name, str) and name not in states:
                yield Dangling((*above, "open_in", place), "a state of building.yaml", states, name)


def wrong_states(tree: Untyped) -> Iterator[Complaint]:
    """Yield path and message of rooms that a state joins twice, and of those it joins across storeys.

    tree: the untyped project; what is malformed is passed over.
    """
    for state in mapping_at(tree, *STATES):
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
            if storey and storey != (there := text_at(tree, "rooms", other, "storey")) and there:
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


def _list(value: Any) -> list[Any]:
    return value if isinstance(value, list) else []
