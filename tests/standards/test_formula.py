"""What stands beside a function, and descriptions that do not fit it."""

import pytest

from proposal.standards.formula import formula, formula_of
from proposal.standards.validity import Range
from proposal.standards.working import working
from tests.standards.sample_formulas import STANDARD, links


def test_a_function_without_a_formula_is_refused() -> None:
    with pytest.raises(LookupError, match="has no formula"):
        working(max, a=1.0)


def test_a_description_that_does_not_fit_its_function_is_refused_at_import() -> None:
    described = formula(
        title="t",
        equation="y = x",
        source=STANDARD,
        result=("y", "m"),
        where={"other_m": ("x", "length", "m")},
        valid={"other_m": Range()},
    )
    with pytest.raises(TypeError, match="must name exactly the parameters"):
        described(lambda length_m: 1.0)


def test_what_stands_beside_a_function_can_be_read() -> None:
    assert formula_of(links).right_side == "floor(c/k)"
