"""The programme: one meeting room by hand, and what must hold for any calendar and any crew."""

import datetime
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from proposal.estimate.programme.programme import ProgrammePlan, payment_days, programme
from proposal.estimate.programme.work_calendar import work_calendars
from proposal.model.checks.commercial_checks import currencies_without_rate, wrong_commercial
from proposal.model.loading import load_project
from proposal.model.price.commercial import Commercial
from tests.estimate.labour.test_labour import EXAMPLE, MINIMAL, computed, labour_of
from tests.estimate.labour_data import shared_labour
from tests.review.editing import edited
from tests.test_projects import EXAMPLE as EXAMPLE_PROJECT
from tests.test_projects import computed as computed_whole

D = datetime.date


def plan_of(folder: str, rules: dict[str, Any] | None = None) -> ProgrammePlan:
    one = computed(folder)
    commercial = Commercial.model_validate(rules or {})
    labour = shared_labour()
    return programme(
        one.project, one.estimate, labour_of(folder, labour, commercial.labour), labour, commercial
    )


@pytest.mark.independent
def test_the_days_of_one_meeting_room_by_hand() -> None:
    """The revision is of 3 March 2031; the order comes 30 days later, on Wednesday 2 April.

    Design: 16.5 h, two people of 8 h: two days. Drawing: five sheets of 1.5 h: Friday. Approval: ten working
    days, from Monday 7 to Friday 18 April. The longest lead time, 35 calendar days, ends on Friday 23 May.
    Work on site begins on Monday 26 May: second fix, network, commissioning and training take a day each.
    """
    plan = plan_of(MINIMAL)
    days = {task.key: (task.start, task.finish) for task in plan.tasks}
    assert days["order"] == (D(2031, 4, 2), D(2031, 4, 2))
    assert days["design"] == (D(2031, 4, 2), D(2031, 4, 3))
    assert days["drafting"] == (D(2031, 4, 4), D(2031, 4, 4))
    assert days["approval"] == (D(2031, 4, 7), D(2031, 4, 18))
    assert days["lead time access_point"] == (D(2031, 4, 19), D(2031, 5, 23))
    assert days["second fix L0"] == (D(2031, 5, 26), D(2031, 5, 26))
    assert days["commissioning L0"] == (D(2031, 5, 28), D(2031, 5, 28))
    assert plan.events["accepted"] == plan.finish == D(2031, 5, 29)
    assert plan.driving[0] == "order"
    assert plan.driving[-1] == "accepted"
    # Materials take 21 days, as mounts do, until Friday 9 May, so first fix is on Monday 12 May; it may wait
    # until the Friday before second fix, nine working days: four more of that week, and five of the next.
    first_fix = next(task for task in plan.tasks if task.key == "first fix L0")
    assert first_fix.start == D(2031, 5, 12)
    assert first_fix.total_float == 9
    due = payment_days(plan, [("1", "order", 30), ("4", "accepted", 0)])
    assert due == (("1", D(2031, 5, 2)), ("4", D(2031, 5, 29)))


@pytest.mark.independent
@pytest.mark.parametrize(
    ("written", "day"),
    [
        ({}, D(2031, 4, 2)),  # 30 days after 3 March
        ({"order_after_days": "45"}, D(2031, 4, 17)),
        ({"order_after_days": "0"}, D(2031, 3, 3)),
        ({"order_after_days": "45", "order": "2031-05-05"}, D(2031, 5, 5)),
    ],
)
def test_the_order_is_placed_so_many_days_after_the_revision(written: dict[str, str], day: D) -> None:
    assert plan_of(MINIMAL, {"programme": written}).start == day


def test_days_to_the_order_are_assumed_where_they_and_its_day_are_not_written(tmp_path: Path) -> None:
    def assumed(name: str, programme: str) -> list[object]:
        folder = edited(tmp_path / name, "minimal", {"project.yaml": [("*end*", programme)]})
        return [one.value for one in load_project(folder).assumptions if one.path[-1] == "order_after_days"]

    assert assumed("neither", "") == [30]
    assert assumed("days", "programme: {order_after_days: 45}\n") == []
    assert assumed("day", "programme: {order: 2031-05-05}\n") == []


