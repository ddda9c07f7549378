"""Write computed numbers: to so many significant digits, in the units of the project.

Everywhere here,
value: a computed number, in the unit that stands beside it.
units: metric or US customary, as `project.yaml` names them.
locale: such as `en_GB`.
"""

from collections.abc import Mapping
from decimal import Decimal

from proposal.quantities import formatting

DIGITS = 4
"""Significant digits that a computed number is shown to."""
_RAISED = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")


def significant(value: float, locale: str, digits: int = DIGITS) -> str:
    """Return a computed number to so many significant digits, without trailing zeros, `0.01724` or `91.25`.

    Whole numbers keep all their digits; what is very small or very large is written `1.724×10⁻⁸`.
    """
    if value == 0 or (value == int(value) and abs(value) < 1e12):
        return formatting.short_number(value, locale)
    exponent = Decimal(repr(value)).adjusted()
    if -4 <= exponent < 6:
        return formatting.short_number(value, locale, max(digits - 1 - exponent, 0))
    head = formatting.short_number(Decimal(repr(value)).scaleb(-exponent), locale, digits - 1)
    return f"{head}×10{str(exponent).translate(_RAISED)}"


# Units of figures that US customary units write otherwise, and the kind of quantity each measures.
_CONVERTED: Mapping[str, str] = {
    "m": "length",
    "m²": "area",
    "kg": "mass",
    "°C": "temperature",
    "m³/h": "airflow",
    "K": "temperature_rise",
    "N": "force",
}
_SMALL_M, _SMALL_M2, _INCH_M = 0.3, 0.01, 0.0254
"""Below these lengths and areas are told in inches."""


def figure(value: float, unit: str, units: str, locale: str) -> str:
    """Return a computed number with its unit, in the project's units, to four digits; `-` is no unit."""
    kind = _CONVERTED.get(unit)
    if unit in ("", "-"):
        return significant(value, locale)
    if kind is None or formatting.unit_of(kind, units) == unit:
        shown = significant(value, locale)
        return formatting.with_unit(shown, unit, locale) if unit == "%" else f"{shown} {unit}"
    if unit == "m" and abs(value) < _SMALL_M:
        return f"{significant(value / _INCH_M, locale)} in"
    if unit == "m²" and abs(value) < _SMALL_M2:
        return f"{significant(value / _INCH_M**2, locale)} in²"
    return formatting.quantity(value, kind, units, locale)


def kind_of_unit(unit: str) -> str:
    """Return the kind of quantity that a unit of figures measures, such as `m`; empty for any other."""
    return _CONVERTED.get(unit, "")
