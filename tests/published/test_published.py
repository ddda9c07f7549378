"""What publications print follows from the formulas; each case stands in a CSV file here."""

import dataclasses

import pytest

from proposal.standards import ieee8023
from tests.published.cases import HALF_DIGIT, Case, half_last_digit, read_cases

pytestmark = pytest.mark.published

CASES = read_cases()
EACH = pytest.mark.parametrize("case", CASES, ids=[f"{case.file}: {case.name}" for case in CASES])


@EACH
def test_a_published_value_follows_from_its_formula(case: Case) -> None:
    value = case.computed()
    assert case.misses_by(value) <= 0, f"{case.source}: printed {case.expected}, computed {value}"


@EACH
def test_a_case_names_its_source_its_memory_and_why_its_tolerance(case: Case) -> None:
    assert case.source
    assert case.memory in {"yes", "no"}
    assert case.reason
    if case.reason == HALF_DIGIT:
        assert case.tolerance == pytest.approx(half_last_digit(case.expected), rel=1e-12)


def test_a_value_one_digit_off_would_be_found() -> None:
    for case in CASES:
        off = dataclasses.replace(case, expected=str(float(case.expected) + 2 * case.tolerance + 1e-6))
        assert off.misses_by(off.computed()) > 0


def test_the_class_table_is_consistent_in_voltage_resistance_and_power() -> None:
    for number, entry in ieee8023.CLASSES.items():
        left_w = ieee8023.device_power_w(
            entry.source_power_w, entry.source_voltage_min_v, entry.channel_loop_ohm
        )
        assert left_w == pytest.approx(entry.device_power_w, rel=0, abs=0.1), f"class {number}"


def test_the_class_table_is_the_published_one() -> None:
    printed = {
        case.name.split()[1]: (case.inputs["source_power_w"], float(case.expected))
        for case in CASES
        if case.function == "ieee8023.device_power_w"
    }
    table = {
        str(number): (c.source_power_w, c.device_power_w) for number, c in ieee8023.CLASSES.items() if number
    }
    assert table == printed