RULES: list[dict[str, Any]] = [
    {},
    {
        "programme": {
            "order": "2031-07-12",
            "working_days": ["Monday", "Tuesday", "Wednesday", "Thursday"],
            "hours_a_day": "7.5",
            "holidays": {"summer": {"name": "Summer", "first": "2031-08-04", "last": "2031-08-22"}},
            "closures": {"sitting": {"name": "Sitting", "first": "2031-09-22", "last": "2031-10-03"}},
        },
        "labour": {"crews": {"installer": "1"}},
    },
]


@pytest.mark.parametrize("rules", RULES)
@pytest.mark.parametrize("folder", [MINIMAL, EXAMPLE, "tests/projects/us_customary"])
def test_work_follows_what_it_waits_for_and_keeps_to_its_days(folder: str, rules: dict[str, Any]) -> None:
    plan = plan_of(folder, rules)
    commercial = Commercial.model_validate(rules)
    calendars = work_calendars(commercial.programme)
    tasks = {task.key: task for task in plan.tasks}
    for task in plan.tasks:
        for before in task.after:
            held = tasks[before].finish
            assert task.start > held or (task.days == 0 and task.start >= held) or tasks[before].days == 0
        if task.days:
            calendar = calendars[task.calendar]
            worked = calendar.between(task.start.toordinal(), task.finish.toordinal() + 1)
            assert worked == task.days
            assert calendar.works(task.start.toordinal())
            assert calendar.works(task.finish.toordinal())
        assert 0 <= task.free_float <= task.total_float or task.days == 0
    assert plan.finish == max(task.finish for task in plan.tasks)


@pytest.mark.parametrize("rules", RULES)
@pytest.mark.parametrize("folder", [MINIMAL, EXAMPLE])
def test_no_crew_is_asked_for_more_than_it_is_and_every_hour_is_planned(
    folder: str, rules: dict[str, Any]
) -> None:
    plan = plan_of(folder, rules)
    commercial = Commercial.model_validate(rules)
    labour = shared_labour()
    hours = labour_of(folder, labour, commercial.labour)
    planned: dict[str, Decimal] = {}
    calendar = work_calendars(commercial.programme)["working"]
    for one in plan.crew_days:
        planned[one.trade] = planned.get(one.trade, Decimal(0)) + one.hours
        crew = commercial.labour.crews.get(one.trade, labour.trades[one.trade].crew)
        assert one.hours <= crew * commercial.programme.hours_a_day
        assert calendar.works(one.day.toordinal())
    wanted: dict[str, Decimal] = {}
    for row in hours.summary:
        wanted[row.trade] = wanted.get(row.trade, Decimal(0)) + row.hours
    assert planned == wanted


def test_a_closed_site_holds_up_work_there_and_nothing_else() -> None:
    closed = {"programme": {"closures": {"x": {"name": "X", "first": "2031-04-01", "last": "2031-06-30"}}}}
    before, after = plan_of(MINIMAL), plan_of(MINIMAL, closed)
    days = {task.key: task.start for task in after.tasks}
    assert days["first fix L0"] == D(2031, 7, 1)
    assert days["drafting"] == next(task.start for task in before.tasks if task.key == "drafting")
    # First fix, second fix, network, commissioning and training: Tuesday 1 to Friday 4, and Monday 7 July.
    assert after.finish == D(2031, 7, 7)


def test_days_set_by_others_are_waited_for_and_kept_or_said_to_be_missed() -> None:
    plan = plan_of(
        MINIMAL,
        {
            "programme": {
                "dates": {
                    "open": {"name": "Ceilings open", "date": "2031-06-10", "phases": ["first fix"]},
                    "close": {
                        "name": "Ceilings close",
                        "date": "2031-06-09",
                        "phases": ["first fix"],
                        "storeys": ["L0"],
                        "rule": "done by",
                    },
                }
            }
        },
    )
    assert next(task for task in plan.tasks if task.key == "first fix L0").start == D(2031, 6, 10)
    (late,) = plan.late
    assert (late.name, late.task, late.days) == ("Ceilings close", "first fix L0", 1)
    # The chain begins where others set the day.
    assert plan.driving[0] == "first fix L0"


