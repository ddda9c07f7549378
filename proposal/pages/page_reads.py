"""What a page or a sheet reads of an edition, noted while it is made: it is made anew where that changed.

It sees the edition through what stands in for it and notes what is asked for: fields of the document,
parts of alternates and changes, marks of a collection, drawings. What it is given besides is its basis.
"""

import hashlib
import json
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import fields, is_dataclass
from datetime import date, datetime, time
from decimal import Decimal
from enum import Enum
from functools import cache, partial
from types import FunctionType, MethodType
from typing import Any, TypeAlias, cast

from proposal.differences.changes import Changes, State
from proposal.differences.inputs import Inputs
from proposal.differences.keys import Key
from proposal.document.document import Document
from proposal.document.readers import Shown
from proposal.editions import AlternateEdition, Edition
from proposal.pages.drawing_pages import Drawing
from proposal.pages.markdown import Html
from proposal.pages.marks import Marks

Name: TypeAlias = tuple[str, ...]
"""What was read: its kind, such as `document`, and what of it."""

_PLAIN = frozenset({str, Html, int, float, bool, type(None), Decimal, date, datetime, time})
_ROWS, _THERE = "*", "?"
"""Steps of a name: of each of several rows, and whether it is there at all."""
_SEEN_THROUGH: Mapping[type, frozenset[str]] = {
    Edition: frozenset({"document", "alternates", "changes"}),
    AlternateEdition: frozenset({"document"}),
    Changes: frozenset({"before", "after", "inputs"}),
    State: frozenset({"document"}),
    Document: frozenset({"room_sheets"}),
    Inputs: frozenset({"all"}),
}
"""Parts of which not the whole counts as read, but what is read of them in turn."""


class Reads:
    """An edition as pages see it, and what they read of it."""

    def __init__(self, edition: Edition, drawings: Mapping[str, Drawing], marks: Marks) -> None:
        """Take what pages are written from.

        drawings: every drawing of the edition by sheet number.  marks: of rows that are new or changed.
        """
        self._edition, self._drawings, self._marks = edition, drawings, marks
        self._noted: set[Name] | None = None
        self._asked: list[_Noted] = []
        self._digests: dict[Name, str] = {}
        self._of_values: dict[int, tuple[object, str]] = {}
        self.edition = cast(Edition, _Noted(edition, ("edition",), self))
        """The edition as pages see it."""
        self.drawings: Mapping[str, Drawing] = _NotedDrawings(drawings, self)
        """The drawings as pages see them."""
        self.marks: Marks = _NotedMarks(marks, self)
        """The marks as pages see them."""

    @contextmanager
    def noting(self) -> Iterator[set[Name]]:
        """Yield a set to which everything is added that is read until the block ends.

        What is read in a block within it, as a sheet that a page shows does, is that block's alone.
        """
        outer = self._noted
        self._begin()
        self._noted = noted = set[Name]()
        try:
            yield noted
        finally:
            self._noted = outer
            self._begin()

    def _begin(self) -> None:
        for one in self._asked:
            one.forget()
        self._asked.clear()

    def asked_of(self, one: "_Noted", told: Sequence[str]) -> None:
        """From now on note the reads of an object that answers by itself.

        one: which was asked.  told: what it has told since the page began.
        """
        if not told:
            self._asked.append(one)

    def note(self, name: Name) -> None:
        """Note that something is read.

        name: of it.
        """
        if self._noted is not None:
            self._noted.add(name)

    def digest(self, name: Name) -> str:
        """Return the digest of what has a name; where nothing has it, that of nothing.

        Raises TypeError for what has no plain form.
        """
        found = self._digests.get(name)
        if found is None:
            found = self._digests[name] = _digest(self._value(name))
        return found

    def digest_of(self, value: object) -> str:
        """Return the digest of what a page is given; of what it sees through this, that of its name.

        value: given to a page.
        Raises TypeError for what has no plain form.
        """
        if type(value) in (_Noted, _NotedDrawings):
            return _digest(("seen", *value.noted_name))  # type: ignore[attr-defined] # both have one
        held = self._of_values.get(id(value))
        if held is None:
            # It is held, so that nothing else can have its identity.
            held = self._of_values[id(value)] = (value, _digest(_plain(value)))
        return held[1]

    def _value(self, name: Name) -> object:
        match name:
            case ("edition", *steps):
                return _value_at(self._edition, steps)
            case ("drawing", number) if number in self._drawings:
                return _plain(self._drawings[number])
            case ("drawings",):
                return list(self._drawings)
            case ("marks", collection):
                return [_plain(pair) for pair in self._marks.items() if pair[0][0] == collection]
            case ("marks",):
                return _plain(self._marks)
        return ["nothing"]


def _value_at(value: Any, steps: Sequence[str]) -> object:
    """Return in a plain form what stands at some steps from a value."""
    for place, step in enumerate(steps):
        if step == _THERE:
            return value is not None
        if value is None:
            return ["nothing"]
        if step == _ROWS:
            rest = steps[place + 1 :]
            return ["rows", len(value), *(_value_at(one, rest) for one in value if rest)]
        if isinstance(value, Document) and place == len(steps) - 1:
            return value.model_dump_json(include={step}, warnings=False)
        value = getattr(value, step)
    return _plain(value)


