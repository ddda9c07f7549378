"""Checks of a project's labour, price and programme against the data that they name."""

from collections.abc import Iterator, Mapping
from itertools import chain
from typing import Any, Literal

from proposal.model.checks.commercial_checks import Sort, currencies_without_rate, wrong_commercial
from proposal.model.checks.days_to_work import no_day_left
from proposal.model.equipment.entry import Device, Entry
from proposal.model.equipment.library import Library
from proposal.model.equipment.materials import Cable
from proposal.model.labour.labour import Labour
from proposal.model.labour.labour_files import unknown_names
from proposal.model.price.contract_terms import Service
from proposal.model.price.exchange import LIBRARY_PRICED, rate_wanted
from proposal.model.project import Brief
from proposal.model.reading.project_tree import mapping_at
from proposal.model.reading.tree import Path
from proposal.quantities.currencies import is_currency
from proposal.quantities.messages import wanted_one_of

Part = Literal["project", "labour", "library"]


def commercial_problems(
    brief: Brief, tree: Mapping[str, Any], library: Library, labour: Labour
) -> Iterator[tuple[Part, Path, str, bool]]:
    """Yield file part, path below it, message, and whether the key itself is wrong.

    brief: project.yaml, valid by itself.
    tree: the untyped project, for the tags that there are.
    Parts: project.yaml; labour data; the library, whose path is model code and field.
    """
    rooms = mapping_at(tree, "rooms")
    types = {str(tag): str(room.get("type", "")) for tag, room in rooms.items() if isinstance(room, Mapping)}
    tasks = {entry.model: entry.labour_task for entry in library.entries() if entry.labour_task}
    for path, message in unknown_names(brief.labour, labour, types, tasks):
        if path[0] == "library":
            yield "library", path[1:], message, False
        elif path[0] == "tasks":
            yield "labour", path, message, False
        else:
            yield "project", ("labour", *path), message, isinstance(path[-1], str)
    commercial = brief.commercial
    wrong: Iterator[tuple[Path, str]] = wrong_commercial(
        commercial,
        labour,
        types,
        mapping_at(tree, "building", "equipment_rooms"),
        mapping_at(tree, "building", "storeys"),
        {entry.model: _sort(entry) for entry in library.entries()},
        brief.revision.date,
    )
    review = brief.rules.review
    tags = (*types, *mapping_at(tree, "building", "equipment_rooms"))
    wrong = chain(wrong, no_day_left(commercial, (review.day_begins, review.day_ends), tags))
    for path, message in chain(wrong, _services(brief.terms.services, labour)):
        yield "project", path, message, not message.startswith("wanted an amount") and _names(path)
    if is_currency(brief.currency):
        unpriced = currencies_without_rate(commercial, labour, brief.currency, brief.terms.exchange)
        for path, code in unpriced:
            # Rates of trades are found out of the project's own files: what lacks is the exchange rate.
            written = path[0] == "price" or path[:2] == ("labour", "rates")
            # Said in the words of the library, so that one fault is one message.
            told = rate_wanted(code, "" if written else LIBRARY_PRICED)
            yield "project", (path if written else ("terms", "exchange")), told, False


def _services(services: Mapping[str, Service], labour: Labour) -> Iterator[tuple[Path, str]]:
    """Yield path and message of each service whose task is none that is done to the project, or another's."""
    free = [key for key, task in labour.tasks.items() if task.to == "project" and task.hours is not None]
    for name, one in services.items():
        if not one.task:
            continue
        if one.task not in free:
            wanted = "a task of the labour data with hours, done to the project, and of no other service"
            yield ("terms", "services", name, "task"), wanted_one_of(one.task, tuple(free), wanted)
        else:
            free.remove(one.task)


def _sort(entry: Entry) -> Sort:
    """Return what a library entry is, as prices tell things apart."""
    return "device" if isinstance(entry, Device) else "cable" if isinstance(entry, Cable) else "other"


def _names(path: Path) -> bool:
    """Say whether the last key of a path is a name that may be no known one."""
    return path[:2] in (
        ("price", "rules"),
        ("price", "places"),
        ("price", "selling"),
        ("price", "yearly"),
        ("price", "changes"),
    )
