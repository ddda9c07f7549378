"""Loudspeaker lines against what anybody knows by heart, and against dividers worked by hand."""

import math

import pytest

from proposal.standards import loudspeaker_lines as lines


@pytest.mark.published
@pytest.mark.parametrize(
    ("voltage_v", "power_w", "impedance_ohm"),
    [(100, 10, 1000), (70.7, 50, 100), (25, 25, 25)],
)
def test_impedance_of_constant_voltage_loads(voltage_v: float, power_w: float, impedance_ohm: float) -> None:
    """The tables of makers: 10 W on 100 V are 1000 Ω, 50 W on 70.7 V 100 Ω, to the ohm."""
    assert lines.line_impedance_ohm(voltage_v, power_w) == pytest.approx(impedance_ohm, abs=0.5)


@pytest.mark.published
def test_one_load_at_the_end_of_a_line_loses_as_the_usual_formula_has_it() -> None:
    """`20·log10((Z + R)/Z)`: a line of 5.925 % of its load loses 0.5 dB, to the last digit printed."""
    assert lines.line_loss_db([5.925], [1 / 100]) == pytest.approx(0.500, abs=0.0005)
    assert lines.line_loss_db([100.0], [1 / 100]) == pytest.approx(6.0206, abs=0.00005)


@pytest.mark.independent
def test_two_loads_by_hand() -> None:
    """Two loads of 100 Ω behind 1 Ω each: 100 ∥ 101 = 50.249 Ω; 50.249/51.249 of it, then 100/101."""
    beyond_ohm = 100 * 101 / 201
    at_second = beyond_ohm / (1 + beyond_ohm) * 100 / 101
    found = lines.line_loss_db([1.0, 1.0], [1 / beyond_ohm, 1 / 100])
    assert found == pytest.approx(-20 * math.log10(at_second), rel=1e-12)


@pytest.mark.independent
def test_power_for_a_level_by_hand() -> None:
    """90 dB at 1 m for 1 W: 80 dB at 3.162 m on the axis take 1 W; two so far take half of it each."""
    assert lines.needed_power_w(80, 90, [0.0], [math.sqrt(10)]) == pytest.approx(1.0, rel=1e-12)
    assert lines.needed_power_w(80, 90, [0.0] * 2, [math.sqrt(10)] * 2) == pytest.approx(0.5, rel=1e-12)
    # 6 dB at the edge of the coverage: four times the power, as near as 6 dB is to four.
    assert lines.off_axis_loss_db(45, 90) == 6
    assert lines.needed_power_w(80, 90, [6.0], [math.sqrt(10)]) == pytest.approx(10**0.6, rel=1e-12)


@pytest.mark.independent
def test_a_channel_gives_less_to_a_higher_load() -> None:
    """100 W at 4 Ω, a fifth left free: 80 W into 4 Ω, 40 W into 8 Ω, never more below 4 Ω."""
    assert lines.usable_power_w(0.2, 100, 4, 4) == pytest.approx(80)
    assert lines.usable_power_w(0.2, 100, 4, 8) == pytest.approx(40)
    assert lines.usable_power_w(0.2, 100, 4, 2) == pytest.approx(80)


@pytest.mark.independent
def test_a_transformer_draws_more_than_its_tap_gives() -> None:
    """1 dB is 10^0.1 = 1.2589 times the power."""
    assert lines.tap_draw_w(10, 1) == pytest.approx(12.589, abs=0.0005)
