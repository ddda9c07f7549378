"""Which defaults a project took, and which values it says are unknown."""

from collections.abc import Iterator, Mapping
from typing import Any

from pydantic import BaseModel

from proposal.errors import Place
from proposal.model.project import Assumption, Path, Question


def assumptions_and_questions(
    tops: Mapping[str, Any], unknown: Mapping[Path, Place]
) -> tuple[tuple[Assumption, ...], tuple[Question, ...]]:
    """Return the defaults taken and the open questions of a validated project, in order of their paths.

    tops: the validated models by the first key of their paths: project, building, room_types, rooms.
    unknown: where the files say `unknown`, by path.
    """
    assumptions: list[Assumption] = []
    questions: list[Question] = []
    building = tops.get("building")
    racked = building is None or bool(building.equipment_rooms)
    for path, value, wanted, title, source, kind in _defaults(tops, ()):
        if not racked and _is_of_racks(path):
            continue
        if path in unknown:
            questions.append(
                Question.model_construct(path=path, title=wanted, value=value, kind=kind, place=unknown[path])
            )
        elif source:
            assumptions.append(
                Assumption.model_construct(path=path, title=title, value=value, kind=kind, source=source)
            )
    return tuple(assumptions), tuple(questions)


_OF_RACKS = (
    ("project", "rules", "racks"),
    ("project", "rules", "cabling", "rack_slack"),
    ("project", "rules", "cabling", "rack_height"),
    ("project", "rules", "cabling", "equipment_cord"),
    ("project", "rules", "cabling", "panel_ports"),
    ("building", "shafts"),
)
"""Defaults on which nothing rests where a building has no equipment room."""


def _is_of_racks(path: Path) -> bool:
    """Return whether a default is about racks and about cables that lead to them."""
    of_room = path[0] == "rooms" and path[-1] == "equipment_room"
    return of_room or any(path[: len(one)] == one for one in _OF_RACKS)


def _defaults(value: Any, path: Path) -> Iterator[tuple[Path, Any, str, str, str, str]]:
    """Yield path, value, what is wanted, title, source and kind of every field that was not written."""
    if isinstance(value, Mapping):
        for key in value:
            yield from _defaults(value[key], (*path, key))
    elif isinstance(value, BaseModel):
        for name, field in type(value).model_fields.items():
            inner = getattr(value, name)
            here: Path = (*path, name)
            extra = field.json_schema_extra if isinstance(field.json_schema_extra, dict) else {}
            if name in value.model_fields_set:
                if name == "layout" and not getattr(value, "changed", True):
                    continue
                yield from _defaults(inner, here)
            elif isinstance(inner, BaseModel):
                yield from _defaults(inner, here)
            else:
                wanted = (field.description or name).rstrip(".")
                title = str(extra.get("assumption") or wanted)
                source = str(extra.get("assumption_source", ""))
                yield here, inner, wanted, title, source, _kind(field.metadata, field.annotation)


def _kind(metadata: list[Any], annotation: Any) -> str:
    """Return the kind of quantity a field holds, empty where it is none."""
    candidates = [*metadata, *getattr(annotation, "__metadata__", ())]
    for argument in getattr(annotation, "__args__", ()):
        candidates += getattr(argument, "__metadata__", ())
    for candidate in candidates:
        kind = getattr(candidate, "kind", None)
        if isinstance(kind, str):
            return kind
    return ""
