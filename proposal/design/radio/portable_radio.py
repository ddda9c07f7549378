"""Where portable sets are in a state of the building, for radio: in a place, or off the air."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from proposal.design.equipment.placed_devices import Placed, in_building, to_own
from proposal.design.numbers.numbering import natural
from proposal.model.project import Project
from proposal.model.rooms import Room


def places_in(project: Project, state: str) -> Mapping[str, str]:
    """Return the place of each portable set that is in use in a state, by its tag, in order of tags.

    state: its name; nothing is in use where it is empty.
    """
    found = project.building.states.get(state)
    return dict(sorted(found.portable.items())) if found else {}


def used_in(project: Project) -> tuple[tuple[str, str], ...]:
    """Return each portable set with each place where a state uses it, once, in order of tags and places."""
    states = project.building.states.values()
    pairs = {(tag, place) for state in states for tag, place in state.portable.items()}
    return tuple(sorted(pairs, key=lambda one: (natural(one[0]), natural(one[1]))))


def rooms_with_radio(project: Project) -> frozenset[str]:
    """Return the tags of rooms with wireless microphones, or in which a portable set is used."""
    here = {place for _, place in used_in(project) if place in project.rooms}
    return frozenset(here | {tag for tag, room in project.rooms.items() if room.layout.microphones})


def is_outdoors(project: Project, place: str) -> bool:
    """Return whether a place of portable_places is outdoors: no room has its name.

    place: its key.
    """
    return place not in project.rooms


def storey_of(project: Project, place: str) -> str:
    """Return the storey on which a place lies, by its key."""
    if place in project.rooms:
        return project.rooms[place].storey
    return project.building.portable_places[place].storey or ""


def in_state(project: Project, devices: Sequence[Placed], state: str) -> tuple[Project, tuple[Placed, ...]]:
    """Return a project whose portable sets stand where they do in a state, and the devices there are then.

    devices: every device, portable sets where they are kept.  state: its name.
    Sets that are put away are not among the devices: their radio is off.
    """
    if not project.building.portable_sets:
        return project, tuple(devices)
    moved = {tag: _moved(project, tag, place) for tag, place in places_in(project, state).items()}
    there = project.model_copy(update={"rooms": {**project.rooms, **moved}})
    found = []
    for device in devices:
        if device.room not in project.building.portable_sets:
            found.append(device)
        elif device.room in moved:
            room = moved[device.room]
            at = in_building(room, to_own(project.rooms[device.room], device.at))
            found.append(replace(device, at=at, storey=room.storey))
    return there, tuple(found)


def _moved(project: Project, tag: str, place: str) -> Room:
    """Return the line of a portable set with the position it has in a place."""
    there = project.building.portable_places[place]
    return project.rooms[tag].model_copy(
        update={
            "storey": storey_of(project, place),
            "x": there.at[0],
            "y": there.at[1],
            "rotation": there.rotation,
        }
    )


def name_of_place(project: Project, place: str) -> str:
    """Return what a place is called: its own name, the room's with its tag, or its key.

    place: its key.
    """
    written = project.building.portable_places[place].name
    if place in project.rooms:
        return f"{place} {written or project.rooms[place].name}"
    return written or place
