"""What each field of a row holds, from one closed list; whoever writes its value reads that here."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal, get_args

from proposal.document.readers import Shown

Quantity = Literal[
    "text",
    "tag",
    "flag",
    "number",
    "count",
    "how many",
    "unit",
    "length",
    "small length",
    "area",
    "coordinates",
    "weight",
    "newtons",
    "degrees",
    "temperature",
    "watts",
    "volts",
    "ohms",
    "hertz",
    "bits per second",
    "dB",
    "dBm",
    "share",
    "ratio",
    "money",
    "unit price",
    "exchange rate",
    "hours",
    "unit hours",
    "minutes",
    "days",
    "by calendar",
    "calendar",
    "date",
    "time of day",
    "figure",
    "by kind",
    "kind",
    "by rule",
    "rule",
]
"""What a value is. Those that are not plain:

tag: the name by which a thing is known. number: one that names, and is neither added nor grouped.
how many: of what the row's `unit` says. figure: of a calculation, in the row's `unit`.
unit hours: for one unit; a share where the unit is an hour. minutes: a duration. time of day: minutes
after midnight. hertz: shown in MHz. share: 0 to 1. unit price, exchange rate: with all their digits.
by kind, by rule, by calendar: as the row's `kind` (of quantity), `rule` (of the price), `calendar` says.
"""

QUANTITIES: tuple[Quantity, ...] = get_args(Quantity)
# Quantity → the quantity of the field, or of the part, beside it that says how it is written.
BESIDE: Mapping[Quantity, Quantity] = {
    "how many": "unit",
    "figure": "unit",
    "unit hours": "unit",
    "by kind": "kind",
    "by rule": "rule",
    "by calendar": "calendar",
}


@dataclass(frozen=True, slots=True, init=False)
class Holds:
    """The quantity of a field.

    quantities: one; or several where the field holds groups, such as names with positions, one for each part.
    """

    quantities: tuple[Quantity, ...]

    def __init__(self, *quantities: Quantity) -> None:
        """Take the quantities in the order of the parts."""
        object.__setattr__(self, "quantities", quantities)


@cache
def quantities_of(part: type[Shown]) -> Mapping[str, tuple[Quantity, ...]]:
    """Return the quantities of every field of a part of the document; none of a field that holds rows.

    part: a class of rows.
    Raises TypeError where a field that holds no rows names none, or one that does names some.
    """
    found: dict[str, tuple[Quantity, ...]] = {}
    for name, field in part.model_fields.items():
        named = [item.quantities for item in field.metadata if isinstance(item, Holds)]
        if len(named) != (0 if any(parts_in(field.annotation)) else 1):
            raise TypeError(f"{part.__name__}.{name} must name what it holds once, or hold rows")
        found[name] = named[0] if named else ()
    return found


def parts_in(annotation: Any) -> Iterator[type[Shown]]:
    """Yield the classes of rows that a type holds, at any depth."""
    if isinstance(annotation, type) and issubclass(annotation, Shown):
        yield annotation
    for inner in get_args(annotation):
        yield from parts_in(inner)


@cache
def field_of(part: type[Shown], quantity: Quantity) -> str:
    """Return the name of the one field of a class of rows that holds a quantity; empty where none does."""
    return next((name for name, held in quantities_of(part).items() if held == (quantity,)), "")
