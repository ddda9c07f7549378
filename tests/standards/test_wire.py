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
