"""The value of a field as a reader expects it, by what the field was declared to hold."""

import datetime
from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

from proposal.document.document import Document
from proposal.document.headings import Words
from proposal.document.quantities import BESIDE, Quantity
from proposal.document.readers import Shown
from proposal.document.schedule import Shows, field_of
from proposal.field_classes import dataclass
from proposal.quantities import computed_figures, formatting, percentages

# Quantity → kind of quantity whose unit the project's choice of units sets.
_KINDS: Mapping[Quantity, str] = {
    "length": "length",
    "small length": "short_length",
    "cut length": "length",
    "position": "position",
    "area": "area",
    "weight": "mass",
    "newtons": "force",
    "degrees": "angle",
    "temperature": "temperature",
    "temperature rise": "temperature_rise",
    "watts": "power",
    "tap of a loudspeaker": "tap_power",
    "volt-amperes": "apparent_power",
    "amperes": "current",
    "milliamperes": "small_current",
    "kilowatt-hours": "yearly_energy",
    "BTU an hour": "heat_flow",
    "airflow": "airflow",
    "milliseconds": "latency",
    "volts": "voltage",
    "ohms": "resistance",
    "hertz": "frequency_mhz",
    "bits per second": "data_rate",
    "speed of a port": "port_speed",
    "dB": "level",
    "loss of a line": "line_loss",
    "loss by length": "loss_per_length",
    "dBm": "level_dbm",
    "whole dB": "level",
}
# Quantities whose unit stands in the heading of a column beside those of `_KINDS`, and their places there.
_HEADED: Mapping[Quantity, str] = {
    "hours": "h",
    "days": "days",
    "working days": "working days",
    "minutes": "min",
}
_HEADED_PLACES: Mapping[Quantity, int] = {"hours": 2, "days": 0, "working days": 0, "minutes": 0}
_HOURS_PLACES, _UNIT_HOURS_PLACES, _EXACT_PLACES = 2, 5, 4
_M_PER_FT = Decimal("0.3048")
# What is said beside a value, by the quantity that says it.
_Beside = Mapping[Quantity, str]


@dataclass(frozen=True, slots=True)
class Values:
    """How a document writes values: its units, its locale, its currency and its words."""

    units: str
    locale: str
    currency: str
    words: Words

    def heading(self, shows: Shows) -> str:
        """Return the heading of a column, without its unit."""
        return self.words.heading(shows.heading)

    def unit(self, shows: Shows) -> str:
        """Return the unit that stands behind a heading; empty where the cells name their own."""
        quantity = shows.quantity
        if isinstance(quantity, tuple):
            return ""
        if quantity in _KINDS:
            return formatting.unit_of(_KINDS[quantity], self.units)
        if quantity == "coordinates":
            return formatting.unit_of("length", self.units)
        if quantity == "exchange rate":
            return self.currency
        return _HEADED.get(quantity, "")


def values_of(document: Document) -> Values:
    """Return how a document writes values."""
    cover = document.cover
    return Values(cover.units, cover.locale, cover.currency, Words(document.words))


def converted(value: float | Decimal, quantity: Quantity, how: Values) -> float:
    """Return a number in the unit behind its heading, unrounded, for files that compute with it.

    value: in SI units, or in the currency of the project.
    """
    if quantity in _KINDS:
        return formatting.converted(float(value), _KINDS[quantity], how.units)
    return float(value)


def cell_text(value: Any, shows: Shows, how: Values, row: Shown | None = None) -> str:
    """Return a value for a cell under a heading that names its unit; empty where there is nothing to show.

    row: the row of the field, which says how values are written that depend on another of its fields.
    """
    if is_nothing(value):
        return how.words.value(shows.empty) if shows.empty else ""
    if not shows.zero and not isinstance(value, str | tuple) and not value:
        return ""
    quantity = shows.quantity
    if shows.words:
        value = spelled(value, shows, how.words)
    if quantity == "unit":
        return formatting.unit_of("length", how.units) if value == "m" else str(value)
    if quantity == "how many":
        size = _in_unit(value, row, how)
        exact = size == value
        least = _EXACT_PLACES if exact else formatting.places_of("length", how.units)
        return formatting.short_number(size, how.locale, least)
    if isinstance(quantity, tuple) or isinstance(value, str | tuple | bool):
        shown = field_text(value, shows.quantities, how, row)
        return shown[:1].upper() + shown[1:] if quantity == "word" else shown
    if quantity == "whole dB":
        return formatting.number(value, how.locale)
    if quantity in _KINDS:
        return formatting.bare(float(value), _KINDS[quantity], how.units, how.locale)
    places = _HEADED_PLACES.get(quantity)
    if places is not None:
        return formatting.number(value, how.locale, places)
    return field_text(value, shows.quantities, how, row)


