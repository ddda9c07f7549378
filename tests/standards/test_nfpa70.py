"""Fill of conduits and trays."""

import pytest

from proposal.standards import nfpa70


@pytest.mark.published
def test_the_table_of_tubing_agrees_with_its_own_diameters_to_a_square_millimetre() -> None:
    for tubing in nfpa70.TUBING.values():
        area_m2 = nfpa70.conduit_area_m2(tubing.internal_diameter_m)
        assert area_m2 == pytest.approx(tubing.area_m2, rel=0, abs=0.5e-6), tubing.trade_size


def test_tubing_is_wider_outside_than_inside_by_walls_of_one_to_two_and_a_half_millimetres() -> None:
    """Walls of EMT are 0.042 in to 0.083 in by the makers' tables (memory): twice that in all."""
    for tubing in nfpa70.TUBING.values():
        walls_m = tubing.outside_diameter_m - tubing.internal_diameter_m
        assert 2 * 0.042 * 0.0254 - 2e-4 <= walls_m <= 2 * 0.083 * 0.0254 + 2e-4, tubing.trade_size


def test_tubing_is_listed_from_the_smallest() -> None:
    areas = [tubing.area_m2 for tubing in nfpa70.TUBING.values()]
    assert areas == sorted(areas)
    assert next(iter(nfpa70.TUBING)) == "1/2"


@pytest.mark.pinned
def test_six_cables_of_seven_millimetres_need_the_size_above_one_inch() -> None:
    # 6·π·7²/4 = 230.9 mm², over 0.4 = 577.3 mm²: 556 mm² of 1 inch is too small, 968 mm² of 1-1/4 serves;
    # five need 481.1 mm² and go into 1 inch
    six = nfpa70.least_conduit_area_m2([0.007] * 6, nfpa70.permitted_fill(6))
    assert six == pytest.approx(577.3e-6, rel=1e-4)
    assert nfpa70.TUBING["1"].area_m2 < six < nfpa70.TUBING["1-1/4"].area_m2
    five = nfpa70.least_conduit_area_m2([0.007] * 5, nfpa70.permitted_fill(5))
    assert five < nfpa70.TUBING["1"].area_m2


def test_the_fill_equals_the_permitted_share_at_the_least_area() -> None:
    diameters_m = [0.0055, 0.007, 0.0081]
    area_m2 = nfpa70.least_conduit_area_m2(diameters_m, 0.4)
    assert nfpa70.conduit_fill(diameters_m, area_m2) == pytest.approx(0.4, rel=1e-12)


@pytest.mark.pinned
def test_three_cables_of_seven_millimetres_can_jam_in_three_quarters() -> None:
    # 20.9/7 = 2.986
    low, high = nfpa70.JAM_RATIOS
    assert low < nfpa70.jam_ratio(0.0209, 0.007) < high
    assert nfpa70.jam_ratio(0.0266, 0.007) > high


@pytest.mark.pinned
def test_a_tray_is_filled_by_cable_area_over_width_times_depth() -> None:
    # 100 cables of 6 mm: 2827 mm² in 100 mm × 50 mm
    assert nfpa70.tray_fill([0.006] * 100, 0.1, 0.05) == pytest.approx(0.5655, rel=1e-4)
