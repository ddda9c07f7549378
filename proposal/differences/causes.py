"""Which changes of the inputs a change of the document may come from.

The program does not trace every figure back through the design. It says `follows from` only where a single
change of the inputs can be meant; else it names those that come into question.
"""

from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any

from proposal.differences.difference import Path
from proposal.differences.inputs import InputRow, Inputs
from proposal.differences.keys import keys_of
from proposal.document.document import Document
from proposal.document.readers import Shown
from proposal.field_classes import dataclass

# Keys of project.yaml that only the cover and the terms show.
_COVER_KEYS = frozenset(
    {"name", "number", "client", "integrator", "site", "goals", "revision", "history", "branding"}
)
_NAMES = (
    "room",
    "rooms",
    "sheet",
    "storey",
    "from_storey",
    "to_storey",
    "equipment_room",
    "where",
    "subject",
    "device",
    "cable",
    "pathways",
    "from_tag",
    "to_tag",
    "from_node",
    "to_node",
    "key",
)


@dataclass(frozen=True, slots=True)
class Cause:
    """Where a change comes from.

    inputs: the changes of the inputs that come into question.
    certain: whether it follows from the one.
    """

    inputs: tuple[InputRow, ...]
    certain: bool


class Causes:
    """The changes of the inputs, and what each is about."""

    def __init__(self, inputs: Inputs, before: Document, after: Document) -> None:
        """Take the changes of the inputs between two documents of one reader."""
        self._inputs = inputs.all
        # What is alike begins alike, which is soon looked up.
        self._by_beginning: dict[tuple[str, ...], list[int]] = {}
        for n, one in enumerate(self._inputs):
            self._by_beginning.setdefault(one.path[:2], []).append(n)
        self._by_name: dict[str, list[int]] = {}
        for n, one in enumerate(self._inputs):
            if name := _about(one):
                self._by_name.setdefault(name, []).append(n)
        self._wide = tuple(one for one in self._inputs if _is_wide(one))
        self._beyond_the_cover = tuple(one for one in self._inputs if not _is_of_cover(one))
        self._elsewhere = bool(inputs.elsewhere)
        self._documents = (after, before)
        self._types = _types(before) | _types(after)
        self._rooms = frozenset(room.tag for one in (before, after) for room in one.rooms)
        self._rows: dict[str, Mapping[Any, Shown]] = {}

    def of(self, path: Path) -> Cause | None:
        """Return where a change comes from, None where nothing is known of the inputs.

        path: of the row or field that changed, in the document.
        """
        if not self._inputs:
            return None
        written = _as_inputs(path)
        begin_so = [(n, mine) for mine in written for n in self._by_beginning.get(mine[:2], ())]
        exact = [self._inputs[n] for n, mine in sorted(begin_so) if _alike(mine, self._inputs[n].path)]
        if exact:
            return Cause(tuple(exact), certain=len(exact) == 1)
        near = sorted({n for name in self._names(path) for n in self._by_name.get(name, ())})
        found = (*(self._inputs[n] for n in near), *self._wide) if near else self._beyond_the_cover
        if not found:
            return None
        return Cause(found, certain=len(found) == 1 and not self._elsewhere)

    def _names(self, path: Path) -> frozenset[str]:
        """Return the names of rooms, kinds of room, devices, cables and pathways a change is about."""
        words: set[str] = set()
        for step in path:
            if isinstance(step, tuple):
                words.update(step)
        row = self._row(path)
        if row is not None:
            words.update(_words(row))
        parts = {part for word in words for part in word.replace("/", " ").replace(",", " ").split()}
        names = words | parts
        names |= self._rooms & {name[:end] for name in names for end, sign in enumerate(name) if sign == "-"}
        names |= {kind for name in names for kind in self._types.get(name, ())}
        return frozenset(names)

    def _row(self, path: Path) -> Shown | None:
        """Return the row of the document that a path leads to or through."""
        if len(path) < 2 or not isinstance(path[1], tuple):
            return None
        collection = str(path[0])
        if collection not in self._rows:
            found: dict[Any, Shown] = {}
            for document in reversed(self._documents):
                rows = getattr(document, collection)
                found.update(zip(keys_of(rows), rows, strict=True))
            self._rows[collection] = found
        return self._rows[collection].get(path[1])


def _types(document: Document) -> dict[str, tuple[str, ...]]:
    """Return the names of its room type and its sheet by the tag of a room and by the key of a sheet.

    A sheet has the name of its type, or where rooms differ from their type the tag of the first of them.
    """
    tags = {room.tag for room in document.rooms}
    by_title = {sheet.title: sheet.key for sheet in document.room_sheets if sheet.key not in tags}
    found: dict[str, tuple[str, ...]] = {}
    for sheet in document.room_sheets:
        names = (by_title.get(sheet.title, sheet.key), sheet.key)
        found |= dict.fromkeys((sheet.key, *sheet.rooms), names)
    return found


@cache
def _names_in(kind: type[Shown]) -> tuple[str, ...]:
    """Return the attributes by which rows of a class name what they are about."""
    return tuple(name for name in _NAMES if name in kind.model_fields or hasattr(kind, name))


def _words(row: Shown) -> Iterator[str]:
    for name in _names_in(row.__class__):
        value = getattr(row, name)
        if isinstance(value, str):
            yield value
        elif isinstance(value, tuple):
            yield from (item for item in value if isinstance(item, str))


def _about(change: InputRow) -> str:
    """Return the name of what a change of the inputs is about; empty where it is about no single thing."""
    kind, *rest = change.path
    if kind in ("room_types", "rooms", "requirements"):
        return rest[0] if rest else ""
    return rest[1] if kind in ("fixed", "building") and len(rest) > 1 else ""


def _is_of_cover(change: InputRow) -> bool:
    path = change.path
    return path[0] in ("wording", "images") or (
        path[0] == "project" and len(path) > 1 and path[1] in _COVER_KEYS
    )


def _is_wide(change: InputRow) -> bool:
    """Say whether a change of the inputs may change anything anywhere."""
    path = change.path
    if path[0] == "project":
        return not _is_of_cover(change)
    return path[0] not in ("rooms", "room_types", "fixed", "building", "requirements", "wording", "images")


def _as_inputs(path: Path) -> tuple[tuple[str, ...], ...]:
    """Return the paths that a value of the document may have in the inputs."""
    rest = tuple(part for step in path[1:] for part in (step if isinstance(step, tuple) else (step,)))
    if path[0] == "room_sheets":
        return ("room_types", *rest), ("rooms", *rest[:1], "layout", *rest[1:])
    return (({"cover": "project"}.get(str(path[0]), str(path[0])), *rest),)


def _alike(output: tuple[str, ...], written: tuple[str, ...]) -> bool:
    """Say whether a value of the document is what is written at a path, lies in it, or is its row."""
    shorter = min(len(output), len(written))
    return shorter > 1 and output[:shorter] == written[:shorter] and len(written) - len(output) <= 1