def spelled(value: Any, shows: Shows, words: Words) -> Any:
    """Return a coded value, or several, as the field's own set of words spells it; all else as it is."""
    if isinstance(value, tuple):
        return tuple(spelled(one, shows, words) for one in value)
    return words.value(value, shows.words) if isinstance(value, str) and value else value


def _in_unit(value: float | Decimal, row: Shown | None, how: Values) -> float | Decimal:
    """Return how many of what the row's unit says, lengths in the unit that they are shown in."""
    if row is None or _said_by(row, "how many").get("unit") != "m":
        return value
    factor = Decimal(repr(formatting.converted(1.0, "length", how.units)))
    return Decimal(value) * factor if factor != 1 else value


def cell_order(value: Any, shows: Shows, how: Values) -> float | str | None:
    """Return what a column sorts a value by, as it is shown; None where its text does as well."""
    if isinstance(value, datetime.date):
        return value.isoformat()
    if isinstance(value, tuple) and value and shows.quantity == ("date",):
        return cell_order(value[0], shows, how)
    if value is None or not shows.is_numeric or isinstance(value, str | bool | tuple):
        return None
    quantity = shows.quantity
    if not isinstance(quantity, tuple) and quantity in _KINDS:
        # What is not shown is not compared either: a page changes only where a reader sees it change.
        kind = _KINDS[quantity]
        exact = formatting.converted(float(value), kind, how.units)
        return float(formatting.rounded(exact, formatting.places_of(kind, how.units)))
    if quantity == "hours":
        return float(formatting.rounded(value, _HOURS_PLACES))
    if isinstance(value, int):
        return value
    if quantity == "figure":
        whole = float(value)
        return whole if whole == int(whole) else float(f"{whole:.{computed_figures.DIGITS}g}")
    return float(value)


def field_text(value: Any, quantities: Sequence[Quantity], how: Values, row: Shown | None = None) -> str:
    """Return the value of a field in a line; `none` where there is nothing.

    quantities: what the field holds.
    how: how the document writes values.
    row: the row of the field, which says how values are written that depend on another of its fields.
    """
    if is_nothing(value):
        return how.words.value("none")
    if isinstance(value, tuple) and not _is_place(value, quantities):
        between = "; " if quantities == ("coordinates",) or len(quantities) > _PAIR else ", "
        return between.join(item_text(item, quantities, how, row) for item in value)
    return item_text(value, quantities, how, row)


def item_text(value: Any, quantities: Sequence[Quantity], how: Values, row: Shown | None = None) -> str:
    """Return one item of a field that holds several: a value, or a group with a quantity for each part."""
    if len(quantities) == 1:
        if isinstance(value, tuple) and not _is_place(value, quantities):
            return field_text(value, quantities, how, row)
        return _one(value, quantities[0], how, _said_by(row, quantities[0]))
    pairs = list(zip(value, quantities, strict=True))
    said = {quantity: str(part) for part, quantity in pairs if quantity in _SAYING}
    parts = [_part(part, quantity, how, said) for part, quantity in pairs if quantity not in said]
    if quantities[1:2] == ("count",):
        single = quantities[0] == "tag" and value[1] == 1
        return ", ".join((parts[0] if single else f"{parts[1]} × {parts[0]}", *parts[2:]))
    if quantities[1:2] == ("ratio",):
        return " × ".join(parts)
    if tuple(quantities[-2:]) == _SPAN:
        return " ".join((*parts[:-1], how.words.value("until"), parts[-1]))
    return (", " if all(isinstance(part, str) for part in value) else " ").join(parts)


def _part(part: Any, quantity: Quantity, how: Values, said: "_Beside") -> str:
    """Return one part of a group; what the group says of several figures is said once."""
    if isinstance(part, tuple) and quantity in BESIDE:
        return ", ".join(
            [*(_one(one, quantity, how, {}) for one in part[:-1]), _one(part[-1], quantity, how, said)]
        )
    return field_text(part, (quantity,), how) if isinstance(part, tuple) else _one(part, quantity, how, said)


def is_nothing(value: Any) -> bool:
    """Say whether a value stands for nothing."""
    return value is None or value in ("", ())


# A group of more than two values has commas of its own.
_PAIR = 2
_SPAN: tuple[Quantity, Quantity] = ("time of day", "time of day")
_SAYING = frozenset(BESIDE.values())


def _said_by(row: Shown | None, quantity: Quantity) -> _Beside:
    saying = BESIDE.get(quantity)
    name = field_of(row.__class__, saying) if row is not None and saying else ""
    return {saying: str(getattr(row, name))} if saying and name else {}


def _is_place(value: Any, quantities: Sequence[Quantity]) -> bool:
    return tuple(quantities) == ("coordinates",) and not isinstance(value[0], tuple)


