"""State of charge over the meeting day, against a fine-step simulation and against sums made by hand."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from proposal.design.charging.meeting_day import (
    Pack,
    Stretch,
    charge_power_needed,
    longer_breaks_needed,
    pack_of,
    settled,
    simulate,
    stretches,
    stretches_without_slot,
)
from proposal.model.equipment.parts import Battery
from proposal.standards.battery import charge_time_h, run_time_h

PACK = Pack(
    capacity_wh=6.8, in_use_w=0.85, idle_w=0.6, charge_w=2.4, taper_w=0.96, taper_from=0.8
)  # eight hours in use on a full pack
AGED = Pack(capacity_wh=6.8 * 0.8, in_use_w=0.85, idle_w=0.6, charge_w=2.4, taper_w=0.96, taper_from=0.8)


BATTERY = Battery(
    energy=6.8, run_time=8 * 3600.0, in_use=0.85, idle=0.6, docked=0.15, off=0.002, charge_power=3.0,
    taper_from=0.8, taper_share=0.4, charge_efficiency=0.9, aged_share=0.8, cycles=500,
)  # fmt: skip


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
    day = settled(PACK, stretches([(0, 24 * 60)], 1.0), 1.0)
    assert day.lowest == 0
    assert day.full_after_h is None


@pytest.mark.independent
def test_a_night_that_is_too_short_lowers_the_next_day_until_days_are_alike() -> None:
    # Twenty-one hours of use take more than a pack holds; three hours bring 0.8 of 6.8 Wh at 2.4 W in
    # 2.27 h and 0.73 h · 0.96 W above: it begins every later day at 0.8 + 0.73 · 0.96 / 6.8.
    day = settled(PACK, stretches([(0, 21 * 60)], 1.0), 1.0)
    begins = 0.8 + (3 - 0.8 * 6.8 / 2.4) * 0.96 / 6.8
    assert day.points[0][1] == pytest.approx(begins)
    assert day.morning == pytest.approx(begins)
    assert day.full_after_h is None


def test_a_microphone_without_a_slot_runs_down_from_day_to_day() -> None:
    day = stretches_without_slot([(600, 660), (700, 760)])
    assert [part.state for part in day] == ["in use", "idle", "in use", "off"]
    assert settled(PACK, day, 1.0).lowest == 0


def test_sessions_that_overlap_count_once() -> None:
    assert stretches([(600, 700), (650, 720)], 1.0) == stretches([(600, 720)], 1.0)


def test_a_microphone_lies_idle_first_and_docks_for_its_share_of_the_break() -> None:
    parts = stretches([(600, 660), (760, 800)], 0.25)
    assert parts[:3] == (
        Stretch(600, 660, "in use"),
        Stretch(660, 735, "idle"),
        Stretch(735, 760, "docked"),
    )


@pytest.mark.independent
def test_a_pack_takes_what_its_slot_gives_after_the_device_has_had_its_own() -> None:
    # 3 W asked for; a slot of 2.15 W leaves 2 W after 0.15 W for the device, of which 0.9 is kept.
    # Above the taper 0.4 · 3 W = 1.2 W is asked for, which the slot can give.
    pack = pack_of(BATTERY, 2.15, 1.0, aged=True)
    assert pack.charge_w == pytest.approx(1.8)
    assert pack.taper_w == pytest.approx(1.08)
    assert pack.capacity_wh == pytest.approx(5.44)
    assert pack_of(BATTERY, 9.0, 1.0, aged=False).charge_w == pytest.approx(2.7)
    assert pack_of(BATTERY, 0.1, 1.0, aged=False).charge_w == 0


@pytest.mark.independent
def test_a_microphone_that_is_muted_for_half_a_session_drains_by_the_mean() -> None:
    assert pack_of(BATTERY, 4.5, 0.5, aged=False).in_use_w == pytest.approx((0.85 + 0.6) / 2)


@pytest.mark.independent
def test_longer_breaks_are_the_fewest_whole_minutes_that_do() -> None:
    # Three hours leave 1 − 3 · 0.15625 = 0.53125; four more take 0.625, so that 0.825 are wanted after the
    # break: 0.26875 · 5.44 / 2.4 h to the taper and 0.025 · 5.44 / 0.96 h above it, 45.05 minutes. The break
    # has 30.
    sessions = [(540.0, 720.0), (750.0, 990.0)]
    assert longer_breaks_needed(AGED, sessions, 1.0, 0.2, 1.0) == 16


def test_a_longer_break_is_found_though_the_longest_would_empty_an_idle_microphone() -> None:
    sessions = [(480.0, 690.0), (700.0, 890.0)]
    extra = longer_breaks_needed(AGED, sessions, 0.4, 0.2, 1.0)
    assert extra is not None
    moved = [sessions[0], (700.0 + 550, 890.0 + 550)]
    assert simulate(AGED, stretches(moved, 0.4)).lowest < 0.2


def test_no_break_can_be_made_longer_where_there_is_none() -> None:
    assert longer_breaks_needed(AGED, [(540.0, 990.0)], 1.0, 0.2, 1.0) is None
    assert longer_breaks_needed(AGED, [(540.0, 700.0), (700.0, 990.0)], 1.0, 0.2, 1.0) is None


def test_a_faster_charge_is_the_least_that_does() -> None:
    day = stretches([(540.0, 730.0), (750.0, 930.0)], 1.0)
    watts = charge_power_needed(AGED, day, 0.2, 1.0, 50.0)
    assert watts is not None
    share = AGED.taper_w / AGED.charge_w
    for power, keeps in ((watts + 0.01, True), (watts - 0.02, False)):
        faster = replace(AGED, charge_w=power, taper_w=power * share)
        assert (by_fine_steps(faster, day)[0] >= 0.2 - 1e-4) == keeps
    assert charge_power_needed(AGED, stretches([(540.0, 990.0)], 1.0), 0.2, 1.0, 50.0) is None


@pytest.mark.independent
def test_a_faster_charge_is_slower_above_the_taper_by_the_same_share() -> None:
    """Of 5.44 Wh, 110 minutes at 0.85 W leave 71.35 %; 280 more down to 20 % want 92.92 % after 40 minutes.

    0.4703 Wh below 80 % and 0.7027 Wh above it, there at 40 % of the power: 2.227 Wh in 2/3 h, 3.34 W.
    """
    day = stretches([(540.0, 650.0), (690.0, 970.0)], 1.0)
    assert charge_power_needed(AGED, day, 0.2, 1.0, 50.0) == pytest.approx(3.3405, rel=0, abs=0.01)


@pytest.mark.independent
def test_sums_of_run_time_and_charging() -> None:
    # 8 h of run time, aged to 0.8 of it, lasts 6.4 h; down to a fifth, 5.12 h.
    assert run_time_h(6.8, 0.8, 0.85, 1.0, 0.0) == pytest.approx(6.4)
    assert run_time_h(6.8, 0.8, 0.85, 1.0, 0.2) == pytest.approx(5.12)
    # From empty, 5.44 Wh at 2.4 W and 1.36 Wh at 0.96 W.
    assert charge_time_h(6.8, 0.0, 0.8, 2.4, 0.96) == pytest.approx(5.44 / 2.4 + 1.36 / 0.96)
