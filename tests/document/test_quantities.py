"""Every field that is compared says what it holds, in words of the closed list, and as its type allows."""

import datetime
from collections.abc import Iterator, Mapping
from decimal import Decimal
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints

import pytest
from pydantic import Field

from proposal.differences.details import Detail
from proposal.differences.inputs import Inputs
from proposal.differences.told_changes import ToldChange
from proposal.document.quantities import BESIDE, QUANTITIES, Quantity
from proposal.document.readers import Shown
from proposal.document.rows.room_contents import CriterionRow
from proposal.document.schedule import ALL as EVERYONE
from proposal.document.schedule import Row, Shows, columns_of, field_of, quantities_of
from proposal.document.whole_proposal import Proposal

# Types whose values each quantity may be.
WORDS, NUMBERS, WHOLE = {str}, {int, float, Decimal}, {int}
TYPES: Mapping[Quantity, set[Any]] = {
    "text": WORDS,
    "word": WORDS,
    "verdict": WORDS,
    "tag": WORDS,
    "code": WORDS,
    "unit": WORDS,
    "calendar": WORDS,
    "kind": WORDS,
    "rule": WORDS,
    "flag": {bool},
    "number": WHOLE,
    "days": WHOLE,
    "working days": WHOLE,
    "added share": {Decimal},
    "by calendar": WHOLE,
    "date": {datetime.date},
    "money": {Decimal},
    "unit price": {Decimal},
    "price by unit": {Decimal},
    "exchange rate": {Decimal},
    "by rule": {Decimal},
    "unit hours": {Decimal},
    "count": {int, Decimal},
    "coordinates": {tuple[float, float]},
    "by kind": {float, str, bool},
}


def classes(part: type[Shown], found: dict[type[Shown], None]) -> dict[type[Shown], None]:
    """Return a class of rows and those below it."""
    found[part] = None
    for field in part.model_fields.values():
        for inner in rows_in(field.annotation):
            if inner not in found:
                classes(inner, found)
    for column in columns_of(part).values():
        if column.composed and column.shows.quantity == "rows":
            for inner in rows_in(get_type_hints(vars(part)[column.name].fget)["return"]):
                classes(inner, found)
    return found


def rows_in(annotation: Any) -> Iterator[type[Shown]]:
    if isinstance(annotation, type) and issubclass(annotation, Shown):
        yield annotation
    for inner in get_args(annotation):
        yield from rows_in(inner)


INNERMOST = classes(ToldChange, classes(Inputs, classes(Proposal, {})))
ALL = tuple(classes(CriterionRow, classes(Detail, INNERMOST)))
every_class = pytest.mark.parametrize("part", ALL, ids=lambda part: part.__name__)


def bare(annotation: Any) -> list[Any]:
    """Return the types that a field's single values may have, in place of tuples of any length."""
    if get_origin(annotation) in (Union, UnionType):
        return [kind for one in get_args(annotation) if one is not NoneType for kind in bare(one)]
    if get_origin(annotation) is Literal:
        return [str]
    if get_origin(annotation) is tuple and get_args(annotation)[-1] is Ellipsis:
        return bare(get_args(annotation)[0])
    if get_origin(annotation) is not None and issubclass(get_origin(annotation), Mapping):
        return bare(get_args(annotation)[1])
    return [annotation]


def leaves(part: type[Shown]) -> Iterator[type[Shown]]:
    """Yield the classes below a class that none is made of: those whose rows a document holds."""
    for one in part.__subclasses__():
        yield from leaves(one) if one.__subclasses__() else (one,)


def test_the_classes_are_all_found() -> None:
    everywhere = {one for one in leaves(Row) if one.__module__.startswith("proposal.")}
    assert everywhere == set(ALL)
    assert [one for one in Shown.__subclasses__() if one.__module__.startswith("proposal.")] == [Row]


@every_class
def test_every_field_that_holds_no_rows_says_what_it_holds(part: type[Shown]) -> None:
    for name, field in part.model_fields.items():
        (shows,) = [item for item in field.metadata if isinstance(item, Shows)]
        assert (shows.quantity == "rows") == any(rows_in(field.annotation)), name
        assert set(quantities_of(part)[name]) <= set(QUANTITIES), name