def test_fewer_people_take_longer() -> None:
    fewer = {"labour": {"crews": {"installer": "1", "cable installer": "1"}}}
    assert plan_of(EXAMPLE, fewer).finish > plan_of(EXAMPLE).finish


def test_names_and_days_that_cannot_be_are_found() -> None:
    commercial = Commercial.model_validate(
        {
            "price": {
                "rules": {
                    "kinds": {"acces_point": {"margin": "20 %"}},
                    "models": {"NOPE": {"margin": "20 %"}},
                },
                "taxes": {"here": {"name": "VAT", "goods": "20 %", "services": "20 %"}},
                "place": "here",
                "places": {"B9": "here"},
                "allowances": {"a": {"name": "A", "price": "5 USD", "room": "B01"}},
            },
            "programme": {
                "order": "2091-01-01",
                "dates": {
                    "d": {"name": "D", "date": "2031-05-05", "phases": ["first fix"], "storeys": ["L9"]}
                },
            },
        }
    )
    labour = shared_labour()
    found = dict(
        wrong_commercial(commercial, labour, ["B001"], ["ER1"], ["L0"], {"A-DEVICE": "device"}, D(2031, 3, 3))
    )
    assert set(found) == {
        ("price", "rules", "kinds", "acces_point"),
        ("price", "rules", "models", "NOPE"),
        ("price", "places", "B9"),
        ("price", "allowances", "a", "room"),
        ("programme", "dates", "d", "storeys", 0),
        ("programme", "order"),
    }
    assert "did you mean access_point?" in found["price", "rules", "kinds", "acces_point"]
    without = dict(currencies_without_rate(commercial, labour, "EUR", {}))
    assert set(without) == {("price", "allowances", "a", "price")}
    assert dict(currencies_without_rate(commercial, labour, "EUR", {"USD": 1})) == {}
    assert ("labour", "trades", "drafter", "cost") in dict(
        currencies_without_rate(commercial, labour, "USD", {})
    )


@pytest.mark.parametrize("rules", RULES)
@pytest.mark.parametrize("folder", [MINIMAL, EXAMPLE])
def test_a_milestone_slips_no_further_than_the_work_that_sets_its_day(
    folder: str, rules: dict[str, Any]
) -> None:
    """Work that follows waits for the same activities, not for the milestone: it must be over as early."""
    tasks = {task.key: task for task in plan_of(folder, rules).tasks}
    for task in tasks.values():
        setting = [tasks[key] for key in task.after if tasks[key].finish == task.finish]
        if task.kind == "milestone" and setting:
            assert task.latest <= max(task.finish, min(before.latest for before in setting)), task.key
            assert task.critical == (task.total_float == 0)
            if any(before.critical for before in setting):
                assert task.critical, task.key


@pytest.mark.independent
def test_the_last_day_of_an_order_that_keeps_the_day_asked_for() -> None:
    """The example asks for acceptance by 30 September 2031: an order on the day found keeps it."""
    whole = computed_whole(EXAMPLE_PROJECT)
    plan, commercial = whole.programme, whole.project.brief.commercial
    assert plan.asked_by == D(2031, 9, 30)
    assert plan.latest_order is not None
    assert plan.latest_order > plan.start

    def accepted(order: datetime.date) -> datetime.date:
        rules = commercial.programme.model_copy(update={"order": order})
        return whole.programme_with(commercial.model_copy(update={"programme": rules})).finish

    assert accepted(plan.latest_order) <= D(2031, 9, 30)
    # 30 June 2031 is a Monday, so that the next working day is the Tuesday.
    assert accepted(plan.latest_order + datetime.timedelta(days=1)) > D(2031, 9, 30)
    late = plan_of(MINIMAL)
    assert (late.asked_by, late.latest_order) == (None, None)
