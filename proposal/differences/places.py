"""What stands at a path of a document: the class and field, what the field holds, and the row itself."""

import types
from collections.abc import Mapping
from functools import lru_cache
from typing import Any, Union, get_args, get_origin

from proposal.differences.difference import Path
from proposal.differences.keys import Key, keys_of
from proposal.document.document import Document
from proposal.document.quantities import Quantity
from proposal.document.readers import Shown
from proposal.document.schedule import quantities_of


def kind_at(path: Path) -> Any:
    """Return the type of what stands at a path of a document.

    Raises KeyError where nothing can stand there.
    """
    return _step_through(path)[0]


def quantities_at(path: Path) -> tuple[Quantity, ...]:
    """Return what the field that a path leads to or through holds; none where it leads to rows.

    Raises KeyError where nothing can stand there.
    """
    return _step_through(path)[1]


def _step_through(path: Path) -> tuple[Any, tuple[Quantity, ...]]:
    return _through(tuple(() if isinstance(step, tuple) else step for step in path))


@lru_cache(maxsize=4096)
def _through(steps: tuple[str | tuple[()], ...]) -> tuple[Any, tuple[Quantity, ...]]:
    """Return what a path leads to.

    steps: of the path, nothing in place of the key of a row: thousands of rows have the same.
    """
    kind: Any = Document
    quantities: tuple[Quantity, ...] = ()
    for step in steps:
        part = _part(kind)
        if isinstance(step, tuple):
            kind, quantities = get_args(part)[0], ()
        elif isinstance(part, type) and issubclass(part, Shown):
            kind, quantities = part.model_fields[step].annotation, quantities_of(part)[step]
        elif get_origin(part) is not None and issubclass(get_origin(part), Mapping):
            kind = get_args(part)[1]
        else:
            raise KeyError(step)
    return kind, quantities


def _part(kind: Any) -> Any:
    """Return a type without the nothing that may stand in its place."""
    if get_origin(kind) in (Union, types.UnionType):
        return next(one for one in get_args(kind) if one is not type(None))
    return kind


class Rows:
    """The rows of a document, found by their paths."""

    def __init__(self, document: Document) -> None:
        """Take the document."""
        self._document = document
        self._found: dict[Path, Mapping[Key, Shown]] = {}

    def holding(self, path: Path) -> Shown | None:
        """Return the innermost part that holds the field at a path, None where it is not there."""
        value: Any = self._document
        holder: Shown = self._document
        for place, step in enumerate(path):
            if isinstance(step, tuple):
                value = self._by_key(path[:place], value).get(step)
            elif isinstance(value, Shown):
                value = getattr(value, step)
            if isinstance(value, Shown):
                holder = value
            elif value is None and place < len(path) - 1:
                return None
        return holder

    def _by_key(self, path: Path, rows: tuple[Shown, ...]) -> Mapping[Key, Shown]:
        if path not in self._found:
            self._found[path] = dict(zip(keys_of(rows), rows, strict=True))
        return self._found[path]