class _Noted:
    """Stands in for a part of an edition: what is read of it is noted, by its name.

    What is composed of its parts reads them through this. Whatever else is asked for counts as the whole.
    """

    def __init__(self, held: Any, name: Name, reads: Reads, whole: Name | None = None) -> None:
        kind = type(held)
        self._held, self.noted_name, self._reads, self._whole = held, name, reads, whole or name
        self._parts = _parts_of(cast(Any, kind))
        self._through = _SEEN_THROUGH.get(kind, frozenset())
        self._seen: dict[str, Any] = {}
        self._told: list[str] = []

    @property  # type: ignore[misc] # what asks whether it is a document or a row takes it for one
    def __class__(self) -> Any:
        return type(self._held)

    def __getattr__(self, part: str) -> Any:
        # What a page has asked for once is an attribute until the next page begins: it is noted already.
        value = self._noted(part)
        self._reads.asked_of(self, self._told)
        self._told.append(part)
        self.__dict__[part] = value
        return value

    def forget(self) -> None:
        """Note again what is asked for from now on."""
        for part in self._told:
            self.__dict__.pop(part, None)
        self._told.clear()

    def _noted(self, part: str) -> Any:
        """Return a part after noting that it is read."""
        if part in self._through:
            if part not in self._seen:
                self._seen[part] = self._seen_through(part)
            name, seen = self._seen[part]
            self._reads.note(name)
            return seen
        if part in self._parts:
            self._reads.note((*self.noted_name, part))
            return getattr(self._held, part)
        if part == "model_copy":
            return self._copied
        if not part.startswith(("model_", "_")):
            made = next((vars(kind)[part] for kind in type(self._held).__mro__ if part in vars(kind)), None)
            if isinstance(made, property) and made.fget is not None:
                return made.fget(self)
            if isinstance(made, FunctionType):
                return MethodType(made, self)
            if made is not None:
                return made  # the same for all of its class
        self._reads.note(self._whole)
        return getattr(self._held, part)

    def _copied(self, *, update: Mapping[str, Any]) -> Any:
        """Return what stands in for a copy in which some parts are others, which were read already."""
        return _Noted(self._held.model_copy(update=update), self.noted_name, self._reads, self._whole)

    def _seen_through(self, part: str) -> tuple[Name, Any]:
        """Return what stands in for a part, with the name of what is read when it is asked for."""
        held, name = getattr(self._held, part), (*self.noted_name, part)
        if isinstance(held, tuple):
            each = (*name, _ROWS)
            return each, tuple(_Noted(one, each, self._reads, name) for one in held)
        there = (*name, _THERE)
        return there, None if held is None else _Noted(held, name, self._reads)


@cache
def _parts_of(kind: type) -> frozenset[str]:
    if issubclass(kind, Shown):
        return frozenset(kind.model_fields)
    return frozenset(one.name for one in fields(cast(Any, kind)))


class _NotedDrawings(Mapping[str, Drawing]):
    """Stands in for the drawings: each that is asked for is noted."""

    noted_name = ("drawings",)

    def __init__(self, drawings: Mapping[str, Drawing], reads: Reads) -> None:
        self._drawings, self._reads = drawings, reads

    def __getitem__(self, number: str) -> Drawing:
        self._reads.note(("drawing", number))
        return self._drawings[number]

    def __contains__(self, number: object) -> bool:
        self._reads.note(("drawings",))
        return number in self._drawings

    def __iter__(self) -> Iterator[str]:
        self._reads.note(("drawings",))
        return iter(self._drawings)

    def __len__(self) -> int:
        self._reads.note(("drawings",))
        return len(self._drawings)


class _NotedMarks(Mapping[tuple[str, Key], Html]):
    """Stands in for the marks: the collection whose marks are asked for is noted."""

    def __init__(self, marks: Marks, reads: Reads) -> None:
        self._marks, self._reads = marks, reads

    def __getitem__(self, place: tuple[str, Key]) -> Html:
        self._reads.note(("marks", place[0]))
        return self._marks[place]

    def __iter__(self) -> Iterator[tuple[str, Key]]:
        self._reads.note(("marks",))
        return iter(self._marks)

    def __len__(self) -> int:
        self._reads.note(("marks",))
        return len(self._marks)


def _digest(plain: object) -> str:
    # A text alone, such as the JSON of many rows, need not be written as JSON once more.
    told = plain if isinstance(plain, str) else f"json {json.dumps(plain)}"
    return hashlib.sha256(told.encode("utf-8", "surrogatepass")).hexdigest()


def _plain(value: Any) -> Any:
    """Return a value as lists and texts of JSON, different for values that are written differently.

    Raises TypeError for what has no plain form.
    """
    kind = type(value)
    if kind is str or value is None or kind is bool:
        return value
    if kind in _PLAIN:
        return [kind.__name__, str(value)]
    if isinstance(value, tuple | list):
        return ["list", *map(_plain, value)]
    if isinstance(value, Shown):
        return [kind.__qualname__, value.model_dump_json(warnings=False)]
    if is_dataclass(value):
        return [kind.__qualname__, *(_plain(getattr(value, one.name)) for one in fields(value))]
    if isinstance(value, Mapping):
        return ["mapping", *([_plain(key), _plain(one)] for key, one in value.items())]
    if isinstance(value, frozenset | set):
        return ["set", *sorted(map(_plain, value), key=json.dumps)]
    if isinstance(value, Enum):
        return ["enum", kind.__qualname__, value.name]
    if isinstance(value, partial):
        return ["partial", _plain(value.func), _plain(value.args), _plain(value.keywords)]
    if isinstance(value, FunctionType) and value.__closure__ is None:
        return ["function", value.__module__, value.__qualname__]
    raise TypeError(f"a page is given a {kind.__name__}, which has no plain form")
