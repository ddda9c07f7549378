"""Formulas with their equation, source and validity beside them.

A module of `proposal.standards` marks each public function with `formula(...)`. The design calls such a
function through `working(...)` of `working.py`.

The equation is plain text: `·` times, `/`, `^` power, `²`, `√(…)`, `log10(…)`, `min(…)`, `max(…)`, `ceil(…)`,
`floor(…)`, `erf(…)`, `sin(…)` and `cos(…)` of radians, `e`, `π`, `sum(…)` over parameters that are sequences
(their symbols end in `_i`), and `if(condition, value, condition, value, …, otherwise)`. Symbols are Latin or
Greek letters, digits and `_`.
"""

import functools
import inspect
import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, NamedTuple, ParamSpec, TypeVar

from proposal.standards.sources import Source
from proposal.standards.validity import OneOf, OutOfRange, Range, check_validity

Arguments = ParamSpec("Arguments")
Answer = TypeVar("Answer", bound=float)
Many = TypeVar("Many")


class Term(NamedTuple):
    """What one parameter of a formula is called in its equation, what it means and its unit."""

    symbol: str
    meaning: str
    unit: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Formula:
    """What stands beside one function of `proposal.standards`."""

    title: str
    equation: str
    source: Source
    result: tuple[str, str]
    where: Mapping[str, Term]
    valid: Mapping[str, Range | OneOf]

    @property
    def right_side(self) -> str:
        """What stands after the first equals sign of the equation."""
        return self.equation.split(" = ", 1)[1]


_FORMULAS: dict[Callable[..., float], Formula] = {}
_BY_NAME: dict[str, Callable[..., float]] = {}
_ARRAY_FORMS: dict[Callable[..., Any], Callable[..., float]] = {}
_RESERVED = frozenset({"title", "unit", "limit", "uses", "note", "function"})
_WORDS = frozenset({"e", "π", "if", "min", "max", "ceil", "floor", "log10", "erf", "sin", "cos", "sum"})


def formula(
    *,
    title: str,
    equation: str,
    source: Source,
    result: tuple[str, str],
    where: Mapping[str, tuple[str, str, str]],
    valid: Mapping[str, Range | OneOf],
) -> Callable[[Callable[Arguments, Answer]], Callable[Arguments, Answer]]:
    """Put equation, units, source and validity beside a function, and hold its callers to the validity.

    title: what the function returns, as a heading
    equation: `symbol = expression`, in the plain text that this module describes
    source: the publication
    result: symbol and unit of what is returned
    where: parameter name to its symbol, meaning and unit
    valid: parameter name to the numbers for which the source states the formula

    The function then raises OutOfRange for a number outside a range that carries no warning, and for a
    result that is not a finite number. A TypeError at import tells of a description that does not fit.
    """
    terms = {name: Term(*term) for name, term in where.items()}
    stated = Formula(title=title, equation=equation, source=source, result=result, where=terms, valid=valid)

    def describe(function: Callable[Arguments, Answer]) -> Callable[Arguments, Answer]:
        names = tuple(inspect.signature(function).parameters)
        if set(names) != set(where) or set(names) != set(valid) or _RESERVED & set(names):
            raise TypeError(f"{function.__name__}: where and valid must name exactly the parameters {names}")
        if _WORDS & {term.symbol for term in terms.values()}:
            raise TypeError(f"{function.__name__}: the words {sorted(_WORDS)} cannot be symbols")
        if not equation.startswith(f"{result[0]} = "):
            raise TypeError(f"{function.__name__}: the equation must begin with '{result[0]} = '")

        in_order = tuple((name, valid[name]) for name in names)

        @functools.wraps(function)
        def checked(*positional: Arguments.args, **named: Arguments.kwargs) -> Answer:
            for (name, allowed), value in zip(in_order, positional, strict=False):
                # Nearly every value is a number in its range: anything else is looked at in full.
                if type(value) is not float or value not in allowed:
                    check_validity(function.__name__, name, value, allowed)
            for name, value in named.items():
                if name in valid:
                    check_validity(function.__name__, name, value, valid[name])
            answer = function(*positional, **named)
            if not math.isfinite(answer):
                raise OutOfRange(f"{function.__name__}: the result is not a finite number")
            return answer

        _FORMULAS[checked] = stated
        _BY_NAME[name_of(function)] = function
        return checked

    return describe


def array_form(
    scalar: Callable[..., float],
) -> Callable[[Callable[Arguments, Many]], Callable[Arguments, Many]]:
    """Put a function beside the formula that it computes for many numbers at once.

    scalar: the formula; the function takes the same parameters, each a number or an array of them.

    Validity is not looked at: who calls it with what people write holds that to the scalar form.
    A TypeError at import tells of other parameters than the formula has.
    """
    formula_of(scalar)

    def describe(function: Callable[Arguments, Many]) -> Callable[Arguments, Many]:
        if tuple(inspect.signature(function).parameters) != tuple(inspect.signature(scalar).parameters):
            raise TypeError(f"{function.__name__}: wanted the parameters of {scalar.__name__}")
        _ARRAY_FORMS[function] = scalar
        return function

    return describe


def scalar_form_of(function: Callable[..., Any]) -> Callable[..., float] | None:
    """Return the formula that a function computes for many numbers at once, None for any other."""
    return _ARRAY_FORMS.get(function)


def name_of(function: Callable[..., float]) -> str:
    """Return the name by which `computing` finds a formula again."""
    return f"{function.__module__}.{function.__name__}"


def computing(name: str) -> Callable[..., float]:
    """Return the function of a formula, which looks at no validity.

    name: as `name_of` gives it
    """
    return _BY_NAME[name]


def formula_of(function: Callable[..., float]) -> Formula:
    """Return what stands beside a function; LookupError where nothing does."""
    try:
        return _FORMULAS[function]
    except KeyError:
        raise LookupError(f"{getattr(function, '__name__', function)} has no formula beside it") from None
