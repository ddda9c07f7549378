"""The working of one use of a formula: equation, numbers put in, result, limit and source.

The design calls a function that carries a formula through `working(...)` and gets a frozen record that the
calculation pages print as it is. With the numbers put in, a sum is written out, and of an `if` only the value
that applies is shown.
"""

import functools
import inspect
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import chain
from typing import Literal, NamedTuple

from proposal.standards.formula import Formula, Term, formula_of, name_of
from proposal.standards.sources import Source
from proposal.standards.substitution import put_in
from proposal.standards.validity import Range, numbers_in

Comparison = Literal["≤", "≥", ""]
Verdict = Literal["holds", "fails", ""]

_MOST_KEPT = 8192
_ROUNDING_NOISE = 1e-9  # sums of lengths that should meet a limit exactly miss it by less than this share


class Value(NamedTuple):
    """One number that was put into an equation."""

    symbol: str
    meaning: str
    number: float
    unit: str


class Limit(NamedTuple):
    """What a result is held against: at most (≤) or at least (≥) the value."""

    value: float
    comparison: Literal["≤", "≥"]
    source: Source


@dataclass(frozen=True, slots=True)
class Numbers:
    """The numbers that a formula was called with; they are written out when a page asks for it.

    symbol: what the formula gives
    right_side: the formula, in symbols
    given: what was put in, with its symbol, meaning and unit
    function: name of what computes it
    names: its parameters, in the order of what was put in
    """

    symbol: str
    right_side: str
    given: tuple[tuple[Term, float | tuple[float, ...]], ...]
    function: str
    names: tuple[str, ...]

    @property
    def substituted(self) -> str:
        """The equation with the numbers put in."""
        single = {term.symbol: number for term, number in self.given if not isinstance(number, tuple)}
        many = {term.symbol: numbers for term, numbers in self.given if isinstance(numbers, tuple)}
        return f"{self.symbol} = {put_in(self.right_side, single, many)}"

    @property
    def values(self) -> tuple[Value, ...]:
        """Every number with its symbol, meaning and unit."""
        listed = []
        for term, value in self.given:
            if isinstance(value, tuple):
                stem = term.symbol.removesuffix("_i")
                for place, number in enumerate(value, 1):
                    listed.append(Value(f"{stem}_{place}", term.meaning, number, term.unit))
            else:
                listed.append(Value(term.symbol, term.meaning, value, term.unit))
        return tuple(listed)


