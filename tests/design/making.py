"""Projects for tests: the shipped ones, and copies of them with a value changed."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel

from proposal.design.design import Design
from proposal.design.whole_design import design
from proposal.model.loading import load_project
from proposal.model.project import Project

ROOT = Path(__file__).resolve().parent.parent.parent
EXAMPLE = ROOT / "example_project"
PROJECTS = ROOT / "tests" / "projects"
Thing = TypeVar("Thing")


@cache
def project_of(folder: Path) -> Project:
    """Return a project folder, read once."""
    return load_project(folder)


def minimal() -> Project:
    """Return a building of one meeting room with two boundary microphones and a spare one."""
    return project_of(PROJECTS / "minimal")


def designed(project: Project) -> Design:
    """Return what follows from a project."""
    return design(project)


def changed(thing: Thing, path: str | tuple[str, ...], value: Any) -> Thing:
    """Return a copy of a model or mapping with the value at a dotted path replaced.

    A value of None at a key of a mapping takes the key away.
    """
    first, *rest = path.split(".") if isinstance(path, str) else path
    if isinstance(thing, BaseModel):
        inner = changed(getattr(thing, first), tuple(rest), value) if rest else value
        return thing.model_copy(update={first: inner})
    assert isinstance(thing, Mapping)
    inner = changed(thing[first], tuple(rest), value) if rest else value
    kept = {key: other for key, other in thing.items() if key != first or inner is not None}
    return kept | ({} if inner is None else {first: inner})  # type: ignore[return-value]


def without_standby(project: Project) -> Project:
    """Return a project in which nothing stays up when the mains fails."""
    rooms = {
        tag: room.model_copy(update={"standby": None})
        for tag, room in project.building.equipment_rooms.items()
    }
    return changed(project, "building.equipment_rooms", rooms)


def with_layout(project: Project, type_name: str, **values: Any) -> Project:
    """Return a project with fields of one room type replaced, in its rooms as well."""
    layout = project.room_types[type_name].model_copy(update=values)
    rooms = {
        tag: room.model_copy(update={"layout": layout})
        if room.type == type_name and not room.changed
        else room
        for tag, room in project.rooms.items()
    }
    return project.model_copy(
        update={"room_types": {**project.room_types, type_name: layout}, "rooms": rooms}
    )


def with_microphones(project: Project, type_name: str, forms: Mapping[str, int], **values: Any) -> Project:
    """Return a project in which one room type has so many microphones of each form, along a line."""
    like = next(iter(project.room_types[type_name].microphones.values()))
    wanted = [form for form, count in forms.items() for _ in range(count)]
    microphones = {
        f"M{n}": like.model_copy(update={"form": form, "at": (0.2 * n, 1.0), "seat": ""})
        for n, form in enumerate(wanted, 1)
    }
    return with_layout(project, type_name, microphones=microphones, **values)
