"""Solid copper conductors."""

import pytest

from proposal.standards import wire


@pytest.mark.published
def test_the_gauge_is_fixed_by_its_two_ends() -> None:
    # ASTM B258: 36 AWG is 0.005 inch, 4/0 is 0.46 inch
    assert wire.conductor_diameter_m(36) == pytest.approx(0.005 * 0.0254, rel=1e-12)
    assert wire.conductor_diameter_m(-3) == pytest.approx(0.46 * 0.0254, rel=1e-12)


@pytest.mark.published
def test_six_gauges_finer_is_about_half_the_diameter() -> None:
    ratio = wire.conductor_diameter_m(24) / wire.conductor_diameter_m(30)
    assert ratio == pytest.approx(2.005, rel=0, abs=0.0005)


@pytest.mark.published
def test_resistance_rises_by_0_393_per_cent_of_that_at_20_degrees_for_each_degree() -> None:
    cold, warm = (wire.conductor_resistance_ohm_per_m(23, at) for at in (20, 60))
    assert warm / cold == pytest.approx(1 + 40 * 0.00393, rel=1e-12)


@pytest.mark.published
def test_a_stated_pair_has_two_hundred_metres_of_conductor() -> None:
    # ANSI/TIA-568: 9.38 Ω for 100 m of one conductor at most, 18.76 Ω for a pair out and back.
    assert wire.stated_resistance_ohm_per_m(18.76, 20) == pytest.approx(0.0938, rel=0, abs=0.00005)
    # A pair stated as its gauge makes it is the conductor of that gauge, at every temperature.
    for at in (-20, 20, 60):
        of_gauge = wire.conductor_resistance_ohm_per_m(24, at)
        stated = 200 * wire.conductor_resistance_ohm_per_m(24, 20)
        assert wire.stated_resistance_ohm_per_m(stated, at) == pytest.approx(of_gauge, rel=1e-12)


@pytest.mark.published
def test_a_data_cable_is_taken_for_the_limit_of_its_category_where_its_gauge_has_less() -> None:
    # ANSI/TIA-568: 9.38 Ω for 100 m at most; 24 AWG has 8.42 Ω by its gauge, 26 AWG 13.39 Ω.
    assert 100 * wire.conductor_resistance_ohm_per_m(24, 20) == pytest.approx(8.42, abs=0.005)
    assert 100 * wire.strictest_resistance_ohm_per_m(24, 20) == pytest.approx(9.38, abs=1e-9)
    assert 100 * wire.strictest_resistance_ohm_per_m(26, 20) == pytest.approx(13.39, abs=0.005)
    # 9.38 Ω × (1 + 0.00393 × 40) = 10.8545 Ω, by hand.
    assert 100 * wire.strictest_resistance_ohm_per_m(24, 60) == pytest.approx(10.8545, abs=0.0001)
