"""Write quantities, numbers, money and dates as the project's units and locale have them.

Pages, drawings and exports show a value through these functions alone, so that one value never appears in
two forms. Rounding is half-up in decimal, as a reader does it by hand.

Everywhere here,
value: what is written: a quantity in SI units, a number, a date; `value_m` in m, `value_w` in W.
kind: kind of quantity, as `proposal.quantities.units.in_units` takes it.
units: metric or US customary, as `project.yaml` names them.
locale: such as `en_GB`.
"""

import datetime
import re
from collections.abc import Mapping, Sequence
from decimal import Decimal

from proposal.quantities import rounding
from proposal.quantities.currencies import minor_units, smallest_unit
from proposal.quantities.customary import feet_and_inches, feet_as_written
from proposal.quantities.locale_forms import forms_of
from proposal.quantities.units import Units, in_units

# Places shown in tables, by kind and, where the two systems differ, by the unit's text.
_PLACES: Mapping[str, int] = {
    "length": 1,
    "position": 2,
    "short_length": 1,
    "area": 1,
    "short_area": 0,
    "volume": 0,
    "mass": 1,
    "power": 1,
    "tap_power": 2,
    "apparent_power": 0,
    "energy": 1,
    "yearly_energy": 0,
    "charge": 1,
    "voltage": 1,
    "current": 2,
    "small_current": 1,
    "resistance": 2,
    "frequency": 0,
    "frequency_mhz": 3,
    "duration": 1,
    "temperature": 1,
    "temperature_rise": 1,
    "level": 1,
    "line_loss": 2,
    "level_dbm": 1,
    "sound_level": 1,
    "angle": 0,
    "fraction": 1,
    "data_rate": 3,
    "port_speed": 0,
    "latency": 1,
    "force": 0,
    "airflow": 0,
    "heat_flow": 0,
    "force_per_length": 2,
    "loss_per_length": 2,
    "warming": 2,
}
_IN_FEET = frozenset({"length", "position"})
"""What is told in feet and inches where units are US customary."""
KINDS_SHOWN = frozenset(_PLACES)
_PLACES_OF_UNIT: Mapping[str, int] = {"ft": 1, "in": 2, "ft²": 0, "in²": 2, "ft³": 0, "lbf": 1}
_NO_SPACE_BEFORE = frozenset({"°", ""})
# The rule of Unicode locale data for currencies (UTS 35, currencySpacing).
_LETTER_BEFORE_DIGIT = re.compile(r"(?<=[^\W\d_])(?=\d)")


def rounded(value: float | Decimal, places: int) -> Decimal:
    """Return a number rounded half-up, never a negative zero.

    places: decimal places kept.
    """
    exact = value if isinstance(value, Decimal) else Decimal(repr(value))
    return rounding.rounded(exact, rounding.step_of(places))


def number(value: float | Decimal, locale: str, places: int = 0) -> str:
    """Return a number with its groups and decimal sign, `1,234.50`.

    places: decimal places, all of them shown.
    """
    return forms_of(locale).number(rounded(value, places), places)


def short_number(value: float | Decimal, locale: str, places: int = 3) -> str:
    """Return a number without trailing zeros, `0.6` or `12`.

    places: the most decimal places shown.
    """
    return forms_of(locale).short_number(rounded(value, places), places)


def exact_number(value: Decimal, locale: str) -> str:
    """Return a number with all its digits and no trailing zeros, `0.0295841`."""
    return number(value, locale, rounding.places_in(value))


def unit_of(kind: str, units: str) -> str:
    """Return the text of the unit that a kind of quantity is shown in, for the heading of a column.

    kind: as `proposal.quantities.units.in_units` takes it.  units: metric or us_customary.
    """
    return in_units(0.0, kind, _system(units))[1]


def converted(value: float, kind: str, units: str) -> float:
    """Return a value as the project's units have it, unrounded, for files that compute with it.

    value: as the program keeps it, SI.  kind: as `proposal.quantities.units.in_units` takes it.
    """
    return in_units(value, kind, _system(units))[0]


def places_of(kind: str, units: str) -> int:
    """Return how many decimal places a kind of quantity is shown with in tables."""
    return _PLACES_OF_UNIT.get(unit_of(kind, units), _PLACES[kind])


