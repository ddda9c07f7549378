"""Run times of standby supplies, by hand and against a straight line through logarithms."""

import math

import numpy as np
import pytest

from proposal.standards.standby import (
    aged_run_time_min,
    battery_current_a,
    battery_life_years,
    peukert_run_time_min,
    run_time_between_min,
    share_in_cold,
    supply_load_va,
    supply_load_w,
)


@pytest.mark.pinned
def test_between_two_points_the_time_is_their_geometric_mean_at_the_geometric_mean_of_loads() -> None:
    # √(100·400) = 200 W; √(90·10) = 30 min. A straight line would say 63 min.
    assert run_time_between_min(200, 100, 90, 400, 10) == pytest.approx(30)
    assert run_time_between_min(100, 100, 90, 400, 10) == pytest.approx(90)
    assert run_time_between_min(400, 100, 90, 400, 10) == pytest.approx(10)


@pytest.mark.independent
def test_between_two_points_it_is_a_straight_line_on_paper_with_two_logarithmic_scales() -> None:
    for load in np.linspace(210, 440, 12):
        line = math.exp(
            np.interp(math.log(load), [math.log(200), math.log(450)], [math.log(66), math.log(25)])
        )
        assert run_time_between_min(load, 200, 66, 450, 25) == pytest.approx(line)


@pytest.mark.pinned
def test_four_blocks_of_9_ah_carry_600_watts_for_12_to_18_minutes_and_not_for_31() -> None:
    """At 90 % efficiency; linear energy gives 432 Wh × 0.9 × 0.8 ÷ 600 W = 31 min."""
    current_a = battery_current_a(600, 0.9, 48)
    assert current_a == pytest.approx(13.889, abs=0.0005)
    times = [
        aged_run_time_min(peukert_run_time_min(20, 9, current_a, k), 0.8, 1.0, k) for k in (1.15, 1.2, 1.25)
    ]
    # 20 h × (0.8·9/(13.889·20))^k, k = 1.15, 1.2 and 1.25.
    assert times == pytest.approx([17.98, 14.98, 12.48], abs=0.005)


@pytest.mark.pinned
def test_at_its_rated_current_a_battery_gives_its_rated_time() -> None:
    assert peukert_run_time_min(20, 9, 0.45, 1.2) == pytest.approx(1200)


@pytest.mark.pinned
def test_cold_takes_capacity_and_warmth_gives_none() -> None:
    assert share_in_cold(15, 25, 0.01) == pytest.approx(0.9)
    assert share_in_cold(35, 25, 0.01) == 1
    assert share_in_cold(-40, 25, 0.02) == 0


@pytest.mark.pinned
def test_a_battery_lives_half_as_long_ten_kelvin_above_its_rated_temperature() -> None:
    assert battery_life_years(4, 35, 25) == pytest.approx(2)
    assert battery_life_years(4, 45, 25) == pytest.approx(1)
    assert battery_life_years(4, 10, 25) == pytest.approx(4)


@pytest.mark.pinned
def test_loads_add() -> None:
    assert supply_load_w((120, 80.5)) == pytest.approx(200.5)
    assert supply_load_va((130, 95)) == pytest.approx(225)
