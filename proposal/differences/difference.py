"""The difference between two documents, exact to the last field, and a document with one applied."""

from collections.abc import Iterable, Mapping, Sequence
from enum import Enum
from typing import Any, Final, TypeAlias, TypeVar

from proposal.differences.keys import Key, Numbering, keys_of, numbering_of, references_of, serials_of
from proposal.document.document import Document
from proposal.document.readers import Shown
from proposal.field_classes import dataclass

Path: TypeAlias = tuple[str | Key, ...]
"""Names of fields and keys of mappings as texts, keys of rows as tuples of texts."""


class Absent(Enum):
    """What stands for a value that is not there."""

    ABSENT = "absent"


ABSENT: Final = Absent.ABSENT


@dataclass(frozen=True, slots=True)
class Change:
    """A field whose value changed.

    path: of the field, or of the key of a mapping.
    before, after: its values; ABSENT where a mapping had or has no such key.
    """

    path: Path
    before: Any
    after: Any


@dataclass(frozen=True, slots=True)
class Addition:
    """A row that was not there before.

    path: of the row.
    row: the row.
    index: its place in the collection now, from 0.
    """

    path: Path
    row: Shown
    index: int


@dataclass(frozen=True, slots=True)
class Removal:
    """A row that is there no more.

    path: of the row.
    row: the row.
    index: its place in the collection before, from 0.
    """

    path: Path
    row: Shown
    index: int


@dataclass(frozen=True, slots=True)
class OrderChange:
    """Rows that are in both documents and stand in another order.

    path: of the collection.
    before, after: keys of the rows that are in both.
    """

    path: Path
    before: tuple[Key, ...]
    after: tuple[Key, ...]


@dataclass(frozen=True, slots=True)
class Difference:
    """All that differs between two documents, in the order of the document.

    additions, removals: rows that are in one of them only.
    changes: fields whose value differs.
    reordered: collections in another order.
    renumbered: fields that hold running numbers and lines of files; no thing changed with them.
    """

    additions: tuple[Addition, ...] = ()
    removals: tuple[Removal, ...] = ()
    changes: tuple[Change, ...] = ()
    reordered: tuple[OrderChange, ...] = ()
    renumbered: tuple[Change, ...] = ()

    def __bool__(self) -> bool:
        """Say whether anything differs."""
        return bool(self.additions or self.removals or self.changes or self.reordered or self.renumbered)


class _Found:
    """What was found so far."""

    def __init__(self, before: Numbering, after: Numbering) -> None:
        self.before_numbers, self.after_numbers = before, after
        self.additions: list[Addition] = []
        self.removals: list[Removal] = []
        self.changes: list[Change] = []
        self.reordered: list[OrderChange] = []
        self.renumbered: list[Change] = []


def differences(before: Document, after: Document) -> Difference:
    """Return what differs between two documents.

    before, after: documents restricted to one and the same reader, where the difference is for a reader.
    """
    found = _Found(numbering_of(before), numbering_of(after))
    _parts(before, after, (), found)
    return Difference(
        additions=tuple(found.additions),
        removals=tuple(found.removals),
        changes=tuple(found.changes),
        reordered=tuple(found.reordered),
        renumbered=tuple(found.renumbered),
    )


def _parts(before: Shown, after: Shown, path: Path, found: _Found) -> None:
    kind = type(before)
    serials = serials_of(kind)
    old_values, new_values = before.__dict__, after.__dict__
    for name in kind.model_fields:
        old, new = old_values[name], new_values[name]
        if old is new or (old == new and _kinds(old) == _kinds(new)):
            continue
        here = (*path, name)
        if name in serials or _refer_alike(kind, name, old, new, found):
            found.renumbered.append(Change(here, old, new))
        else:
            _values(old, new, here, found)


def _kinds(value: Any) -> Any:
    """Return what tells True from 1 and 1 from 1.0, which are equal and written differently."""
    return type(value) if isinstance(value, bool | int | float | str) else None


def _refer_alike(kind: type[Shown], name: str, old: Any, new: Any, found: _Found) -> bool:
    """Say whether two lists of numbers stand for the same rows."""
    collection = references_of(kind).get(name)
    if collection is None:
        return False
    then, now = found.before_numbers[collection], found.after_numbers[collection]
    return sorted(then.get(one, (one,)) for one in old) == sorted(now.get(one, (one,)) for one in new)


