"""Equations with their numbers put in."""

import pytest

from proposal.standards.substitution import number_text, put_in
from proposal.standards.working import working
from tests.standards.sample_formulas import weighted_m


@pytest.mark.parametrize(
    ("number", "text"),
    [
        (90.0, "90"),
        (-83, "−83"),
        (1897344000.0, "1897344000"),
        (8.421322742, "8.421"),
        (0.0842132, "0.08421"),
        (12345.67, "12350"),
        (99999.6, "100000"),
        (0.1 + 0.2, "0.3"),
        (0.00012345, "0.0001234"),
        (1.7241e-8, "1.724·10^−8"),
        (1234567890.5, "1.235·10^9"),
        (0.0, "0"),
        (-0.0, "0"),
    ],
)
def test_numbers_are_written_with_four_significant_digits_and_whole_ones_in_full(
    number: float, text: str
) -> None:
    assert number_text(number) == text


def test_a_long_sum_shows_its_first_terms_and_their_number() -> None:
    record = working(weighted_m, lengths_m=range(1, 9), rises=[0.0] * 8)
    assert "6·(1 + 0) + … (8 terms)" in record.substituted
    assert "7·" not in record.substituted


def test_a_sum_whose_terms_all_fit_says_no_number_of_terms() -> None:
    record = working(weighted_m, lengths_m=range(1, 7), rises=[0.0] * 6)
    shown = " + ".join(f"{length}·(1 + 0)" for length in (1, 2, 3, 4, 5, 6))
    assert record.substituted == f"S = ({shown}) + 2"


@pytest.mark.parametrize(
    ("number", "written"), [(1, "2·1"), (3, "2·3"), (4, "7 − 4"), (10, "10^2"), (11, "0")]
)
def test_of_a_piecewise_equation_the_case_that_applies_is_shown(number: float, written: str) -> None:
    assert put_in("if(x ≤ 3, 2·x, x < 10, 7 − x, x = 10, x^2, 0)", {"x": number}, {}) == written


def test_a_chosen_case_keeps_its_place_in_the_expression() -> None:
    assert put_in("4·if(a > b, a + 1, max(a, b))", {"a": 2, "b": 1}, {}) == "4·(2 + 1)"
    assert put_in("4·if(a > b, a + 1, max(a, b))", {"a": 1, "b": 2}, {}) == "4·max(1, 2)"


def test_a_condition_that_cannot_be_judged_leaves_the_equation_whole() -> None:
    assert put_in("if(a + b > 3, a, b)", {"a": 1, "b": 2}, {}) == "if(1 + 2 > 3, 1, 2)"