def quantity(value: float, kind: str, units: str, locale: str) -> str:
    """Return a value with its unit, always to the same places, `42.3 m`; feet with inches, `9 ft 6 in`.

    value: as the program keeps it, SI.  kind: as `proposal.quantities.units.in_units` takes it.
    """
    if kind in _IN_FEET and _system(units) == "us_customary":
        return feet_as_written(converted(value, kind, units))
    kind = _in_a_fitting_unit(value, kind)
    shown, unit = in_units(value, kind, _system(units))
    return with_unit(number(shown, locale, places_of(kind, units)), unit, locale)


def short_quantity(value: float, kind: str, units: str, locale: str) -> str:
    """Return a value with its unit for prose, a place finer than in tables, no trailing zeros, `2.75 m`.

    Feet have inches here too.
    """
    if kind in _IN_FEET and _system(units) == "us_customary":
        return feet_as_written(converted(value, kind, units))
    kind = _in_a_fitting_unit(value, kind)
    shown, unit = in_units(value, kind, _system(units))
    return with_unit(short_number(shown, locale, max(places_of(kind, units) + 1, 2)), unit, locale)


def _in_a_fitting_unit(value: float, kind: str) -> str:
    """Return the kind whose unit suits a value: milliseconds below a second, megahertz from 100 kHz."""
    if kind == "duration" and 0 < abs(value) < 1:
        return "latency"
    return "frequency_mhz" if kind == "frequency" and abs(value) >= 1e5 else kind


def bare(value: float, kind: str, units: str, locale: str) -> str:
    """Return a value without its unit, for a column whose heading names it (see `unit_of`)."""
    shown, _ = in_units(value, kind, _system(units))
    return number(shown, locale, places_of(kind, units))


def length(value_m: float, units: str, locale: str) -> str:
    """Return a length with its unit, `42.3 m` or `9 ft 6 in`."""
    return quantity(value_m, "length", units, locale)


def cut_length(value_m: float, units: str, locale: str) -> str:
    """Return a length to which something is cut, `42.3 m` or `217 ft 5 in`: feet always have inches.

    value_m: m.
    """
    if _system(units) == "us_customary":
        return feet_and_inches(converted(value_m, "length", units))
    return length(value_m, units, locale)


def length_range(shortest_m: float, longest_m: float, units: str, locale: str) -> str:
    """Return the span of several lengths, `14.1 to 38.0 m`, or the one length where all are alike.

    shortest_m, longest_m: the ends of the span, m.
    """
    longest = length(longest_m, units, locale)
    if length(shortest_m, units, locale) == longest:
        return longest
    customary = _system(units) == "us_customary"
    shortest = (length if customary else _bare_length)(shortest_m, units, locale)
    return f"{shortest} to {longest}"


def _bare_length(value_m: float, units: str, locale: str) -> str:
    return bare(value_m, "length", units, locale)


def power(value_w: float, units: str, locale: str) -> str:
    """Return a power with its unit, `25.5 W`."""
    return quantity(value_w, "power", units, locale)


def money(amount: Decimal, currency: str, locale: str) -> str:
    """Return an amount with the sign of its currency, in the currency's own places, `€1,234.50` or `¥1,234`.

    amount: rounded half up, away from zero.
    currency: code of ISO 4217.
    """
    return _money(amount, currency, locale, minor_units(currency))


def about_money(amount: Decimal, currency: str, locale: str) -> str:
    """Return an amount as people say it, with two figures and no places that add nothing: `€3,300`.

    amount: exact; it stands elsewhere in full.
    currency: code of ISO 4217.
    """
    return _money(rounding.rounded_to_figures(amount, 2), currency, locale, 0)


def unit_money(amount: Decimal, currency: str, locale: str) -> str:
    """Return the price of one unit with all its digits, `€0.0125`, at least in the currency's own places.

    amount: price of one.
    currency: code of ISO 4217.
    """
    return _money(amount, currency, locale, unit_money_places(amount, currency))


def money_places(currency: str) -> int:
    """Return how many decimal places amounts in a currency have: 0, 2 or 3."""
    return minor_units(currency)


def amount(value: Decimal, currency: str) -> Decimal:
    """Return an amount in the currency's own places, for files that compute with it.

    currency: code of ISO 4217.
    """
    return rounding.rounded(value, smallest_unit(currency))


def unit_amount(value: Decimal, currency: str) -> Decimal:
    """Return the price of one unit with all its digits, at least in the currency's own places.

    currency: code of ISO 4217.
    """
    return rounded(value, unit_money_places(value, currency))


