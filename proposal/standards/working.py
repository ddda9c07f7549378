"""Formulas with their equation, source and validity beside them, and the working of one use of one.

A module of `proposal.standards` marks each public function with `formula(...)`. The design calls such a
function through `working(...)` and gets a frozen record that the calculation pages print as it is.

The equation is plain text: `·` times, `/`, `^` power, `²`, `√(…)`, `log10(…)`, `min(…)`, `max(…)`, `ceil(…)`,
`floor(…)`, `erf(…)`, `sin(…)` and `cos(…)` of radians, `e`, `π`, `sum(…)` over parameters that are sequences
(their symbols end in `_i`), and `if(condition, value, condition, value, …, otherwise)`. Symbols are Latin or
Greek letters, digits and `_`.
With the numbers put in, a sum is written out and of an `if` only the value that applies is shown.
"""

import functools
import inspect
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal, NamedTuple, ParamSpec, TypeVar, cast

from proposal.standards.substitution import number_text, put_in

Kind = Literal["published", "common practice", "editable default"]
Comparison = Literal["≤", "≥", ""]
Verdict = Literal["holds", "fails", ""]

Arguments = ParamSpec("Arguments")
Answer = TypeVar("Answer", bound=float)
Many = TypeVar("Many")

_ROUNDING_NOISE = 1e-9  # sums of lengths that should meet a limit exactly miss it by less than this share


class OutOfRange(ValueError):  # noqa: N818 - it names the state; the text of it reaches the user
    """A value lies where the formula's source says nothing."""


@dataclass(frozen=True, slots=True)
class Source:
    """Where a value or a rule comes from.

    title, edition, clause: the publication, empty for a rule without a single source
    kind: published, common practice or editable default
    memory: whether nobody has yet seen the published page
    """

    title: str = ""
    edition: str = ""
    clause: str = ""
    kind: Kind = "published"
    memory: bool = False

    def __post_init__(self) -> None:
        """Refuse a published source without a name."""
        if self.kind == "published" and not self.title:
            raise ValueError("wanted the title of the publication; found none")

    def __str__(self) -> str:
        """Return the source as the pages print it, such as `ANSI/TIA-568.2-D, 6.4 (memory)`."""
        name = self.title
        if self.edition:
            name += f", {self.edition}" if " " in self.edition else f"-{self.edition}"
        if self.clause:
            name += f", {self.clause}"
        if self.kind != "published":
            name = f"{self.kind}: {name}" if name else self.kind
        return f"{name} (memory)" if self.memory else name


def source_of_word(word: str) -> Source:
    """Return the source that a source word of a data file names, such as `common practice (invented)`.

    word: begins with the kind of source; without one it is the title of a publication, and nothing at all is
        an editable default.
    """
    memory = word.endswith("(memory)")
    rest = word.removesuffix("(memory)").strip()
    kinds: tuple[Kind, ...] = ("common practice", "editable default")
    for kind in kinds:
        if rest.startswith(kind):
            return Source(rest.removeprefix(kind).strip(" :;,()"), kind=kind, memory=memory)
    return Source(rest, memory=memory) if rest else Source(kind="editable default", memory=memory)


COMMON_PRACTICE = Source(kind="common practice")
EDITABLE_DEFAULT = Source(kind="editable default")


class Term(NamedTuple):
    """What one parameter of a formula is called in its equation, what it means and its unit."""

    symbol: str
    meaning: str
    unit: str


class Value(NamedTuple):
    """One number that was put into an equation."""

    symbol: str
    meaning: str
    number: float
    unit: str


@dataclass(frozen=True, slots=True)
class Range:
    """The numbers from low to high for which a formula is stated.

    above, below: whether low, high themselves are left out
    whole: whether only whole numbers are meant
    warning: where the source only warns outside the range, what it says; then nothing is raised
    """

    low: float = -math.inf
    high: float = math.inf
    above: bool = False
    below: bool = False
    whole: bool = False
    warning: str = ""

    def __contains__(self, number: float) -> bool:
        """Tell whether the number lies in the range."""
        if not math.isfinite(number) or (self.whole and number != int(number)):
            return False
        low = self.low < number if self.above else self.low <= number
        high = number < self.high if self.below else number <= self.high
        return low and high

    def __str__(self) -> str:
        """Return the range in words."""
        parts = []
        if self.whole:
            parts.append("a whole number")
        if math.isfinite(self.low):
            parts.append(f"{'above' if self.above else 'at least'} {number_text(self.low)}")
        if math.isfinite(self.high):
            parts.append(f"{'below' if self.below else 'at most'} {number_text(self.high)}")
        return " and ".join(parts) or "a finite number"


@dataclass(frozen=True, slots=True)
class OneOf:
    """The only numbers for which a formula is stated."""

    numbers: tuple[float, ...]

    def __contains__(self, number: float) -> bool:
        """Tell whether the number is one of them."""
        return number in self.numbers

    def __str__(self) -> str:
        """Return the numbers as a list."""
        return "one of " + ", ".join(number_text(number) for number in self.numbers)


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


