"""Calculations in the units of the project: equation, numbers put in, result and limit.

Calculations are made in SI. Where the project has US customary units, an equation that holds in any
units takes numbers in these as it is; in any other, factors stand beside its symbols,
`32.45 + 20·log10((0.3048·d)/1000)`.
"""

import math
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from proposal.standards.formula import computing
from proposal.standards.substitution import SYMBOL, applying, put_in
from proposal.standards.working import Numbers, Value, Working, Written


class _Unit(NamedTuple):
    """A customary unit beside its SI unit.

    into, back: how an equation makes SI of a symbol, and this unit of a result.
    factor, offset: SI = written · factor + offset.
    """

    unit: str
    into: str
    back: str
    factor: float
    offset: float = 0.0

    def written(self, value: float) -> float:
        """Return a value of SI in this unit."""
        return (value - self.offset) / self.factor


_FOOT, _INCH, _POUND, _POUND_FORCE = 0.3048, 0.0254, 0.45359237, 4.4482216152605
_PER_FOOT = ("{}/0.3048", "0.3048·{}", 1 / _FOOT)
_CUSTOMARY: Mapping[str, _Unit] = {
    "m": _Unit("ft", "0.3048·{}", "{}/0.3048", _FOOT),
    "m²": _Unit("ft²", "0.0929·{}", "{}/0.0929", _FOOT**2),
    "kg": _Unit("lb", "0.4536·{}", "{}/0.4536", _POUND),
    "°C": _Unit("°F", "({} − 32)/1.8", "1.8·{} + 32", 1 / 1.8, -32 / 1.8),
    "K": _Unit("°F", "{}/1.8", "1.8·{}", 1 / 1.8),
    "1/K": _Unit("1/°F", "1.8·{}", "{}/1.8", 1.8),
    "N": _Unit("lbf", "4.448·{}", "{}/4.448", _POUND_FORCE),
    "N/m": _Unit("lbf/ft", "14.59·{}", "{}/14.59", _POUND_FORCE / _FOOT),
    "m³/h": _Unit("ft³/min", "1.699·{}", "{}/1.699", _FOOT**3 * 60),
    "Ω/m": _Unit("Ω/ft", *_PER_FOOT),
    "W/m": _Unit("W/ft", *_PER_FOOT),
    "K·m/W": _Unit("°F·ft/W", "0.3048·{}/1.8", "1.8·{}/0.3048", _FOOT / 1.8),
    "kg/m³": _Unit("lb/ft³", "16.02·{}", "{}/16.02", _POUND / _FOOT**3),
    "J/(kg·K)": _Unit("BTU/(lb·°F)", "4187·{}", "{}/4187", 4186.8),
}
_SMALL: Mapping[str, tuple[float, _Unit]] = {
    "m": (0.3, _Unit("in", "0.0254·{}", "{}/0.0254", _INCH)),
    "m²": (0.01, _Unit("in²", "0.000645·{}", "{}/0.000645", _INCH**2)),
}
"""Units where no value of a calculation is as large as that."""
_SLIGHTLY, _MORE = 1.1, 0.013
"""By which a calculation is tried with other numbers: agreement by chance does not make an equation hold."""
_AGREE = 1e-6


def in_units(working: Working, units: str) -> Working:
    """Return a calculation with every number in the project's units.

    units: metric or us_customary.
    """
    chosen = _chosen(working) if units == "us_customary" else {}
    if not chosen:
        return working

    def told(value: float, unit: str) -> float:
        return chosen[unit].written(value) if unit in chosen else value

    def unit_of(unit: str) -> str:
        return chosen[unit].unit if unit in chosen else unit

    equation, substituted = _told(working, chosen)
    values = tuple(
        one._replace(number=told(one.number, one.unit), unit=unit_of(one.unit)) for one in working.values
    )
    return replace(
        working,
        equation=equation,
        numbers=Written(substituted, values),
        result=told(working.result, working.unit),
        unit=unit_of(working.unit),
        limit=None if working.limit is None else told(working.limit, working.unit),
    )


