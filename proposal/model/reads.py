"""Which values of a project a computation reads, and in which values two projects differ.

A computation that reads none of the values in which two projects differ gives the same for both: nothing else
tells it that they differ. Whatever is compared, copied or written as a whole counts as read with all in it.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

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

    def names(self, of: object) -> frozenset[str]:
        """Return the names of what was read of one thing."""
        return frozenset(name for identity, name in self.found if identity == id(of))


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

    def taken(self) -> Reads:
        """Return what was read since this was last asked for."""
        found = Reads(frozenset(self._found))
        self._found.clear()
        return found


@contextmanager
def reads_noted(*others: type) -> Iterator[Callable[[], Reads]]:
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