class Limit(NamedTuple):
    """What a result is held against: at most (≤) or at least (≥) the value."""

    value: float
    comparison: Literal["≤", "≥"]
    source: Source


@dataclass(frozen=True, slots=True, kw_only=True)
class Working:
    """One calculation, as the pages print it.

    title: what is calculated
    equation: in symbols
    substituted: the same with the numbers put in, each rounded to four significant digits
    values: symbol, meaning, number and unit of everything put in
    result, unit: what came out, unrounded
    limit, comparison, limit_source: what it is held against, if anything
    source: where the equation comes from
    uses: dotted field paths of the project inputs that the result depends on
    note: what a reader should know besides, such as a range the source warns about
    verdict: holds or fails; empty without a limit
    """

    title: str
    equation: str
    substituted: str
    result: float
    unit: str
    source: Source
    values: tuple[Value, ...] = ()
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


_FORMULAS: dict[Callable[..., float], Formula] = {}
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

        @functools.wraps(function)
        def checked(*positional: Arguments.args, **named: Arguments.kwargs) -> Answer:
            for name, value in (*zip(names, positional, strict=False), *named.items()):
                if name in valid:
                    _check(function.__name__, name, value, valid[name])
            answer = function(*positional, **named)
            if not math.isfinite(answer):
                raise OutOfRange(f"{function.__name__}: the result is not a finite number")
            return answer

        _FORMULAS[checked] = stated
        return checked

    return describe


def array_form(
    scalar: Callable[..., float],
) -> Callable[[Callable[Arguments, Many]], Callable[Arguments, Many]]:
    """Put a function beside the formula that it computes for many numbers at once.

    scalar: the formula; the function takes the same parameters, each a number or an array of them.

    Validity is not looked at: who calls it with what people write holds that to the scalar form.
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


def formula_of(function: Callable[..., float]) -> Formula:
    """Return what stands beside a function; LookupError where nothing does."""
    try:
        return _FORMULAS[function]
    except KeyError:
        raise LookupError(f"{getattr(function, '__name__', function)} has no formula beside it") from None


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
    stated = formula_of(function)
    if unit is not None and unit != stated.result[1] and stated.result[1] != "-":
        raise ValueError(f"wanted the result in {stated.result[1]}; found {unit}")
    values = {**_defaults(function), **values}
    answer = float(function(**values))
    notes = [note] if note else []
    for name, value in values.items():
        allowed = stated.valid[name]
        outside = isinstance(allowed, Range) and any(number not in allowed for number in _numbers(value))
        if outside:
            notes.append(cast(Range, allowed).warning)
    return Working(
        title=stated.title if title is None else title,
        equation=stated.equation,
        substituted=f"{stated.result[0]} = {_substituted(stated, values)}",
        values=_listed(stated, values),
        result=answer,
        unit=stated.result[1] if unit is None else unit,
        limit=None if limit is None else limit.value,
        comparison="" if limit is None else limit.comparison,
        limit_source=None if limit is None else limit.source,
        source=stated.source,
        uses=uses,
        note=" ".join(notes),
    )


@functools.cache
def _defaults(function: Callable[..., float]) -> Mapping[str, float | Sequence[float]]:
    """Return the values of the parameters that need not be given."""
    return {
        name: parameter.default
        for name, parameter in inspect.signature(function).parameters.items()
        if parameter.default is not inspect.Parameter.empty
    }


def _numbers(value: object) -> tuple[float, ...]:
    if isinstance(value, Sequence):
        return tuple(float(number) for number in value)
    return (float(cast(float, value)),)


def _check(function: str, name: str, value: object, allowed: Range | OneOf) -> None:
    for number in _numbers(value):
        warns = isinstance(allowed, Range) and allowed.warning != "" and math.isfinite(number)
        if number not in allowed and not warns:
            raise OutOfRange(f"{function}: {name}: wanted {allowed}; found {number_text(number)}")


def _listed(stated: Formula, values: Mapping[str, float | Sequence[float]]) -> tuple[Value, ...]:
    listed = []
    for name, term in stated.where.items():
        if name not in values:
            continue
        numbers = _numbers(values[name])
        if isinstance(values[name], Sequence):
            stem = term.symbol.removesuffix("_i")
            for place, number in enumerate(numbers, 1):
                listed.append(Value(f"{stem}_{place}", term.meaning, number, term.unit))
        else:
            listed.append(Value(term.symbol, term.meaning, numbers[0], term.unit))
    return tuple(listed)


def _substituted(stated: Formula, values: Mapping[str, float | Sequence[float]]) -> str:
    single: dict[str, float] = {}
    many: dict[str, tuple[float, ...]] = {}
    for name, value in values.items():
        symbol = stated.where[name].symbol
        if isinstance(value, Sequence):
            many[symbol] = _numbers(value)
        else:
            single[symbol] = _numbers(value)[0]
    return put_in(stated.right_side, single, many)
