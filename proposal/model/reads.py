"""Which values of a project a computation reads, and in which values two projects differ.

A computation that reads none of the values in which two projects differ gives the same for both: nothing else
tells it that they differ. Whatever is compared, copied or written as a whole counts as read with all in it.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from contextlib import contextmanager
from dataclasses import fields, is_dataclass
from typing import Any, Protocol

from proposal.field_classes import dataclass
from proposal.model.base import Written

_WHOLE = ""
"""Stands for all fields of a model."""


@dataclass(frozen=True, slots=True)
class Differing:
    """A field in which two projects differ.

    models: of the first project: those that lead to the field, the one that has it last.
    name: of the field.
    """

    models: tuple[Written, ...]
    name: str


@dataclass(frozen=True, slots=True)
class Reads:
    """What a computation has read, by the identity of a model and the name of an attribute."""

    found: frozenset[tuple[int, str]]

    def hold(self, one: Differing) -> bool:
        """Say whether a field was read, by itself or with all that it is part of.

        one: of a project whose models are still there.
        """
        return (id(one.models[-1]), one.name) in self.found or any(
            (id(model), _WHOLE) in self.found for model in one.models
        )

    @classmethod
    def together(cls, several: Iterable["Reads"]) -> "Reads":
        """Return what several computations have read."""
        return cls(frozenset().union(*(one.found for one in several)))

    def names(self, of: object) -> frozenset[str]:
        """Return the names of what was read of one thing."""
        return frozenset(name for identity, name in self.found if identity == id(of))


class TakingReads(Protocol):
    """Tells what was read since it was last called."""

    def __call__(self, *held: object) -> Reads:
        """Return what was read.

        held: values that were made meanwhile; all parts of a project that they hold count as read as a whole.
        """


class _Notes:
    """What is being read."""

    def __init__(self) -> None:
        self._found: set[tuple[int, str]] = set()
        # Copies stand for what they were copied from; they are kept, so that none takes another's identity.
        self._copies: dict[int, int] = {}
        self._kept: list[object] = []
        self.on = True

    def add(self, thing: object, name: str) -> None:
        if self.on:
            whole = name[:2] == "__" and name != "__class__"
            self._found.add((self._copies.get(id(thing), id(thing)), _WHOLE if whole else name))

    def add_copy(self, thing: object, copy: object) -> None:
        self._copies[id(copy)] = self._copies.get(id(thing), id(thing))
        self._kept.append(copy)

    def taken(self, *held: object) -> Reads:
        """Return what was read since this was last asked for.

        held: values whose models count as read as a whole.
        """
        self.on = False
        try:
            whole = {(self._copies.get(id(model), id(model)), _WHOLE) for model in _models_in(held)}
        finally:
            self.on = True
        found = Reads(frozenset(self._found | whole))
        self._found.clear()
        return found


def _models_in(values: Iterable[object]) -> Iterator[Written]:
    """Yield all models that people write that values hold, each once."""
    seen: set[int] = set()
    left = list(values)
    while left:
        value = left.pop()
        if type(value) in _SINGLE or id(value) in seen:
            continue
        seen.add(id(value))
        if isinstance(value, Written):
            yield value
        if isinstance(value, Mapping):
            left += [*value.keys(), *value.values()]
        elif isinstance(value, list | tuple | AbstractSet):
            left += value
        elif is_dataclass(value):
            left += [getattr(value, field.name) for field in fields(value)]
        else:
            left += getattr(value, "__dict__", {}).values()


_SINGLE = frozenset({str, int, float, bool, type(None)})


@contextmanager
def reads_noted(*others: type) -> Iterator[TakingReads]:
    """Note what is read of all models that people write, until the block ends; give what tells it.

    others: further classes whose attributes are noted.
    What is given returns what was read since it was last called. No other thread may compute meanwhile.
    """
    notes = _Notes()
    noted: list[Any] = [Written, *others]
    model_class: Any = Written
    copied = model_class.model_copy

    def read(thing: object, name: str) -> object:
        notes.add(thing, name)
        return object.__getattribute__(thing, name)

    def copy(model: Written, **changes: Any) -> Written:
        notes.on = False
        try:
            new: Written = copied(model, **changes)
        finally:
            notes.on = True
        notes.add_copy(model, new)
        return new

    for one in noted:
        one.__getattribute__ = read
    model_class.model_copy = copy
    try:
        yield notes.taken
    finally:
        for one in noted:
            del one.__getattribute__
        del model_class.model_copy


def differing(one: Written, other: Written) -> Iterator[Differing]:
    """Yield the fields in which another project differs from one, those of the innermost models."""
    yield from _between(one, other, ())


def _between(one: Written, other: Written, above: tuple[Written, ...]) -> Iterator[Differing]:
    here = (*above, one)
    for name in one.__dict__.keys() | other.__dict__.keys():
        left, right = one.__dict__.get(name), other.__dict__.get(name)
        inner = _inner(left, right)
        if inner is None:
            yield Differing(here, name)
            continue
        for first, second in inner:
            yield from _between(first, second, here)


def _inner(left: object, right: object) -> Sequence[tuple[Written, Written]] | None:
    """Return the models inside of two values that may differ, None where the values themselves do."""
    if left is right:
        return ()
    if isinstance(left, Written) and type(left) is type(right):
        assert isinstance(right, Written)
        return ((left, right),)
    pairs: list[tuple[object, object]]
    if isinstance(left, Mapping) and isinstance(right, Mapping):
        if list(left) != list(right):
            return None
        pairs = [(left[key], right[key]) for key in left]
    elif isinstance(left, tuple) and isinstance(right, tuple):
        if len(left) != len(right):
            return None
        pairs = list(zip(left, right, strict=True))
    else:
        return () if type(left) is type(right) and left == right else None
    found: list[tuple[Written, Written]] = []
    for first, second in pairs:
        inner = _inner(first, second)
        if inner is None:
            return None
        found += inner
    return found
