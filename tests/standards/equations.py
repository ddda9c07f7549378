"""Read the equations that stand beside the functions of `proposal.standards`, with sympy."""

import importlib
import inspect
import math
import pkgutil
import random
import re
from collections.abc import Callable, Iterator, Sequence
from types import ModuleType
from typing import Any

import sympy  # type: ignore[import-untyped]  # it ships no types

import proposal.standards
from proposal.standards.formula import Formula, formula_of, scalar_form_of
from proposal.standards.validity import OneOf, OutOfRange, Range

NOT_FORMULAS = frozenset(
    f"proposal.standards.{name}" for name in ("formula", "sources", "substitution", "validity", "working")
)
"""The modules that every other one is written with; they state no publication."""

Values = dict[str, Any]  # a number, or a list of numbers, by parameter


def modules() -> list[ModuleType]:
    names = (
        found.name for found in pkgutil.walk_packages(proposal.standards.__path__, "proposal.standards.")
    )
    return [importlib.import_module(name) for name in sorted(names) if name not in NOT_FORMULAS]


def public_functions(module: ModuleType) -> list[Callable[..., float]]:
    return [
        function
        for name, function in sorted(vars(module).items())
        if inspect.isfunction(function)
        and not name.startswith("_")
        and function.__module__ == module.__name__
        and scalar_form_of(function) is None
    ]


def array_forms(module: ModuleType) -> list[tuple[Callable[..., Any], Callable[..., float]]]:
    """Return the functions that compute a formula for many numbers at once, each with that formula."""
    return [
        (function, scalar)
        for _, function in sorted(vars(module).items())
        if inspect.isfunction(function)
        and function.__module__ == module.__name__
        and (scalar := scalar_form_of(function)) is not None
    ]


def documented_faults(function: Callable[..., float]) -> list[str]:
    """Return what is missing beside a function; nothing when it is complete."""
    try:
        stated = formula_of(function)
    except LookupError as error:
        return [str(error)]
    faults = []
    documented = inspect.getdoc(function) or ""
    sentence = documented.split("\n\n")[0]
    if f"[{stated.result[1]}]" not in sentence:
        faults.append(f"the first sentence does not state the result's unit [{stated.result[1]}]")
    for name, term in stated.where.items():
        lines = [line for line in documented.splitlines() if line.startswith(f"{name}: ")]
        if not lines or f"[{term.unit}]" not in lines[0]:
            faults.append(f"{name}: its line does not state [{term.unit}]")
    if "Source: " not in documented:
        faults.append("the docstring names no source")
    if not stated.title or not str(stated.source):
        faults.append("no title or source")
    return faults


def sympy_expression(stated: Formula, terms: int) -> sympy.Expr:
    """Return the right side of an equation; sums run over so many terms."""
    text = stated.right_side
    for sign, written in (("·", "*"), ("×", "*"), ("−", "-"), ("^", "**"), ("²", "**2"), ("√", "sqrt")):
        text = text.replace(sign, written)
    text = text.replace("≤", "<=").replace("≥", ">=")
    text = re.sub(r"([\w.]+) = (-?[\w.]+)", r"Eq(\1, \2)", text)
    text = re.sub(r"\bif\(", "if_(", text)
    symbols = {term.symbol: sympy.Symbol(term.symbol) for term in stated.where.values()}
    in_sums = [symbol for name, symbol in symbols.items() if name.endswith("_i")]
    names: dict[str, object] = {
        "if_": _piecewise,
        "min": sympy.Min,
        "max": sympy.Max,
        "ceil": sympy.ceiling,
        "floor": sympy.floor,
        "erf": sympy.erf,
        "log10": lambda value: sympy.log(value, 10),
        "sum": lambda inner: sympy.Add(
            *(inner.xreplace({one: _member(one.name, place) for one in in_sums}) for place in range(terms))
        ),
        "π": sympy.pi,
        "e": sympy.E,
        **symbols,
    }
    return sympy.parse_expr(text, local_dict=names)


