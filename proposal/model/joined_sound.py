"""The sound of joined rooms: the mix of each goes to the mixers of the others over the network."""

from collections.abc import Mapping

from proposal.model.rooms import Destination, Room
from proposal.model.states import State

TO_JOINED = "joined-rooms"
"""Code of the destination of a room's mix that the mixers of joined rooms are."""
_FROM_JOINED = "joined-"


def from_joined(tag: str) -> str:
    """Return the code under which a room takes the mix of a room that is joined to it.

    tag: of the other room.
    """
    return f"{_FROM_JOINED}{tag}"


def joined_by_mixers(rooms: Mapping[str, Room], tags: tuple[str, ...]) -> bool:
    """Return whether the sound of rooms can be joined: each has a mixer.

    rooms: by tag.  tags: of the rooms that are joined.
    """
    return all(rooms[tag].layout.output == "mixer" for tag in tags)


def partners(rooms: Mapping[str, Room], states: Mapping[str, State]) -> dict[str, tuple[str, ...]]:
    """Return the rooms whose sound some state joins to that of each room, by its tag, in order of tags.

    rooms: by tag.  states: by name.
    """
    found: dict[str, set[str]] = {}
    for state in states.values():
        for tags in state.join:
            if joined_by_mixers(rooms, tags):
                for tag in tags:
                    found.setdefault(tag, set()).update(one for one in tags if one != tag)
    return {tag: tuple(sorted(others)) for tag, others in sorted(found.items())}


def with_joined_sound(rooms: Mapping[str, Room], states: Mapping[str, State]) -> Mapping[str, Room]:
    """Return the rooms, those whose sound is joined with a destination and returns for it.

    rooms: by tag.  states: by name.
    They are counted in every state, so that a mixer is sized for the one that asks most of it.
    """
    joined = {}
    for tag, others in partners(rooms, states).items():
        layout = rooms[tag].layout
        to = Destination(name="mixers of joined rooms", signal="networked audio", channels=1)
        returns = {
            from_joined(one): Destination(name=f"mixer of {one}", signal="networked audio", channels=1)
            for one in others
        }
        layout = layout.model_copy(
            update={
                "destinations": {**layout.destinations, TO_JOINED: to},
                "returns": {**layout.returns, **returns},
            }
        )
        joined[tag] = rooms[tag].model_copy(update={"layout": layout})
    return {**rooms, **joined} if joined else rooms
