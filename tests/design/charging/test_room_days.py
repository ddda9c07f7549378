"""The meeting day of a kind of room: what is short, and that each remedy is the one computed for it."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path

import pytest

from proposal.design.charging.meeting_day import settled, stretches
from proposal.design.charging.room_days import GroupDay, RoomDay, room_days
from proposal.design.equipment.placed_devices import Placed
from proposal.model.loading import load_project
from proposal.model.project import Project
from proposal.model.rooms import RoomType, Session
from tests.catalogue import CHARGER, SMALL_CHARGER, microphone, with_round_catalogue
from tests.design.charging.test_charge_slots import room

ROOT = Path(__file__).resolve().parents[3]
# A microphone of the tests' own catalogue: 10 Wh, 1 W in use, 0.5 W idle, aged to 0.8, charged at 4 W · 0.9.
AGED_WH = 8.0
GOOSENECK, HANDHELD = microphone("gooseneck"), microphone("handheld")


@cache
def project() -> Project:
    return with_round_catalogue(load_project(ROOT / "example_project"))


def day_of(sessions: Mapping[str, tuple[int, int]], devices: list[Placed], **rules: float) -> RoomDay:
    layout: RoomType = project().room_types["chamber"]
    written = {name: Session(start=start, end=end) for name, (start, end) in sessions.items()}
    brief = project().brief
    charging = brief.rules.charging.model_copy(update=rules)
    changed = project().model_copy(
        update={
            "brief": brief.model_copy(update={"rules": brief.rules.model_copy(update={"charging": charging})})
        }
    )
    (found,) = room_days(changed, "chamber", layout.model_copy(update={"sessions": written}), devices)
    return found


def only(day: RoomDay) -> GroupDay:
    assert len(day.groups) == 1
    return day.groups[0]


@pytest.mark.independent
def test_a_full_day_of_council_fails_without_swaps_and_says_how_many_spares_do() -> None:
    # 10 h aged to 8 h against 9 h in one go: empty for an hour.
    day = day_of({"council": (540, 1080)}, room([CHARGER] * 2, [GOOSENECK] * 6))
    group = only(day)
    assert day.judged(group) == "too few spares"
    assert group.aged.lowest == 0
    assert group.aged.empty_minutes == pytest.approx(60)
    assert group.fresh.lowest == pytest.approx(1 - 9 / 10)
    assert group.pool is not None
    assert group.pool.spares >= 1
    assert group.longer_breaks_min is None
    assert group.charge_w is None


def test_the_spares_that_were_found_to_do_turn_the_verdict() -> None:
    chargers, talkers = [CHARGER] * 4, [GOOSENECK] * 6
    sessions = {"council": (540, 1080)}
    pool = only(day_of(sessions, room(chargers, talkers))).pool
    assert pool is not None
    held = day_of(sessions, room(chargers, talkers, [GOOSENECK] * pool.spares))
    fewer = day_of(sessions, room(chargers, talkers, [GOOSENECK] * (pool.spares - 1)))
    assert held.judged(only(held)) == "with swaps"
    assert fewer.judged(only(fewer)) == "too few spares"


@pytest.mark.independent
def test_slots_that_the_pool_lacks_are_counted() -> None:
    # Five goosenecks in the five slots that take them leave none; the five slots of other forms do not count.
    sessions = {"council": (480, 1230)}
    group = only(day_of(sessions, room([CHARGER], [GOOSENECK] * 5)))
    assert group.pool is not None
    assert group.pool.spares > 0
    assert group.more_slots == group.pool.spares


def test_the_breaks_that_were_found_to_do_keep_the_reserve() -> None:
    sessions = {"morning": (540, 780), "afternoon": (795, 1065)}
    devices = room([CHARGER], [GOOSENECK] * 4)
    group = only(day_of(sessions, devices))
    extra = group.longer_breaks_min
    assert extra is not None
    longer = {"morning": (540, 780), "afternoon": (795 + extra, 1065 + extra)}
    assert group.last_end == 1065 + extra
    after = day_of(longer, devices)
    assert after.judged(only(after)) == "alone"
    shorter = {"morning": (540, 780), "afternoon": (794 + extra, 1064 + extra)}
    before = day_of(shorter, devices)
    assert before.judged(only(before)) != "alone"


@pytest.mark.independent
def test_chargers_that_share_their_power_charge_more_slowly() -> None:
    # 5 W a slot, but 20 W for all, shared by five packs: 4 W each, less 0.1 W of drain, 0.9 of it kept.
    group = only(day_of({"one": (540, 600)}, room([CHARGER], [HANDHELD] * 5)))
    assert group.packs == 5
    assert group.slot_power_w == pytest.approx(4.0)
    assert group.pack.charge_w == pytest.approx(3.51)


def test_microphones_without_a_slot_are_named_and_run_down() -> None:
    day = day_of({"one": (540, 600)}, room([SMALL_CHARGER], [HANDHELD] * 3, [HANDHELD]))
    group = only(day)
    assert day.judged(group) == "slots short"
    assert group.without_slot == ("M2", "M3")
    assert group.slotless is not None
    assert group.lowest.lowest == 0


def test_spares_in_their_slots_leave_none_for_those_in_use() -> None:
    group = only(day_of({"one": (540, 600)}, room([SMALL_CHARGER], [HANDHELD] * 2, [HANDHELD] * 2)))
    assert group.without_slot == ("M1", "M2")


def test_forms_are_computed_apart() -> None:
    day = day_of(
        {"one": (540, 900)},
        room([CHARGER], [HANDHELD, GOOSENECK, microphone("gooseneck", "supercardioid")], [GOOSENECK]),
    )
    assert [(one.form, len(one.in_use), len(one.spares)) for one in day.groups] == [
        ("gooseneck", 2, 1),
        ("handheld", 1, 0),
    ]


@pytest.mark.independent
def test_rules_of_the_project_are_followed() -> None:
    devices = room([CHARGER], [GOOSENECK] * 2)
    sessions = {"morning": (540, 660), "afternoon": (720, 840)}
    # Two hours in use at 1 W, an hour's break with no docking at 0.5 W, two hours more.
    undocked = only(day_of(sessions, devices, docked_share=0.0))
    assert undocked.aged.lowest == pytest.approx(1 - (4 * 1.0 + 0.5) / AGED_WH)
    # Open for half of each session: the mean of both drains.
    half = only(day_of(sessions, devices, docked_share=0.0, in_use_share=0.5))
    assert half.aged.lowest == pytest.approx(1 - (4 * (1.0 + 0.5) / 2 + 0.5) / AGED_WH)
    late = only(day_of(sessions, devices, docked_share=0.0, full_at_start=0.9))
    assert late.aged.lowest == pytest.approx(0.9 - (4 * 1.0 + 0.5) / AGED_WH)


def test_a_room_without_sessions_has_no_day() -> None:
    layout = project().room_types["chamber"].model_copy(update={"sessions": {}})
    assert room_days(project(), "chamber", layout, room([CHARGER], [GOOSENECK])) == ()


def test_the_day_is_that_of_the_simulation() -> None:
    group = only(day_of({"a": (540, 660), "b": (720, 840)}, room([CHARGER], [GOOSENECK] * 2)))
    assert group.aged == settled(group.pack, stretches([(540, 660), (720, 840)], 0.5), 1.0)


@pytest.mark.independent
def test_each_kind_of_day_is_simulated_and_the_long_one_empties_a_pack_when_it_does_on_paper() -> None:
    # Usual: 3 h at 1 W of 8 Wh leave 5 Wh. Budget: 4 h at 1 W and an idle hour at 0.5 W leave 3.5 Wh, which
    # are gone 3.5 h into the afternoon, at 16:30, half an hour before it ends.
    layout = project().room_types["chamber"]
    usual = {"morning": Session(start=540, end=720)}
    budget = {"morning": Session(start=480, end=720), "afternoon": Session(start=780, end=1020)}
    brief = project().brief
    charging = brief.rules.charging.model_copy(update={"docked_share": 0.0})
    rules = brief.rules.model_copy(update={"charging": charging})
    found = room_days(
        project().model_copy(update={"brief": brief.model_copy(update={"rules": rules})}),
        "chamber",
        layout.model_copy(update={"sessions": usual, "days": {"budget": budget}}),
        room([CHARGER] * 2, [GOOSENECK] * 6),
    )
    assert [day.name for day in found] == ["", "budget"]
    short, long = (only(day).aged for day in found)
    assert (short.lowest, short.lowest_at, short.empty_minutes) == (pytest.approx(5 / 8), 720, 0)
    assert (long.lowest, long.lowest_at, long.empty_minutes) == (0, pytest.approx(990), pytest.approx(30))
    assert [day.judged(only(day)) for day in found] == ["alone", "too few spares"]


def test_a_room_may_have_special_days_and_no_usual_one() -> None:
    day = {"morning": Session(start=540, end=720)}
    layout = project().room_types["chamber"].model_copy(update={"sessions": {}, "days": {"budget": day}})
    found = room_days(project(), "chamber", layout, room([CHARGER], [GOOSENECK]))
    assert [one.name for one in found] == ["budget"]
