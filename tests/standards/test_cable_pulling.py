"""Pulling tension."""

import pytest

from proposal.standards import cable_pulling
from proposal.standards.working import Limit, working


def _pulled(tension_n: float, stretches: int, friction: float) -> float:
    for stretch in range(stretches):
        if stretch:
            tension_n = cable_pulling.tension_after_bend_n(tension_n, friction, 90)
        tension_n = cable_pulling.tension_after_straight_n(tension_n, 0.45, 10, 0, friction)
    return tension_n


@pytest.mark.pinned
def test_five_stretches_of_10_m_and_four_right_angles_pull_about_122_n() -> None:
    # by hand: each stretch adds 0.45·10·0.35 = 1.575 N, each bend multiplies by e^(0.35·π/2) = 1.7329:
    # 11.575; 20.058 + 1.575 = 21.633; 37.488 + 1.575 = 39.063; 67.693 + 1.575 = 69.268;
    # 120.03 + 1.575 = 121.6
    assert _pulled(10, 5, 0.35) == pytest.approx(121.6, rel=0, abs=0.05)


@pytest.mark.pinned
def test_that_pull_is_over_the_limit_of_one_cable() -> None:
    limit = Limit(cable_pulling.greatest_tension_n(1), "≤", cable_pulling.TIA_568_0)
    record = working(
        cable_pulling.tension_after_straight_n,
        limit=limit,
        tension_n=120.03,
        weight_n_per_m=0.45,
        length_m=10,
        rise_degrees=0,
        friction=0.35,
    )
    assert record.verdict == "fails"


def test_a_bend_without_friction_or_angle_changes_nothing() -> None:
    assert cable_pulling.tension_after_bend_n(50, 0, 90) == 50
    assert cable_pulling.tension_after_bend_n(50, 0.35, 0) == 50


def test_two_right_angles_are_one_half_turn() -> None:
    once = cable_pulling.tension_after_bend_n(50, 0.35, 90)
    assert cable_pulling.tension_after_bend_n(once, 0.35, 90) == pytest.approx(
        cable_pulling.tension_after_bend_n(50, 0.35, 180), rel=1e-12
    )


@pytest.mark.pinned
def test_straight_up_the_cable_hangs_by_its_weight_alone() -> None:
    assert cable_pulling.tension_after_straight_n(10, 0.5, 12, 90, 0.35) == pytest.approx(16, rel=1e-9)


def test_downward_the_tension_falls_and_never_below_none() -> None:
    assert cable_pulling.tension_after_straight_n(10, 0.5, 10, -90, 0.35) == pytest.approx(5, rel=1e-9)
    assert cable_pulling.tension_after_straight_n(10, 0.5, 40, -90, 0.35) == 0


@pytest.mark.published
def test_tension_and_bend_radius_keep_to_110_n_a_cable_and_four_diameters() -> None:
    # ANSI/TIA-568.0-D
    assert cable_pulling.greatest_tension_n(3) == 330
    assert cable_pulling.least_bend_radius_m(0.006) == pytest.approx(0.024, rel=1e-12)
