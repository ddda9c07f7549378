"""Loss of radio paths and sums of levels."""

import math

import pytest

from proposal.standards.free_space import free_space_loss_db
from proposal.standards.itu_p1238 import (
    DISTANCE_COEFFICIENTS,
    coverage_probability,
    floor_loss_db,
    indoor_loss_db,
)
from proposal.standards.levels import level_of_ratio_db, level_of_sum_db, power_ratio


@pytest.mark.independent
@pytest.mark.parametrize("distance_m", [0.5, 1, 7.5, 120])
def test_free_space_loss_is_that_of_the_transmission_equation(distance_m: float) -> None:
    # 20·log10(4πdf/c); the printed constant 32.45 is rounded from 32.448
    exact = 20 * math.log10(4 * math.pi * distance_m * 1.89e9 / 299_792_458)
    assert free_space_loss_db(1.89e9, distance_m) == pytest.approx(exact, rel=0, abs=0.005)


@pytest.mark.pinned
def test_ten_metres_of_office_at_1890_mhz() -> None:
    # 20·log10(1890) = 65.53; + 30·log10(10) − 28 = 67.53
    assert indoor_loss_db(1.89e9, 10, DISTANCE_COEFFICIENTS["office"]) == pytest.approx(
        67.53, rel=0, abs=0.005
    )


@pytest.mark.published
def test_the_floors_of_an_office_add_15_and_4_for_each_further_one() -> None:
    # ITU-R P.1238, office, 1.8 GHz to 2 GHz
    assert [floor_loss_db(floors) for floors in range(4)] == [0, 15, 19, 23]


@pytest.mark.published
def test_the_coefficients_are_those_of_1_8_to_2_ghz() -> None:
    # ITU-R P.1238
    assert dict(DISTANCE_COEFFICIENTS) == {"office": 30, "residential": 28, "commercial": 22}


def test_a_short_path_loses_no_less_than_free_space_and_under_a_metre_counts_as_one() -> None:
    at_one_m = indoor_loss_db(1.89e9, 1, 22)
    assert at_one_m == pytest.approx(free_space_loss_db(1.89e9, 1), rel=1e-12)
    assert at_one_m > 20 * math.log10(1890) - 28
    assert indoor_loss_db(1.89e9, 0.2, 22) == at_one_m


@pytest.mark.pinned
def test_three_equal_levels_together_are_4_8_db_higher() -> None:
    assert level_of_sum_db([-80, -80, -80]) + 80 == pytest.approx(4.8, rel=0, abs=0.05)


def test_a_level_alone_stays_as_it_is_and_none_is_refused() -> None:
    assert level_of_sum_db([-63.5]) == -63.5
    with pytest.raises(ValueError, match="empty"):
        level_of_sum_db([])


@pytest.mark.published
def test_the_probability_of_coverage_is_that_of_the_normal_distribution() -> None:
    # standard normal table: Φ(0) 0.5000, Φ(1) 0.8413, Φ(1.28) 0.8997
    for above, expected in ((0, 0.5), (10, 0.8413), (12.8, 0.8997), (-10, 0.1587)):
        assert coverage_probability(above, 10) == pytest.approx(expected, rel=0, abs=0.00005)


@pytest.mark.published
def test_three_decibels_are_about_twice_the_power_and_ten_are_ten_times() -> None:
    # ISO 80000-3: a level of 10 dB is a ratio of ten, of 3 dB one of 1.995.
    assert power_ratio(10) == pytest.approx(10)
    assert power_ratio(3) == pytest.approx(1.995, rel=0, abs=0.0005)
    assert level_of_ratio_db(1.995) == pytest.approx(3.0, rel=0, abs=0.005)
    assert level_of_ratio_db(0.01) == pytest.approx(-20)
