"""Labour data from its layers: shared files, a company's, a project's own, with the place of every part."""

from collections.abc import Mapping as MappingType
from dataclasses import replace
from functools import lru_cache
from typing import Any

from pydantic import ValidationError

from proposal.errors import Place, Problem
from proposal.field_classes import dataclass
from proposal.model.equipment.entry import Layer
from proposal.model.equipment.library import FIELD_OF_KIND
from proposal.model.equipment.library_files import LibraryFile
from proposal.model.labour.labour import Labour
from proposal.model.labour.labour_choices import LabourChoices
from proposal.model.price.contract_terms import Service
from proposal.model.reading.tree import (
    Mapping,
    Node,
    Path,
    Text,
    merge,
    plain,
)
from proposal.model.reading.validation_messages import dotted, problems_of
from proposal.model.reading.yaml_tree import read_yaml
from proposal.quantities.messages import wanted_one_of

NAMED = ("trades", "tasks", "conditions", "heights", "pull_groups")
SINGLE = ("upper_storeys", "repetition", "travel")


@dataclass(frozen=True, slots=True)
class ResolvedLabour:
    """What the layers make together.

    labour: None where something is wrong with it.
    problems: what is wrong.
    tree: what the files say together, with the place of every part.
    """

    labour: Labour | None
    problems: tuple[Problem, ...]
    tree: Node


@lru_cache(maxsize=4)
def resolved_labour(files: tuple[LibraryFile, ...]) -> ResolvedLabour:
    """Return the labour data that its layers make; the same files are not read again.

    files: lowest layer first. Each is a merge patch (RFC 7396) on those below it: an entry named again need
        hold only what differs, and `null` takes it away. `source:` at the top of a file
        holds for what it brings in.
    """
    problems: list[Problem] = []
    tree: Node = Mapping({}, Place("shared/labour"))
    origin: dict[tuple[str, str], tuple[Layer, str | None]] = {}
    for file in files:
        content = read_yaml(file.data, file.name, problems)
        if content is None:
            continue
        source = content.get("source")
        _note_origins(origin, content, file.layer, source.value if isinstance(source, Text) else None)
        rest = {key: entry for key, entry in content.entries.items() if key != "source"}
        tree = _placed(merge(tree, Mapping(rest, content.place)), rest)
    if problems:
        return ResolvedLabour(None, tuple(problems), tree)
    try:
        return ResolvedLabour(Labour.model_validate(_with_origins(plain(tree), origin)), (), tree)
    except ValidationError as error:
        found = problems_of(error, Labour, tree, {}, dotted)
        return ResolvedLabour(None, (*problems, *found), tree)


def _placed(tree: Node, touched: MappingType[str, tuple[Place, Node]]) -> Node:
    """Return a merged tree in which a whole entry stands where it was touched last.

    What is wrong with an entry as a whole is then said of the file that made it so.
    """
    assert isinstance(tree, Mapping)
    sections = dict(tree.entries)
    for section, (_, patch) in touched.items():
        merged = sections.get(section)
        if merged is None or not isinstance(patch, Mapping) or not isinstance(merged[1], Mapping):
            continue
        entries = dict(merged[1].entries)
        for key, (place, _) in patch.entries.items():
            if key in entries and isinstance(whole := entries[key][1], Mapping):
                entries[key] = (place, replace(whole, place=place))
        sections[section] = (merged[0], replace(merged[1], entries=entries))
    return replace(tree, entries=sections)


def _note_origins(
    origin: dict[tuple[str, str], tuple[Layer, str | None]],
    content: Mapping,
    layer: Layer,
    source: str | None,
) -> None:
    """Note the highest layer that touched each part, and the source of the file that brought it in."""
    for section, (_, entries) in content.entries.items():
        keys = entries.entries if section in NAMED and isinstance(entries, Mapping) else {"": None}
        for key in keys:
            first = origin.get((section, key))
            origin[section, key] = (layer, first[1] if first else source)


