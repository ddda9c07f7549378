"""What is done at the devices of a portable set in each state of the building."""

from collections.abc import Iterator, Mapping, Sequence

from proposal.design.equipment.placed_devices import Placed
from proposal.model.project import Project

Settings = Mapping[str, tuple[tuple[str, str], ...]]


def portable_settings(project: Project, devices: Sequence[Placed]) -> Settings:
    """Return name and value of what is set at access points and chargers of portable sets, by tag.

    devices: all of the design.
    """
    sets = project.building.portable_sets
    return {
        one.tag: tuple(_in_states(project, one))
        for one in devices
        if one.room in sets and one.kind in ("access_point", "charger")
    }


def _in_states(project: Project, device: Placed) -> Iterator[tuple[str, str]]:
    building = project.building
    goes_along = building.portable_sets[device.room].charger == "with the set"
    for name, state in building.states.items():
        place = state.portable.get(device.room, "")
        if device.kind == "charger":
            there = f"on an outlet at {_called(project, place)}" if place and goes_along else ""
            yield f"In the state {name}", there or "on an outlet where the set is kept"
        else:
            there = f"on, at {_called(project, place)}" if place else ""
            yield f"In the state {name}", there or "off: the set is put away"


def _called(project: Project, place: str) -> str:
    """Return what a place of portable sets is called: a room by tag and name, else its own name."""
    if place in project.rooms:
        return f"{place} {project.rooms[place].name}"
    return project.building.portable_places[place].name or place