def _chosen(working: Working) -> Mapping[str, _Unit]:
    """Return the customary unit for each SI unit of a calculation, one for all its values of that unit."""
    largest: dict[str, float] = {}
    limit = 0.0 if working.limit is None else working.limit
    ends = [Value("", "", number, working.unit) for number in (working.result, limit)]
    for one in (*working.values, *ends):
        if one.unit in _CUSTOMARY:
            largest[one.unit] = max(largest.get(one.unit, 0.0), abs(one.number))
    return {
        unit: _SMALL[unit][1] if unit in _SMALL and value < _SMALL[unit][0] else _CUSTOMARY[unit]
        for unit, value in largest.items()
    }


def _told(working: Working, chosen: Mapping[str, _Unit]) -> tuple[str, str]:
    """Return the equation in symbols, and with its numbers put in."""
    numbers = working.numbers
    if isinstance(numbers, Written):
        return working.equation, numbers.substituted
    by_symbol = {term.symbol: chosen[term.unit] for term, _ in numbers.given if term.unit in chosen}
    result = chosen.get(working.unit)
    plain = _holds(numbers, chosen, result)
    single: dict[str, float] = {}
    many: dict[str, tuple[float, ...]] = {}
    for term, value in numbers.given:
        unit = by_symbol.get(term.symbol)
        if isinstance(value, tuple):
            many[term.symbol] = tuple(unit.written(one) for one in value) if unit else value
        else:
            single[term.symbol] = unit.written(value) if unit else value

    def right_side(text: str) -> str:
        if plain:
            return text
        made = _with_factors(text, by_symbol)
        return made if result is None else result.back.format(f"({made})")

    applies = applying(
        numbers.right_side, {term.symbol: v for term, v in numbers.given if not isinstance(v, tuple)}
    )
    equation = f"{numbers.symbol} = {right_side(numbers.right_side)}"
    return equation, f"{numbers.symbol} = {put_in(right_side(applies), single, many)}"


def _with_factors(text: str, by_symbol: Mapping[str, _Unit]) -> str:
    """Return an expression in which every symbol in a customary unit is made SI."""

    def put(found: re.Match[str]) -> str:
        unit = by_symbol.get(found[0])
        if unit is None:
            return found[0]
        made = unit.into.format(found[0])
        before, after = text[found.start() - 1 : found.start()], text[found.end() : found.end() + 1]
        return made if before == "(" and after in ("", ")", ",") else f"({made})"

    return SYMBOL.sub(put, text)


def _holds(numbers: Numbers, chosen: Mapping[str, _Unit], result: _Unit | None) -> bool:
    """Return whether the equation holds with numbers in customary units as it does in SI."""
    compute = computing(numbers.function)
    return all(
        _agrees(compute, numbers, chosen, result, change)
        for change in (lambda value: value, lambda value: value * _SLIGHTLY + _MORE)
    )


def _agrees(
    compute: Callable[..., float],
    numbers: Numbers,
    chosen: Mapping[str, _Unit],
    result: _Unit | None,
    change: Callable[[float], float],
) -> bool:
    si = dict(_arguments(numbers, chosen, change, lambda value, _: value))
    customary = dict(_arguments(numbers, chosen, change, lambda value, unit: unit.written(value)))
    try:
        wanted, found = float(compute(**si)), float(compute(**customary))
    except (ArithmeticError, ValueError):
        return False
    return math.isclose(found, wanted if result is None else result.written(wanted), rel_tol=_AGREE)


def _arguments(
    numbers: Numbers,
    chosen: Mapping[str, _Unit],
    change: Callable[[float], float],
    written: Callable[[float, _Unit], float],
) -> Iterator[tuple[str, float | Sequence[float]]]:
    for name, (term, value) in zip(numbers.names, numbers.given, strict=True):
        unit = chosen.get(term.unit)
        if unit is None:
            yield name, value
        elif isinstance(value, tuple):
            yield name, tuple(written(change(one), unit) for one in value)
        else:
            yield name, written(change(value), unit)