def _member(symbol: str, place: int) -> sympy.Symbol:
    return sympy.Symbol(f"{symbol}_{place}")


def _piecewise(*arguments: object) -> sympy.Expr:
    *pairs, otherwise = arguments
    cases = list(zip(pairs[1::2], pairs[::2], strict=True))
    return sympy.Piecewise(*cases, (otherwise, True))


def compiled(stated: Formula, sequences: Sequence[str], terms: int) -> Callable[..., float]:
    """Return the equation as a function of the parameters in their order, sequences term by term."""
    arguments: list[object] = []
    for name, term in stated.where.items():
        members = [_member(term.symbol, place) for place in range(terms)]
        arguments.append(members if name in sequences else sympy.Symbol(term.symbol))
    compiled_function: Callable[..., float] = sympy.lambdify(
        arguments, sympy_expression(stated, terms), modules="math"
    )
    return compiled_function


def is_sequence(function: Callable[..., float], name: str) -> bool:
    return "Sequence" in str(inspect.signature(function).parameters[name].annotation)


def span(allowed: Range) -> tuple[float, float]:
    low = allowed.low if math.isfinite(allowed.low) else min(-1000.0, allowed.high - 1000.0)
    high = allowed.high if math.isfinite(allowed.high) else max(1000.0, allowed.low + 1000.0)
    return low, high


def draw_number(chance: random.Random, allowed: Range | OneOf, landmarks: Sequence[float]) -> float:
    """Return a number within the validity, often an end of it or one that the equation names."""
    if isinstance(allowed, OneOf):
        return chance.choice(allowed.numbers)
    low, high = span(allowed)
    kind = chance.random()
    marks = [mark for mark in (low, high, *landmarks) if mark in allowed and low <= mark <= high]
    if kind < 0.25 and marks:
        return chance.choice(marks)
    if kind < 0.4 and low >= 0:
        return _whole_if(allowed, low + (high - low) * 10 ** chance.uniform(-4, 0))
    return _whole_if(allowed, chance.uniform(low, high))


def _whole_if(allowed: Range, number: float) -> float:
    return round(number) if allowed.whole else number


def draws(function: Callable[..., float], count: int) -> Iterator[Values]:
    """Yield values within the validity of a function, the same ones every time."""
    stated = formula_of(function)
    chance = random.Random(f"{function.__module__}.{function.__name__}")
    landmarks = [float(found) for found in re.findall(r"(?<![\w.])\d+(?:\.\d+)?", stated.equation)]
    for _ in range(count):
        terms = chance.randint(1, 4)
        values: Values = {}
        for name in stated.where:
            allowed = stated.valid[name]
            if is_sequence(function, name):
                values[name] = [draw_number(chance, allowed, landmarks) for _ in range(terms)]
            else:
                values[name] = draw_number(chance, allowed, landmarks)
        yield values


def disagreements(function: Callable[..., float], count: int = 200) -> tuple[int, list[str]]:
    """Return how many draws the function answered, and where its equation gave another number."""
    stated = formula_of(function)
    sequences = [name for name in stated.where if is_sequence(function, name)]
    equations: dict[int, Callable[..., float]] = {}
    answered, wrong = 0, []
    for values in draws(function, count):
        try:
            answer = function(**values)
        except OutOfRange:
            continue  # values that the source does not allow together, such as more power than a wire carries
        answered += 1
        terms = max((len(value) for value in values.values() if isinstance(value, list)), default=1)
        if terms not in equations:
            equations[terms] = compiled(stated, sequences, terms)
        expected = equations[terms](*(values[name] for name in stated.where))
        if not math.isclose(answer, expected, rel_tol=1e-9, abs_tol=1e-12):
            wrong.append(f"{values}: the function gives {answer}, its equation {expected}")
    return answered, wrong
