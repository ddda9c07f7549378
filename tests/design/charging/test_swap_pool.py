"""Spare microphones in rotation, against days worked out by hand and against what energy allows."""

import pytest

from proposal.design.charging.meeting_day import Pack, stretches
from proposal.design.charging.swap_pool import pool_needed, rotation

AGED = Pack(capacity_wh=5.44, in_use_w=0.85, idle_w=0.6, charge_w=2.4, taper_w=0.96, taper_from=0.8)
LONG = stretches([(540, 990)], 1.0)


@pytest.mark.independent
def test_one_microphone_and_one_spare_change_places_at_the_taper() -> None:
    # 0.85 W of 5.44 Wh is 0.15625 an hour: 0.2 is gone after 76.8 minutes. The other is full again after
    # 0.2 · 5.44 Wh / 0.96 W = 68 minutes and waits. Steps are minutes: 77 each, five of them in 450 minutes.
    day = rotation(AGED, LONG, 1, 1, 1.0)
    assert day.swaps == tuple(540 + 77 * n for n in range(1, 6))
    assert day.lowest == pytest.approx(1 - 0.15625 * 77 / 60)


@pytest.mark.independent
def test_two_microphones_share_a_spare() -> None:
    # After 77 minutes A (0.7995) goes to the slot; full after (0.0005 · 5.44 / 2.4 + 0.2 · 5.44 / 0.96) h, in
    # the 69th minute. B is then at 1 − 0.15625 · 146/60 = 0.6198 and needs 0.1802 · 5.44 / 2.4 h and 68
    # minutes: 92.5, so in the 93rd. The next to go, in use since minute 77, has 162 minutes behind it.
    day = rotation(AGED, LONG, 2, 1, 1.0)
    assert day.swaps[:3] == (540 + 77, 540 + 146, 540 + 239)
    assert day.lowest <= 1 - 0.15625 * 162 / 60


def test_no_spares_are_needed_where_packs_last() -> None:
    found = pool_needed(AGED, stretches([(600, 720)], 1.0), 4, 0.2, 1.0)
    assert found is not None
    assert (found.spares, found.swaps) == (0, ())


def test_the_pool_is_the_smallest_that_does() -> None:
    found = pool_needed(AGED, LONG, 4, 0.2, 1.0)
    assert found is not None
    assert 1 <= found.spares <= 4
    assert rotation(AGED, LONG, 4, found.spares, 1.0).lowest >= 0.2
    assert rotation(AGED, LONG, 4, found.spares - 1, 1.0).lowest < 0.2


@pytest.mark.independent
@pytest.mark.parametrize("talkers", [1, 4, 12])
def test_a_pool_holds_at_least_the_energy_that_is_missing(talkers: int) -> None:
    # A talker takes 7.5 h · 0.85 W; a pack gives 0.8 of 5.44 Wh; a spare charges meanwhile at most at 2.4 W.
    found = pool_needed(AGED, LONG, talkers, 0.2, 1.0)
    assert found is not None
    given_wh = (talkers + found.spares) * 0.8 * 5.44 + found.spares * 7.5 * 2.4
    assert given_wh >= talkers * 7.5 * 0.85


def test_nothing_helps_where_a_spare_cannot_charge_in_time() -> None:
    slow = Pack(capacity_wh=5.44, in_use_w=4.0, idle_w=0.6, charge_w=0.3, taper_w=0.1, taper_from=0.8)
    assert pool_needed(slow, LONG, 3, 0.2, 1.0) is None


def test_a_session_round_the_clock_is_looked_at() -> None:
    assert rotation(AGED, stretches([(0, 1440)], 1.0), 1, 0, 1.0).lowest == 0
