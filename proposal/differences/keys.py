"""By what a row is known again in another document: its natural key, never a running number."""

from collections.abc import Mapping, Sequence
from functools import cache
from typing import Any

from proposal.document.readers import Shown
from proposal.document.schedule import Row, columns_of, parts_of

Key = tuple[str, ...]
Numbering = Mapping[str, Mapping[str, Key]]


def natural_key(row: Shown) -> Key:
    """Return the fields that name a row, as texts; nothing where its class has no name."""
    if not isinstance(row, Row):
        return ()
    return tuple(_text(getattr(row, name)) for name in row.schedule.key)


@cache
def serials_of(part: type[Shown]) -> frozenset[str]:
    """Return the fields of a class of rows that say where a row stands among others.

    A change of them alone is a renumbering: nothing changed about the thing itself.
    """
    return frozenset(name for name, column in columns_of(part).items() if column.shows.serial)


@cache
def references_of(part: type[Shown]) -> Mapping[str, str]:
    """Return the collection of the document whose rows a field names by their serial numbers, by field."""
    return {name: column.shows.refers for name, column in columns_of(part).items() if column.shows.refers}


def keys_of(collection: Sequence[Shown]) -> tuple[Key, ...]:
    """Return a key for every row of a collection, no two alike.

    Rows that share a natural key are told apart by how many of that key came before.
    """
    seen: dict[Key, int] = {}
    found: list[Key] = []
    for row in collection:
        key = natural_key(row)
        count = seen[key] = seen.get(key, 0) + 1
        found.append(key if key and count == 1 else (*key, f"#{count}"))
    return tuple(found)


def _text(value: Any) -> str:
    if isinstance(value, tuple):
        return " ".join(str(item) for item in value)
    return str(value)


def numbering_of(document: Shown) -> Numbering:
    """Return by collection the key of the row that each serial number stands for."""
    named = {name for part in parts_of(type(document)) for name in references_of(part).values()}
    found: dict[str, Mapping[str, Key]] = {}
    for name in sorted(named):
        collection = getattr(document, name, ())
        found[name] = {row.number: key for row, key in zip(collection, keys_of(collection), strict=True)}
    return found
