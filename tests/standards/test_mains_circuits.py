"""Loads of a mains circuit against printed figures, and by hand."""

import pytest

from proposal.standards.mains_circuits import (
    MULTIPLES,
    apparent_power_va,
    circuit_current_a,
    circuit_leakage_a,
    continuous_current_a,
    inrush_held_a,
    supplies_a_breaker,
)


@pytest.mark.published
def test_a_breaker_of_15_amperes_carries_12_for_hours() -> None:
    # NFPA 70, 210.19 and 210.20: 125 % of the continuous load; 12 A × 1.25 = 15 A.
    assert continuous_current_a(15) == pytest.approx(12)


@pytest.mark.published
def test_the_curves_trip_at_once_from_3_5_and_10_times_their_rating() -> None:
    # IEC 60898-1, instantaneous tripping: B from 3, C from 5, D from 10 times the rated current.
    assert MULTIPLES == {"B": 3, "C": 5, "D": 10}


@pytest.mark.pinned
def test_a_c16_holds_two_supplies_of_40_amperes() -> None:
    # 5 × 16 A × √2 = 113 A: two supplies take 80 A, three 120 A.
    assert inrush_held_a(5, 16) == pytest.approx(113.137, abs=0.0005)
    assert supplies_a_breaker(10, 16, 40) == 5
    assert supplies_a_breaker(3, 16, 70) == 0


@pytest.mark.pinned
def test_sums_of_a_circuit() -> None:
    assert apparent_power_va(190, 0.95) == pytest.approx(200)
    assert circuit_current_a((200, 260), 230) == pytest.approx(2)
    assert circuit_leakage_a((0.001, 0.0025)) == pytest.approx(0.0035)