def _one(value: Any, quantity: Quantity, how: Values, beside: _Beside) -> str:
    if is_nothing(value):
        return how.words.value("none")
    if isinstance(value, bool):
        return how.words.value("yes" if value else "no")
    if isinstance(value, str):
        return how.words.value(value) if quantity in ("word", "verdict") else value
    if isinstance(value, datetime.date):
        return formatting.date(value, how.locale)
    if quantity == "coordinates":
        return ", ".join(formatting.short_quantity(one, "length", how.units, how.locale) for one in value)
    return amount_text(value, quantity, how, beside.get(BESIDE.get(quantity, quantity), ""))


def amount_text(value: float | Decimal, quantity: Quantity, how: Values, beside: str = "") -> str:
    """Return a number as what it is.

    value: in SI units, or in the currency of the project.
    beside: what is said beside it, where its quantity depends on that: a unit, a kind of quantity, a rule of
    the price, a calendar.
    """
    locale = how.locale
    match quantity:
        case "money":
            return formatting.money(Decimal(value), how.currency, locale)
        case "unit price":
            return formatting.unit_money(Decimal(value), how.currency, locale)
        case "price by unit":
            return formatting.unit_money(_by_shown_unit(Decimal(value), beside, how), how.currency, locale)
        case "difference":
            return _difference(Decimal(value), how)
        case "exchange rate":
            return formatting.exact_number(Decimal(value), locale)
        case "share":
            return _share(value, how)
        case "added share":
            return f"{'−' if value < 0 else '+'}{_share(-value if value < 0 else value, how)}"
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
        case "working days":
            return formatting.days_of(int(value), "working")
        case "cut length":
            return formatting.cut_length(float(value), how.units, locale)
        case "whole dB":
            return f"{formatting.number(value, locale)} {formatting.unit_of('level', how.units)}"
        case "by calendar":
            known = beside in formatting.CALENDARS
            return formatting.days_of(int(value), beside) if known else amount_text(value, "days", how)
        case "by kind":
            return _of_kind(float(value), beside, how)
        case "by rule":
            return amount_text(value, "share" if beside in SHARES else "unit price", how)
        case "figure":
            return computed_figures.figure(float(value), beside, how.units, locale)
        case "how many":
            return _how_many(value, beside, how)
        case "unit hours":
            return _unit_hours(Decimal(value), beside, how)
        case _:
            return formatting.quantity(float(value), _KINDS[quantity], how.units, locale)


SHARES = frozenset({"margin", "markup", "discount"})
"""Rules of the price whose value is a share; that of the others is an amount."""


def _share(value: float | Decimal, how: Values) -> str:
    """Return a share in percent: what people wrote with all its digits, what is computed to one place."""
    if isinstance(value, Decimal):
        return percentages.percentage(value, how.locale)
    return percentages.percentage(Decimal(f"{value:.3f}"), how.locale)


def _difference(value: Decimal, how: Values) -> str:
    """Return an amount with its sign; a word where there is no difference."""
    if not value:
        return how.words.value("the_same")
    return f"{'+' if value > 0 else '−'}{formatting.money(abs(value), how.currency, how.locale)}"


def _ratio(value: float | Decimal, locale: str) -> str:
    if isinstance(value, Decimal):
        return formatting.short_number(value, locale, _EXACT_PLACES)
    return computed_figures.significant(value, locale)


def _of_kind(value: float, kind: str, how: Values) -> str:
    # What is varied of hours and rates is a factor, told as a share.
    named = "fraction" if kind == "factor" else kind
    # A record may be another program's: what is not known is a bare number.
    known = named if named in formatting.KINDS_SHOWN else ""
    return formatting.value_text(value, known, how.units, how.locale)


def _how_many(value: float | Decimal, unit: str, how: Values) -> str:
    if unit == "m":
        return amount_text(value, "length", how)
    if unit == "h":
        return amount_text(value, "hours", how)
    return formatting.short_number(value, how.locale, _EXACT_PLACES)


def _by_shown_unit(value: Decimal, unit: str, how: Values) -> Decimal:
    """Return what one unit costs; of a length, what its unit as shown does."""
    if unit != "m" or formatting.unit_of("length", how.units) == unit:
        return value
    return (value * _M_PER_FT).normalize()


def _unit_hours(value: Decimal, unit: str, how: Values) -> str:
    """Return the hours of one unit; of a length, what its unit as shown takes; of hours, a share of them."""
    if unit == "h":
        return amount_text(value, "share", how)
    if unit == "m":
        value = value / Decimal(repr(formatting.converted(1.0, "length", how.units)))
    return f"{formatting.short_number(value, how.locale, _UNIT_HOURS_PLACES)} h"