def _values(old: Any, new: Any, path: Path, found: _Found) -> None:
    if isinstance(old, Shown) and type(old) is type(new):
        _parts(old, new, path, found)
    elif isinstance(old, Mapping) and isinstance(new, Mapping):
        for key in (*old, *(key for key in new if key not in old)):
            then, now = old.get(key, ABSENT), new.get(key, ABSENT)
            if then != now:
                found.changes.append(Change((*path, key), then, now))
    elif _is_collection(old) and _is_collection(new) and (old or new):
        _collections(old, new, path, found)
    else:
        found.changes.append(Change(path, old, new))


def _is_collection(value: Any) -> bool:
    return isinstance(value, tuple) and all(isinstance(item, Shown) for item in value)


def _collections(old: Sequence[Shown], new: Sequence[Shown], path: Path, found: _Found) -> None:
    old_keys, new_keys = keys_of(old), keys_of(new)
    then, now = dict(zip(old_keys, old, strict=True)), dict(zip(new_keys, new, strict=True))
    # A row of another class is another thing, whatever its name.
    both = {key for key in then.keys() & now.keys() if type(then[key]) is type(now[key])}
    found.removals += [
        Removal((*path, key), then[key], index) for index, key in enumerate(old_keys) if key not in both
    ]
    found.additions += [
        Addition((*path, key), now[key], index) for index, key in enumerate(new_keys) if key not in both
    ]
    old_order = tuple(key for key in old_keys if key in both)
    new_order = tuple(key for key in new_keys if key in both)
    if old_order != new_order:
        found.reordered.append(OrderChange(path, old_order, new_order))
    for key in new_order:
        if then[key] != now[key]:
            _parts(then[key], now[key], (*path, key), found)


S = TypeVar("S", bound=Shown)
_Step: TypeAlias = Change | Addition | Removal | OrderChange


def applied(before: Document, difference: Difference) -> Document:
    """Return the document that `before` becomes with a difference applied.

    `applied(before, differences(before, after)) == after`, whatever the two are.
    """
    steps: tuple[_Step, ...] = (
        *difference.removals,
        *difference.changes,
        *difference.renumbered,
        *difference.reordered,
        *difference.additions,
    )
    return _changed(before, [(step.path, step) for step in steps])


def _by_first(steps: Iterable[tuple[Path, _Step]]) -> dict[str | Key, list[tuple[Path, _Step]]]:
    grouped: dict[str | Key, list[tuple[Path, _Step]]] = {}
    for path, step in steps:
        grouped.setdefault(path[0], []).append((path[1:], step))
    return grouped


def _changed(part: S, steps: Iterable[tuple[Path, _Step]]) -> S:
    values = {
        str(name): _changed_value(getattr(part, str(name)), inner) for name, inner in _by_first(steps).items()
    }
    return part.model_copy(update=values)


def _changed_value(value: Any, steps: list[tuple[Path, _Step]]) -> Any:
    for path, step in steps:
        if not path and isinstance(step, Change):
            return step.after
    if isinstance(value, Shown):
        return _changed(value, steps)
    if isinstance(value, Mapping):
        return _changed_mapping(value, steps)
    return _changed_rows(value, steps)


def _changed_mapping(value: Mapping[Any, Any], steps: list[tuple[Path, _Step]]) -> dict[Any, Any]:
    changed = dict(value)
    for path, step in steps:
        assert isinstance(step, Change)
        if step.after is ABSENT:
            changed.pop(path[0], None)
        else:
            changed[path[0]] = step.after
    return changed


def _changed_rows(value: Sequence[Shown], steps: list[tuple[Path, _Step]]) -> tuple[Shown, ...]:
    rows = dict(zip(keys_of(value), value, strict=True))
    order: tuple[Key, ...] | None = None
    additions: list[Addition] = []
    inner: list[tuple[Path, _Step]] = []
    for path, step in steps:
        if not path and isinstance(step, OrderChange):
            order = step.after
        elif len(path) == 1 and isinstance(step, Removal):
            del rows[_key(path[0])]
        elif len(path) == 1 and isinstance(step, Addition):
            additions.append(step)
        else:
            inner.append((path, step))
    for key, changes in _by_first(inner).items():
        rows[_key(key)] = _changed(rows[_key(key)], changes)
    result = [rows[key] for key in (order if order is not None else rows)]
    for addition in sorted(additions, key=lambda one: one.index):
        result.insert(addition.index, addition.row)
    return tuple(result)


def _key(step: str | Key) -> Key:
    assert isinstance(step, tuple)
    return step
