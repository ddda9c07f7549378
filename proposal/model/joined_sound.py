"""The sound of one room in others: mixes go to the mixers of joined rooms, and of rooms that hear them."""

from collections.abc import Iterator, Mapping

from proposal.model.pathways.building import Building
from proposal.model.rooms import Destination, Room, RoomType, SoundEnd
from proposal.model.states import State

TO_JOINED = "joined-rooms"
"""Code of the destination of a room's mix that the mixers of other rooms are."""
_FROM_JOINED = "joined-"


def from_joined(tag: str) -> str:
    """Return the code under which a room takes the mix of another room.

    tag: of the other room.
    """
    return f"{_FROM_JOINED}{tag}"


def joined_by_mixers(rooms: Mapping[str, Room], tags: tuple[str, ...]) -> bool:
    """Return whether the sound of rooms can be joined: each has a mixer.

    rooms: by tag.  tags: of the rooms that are joined.
    """
    return all(rooms[tag].layout.output == "mixer" for tag in tags)


def stands_alone(layout: RoomType, building: Building) -> bool:
    """Return whether a room's network is joined to no other, so that no stream leaves it or comes to it."""
    joined_nowhere = layout.network == "automatic" and not building.equipment_rooms
    return joined_nowhere or layout.network in ("alone", "isolated")


def has_sound(layout: RoomType) -> bool:
    """Return whether a room has sound of its own: microphones, or return audio from no other room."""
    own = [code for code in layout.returns if not code.startswith(_FROM_JOINED)]
    return bool(layout.microphones or layout.wired_microphones or own)


def ways_in(rooms: Mapping[str, Room], building: Building, state: State) -> Iterator[tuple[str, str]]:
    """Yield the tags of each room whose mix goes to another in a state, and of the other.

    rooms: by tag.  state: one of the building's.
    Joined rooms hear each other; a room that hears another is not heard there. A mix goes by the network, so
    there is no way to a room whose network stands alone, and none from it.
    """
    found = [
        (one, other) for tags in state.join if joined_by_mixers(rooms, tags) for one in tags for other in tags
    ]
    found += [(one, other) for other, heard in state.hear.items() for one in heard]
    for one, other in dict.fromkeys(found):
        if one == other or not has_sound(rooms[one].layout) or not joined_by_mixers(rooms, (one, other)):
            continue
        if not any(stands_alone(rooms[tag].layout, building) for tag in (one, other)):
            yield one, other


def heard_from(rooms: Mapping[str, Room], building: Building) -> dict[str, tuple[str, ...]]:
    """Return the rooms whose mix comes to each room in some state, by its tag, in order of tags.

    rooms: by tag.  building: with its states.
    """
    found: dict[str, set[str]] = {}
    for state in building.states.values():
        for one, other in ways_in(rooms, building, state):
            found.setdefault(other, set()).add(one)
    return {tag: tuple(sorted(others)) for tag, others in sorted(found.items())}


def heard_in(rooms: Mapping[str, Room], building: Building) -> dict[str, tuple[str, ...]]:
    """Return the rooms to which the mix of each room goes in some state, by its tag, in order of tags.

    rooms: by tag.  building: with its states.
    """
    found: dict[str, list[str]] = {}
    for other, ones in heard_from(rooms, building).items():
        for one in ones:
            found.setdefault(one, []).append(other)
    return {tag: tuple(others) for tag, others in sorted(found.items())}


def with_joined_sound(rooms: Mapping[str, Room], building: Building) -> Mapping[str, Room]:
    """Return the rooms, those whose sound goes to others or comes from them with a destination and returns.

    rooms: by tag.  building: with its states.
    They are counted in every state, so that a mixer is sized for the one that asks most of it.
    """
    coming, going = heard_from(rooms, building), heard_in(rooms, building)
    changed = {}
    for tag in sorted({*coming, *going}):
        layout = rooms[tag].layout
        destinations, returns = dict(layout.destinations), dict(layout.returns)
        if tag in going:
            name = _listeners(building.states, tag, going[tag])
            destinations[TO_JOINED] = Destination(name=name, signal="networked audio", channels=1)
        for one in coming.get(tag, ()):
            returns[from_joined(one)] = SoundEnd(name=f"mixer of {one}", signal="networked audio", channels=1)
        layout = layout.model_copy(update={"destinations": destinations, "returns": returns})
        changed[tag] = rooms[tag].model_copy(update={"layout": layout})
    return {**rooms, **changed} if changed else rooms


def _listeners(states: Mapping[str, State], tag: str, others: tuple[str, ...]) -> str:
    """Return what the mixers are to which the mix of a room goes."""
    joined = {
        one
        for state in states.values()
        for group in state.join
        if tag in group
        for one in group
        if one != tag
    }
    if joined.issuperset(others):
        return "mixers of joined rooms"
    return f"mixer of {others[0]}" if len(others) == 1 else "mixers of other rooms"