@every_class
def test_what_a_field_holds_agrees_with_its_type(part: type[Shown]) -> None:
    for name, quantities in quantities_of(part).items():
        kinds = bare(part.model_fields[name].annotation)
        if len(quantities) > 1:
            (group,) = kinds
            parts = [bare(one) for one in get_args(group)]
            assert len(parts) == len(quantities), name
        else:
            parts = [kinds] if quantities else []
        for quantity, found in zip(quantities, parts, strict=True):
            assert set(found) <= TYPES.get(quantity, NUMBERS), (name, quantity)


@every_class
def test_what_depends_on_a_field_beside_it_has_one(part: type[Shown]) -> None:
    for name, quantities in quantities_of(part).items():
        for quantity in set(quantities) & set(BESIDE):
            beside = BESIDE[quantity]
            mine = beside in quantities or bool(field_of(part, beside))
            # The hours of one more thing stand beside its name in words.
            assert mine or (part.__name__, name) == ("UnitCostRow", "hours"), (name, quantity)


@every_class
def test_no_class_has_two_fields_for_one_unit(part: type[Shown]) -> None:
    for beside in set(BESIDE.values()):
        assert sum(held == (beside,) for held in quantities_of(part).values()) <= 1


def test_every_quantity_of_the_list_is_held_somewhere() -> None:
    held = {one for part in ALL for quantities in quantities_of(part).values() for one in quantities}
    held |= {one for part in ALL for column in columns_of(part).values() for one in column.shows.quantities}
    assert held == set(QUANTITIES) - {"rows"}


# Ending of a name → what such a field may hold (DEVELOPERS.md, "Names and units").
ENDINGS: Mapping[str, set[str]] = {
    "_m": {"length", "small length", "cut length", "position"},
    "_m2": {"area"},
    "_w": {"watts", "tap of a loudspeaker"},
    "_v": {"volts"},
    "_va": {"volt-amperes"},
    "_a": {"amperes", "milliamperes"},
    "_btu": {"BTU an hour"},
    "_wh": {"kilowatt-hours"},
    "_m3": {"airflow"},
    "_ohm": {"ohms"},
    "_db": {"loss of a line", "dB"},
    "_dbm": {"dBm"},
    "_c": {"temperature"},
    "_kg": {"weight"},
    "_n": {"newtons"},
    "_hz": {"hertz"},
    "_bit_s": {"bits per second", "speed of a port"},
    "_h": {"hours"},
    "_min": {"minutes"},
    "_days": {"days", "working days"},
    "hours": {"hours", "unit hours"},
    "price": {"money", "unit price", "price by unit"},
    "cost": {"money", "unit price", "price by unit"},
    "date": {"date"},
    "share": {"share"},
    **{ending: {"money"} for ending in ("tax", "total", "reserve", "margin", "spread", "retained", "due")},
    **{ending: {"money"} for ending in ("bound", "incoming", "outgoing", "balance")},
    **{ending: {"share"} for ending in ("waste", "retention", "tax_rate", "probability", "fill")},
    "lowest": {"share"},
    "ratio": {"ratio"},
}
# Names that end so and mean something else: days of the week, and charge that a battery keeps.
# Hours of the clock are told in words.
# The price of an alternate is "stated" or "on request", as its file says it.
OTHERWISE = {
    "ProgrammeSummary.working_days",
    "ProgrammeSummary.site_days",
    "ProgrammeSummary.site_hours",
    "MeetingDay.reserve",
    "PortableSetRow.reserve",
    "FurtherDay.reserve",
    "AlternateRow.price",
}


@every_class
def test_a_name_that_ends_in_a_unit_holds_it(part: type[Shown]) -> None:
    for name, quantities in quantities_of(part).items():
        for ending, allowed in ENDINGS.items():
            if name.endswith(ending) and quantities and f"{part.__name__}.{name}" not in OTHERWISE:
                assert set(quantities) <= allowed, name


class Silent(Row):
    """A row with a field that does not say how it is shown."""

    field: str = Field(description="Anything.")


def test_a_field_that_says_nothing_is_refused() -> None:
    with pytest.raises(TypeError, match=r"Silent\.field"):
        quantities_of(Silent)


class Told(Row):
    """A row with a column made of two fields."""

    first: Annotated[str, Shows("first", EVERYONE)] = Field(description="One.")
    second: Annotated[str, Shows("second", EVERYONE)] = Field(description="Another.")


def test_a_field_is_found_by_what_it_declares() -> None:
    assert [column.shows.heading for column in columns_of(Told).values()] == ["first", "second"]
