"""Which defaults a project took, and which values it says are unknown."""

from collections.abc import Iterator, Mapping
from functools import cache
from itertools import chain
from typing import Any

from pydantic import BaseModel

from proposal.errors import Place
from proposal.field_classes import dataclass
from proposal.model.assistive_listening import LAW_OF_TABLE, serves_assistive_listening
from proposal.model.base import ASKED
from proposal.model.project import Assumption, Path, Question


def assumptions_and_questions(
    tops: Mapping[str, Any], unknown: Mapping[Path, Place], places: Mapping[Path, Place]
) -> tuple[tuple[Assumption, ...], tuple[Question, ...]]:
    """Return the defaults taken and the open questions of a validated project, in order of their paths.

    tops: the validated models by the first key of their paths: project, building, room_types, rooms.
    unknown: where the files say `unknown`, by path.  places: where everything else that is written stands.
    """
    assumptions: list[Assumption] = []
    questions: list[Question] = []
    building = tops.get("building")
    racked = building is None or bool(building.equipment_rooms)
    receivers = _has_receivers(tops)
    for path, value, told in _defaults(tops, ()):
        if (not racked and _is_of_racks(path)) or _is_of_something_else(tops, path):
            continue
        if path[:3] == _OF_RECEIVERS and not receivers:
            continue
        if path == _OF_LEADS and not _leads_to_others(tops):
            continue
        if path in unknown:
            questions.append(
                Question.model_construct(
                    path=path,
                    title=told.title if told.source == ASKED else told.wanted,
                    value=value,
                    kind=told.kind,
                    place=unknown[path],
                )
            )
        elif told.source == ASKED:
            # Of what is not written the nearest part that is stands for it, or the first line of its file.
            near = (places[path[:n]] for n in range(len(path), 1, -1) if path[:n] in places)
            first = (place for at, place in places.items() if at[0] == path[0] and place.line)
            holder = next(chain(near, first))
            questions.append(
                Question.model_construct(
                    path=path, title=told.title, value=value, kind=told.kind, place=holder
                )
            )
        elif told.source:
            assumptions.append(
                Assumption.model_construct(
                    path=path,
                    title=_title(tops, path, told.title),
                    value=value,
                    kind=told.kind,
                    source=_source(tops, path, told.source),
                )
            )
    return tuple(assumptions), tuple(questions)


_OF_RECEIVERS = ("project", "rules", "assistive_listening")
"""Defaults on which nothing rests where no room gets receivers for assistive listening of ours."""


def _has_receivers(tops: Mapping[str, Any]) -> bool:
    """Return whether a room offers assistive listening that none of what it sends sound to serves."""
    layouts = (room.layout for room in tops.get("rooms", {}).values())
    return any(one.assistive_listening and not serves_assistive_listening(one) for one in layouts)


_OF_LEADS = ("project", "rules", "cabling", "lead_to_others")
"""Default on which nothing rests where all that takes or sends analogue sound is placed."""


def _leads_to_others(tops: Mapping[str, Any]) -> bool:
    """Return whether a room has analogue sound to or from what building.yaml does not place."""
    placed: dict[str, set[str]] = {}
    for place, items in tops["building"].owner_equipment.items():
        for one in items.values():
            for tag in one.rooms if place in tops["building"].equipment_rooms else (place,):
                placed.setdefault(tag, set()).update(one.serves)
    return any(
        one.signal == "analogue" and code not in placed.get(tag, set()) | placed.get(room.type, set())
        for tag, room in tops["rooms"].items()
        for ends in (room.layout.destinations, room.layout.returns)
        for code, one in ends.items()
    )


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


@dataclass(frozen=True, slots=True)
class _Told:
    """What is told of a field where nobody wrote it.

    wanted: what it is; title, source: of the assumption, empty where it is none, ASKED where it is an open
        question; kind: of its quantity.
    """

    name: str
    wanted: str
    title: str
    source: str
    kind: str


_COORDINATES = ", in the room type's own coordinates"
"""How people write a position, which says nothing to who is asked for it."""


@cache
def _told_of(model: type[BaseModel]) -> tuple[_Told, ...]:
    """Return what is told of each field of a class of models."""
    found = []
    for name, field in model.model_fields.items():
        extra = field.json_schema_extra if isinstance(field.json_schema_extra, dict) else {}
        wanted = (field.description or name).rstrip(".").removesuffix(_COORDINATES)
        found.append(
            _Told(
                name=name,
                wanted=wanted,
                title=str(extra.get("assumption") or wanted),
                source=str(extra.get("assumption_source", "")),
                kind=_kind(field.metadata, field.annotation),
            )
        )
    return tuple(found)


