"""Classes of fields are those of the standard library, for all that can be seen of them."""

import copy
import dataclasses
import pickle
from collections.abc import Callable
from dataclasses import field, replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from proposal import field_classes


def made(decorator: Callable[..., Any]) -> tuple[Any, ...]:
    """Return four classes as a decorator makes them: of two fields, of one, of none, and an heir."""

    @decorator(frozen=True, slots=True)
    class Two:
        first: object
        second: object = field(default=0, compare=False, repr=False)

    @decorator(frozen=True, slots=True, kw_only=True)
    class One:
        only: object

    @decorator(frozen=True)
    class Empty:
        pass

    @decorator(frozen=True, slots=True)
    class Heir(Two):
        third: object = ()

    return Two, One, Empty, Heir


OURS, THEIRS = made(field_classes.dataclass), made(dataclasses.dataclass)
VALUES = (
    st.none() | st.integers(0, 2) | st.floats(0, 2) | st.text("ab", max_size=2) | st.tuples(st.integers(0, 1))
)


def instances(classes: tuple[Any, ...], one: object, other: object) -> list[Any]:
    two, single, empty, heir = classes
    return [two(one, other), two(one), single(only=one), empty(), heir(one, other), heir(one, other, other)]


@given(VALUES, VALUES, VALUES, VALUES)
def test_instances_compare_hash_and_print_as_those_of_the_standard_library(
    first: object, second: object, third: object, fourth: object
) -> None:
    ours = [*instances(OURS, first, second), *instances(OURS, third, fourth)]
    theirs = [*instances(THEIRS, first, second), *instances(THEIRS, third, fourth)]
    assert [repr(one) for one in ours] == [repr(one) for one in theirs]
    assert [[one == other for other in ours] for one in ours] == [
        [one == other for other in theirs] for one in theirs
    ]
    assert [hash(one) for one in ours] == [hash(one) for one in theirs]
    assert [dataclasses.asdict(one) for one in ours] == [dataclasses.asdict(one) for one in theirs]


@field_classes.dataclass(frozen=True, slots=True)
class Sent:
    """A class that another process finds by its name."""

    name: str
    parts: tuple[int, ...] = ()


def test_instances_are_copied_sent_and_replaced() -> None:
    sent = Sent("a", (1, 2))
    assert pickle.loads(pickle.dumps(sent)) == sent
    assert copy.deepcopy(sent) == sent
    assert replace(sent, name="b") == Sent("b", (1, 2)) != sent
    assert not hasattr(sent, "__dict__")


def test_what_a_class_says_itself_stays_and_other_classes_are_those_of_the_library() -> None:
    @field_classes.dataclass(frozen=True, slots=True)
    class Named:
        name: str

        def __repr__(self) -> str:
            return self.name

    assert repr(Named("x")) == "x"

    @field_classes.dataclass(slots=True)
    class Open:
        count: int

    opened = Open(1)
    opened.count = 2
    assert opened == Open(2)
    with pytest.raises(TypeError, match="unhashable"):
        hash(opened)


def assigned(sent: Sent) -> None:
    """The check of types refuses this; were it to allow it, it would say that nothing is to be ignored."""
    sent.name = "other"  # type: ignore[misc]
