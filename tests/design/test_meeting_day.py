"""State of charge over the meeting day, against a fine-step simulation and against sums made by hand."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from proposal.design.meeting_day import (
    Pack,
    Stretch,
    break_extension_needed,
    charge_power_needed,
    simulate,
    spares_needed,
    stretches,
)

PACK = Pack(
    capacity_wh=6.8, in_use_w=0.85, idle_w=0.6, charge_w=2.4, taper_w=0.96, taper_from=0.8
)  # eight hours in use on a full pack
AGED = Pack(capacity_wh=6.8 * 0.8, in_use_w=0.85, idle_w=0.6, charge_w=2.4, taper_w=0.96, taper_from=0.8)


def by_fine_steps(pack: Pack, day: tuple[Stretch, ...], step: float = 0.02) -> tuple[float, list[float]]:
    """Return the lowest state of charge and the one at the end of each stretch, in steps of 1.2 s.

    An integration of its own: the slope is looked up anew at every step, nothing is solved for.
    """
    charge, lowest, ends = 1.0, 1.0, []
    for part in day:
        steps = max(round((part.end - part.start) / step), 1)
        minutes = (part.end - part.start) / steps
        for _ in range(steps):
            if part.state == "docked":
                watts = pack.charge_w if charge < pack.taper_from else pack.taper_w
            else:
                watts = -(pack.in_use_w if part.state == "in use" else pack.idle_w)
            charge = min(max(charge + watts * minutes / 60 / pack.capacity_wh, 0.0), 1.0)
            lowest = min(lowest, charge)
        ends.append(charge)
    return lowest, ends


@pytest.mark.independent
@settings(max_examples=25, deadline=None)
@given(
    starts=st.lists(st.integers(8 * 60, 18 * 60), min_size=1, max_size=4, unique=True),
    length=st.integers(10, 200),
    share=st.floats(0, 1),
    aged=st.booleans(),
)
def test_state_of_charge_equals_a_fine_step_simulation(
    starts: list[int], length: int, share: float, aged: bool
) -> None:
    pack = AGED if aged else PACK
    day = stretches([(start, start + length) for start in starts], share)
    ours = simulate(pack, day)
    lowest, ends = by_fine_steps(pack, day)
    assert ours.lowest == pytest.approx(lowest, abs=0.005)
    at = dict(ours.points)
    for part, charge in zip(day, ends, strict=True):
        assert at[part.end] == pytest.approx(charge, abs=0.005)


@pytest.mark.independent
def test_an_aged_pack_does_not_last_a_full_day_of_council_without_a_break() -> None:
    # 8 h of run time, aged to 0.8 of it, lasts 6.4 h; the council sits 7.5 h.
    day = simulate(AGED, stretches([(9 * 60, 16.5 * 60)], 1.0))
    assert day.lowest == 0
    assert day.lowest_at == pytest.approx((9 + 6.4) * 60)
    assert day.empty_minutes == pytest.approx((7.5 - 6.4) * 60)


@pytest.mark.independent
def test_the_night_fills_a_pack_below_and_above_its_taper() -> None:
    # Four hours in use take 3.4 Wh of 6.8: half. From 0.5 to 0.8 at 2.4 W takes 0.85 h,
    # from 0.8 to 1.0 at 0.96 W takes 1.36 Wh / 0.96 W.
    day = simulate(PACK, stretches([(600, 840)], 1.0))
    assert day.lowest == pytest.approx(0.5)
    assert day.full_after_h == pytest.approx(0.85 + 1.36 / 0.96)


def test_a_session_round_the_clock_leaves_no_night() -> None:
    day = simulate(PACK, stretches([(0, 24 * 60)], 1.0))
    assert day.lowest == 0


def test_sessions_that_overlap_count_once() -> None:
    assert stretches([(600, 700), (650, 720)], 1.0) == stretches([(600, 720)], 1.0)


def test_a_microphone_lies_idle_first_and_docks_for_its_share_of_the_break() -> None:
    parts = stretches([(600, 660), (760, 800)], 0.25)
    assert parts[:3] == (
        Stretch(600, 660, "in use"),
        Stretch(660, 735, "idle"),
        Stretch(735, 760, "docked"),
    )


def test_spares_are_none_where_packs_last_and_enough_where_they_do_not() -> None:
    short = stretches([(600, 720)], 1.0)
    long = stretches([(540, 990)], 1.0)
    assert spares_needed(AGED, short, 4, 0.2) == 0
    spares = spares_needed(AGED, long, 4, 0.2)
    assert spares is not None
    assert 1 <= spares <= 4


@pytest.mark.independent
def test_spares_hold_at_least_the_energy_that_is_missing() -> None:
    # 4 talkers use 4 · 7.5 h · 0.85 W = 25.5 Wh; a pack gives 0.8 of 5.44 Wh, a spare charges meanwhile.
    long = stretches([(540, 990)], 1.0)
    spares = spares_needed(AGED, long, 4, 0.2)
    assert spares is not None
    given_wh = (4 + spares) * 0.8 * AGED.capacity_wh + spares * 7.5 * AGED.charge_w
    assert given_wh >= 25.5


def test_a_longer_break_or_a_faster_charge_is_the_least_that_does() -> None:
    sessions = [(540.0, 720.0), (750.0, 990.0)]
    day = stretches(sessions, 1.0)
    assert simulate(AGED, day).lowest < 0.2
    extra = break_extension_needed(AGED, sessions, 1.0, 0.2)
    assert extra is not None

    def lowest(minutes: float) -> float:
        return simulate(AGED, stretches([sessions[0], (750 + minutes, 990 + minutes)], 1.0)).lowest

    assert lowest(extra) >= 0.2 - 1e-6
    assert lowest(extra - 0.05) < 0.2
    watts = charge_power_needed(AGED, day, 0.2, 50.0)
    assert watts is None or watts > AGED.charge_w


def test_no_break_can_be_made_longer_where_there_is_one_session() -> None:
    assert break_extension_needed(AGED, [(540.0, 990.0)], 1.0, 0.2) is None
