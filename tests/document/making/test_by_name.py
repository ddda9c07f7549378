"""Rows that repeat a result hold the same, of the same type, under the same name."""

import importlib
import pkgutil
from dataclasses import dataclass
from types import NoneType, UnionType
from typing import Annotated, Any, ClassVar, Literal, Union, get_args, get_origin, get_type_hints

import pytest

from proposal.document import making
from proposal.document.making.by_name import ByName, WholeByName
from proposal.document.schedule import ALL, Row, Schedule, Shows

FILLED: dict[str, ByName[Any, Any] | WholeByName[Any]] = {
    f"{found.part.__name__} of {found.result.__name__}": found
    for module in pkgutil.iter_modules(making.__path__)
    for found in vars(importlib.import_module(f"{making.__name__}.{module.name}")).values()
    if isinstance(found, ByName | WholeByName)
}


def held_by(kind: type[Any], name: str) -> Any:
    """Return the type of what a class holds under a name: a field, or a property."""
    for one in kind.__mro__:
        made = vars(one).get(name)
        if isinstance(made, property):
            return get_type_hints(made.fget)["return"]
    return get_type_hints(kind)[name]


def plain(annotation: Any) -> Any:
    """Return a type as rows have it: codes are texts, bounds do not count."""
    origin, inner = get_origin(annotation), get_args(annotation)
    if origin is Annotated:
        return plain(inner[0])
    if origin is Literal:
        return frozenset(map(type, inner))
    if origin in (Union, UnionType):
        return frozenset().union(*(_several(plain(one)) for one in inner))
    if origin is tuple:
        return (tuple, *(one if one is Ellipsis else plain(one) for one in inner))
    return frozenset({annotation})


def _several(one: Any) -> frozenset[Any]:
    return one if isinstance(one, frozenset) else frozenset({one})


@pytest.mark.parametrize("name", sorted(FILLED))
def test_a_row_holds_what_its_result_holds(name: str) -> None:
    filled = FILLED[name]
    hints = get_type_hints(filled.part)
    assert filled.names
    for field in filled.names:
        given, taken = _several(plain(held_by(filled.result, field))), _several(plain(hints[field]))
        assert given <= taken, f"{field}: {filled.result.__name__} holds {given}, the row {taken}"


def test_rows_that_repeat_a_result_are_filled_by_name() -> None:
    assert len(FILLED) >= 34
    assert {
        *("CableRow of Cable", "DeviceRow of Placed", "MarginRow of Margin", "PortRow of PoweredPort"),
        *("ReelRow of Reel", "TakeoffRow of CableParts", "TakeoffRow of TakeoffLine"),
        "WorkingRow of Working",
    } <= FILLED.keys()


@dataclass(frozen=True)
class Result:
    """A result."""

    cost: int
    name: str

    @property
    def twice(self) -> int:
        return 2 * self.cost


class Cost(Row):
    """A row of it."""

    schedule: ClassVar = Schedule("cost", subject="price")

    cost: Annotated[int, Shows("cost", ALL, "count")]
    twice: Annotated[int, Shows("cost", ALL, "count")]
    number: Annotated[str, Shows("number", ALL)] = ""


def test_fields_come_from_the_result_and_the_others_are_given() -> None:
    assert ByName(Cost, Result).of(Result(3, "Reel"), number="C1") == Cost(cost=3, twice=6, number="C1")


def test_a_field_that_holds_something_else_is_given() -> None:
    row = ByName(Cost, Result, "cost").of(Result(3, "Reel"), cost=4, number="C1")
    assert (row.cost, row.twice) == (4, 6)


@pytest.mark.parametrize("name", ["number", "name", "price"])
def test_a_name_that_is_not_in_both_is_refused(name: str) -> None:
    with pytest.raises(TypeError, match=rf"from Result: wanted names that both have, found \['{name}'\]"):
        ByName(Cost, Result, name)


def test_what_is_not_the_result_s_has_to_be_given_even_where_it_has_a_default() -> None:
    with pytest.raises(TypeError, match=r"wanted \['number'\] of Cost; found \[\]"):
        ByName(Cost, Result).of(Result(3, "Reel"))


@dataclass(frozen=True)
class Price:
    """A result that may be missing."""

    price: int


class Priced(Row):
    """A row that may go without it."""

    schedule: ClassVar = Schedule("priced", subject="price")

    price: Annotated[int, Shows("price", ALL, "count")] = 7


@dataclass(frozen=True)
class Parts:
    """A second result."""

    cost: int
    number: str


def test_what_a_second_result_holds_is_filled_or_left_at_its_default() -> None:
    assert WholeByName(Cost, Parts).of(Parts(4, "C2")) == {"cost": 4, "number": "C2"}
    assert WholeByName(Priced, Price).of(None) == {"price": 7}


def test_a_field_of_a_second_result_that_the_row_has_not_is_refused() -> None:
    with pytest.raises(TypeError, match=r"Cost takes all of Result: wanted fields for \['name'\]"):
        WholeByName(Cost, Result)


def test_types_that_differ_are_seen() -> None:
    assert plain(str | None) == {str, NoneType}
    assert not plain(str | None) <= plain(str)
    assert plain(Literal["a", "b"]) <= plain(str)
    assert plain(tuple[str, ...]) != plain(tuple[int, ...])