def _with_origins(
    untyped: dict[str, Any], origin: MappingType[tuple[str, str], tuple[Layer, str | None]]
) -> dict[str, Any]:
    """Return the untyped data with layer and source in every part; malformed parts stay as they are."""
    filled = dict(untyped)
    for section in NAMED:
        entries = untyped.get(section)
        if isinstance(entries, dict):
            filled[section] = {key: _filled(entry, origin[section, key]) for key, entry in entries.items()}
    for section in SINGLE:
        if section in untyped:
            filled[section] = _filled(untyped[section], origin[section, ""])
    return filled


def _filled(entry: Any, came_from: tuple[Layer, str | None]) -> Any:
    if not isinstance(entry, dict):
        return entry
    layer, source = came_from
    return {**({} if source is None else {"source": source}), **entry, "layer": layer}


def with_rates(labour: Labour, choices: LabourChoices) -> Labour:
    """Return labour data with what an hour costs and sells for in one project."""
    if not choices.rates:
        return labour
    trades = dict(labour.trades)
    for key, rate in choices.rates.items():
        given = {name: money for name, money in (("cost", rate.cost), ("selling", rate.selling)) if money}
        trades[key] = trades[key].model_copy(update={**given, "layer": "project"})
    return labour.model_copy(update={"trades": trades})


def with_services(labour: Labour, services: MappingType[str, Service]) -> Labour:
    """Return labour data in which tasks that a project's terms promise are called, timed and counted so."""
    tasks = dict(labour.tasks)
    for one in services.values():
        if one.task in tasks:
            told = {"name": one.name, "hours": one.hours, "times": one.times, "layer": "project"}
            tasks[one.task] = tasks[one.task].model_copy(update=told)
    return labour.model_copy(update={"tasks": tasks})


def with_own_parts(labour: Labour) -> Labour:
    """Return labour data with parts of their own: what reads them reads nothing of a house's own."""
    return labour.model_copy(
        update={
            "tasks": {key: one.model_copy() for key, one in labour.tasks.items()},
            "trades": {key: one.model_copy() for key, one in labour.trades.items()},
        }
    )


def unknown_names(
    choices: LabourChoices,
    labour: Labour,
    rooms: MappingType[str, str],
    tasks_of_entries: MappingType[str, str],
) -> tuple[tuple[Path, str], ...]:
    """Return path and message of everything that names a condition, room, trade, kind or task there is not.

    choices: what the project says; its paths begin below `labour`.
    rooms: tag → name of its room type.
    tasks_of_entries: model code → `labour_task` of its entry, for entries that name one; their paths begin
        with `library`.
    """
    found: list[tuple[Path, str]] = []
    conditions = tuple(labour.conditions)

    def check(path: Path, name: str, known: tuple[str, ...], wanted: str) -> None:
        if name not in known:
            found.append((path, wanted_one_of(name, known, wanted)))

    for index, name in enumerate(choices.conditions):
        check(("conditions", index), name, conditions, "a condition of the labour data")
    for index, name in enumerate(choices.project_conditions):
        check(("project_conditions", index), name, conditions, "a condition of the labour data")
    places = (*rooms, *dict.fromkeys(rooms.values()))
    for where, names in choices.room_conditions.items():
        check(("room_conditions", where), where, places, "a room or room type")
        for index, name in enumerate(names):
            check(("room_conditions", where, index), name, conditions, "a condition of the labour data")
    for key, work in choices.overtime_work.items():
        for index, room in enumerate(work.rooms):
            check(("overtime_work", key, "rooms", index), room, tuple(rooms), "the tag of a room")
    for key, hours in choices.work_hours.items():
        for index, room in enumerate(hours.rooms):
            check(("work_hours", key, "rooms", index), room, tuple(rooms), "the tag of a room")
    for trade in choices.wages:
        check(("wages", trade), trade, tuple(labour.trades), "a trade of the labour data")
    for trade in choices.crews:
        check(("crews", trade), trade, tuple(labour.trades), "a trade of the labour data")
    for trade in choices.rates:
        check(("rates", trade), trade, tuple(labour.trades), "a trade of the labour data")
    for key, task in labour.tasks.items():
        for index, kind in enumerate(task.kinds):
            check(("tasks", key, "kinds", index), kind, tuple(FIELD_OF_KIND), "a kind of equipment")
    for model, name in tasks_of_entries.items():
        check(("library", model, "labour_task"), name, tuple(labour.tasks), "a task of the labour data")
    return tuple(found)
