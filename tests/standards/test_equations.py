"""Every public function of `proposal.standards` is what the equation beside it says."""

import inspect
import math
from collections.abc import Callable
from types import ModuleType
from typing import Any

import numpy as np
import pytest

from proposal.standards.formula import formula, formula_of
from proposal.standards.sources import COMMON_PRACTICE
from proposal.standards.validity import OneOf, OutOfRange, Range
from proposal.standards.working import working
from tests.standards.equations import (
    Values,
    array_forms,
    disagreements,
    documented_faults,
    draws,
    is_sequence,
    modules,
    public_functions,
    span,
)

ARRAYS = [pair for module in modules() for pair in array_forms(module)]
FUNCTIONS = [function for module in modules() for function in public_functions(module)]
EACH = pytest.mark.parametrize(
    "function",
    FUNCTIONS,
    ids=[f"{found.__module__.rsplit('.', 1)[1]}.{found.__name__}" for found in FUNCTIONS],
)
BOUNDS = [
    (function, name)
    for function in FUNCTIONS
    if not documented_faults(function)
    for name in formula_of(function).where
]
EACH_PARAMETER = pytest.mark.parametrize(
    ("function", "name"), BOUNDS, ids=[f"{function.__name__}.{name}" for function, name in BOUNDS]
)


MEASURES_ALONE = {"iec61386", "rack_units"}
"""Modules that hold measures of a publication and compute nothing."""


def test_every_module_of_standards_has_a_public_function() -> None:
    assert FUNCTIONS
    none = {module.__name__.rpartition(".")[2] for module in modules() if not public_functions(module)}
    assert none == MEASURES_ALONE


@EACH
def test_a_function_states_equation_units_and_source(function: Callable[..., float]) -> None:
    assert documented_faults(function) == []


@pytest.mark.independent
@EACH
def test_a_function_agrees_with_its_equation(function: Callable[..., float]) -> None:
    answered, wrong = disagreements(function)
    assert wrong == []
    assert answered >= 50


def test_formulas_of_radio_have_array_forms() -> None:
    found = {scalar.__name__ for _, scalar in ARRAYS}
    assert found >= {"free_space_loss_db", "indoor_loss_db", "power_ratio"}


@pytest.mark.independent
@pytest.mark.parametrize(("many", "scalar"), ARRAYS, ids=[many.__name__ for many, _ in ARRAYS])
def test_an_array_form_gives_what_its_formula_gives_of_each(
    many: Callable[..., Any], scalar: Callable[..., float]
) -> None:
    drawn = [values for values in draws(scalar, 300) if _answers(scalar, values)]
    assert len(drawn) >= 50
    # Parameters that are arrays run over all draws; each other one is what one draw has.
    hints = inspect.get_annotations(many)
    runs = [name for name in formula_of(scalar).where if "ndarray" in str(hints[name])]
    for values in drawn[:20]:
        wanted = {name: np.array([float(one[name]) for one in drawn]) for name in runs}
        others = {name: number for name, number in values.items() if name not in runs}
        found = many(**wanted, **others)
        expected = [scalar(**{**others, **{name: one[name] for name in runs}}) for one in drawn]
        assert found == pytest.approx(expected, rel=1e-12, abs=1e-12)


def _answers(function: Callable[..., float], values: Values) -> bool:
    try:
        function(**values)
    except OutOfRange:
        return False
    return True


@EACH
def test_a_working_has_a_number_for_every_symbol(function: Callable[..., float]) -> None:
    values = _answered(function)[0]
    record = working(function, **values)
    stated = formula_of(function)
    scalars = {term.symbol for name, term in stated.where.items() if not is_sequence(function, name)}
    assert {value.symbol for value in record.values} >= scalars
    assert "_i" not in record.substituted
    assert "if(" not in record.substituted


@EACH_PARAMETER
def test_validity_is_enforced_on_both_sides(function: Callable[..., float], name: str) -> None:
    allowed = formula_of(function).valid[name]
    values = _answered(function)[0]
    if isinstance(allowed, OneOf):
        for number in allowed.numbers:
            assert not _refused(function, values, name, number)
        outside = [min(allowed.numbers) - 1, max(allowed.numbers) + 1, min(allowed.numbers) + 0.5]
    else:
        inside, outside = _around(allowed)
        for number in inside:
            assert not _refused(function, values, name, number)
        assert outside
    for number in outside:
        if isinstance(allowed, Range) and allowed.warning:
            assert allowed.warning in working(function, **_with(function, values, name, number)).note
        else:
            assert _refused(function, values, name, number)
    for number in (math.nan, math.inf, -math.inf):
        assert _refused(function, values, name, number)


def _around(allowed: Range) -> tuple[list[float], list[float]]:
    """Return numbers on the good side of both ends, and on the bad side of those that are finite."""
    low, high = span(allowed)
    step = 1.0 if allowed.whole else 1e-6 * max(1.0, abs(low), abs(high))
    inside = [low + step if allowed.above else low, high - step if allowed.below else high]
    outside = []
    if math.isfinite(allowed.low):
        outside.append(low if allowed.above else low - step)
    if math.isfinite(allowed.high):
        outside.append(high if allowed.below else high + step)
    if allowed.whole:
        outside.append((low + high) // 2 + 0.5)
    return inside, outside


def _answered(function: Callable[..., float]) -> list[Values]:
    good = []
    for values in draws(function, 50):
        try:
            function(**values)
        except OutOfRange:
            continue
        good.append(values)
    return good


def _with(function: Callable[..., float], values: Values, name: str, number: float) -> Values:
    if not is_sequence(function, name):
        return values | {name: number}
    sequence = values[name]
    assert isinstance(sequence, list)
    return values | {name: [number, *sequence[1:]]}


def _refused(function: Callable[..., float], values: Values, name: str, number: float) -> bool:
    """Tell whether the function refuses a parameter for itself, not for what it makes with the others."""
    try:
        function(**_with(function, values, name, number))
    except OutOfRange as error:
        return f": {name}: wanted" in str(error)
    return False


def test_an_equation_that_differs_from_its_function_is_found() -> None:
    @formula(
        title="Twice",
        equation="y = if(x ≤ 3, 2·x, 7)",
        source=COMMON_PRACTICE,
        result=("y", "m"),
        where={"length_m": ("x", "length", "m")},
        valid={"length_m": Range(0, 10)},
    )
    def twice(length_m: float) -> float:
        return 2 * length_m if length_m < 3 else 7

    answered, wrong = disagreements(twice)
    assert answered == 200
    assert wrong
    assert all("'length_m': 3" in found for found in wrong)


def test_a_function_without_equation_or_unit_is_found() -> None:
    def bare(length_m: float) -> float:
        return length_m

    @formula(
        title="Same",
        equation="y = x",
        source=COMMON_PRACTICE,
        result=("y", "m"),
        where={"length_m": ("x", "length", "m")},
        valid={"length_m": Range(0, 10)},
    )
    def unitless(length_m: float) -> float:
        """Return the same."""
        return length_m

    module = ModuleType("example")
    bare.__module__ = unitless.__module__ = "example"
    vars(module).update(bare=bare, unitless=unitless)
    found = [documented_faults(function) for function in public_functions(module)]
    assert [len(faults) for faults in found] == [1, 3]