def _is_of_something_else(tops: Mapping[str, Any], path: Path) -> bool:
    """Return whether a default says something that does not hold where it is taken.

    Nothing hangs on a ceiling to which nothing may be fixed; bodypacks alone get what picks up sound; where
    devices for assistive listening stand is of rooms that ask for it; what is of microphones and their radio
    is of rooms that have some.
    """
    if path[-2:] == ("radio", "access_point_height") and "ceiling" in _held(tops, path[:-2]).untouchable:
        return True
    if path[-1] == "accessories" and path[-3:-2] == ("microphones",):
        return bool(_held(tops, path[:-1]).form != "bodypack")
    if path[:2] == ("building", "owner_equipment") and path[-1] == "at":
        # What stands in a rack has no place of its own.
        return path[2] in tops["building"].equipment_rooms
    if path == ("project", "price", "retention_days"):
        return not tops["project"].price.retention
    if path[-2:] in (("switch", "budget"), ("switch", "poe_class")):
        # Ports that feed nothing have no power that anybody could ask for.
        return not _held(tops, path[:-1]).poe_ports
    if path[-2:-1] == ("assistive_devices",):
        return not _held(tops, path[:-2]).assistive_listening
    if path[0] == "rooms" and path[2:] == ("equipment_room",):
        return bool(_held(tops, path[:2]).layout.nothing_planned)
    layout = _listening_only(tops, path)
    if layout is None:
        return False
    if layout.nothing_planned:
        return True
    name = path[_depth(path)]
    if name in _OF_A_TABLE:
        return not _OF_A_TABLE[str(name)] or not (layout.assistive_listening or layout.output == "breakout")
    return name in _OF_MICROPHONES


_OF_MICROPHONES = ("system", "spare_microphones", "spares_paired", "switch", "access_points_at", "radio")
"""Fields of a room on which nothing rests where it has no wireless microphones."""
_OF_A_TABLE = {
    "charging_at": "What stands on a table, such as breakouts and receivers for assistive listening, is at "
    "the middle of the room's longest wall",
    "charging_height": "What stands on a table there is at table height",
    "breakouts_at": "",
}
"""What is assumed of a room without wireless microphones, where others speak of chargers."""


def _depth(path: Path) -> int:
    """Return the place in a path at which the fields of a room's layout begin."""
    return 3 if path[0] == "rooms" else 2


def _listening_only(tops: Mapping[str, Any], path: Path) -> Any:
    """Return the layout of a room without wireless microphones that a path leads into, else nothing."""
    depth = _depth(path)
    inside = path[0] == "room_types" or (path[0] == "rooms" and path[2:3] == ("layout",))
    if not inside or len(path) <= depth:
        return None
    layout = _held(tops, path[:depth])
    return None if layout.microphones or layout.microphone_rows else layout


_OF_NO_CODE = {
    "share": "Receivers for assistive listening follow the seats, with a larger share in small rooms, as "
    "long as no code of the place is named",
}
"""What is assumed of receivers for assistive listening where the published table is no law of the place."""


def _is_of_another_law(tops: Mapping[str, Any], path: Path) -> bool:
    """Return whether a default is taken from a law that does not hold in the region of the project."""
    holds = path[:3] != ("project", "rules", "assistive_listening")
    return not holds and tops["project"].region != LAW_OF_TABLE


def _source(tops: Mapping[str, Any], path: Path, source: str) -> str:
    """Return where a default comes from; a law of another region is no reason in this one."""
    return "editable default" if _is_of_another_law(tops, path) else source


def _title(tops: Mapping[str, Any], path: Path, title: str) -> str:
    """Return what is assumed, in the words of a room without wireless microphones where it is one."""
    if _is_of_another_law(tops, path):
        return _OF_NO_CODE.get(str(path[-1]), title)
    told = _OF_A_TABLE.get(str(path[-1]), "")
    return told if told and _listening_only(tops, path) is not None else title


def _held(tops: Mapping[str, Any], path: Path) -> Any:
    held: Any = tops
    for key in path:
        held = held[key] if isinstance(held, Mapping) else getattr(held, str(key))
    return held


def _defaults(value: Any, path: Path) -> Iterator[tuple[Path, Any, _Told]]:
    """Yield path and value of every field that was not written, and what is told of it."""
    if isinstance(value, BaseModel):
        written = value.model_fields_set
        for told in _told_of(type(value)):
            name = told.name
            inner = getattr(value, name)
            if name in written:
                if name == "layout" and not getattr(value, "changed", True):
                    continue
                if isinstance(inner, _HOLDING):
                    yield from _defaults(inner, (*path, name))
            elif isinstance(inner, BaseModel):
                yield from _defaults(inner, (*path, name))
            else:
                yield (*path, name), inner, told
    elif isinstance(value, Mapping):
        for key, inner in value.items():
            if isinstance(inner, _HOLDING):
                yield from _defaults(inner, (*path, key))


_HOLDING = (BaseModel, dict, Mapping)
"""What may hold fields; nearly all that is written is none of it."""


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
