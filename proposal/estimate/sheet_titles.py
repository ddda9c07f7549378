"""How drawings are titled: of the whole building, of a storey, of a kind of room."""

from collections.abc import Callable

from proposal.design.radio.portable_radio import name_of_place
from proposal.model.project import Project


def called(title: str) -> Callable[[Project, str], str]:
    """Return the title of a drawing of the whole building.

    title: of it.
    """
    return lambda project, subject: title


def of_storey(title: str) -> Callable[[Project, str], str]:
    """Return the title of a drawing of a storey.

    title: before the name of the storey.
    """
    return lambda project, subject: f"{title}, {project.building.storeys[subject].name}"


def of_room(title: str) -> Callable[[Project, str], str]:
    """Return the title of a drawing of a kind of room, which may be a room of its own.

    title: before the name of the room.
    """

    def titled(project: Project, subject: str) -> str:
        own = project.rooms.get(subject)
        return f"{title}, " + (f"{own.name} ({subject})" if own else project.room_types[subject].name)

    return titled


def of_equipment_room(project: Project, subject: str) -> str:
    """Return the title of the plan of an equipment room.

    subject: its tag.
    """
    return f"Plan of {subject}, {project.building.equipment_rooms[subject].name}"


def of_portable_set(project: Project, subject: str) -> str:
    """Return the title of a drawing of a portable set in a place where it is used.

    subject: tag of the set and key of the place.
    """
    tag, _, place = subject.partition(" ")
    return f"{project.rooms[tag].name} ({tag}), {name_of_place(project, place)}"