class Written(NamedTuple):
    """Numbers put in that belong to no formula, as they are shown."""

    substituted: str
    values: tuple[Value, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Working:
    """One calculation, as the pages print it.

    title: what is calculated
    equation: in symbols
    numbers: what is put in
    result, unit: what came out, unrounded
    limit, comparison, limit_source: what it is held against, if anything
    source: where the equation comes from
    uses: dotted field paths of the project inputs that the result depends on
    note: what a reader should know besides, such as a range the source warns about
    verdict: holds or fails; empty without a limit
    """

    title: str
    equation: str
    numbers: Numbers | Written
    result: float
    unit: str
    source: Source
    limit: float | None = None
    comparison: Comparison = ""
    limit_source: Source | None = None
    uses: tuple[str, ...] = ()
    note: str = ""
    verdict: Verdict = field(init=False, default="")

    def __post_init__(self) -> None:
        """Judge the result by its limit."""
        if (self.limit is None) != (self.comparison == ""):
            raise ValueError("wanted a limit and its comparison together; found one of them")
        object.__setattr__(self, "verdict", self._judged())

    @property
    def substituted(self) -> str:
        """The equation with the numbers put in, each rounded to four significant digits."""
        return self.numbers.substituted

    @property
    def values(self) -> tuple[Value, ...]:
        """Symbol, meaning, number and unit of everything put in."""
        return self.numbers.values

    @property
    def margin(self) -> float | None:
        """How far the result is on the good side of the limit, in the result's unit; None without one."""
        if self.limit is None:
            return None
        return self.limit - self.result if self.comparison == "≤" else self.result - self.limit

    def _judged(self) -> Verdict:
        margin = self.margin
        if margin is None or self.limit is None:
            return ""
        return "holds" if margin >= -_ROUNDING_NOISE * max(abs(self.limit), 1e-3) else "fails"


def working(
    function: Callable[..., float],
    /,
    *,
    title: str | None = None,
    unit: str | None = None,
    limit: Limit | None = None,
    uses: tuple[str, ...] = (),
    note: str = "",
    **values: float | Sequence[float],
) -> Working:
    """Call a formula and return its working.

    function: a function that carries a formula
    title: instead of the formula's own, such as one that names the cable
    unit: a name for a result that is a pure number, such as links
    limit: what the result is held against
    uses: dotted field paths of the project inputs behind the values
    note: what a reader should know besides
    values: the function's parameters by name, in their units

    Raises OutOfRange where the source says nothing; LookupError for a function without a formula.
    """
    use = _Use(
        told=(function, title, unit, limit, repr(limit and limit.value), uses, note, repr(values)),
        given=(function, title, unit, limit, uses, note),
        values=values,
    )
    return _written(use)


@dataclass(frozen=True, slots=True)
class _Use:
    """One use of a formula.

    told: what tells it from others: numbers to the last digit, with their sign and kind.
    """

    told: tuple[object, ...]
    given: tuple[Callable[..., float], str | None, str | None, Limit | None, tuple[str, ...], str] = field(
        compare=False
    )
    values: Mapping[str, float | Sequence[float]] = field(compare=False)


@functools.lru_cache(maxsize=_MOST_KEPT)
def _written(use: _Use) -> Working:
    """Return a working: the same use by another device, or in another design, is written once."""
    function, title, unit, limit, uses, note = use.given
    stated = formula_of(function)
    if unit is not None and unit != stated.result[1] and stated.result[1] != "-":
        raise ValueError(f"wanted the result in {stated.result[1]}; found {unit}")
    values = {**_defaults(function), **use.values}
    answer = float(function(**values))
    notes = [note] if note else []
    for name, value in values.items():
        allowed = stated.valid[name]
        if isinstance(allowed, Range) and allowed.warning:
            notes += [allowed.warning] * any(number not in allowed for number in numbers_in(value))
    return Working(
        title=stated.title if title is None else title,
        equation=stated.equation,
        numbers=Numbers(
            symbol=stated.result[0],
            right_side=stated.right_side,
            given=tuple(_given(stated, values)),
            function=name_of(function),
            names=tuple(name for name in stated.where if name in values),
        ),
        result=answer,
        unit=stated.result[1] if unit is None else unit,
        limit=None if limit is None else limit.value,
        comparison="" if limit is None else limit.comparison,
        limit_source=None if limit is None else limit.source,
        source=stated.source,
        uses=uses,
        note=" ".join(notes),
    )


def once_each(uses: Iterable[tuple[str, ...]]) -> tuple[str, ...]:
    """Return the project inputs behind several values, each once, in order.

    uses: those of each; many values rest on the same.
    """
    return tuple(dict.fromkeys(chain.from_iterable(dict.fromkeys(uses))))


@functools.cache
def _defaults(function: Callable[..., float]) -> Mapping[str, float | Sequence[float]]:
    """Return the values of the parameters that need not be given."""
    return {
        name: parameter.default
        for name, parameter in inspect.signature(function).parameters.items()
        if parameter.default is not inspect.Parameter.empty
    }


def _given(
    stated: Formula, values: Mapping[str, float | Sequence[float]]
) -> Iterator[tuple[Term, float | tuple[float, ...]]]:
    for name, term in stated.where.items():
        if name in values:
            value = values[name]
            yield term, numbers_in(value) if isinstance(value, Sequence) else float(value)