def unit_money_places(value: Decimal, currency: str) -> int:
    """Return how many decimal places the price of one unit is shown with: all that it has, or more.

    currency: code of ISO 4217.
    """
    return max(minor_units(currency), rounding.places_in(value))


def _money(amount: Decimal, currency: str, locale: str, places: int) -> str:
    shown = forms_of(locale).money(rounded(amount, places), currency, places)
    return _LETTER_BEFORE_DIGIT.sub("\N{NO-BREAK SPACE}", shown)


def date(value: datetime.date, locale: str) -> str:
    """Return a date in words, `2 March 2026`."""
    return forms_of(locale).date(value)


def short_date(value: datetime.date, locale: str) -> str:
    """Return day and month without the year, `2 Mar` or `Mar 2`, for scales on which the year stands."""
    return forms_of(locale).short_date(value)


def cell_date(locale: str) -> str:
    """Return how a spreadsheet is told to write dates, `d mmm yyyy` or `mmm d, yyyy`."""
    return forms_of(locale).cell_date


def weekday_date(value: datetime.date, locale: str) -> str:
    """Return a date with its day of the week, `Mon, 2 Mar 2026`, for tables of days."""
    return forms_of(locale).weekday_date(value)


def time_of_day(minutes: int, locale: str) -> str:
    """Return a time of day, `09:30` or `9:30 AM`.

    minutes: after midnight; the next day's begin again at zero.
    """
    hours, rest = divmod(minutes % (24 * 60), 60)
    return forms_of(locale).time_of_day(datetime.time(hours, rest))


def value_text(value: float | str | bool | None, kind: str, units: str, locale: str) -> str:
    """Return the value of an assumption or an open question as a reader expects it.

    kind: of quantity, for its unit; empty for words, counts and choices.
    """
    if value is None:
        return "not known"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return value
    return short_quantity(value, kind, units, locale) if kind else short_number(value, locale)


def count_of(count: int, noun: str, plural: str = "") -> str:
    """Return a count with its noun in the right number, `1 cable` or `3 cables`.

    plural: where it is not the noun with an s.
    """
    return f"{count} {noun}" if count == 1 else f"{count} {plural or noun + 's'}"


_DAYS_OF: Mapping[str, tuple[str, str]] = {
    "working": ("working day", "working days"),
    "site": ("day on site", "days on site"),
    "calendar": ("calendar day", "calendar days"),
}
CALENDARS = frozenset(_DAYS_OF)


def days_of(days: int, calendar: str) -> str:
    """Return a number of days of a calendar of the programme in words, `3 days on site`.

    calendar: working, site or calendar.
    """
    return count_of(days, *_DAYS_OF[calendar])


def listed(items: tuple[str, ...] | list[str]) -> str:
    """Return items as a phrase, `A, B and C`."""
    if len(items) < 2:
        return "".join(items)
    return ", ".join(items[:-1]) + " and " + items[-1]


_DETERMINED = re.compile(r"(?:the|an?|our|your|their|its|this|that|\S+['’]s)\s", re.IGNORECASE)


def with_the(names: Sequence[str]) -> str:
    """Return names as people wrote them in a list with their article, where they bring none of their own.

    `the codec and recorder`, `the client's loudspeakers`, `the codec and the town's recorder`.
    """
    if not any(_DETERMINED.match(name) for name in names):
        return f"the {listed(list(names))}"
    return listed([_with_the(name) for name in names])


def _with_the(name: str) -> str:
    if not _DETERMINED.match(name):
        return f"the {name}"
    first, _, rest = name.partition(" ")
    return f"{first.lower()} {rest}" if first.lower() in _ARTICLES else f"{_owner(first)}{name}"


_ARTICLES = ("the", "a", "an", "our", "your", "their", "its", "this", "that")


def _owner(first: str) -> str:
    """Return the article of whoever owns a thing: none before a name, `the ` before a noun."""
    return "" if first[:1].isupper() else "the "


def with_unit(shown: str, unit: str, locale: str) -> str:
    """Return a figure with its unit after it, as its place writes them.

    shown, unit: the figure as text, and its unit.
    """
    close = unit in _NO_SPACE_BEFORE or (unit == "%" and locale.endswith("_US"))
    return f"{shown}{unit}" if close else f"{shown} {unit}"


def _system(units: str) -> Units:
    """Return the name of the unit system.

    Raises ValueError for any other name.
    """
    if units == "metric":
        return "metric"
    if units == "us_customary":
        return "us_customary"
    raise ValueError(f"units are metric or us_customary, found {units!r}")
