"""The value of a field as a reader expects it: with the unit of what the field was declared to hold."""

import datetime
from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

from proposal.document import formatting
from proposal.document.quantities import BESIDE, Quantity, field_of
from proposal.document.readers import Shown
from proposal.document.rows import Cover

NOTHING = "none"
# Quantity → kind of quantity whose unit the project's choice of units sets.
_KINDS: Mapping[Quantity, str] = {
    "length": "length",
    "small length": "short_length",
    "area": "area",
    "weight": "mass",
    "newtons": "force",
    "degrees": "angle",
    "temperature": "temperature",
    "watts": "power",
    "volts": "voltage",
    "ohms": "resistance",
    "hertz": "frequency_mhz",
    "bits per second": "data_rate",
    "dB": "level",
    "dBm": "level_dbm",
}
_HOURS_PLACES, _UNIT_HOURS_PLACES, _EXACT_PLACES = 2, 5, 4
# What is said beside a value, by the quantity that says it.
_Beside = Mapping[Quantity, str]


def field_text(value: Any, quantities: Sequence[Quantity], cover: Cover, row: Shown | None = None) -> str:
    """Return the value of a field in a line; `none` where there is nothing.

    quantities: what the field holds.
    cover: its units, locale and currency.
    row: the row of the field, which says how values are written that depend on another of its fields.
    """
    if is_nothing(value):
        return NOTHING
    if isinstance(value, tuple) and not _is_place(value, quantities):
        between = "; " if quantities == ("coordinates",) else ", "
        return between.join(item_text(item, quantities, cover, row) for item in value)
    return item_text(value, quantities, cover, row)


def item_text(value: Any, quantities: Sequence[Quantity], cover: Cover, row: Shown | None = None) -> str:
    """Return one item of a field that holds several: a value, or a group with a quantity for each part."""
    if len(quantities) == 1:
        if isinstance(value, tuple) and not _is_place(value, quantities):
            return field_text(value, quantities, cover, row)
        return _one(value, quantities[0], cover, _said_by(row, quantities[0]))
    pairs = list(zip(value, quantities, strict=True))
    said = {quantity: str(part) for part, quantity in pairs if quantity in _SAYING}
    parts = [
        field_text(part, (quantity,), cover) if isinstance(part, tuple) else _one(part, quantity, cover, said)
        for part, quantity in pairs
        if quantity not in said
    ]
    return (", " if all(isinstance(part, str) for part in value) else " ").join(parts)


def is_nothing(value: Any) -> bool:
    """Say whether a value stands for nothing."""
    return value is None or value in ("", ())


_SAYING = frozenset(BESIDE.values())


def _said_by(row: Shown | None, quantity: Quantity) -> _Beside:
    saying = BESIDE.get(quantity)
    name = field_of(type(row), saying) if row is not None and saying else ""
    return {saying: str(getattr(row, name))} if saying and name else {}


def _is_place(value: Any, quantities: Sequence[Quantity]) -> bool:
    return tuple(quantities) == ("coordinates",) and not isinstance(value[0], tuple)


def _one(value: Any, quantity: Quantity, cover: Cover, beside: _Beside) -> str:
    if is_nothing(value):
        return NOTHING
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return value
    if isinstance(value, datetime.date):
        return formatting.date(value, cover.locale)
    if quantity == "coordinates":
        return ", ".join(formatting.short_quantity(one, "length", cover.units, cover.locale) for one in value)
    return amount_text(value, quantity, cover, beside.get(BESIDE.get(quantity, quantity), ""))


def amount_text(value: float | Decimal, quantity: Quantity, cover: Cover, beside: str = "") -> str:
    """Return a number as what it is.

    beside: what is said beside it, where its quantity depends on that: a unit, a kind of quantity, a rule of
    the price, a calendar.
    """
    locale = cover.locale
    match quantity:
        case "money":
            return formatting.money(Decimal(value), cover.currency, locale)
        case "unit price":
            return formatting.unit_money(Decimal(value), cover.currency, locale)
        case "exchange rate":
            return formatting.exact_number(Decimal(value), locale)
        case "share":
            return _share(value, cover)
        case "ratio":
            return _ratio(value, locale)
        case "number":
            return str(value)
        case "count":
            return formatting.short_number(value, locale, 2)
        case "hours":
            return f"{formatting.number(value, locale, _HOURS_PLACES)} h"
        case "minutes":
            return f"{formatting.short_number(value, locale, 1)} min"
        case "time of day":
            return formatting.time_of_day(int(formatting.rounded(value, 0)), locale)
        case "days":
            return formatting.count_of(int(value), "day")
        case "by calendar":
            known = beside in formatting.CALENDARS
            return formatting.days_of(int(value), beside) if known else amount_text(value, "days", cover)
        case "by kind":
            return _of_kind(float(value), beside, cover)
        case "by rule":
            return amount_text(value, "share" if beside in _SHARES else "unit price", cover)
        case "figure":
            return formatting.figure(float(value), beside, cover.units, locale)
        case "how many":
            return _how_many(value, beside, cover)
        case "unit hours":
            return _unit_hours(Decimal(value), beside, cover)
        case _:
            return formatting.quantity(float(value), _KINDS[quantity], cover.units, locale)


# Rules of the price whose value is a share; that of the others is an amount.
_SHARES = frozenset({"margin", "markup", "discount"})


def _share(value: float | Decimal, cover: Cover) -> str:
    """Return a share in percent: what people wrote with all its digits, what is computed to one place."""
    if isinstance(value, Decimal):
        return formatting.percentage(value, cover.locale)
    return formatting.quantity(value, "fraction", cover.units, cover.locale)


def _ratio(value: float | Decimal, locale: str) -> str:
    if isinstance(value, Decimal):
        return formatting.short_number(value, locale, _EXACT_PLACES)
    return formatting.significant(value, locale)


def _of_kind(value: float, kind: str, cover: Cover) -> str:
    # What is varied of hours and rates is a factor, told as a share.
    named = "fraction" if kind == "factor" else kind
    # A record may be another program's: what is not known is a bare number.
    known = named if named in formatting.KINDS_SHOWN else ""
    return formatting.value_text(value, known, cover.units, cover.locale)


def _how_many(value: float | Decimal, unit: str, cover: Cover) -> str:
    if unit == "m":
        return amount_text(value, "length", cover)
    if unit == "h":
        return amount_text(value, "hours", cover)
    return formatting.short_number(value, cover.locale, _EXACT_PLACES)


def _unit_hours(value: Decimal, unit: str, cover: Cover) -> str:
    """Return the hours of one unit; of a length, what its unit as shown takes; of hours, a share of them."""
    if unit == "h":
        return amount_text(value, "share", cover)
    if unit == "m":
        value = value / Decimal(repr(formatting.converted(1.0, "length", cover.units)))
    return f"{formatting.short_number(value, cover.locale, _UNIT_HOURS_PLACES)} h"
