"""The rows of the programme equal the plan, and hours reach those who check alone."""

import datetime
from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest

from proposal.document.document import Document
from proposal.document.making.document import document_of
from proposal.document.readers import READERS, Reader
from proposal.editions import edition_of
from proposal.estimate.programme.programme import ProgrammePlan
from proposal.model.loading import load_project
from proposal.pipeline import Computed, compute
from tests.design.making import EXAMPLE, PROJECTS

FOLDERS = (EXAMPLE, PROJECTS / "us_customary", PROJECTS / "failing", PROJECTS / "minimal")
every_project = pytest.mark.parametrize("folder", FOLDERS, ids=lambda folder: folder.name)


@cache
def computed_of(folder: Path) -> Computed:
    return compute(load_project(folder))


@cache
def document(folder: Path) -> Document:
    return document_of(computed_of(folder))


def plan_of(folder: Path) -> ProgrammePlan:
    return computed_of(folder).programme


@every_project
def test_activities_are_those_of_the_plan_as_they_begin(folder: Path) -> None:
    plan, rows = plan_of(folder), document(folder).activities
    by_key = {task.key: task for task in plan.tasks}
    assert sorted(row.key for row in rows) == sorted(by_key)
    trades = computed_of(folder).project.labour.trades
    for row in rows:
        task = by_key[row.key]
        for name in (
            *("name", "kind", "storey", "days", "calendar", "start", "finish", "latest", "total_float"),
            *("free_float", "critical", "driving", "after"),
        ):
            assert getattr(row, name) == getattr(task, name), (row.key, name)
        assert [(people, hours) for _, people, hours in row.crew] == [
            (people, hours) for _, people, hours in task.crew
        ]
        assert [trade for trade, _, _ in row.crew] == [trades[trade].name for trade, _, _ in task.crew]
    begun = [(row.start, row.finish) for row in rows]
    assert begun == sorted(begun)


@every_project
def test_the_days_that_matter_are_those_of_the_plan(folder: Path) -> None:
    plan, shown = plan_of(folder), document(folder).programme
    assert shown is not None
    assert {row.key: row.date for row in shown.events} == dict(plan.events)
    assert [row.date for row in shown.events] == sorted(plan.events.values())
    assert (shown.start, shown.finish, shown.driving) == (plan.start, plan.finish, plan.driving)
    late = {(row.activity, row.days) for day in shown.days_set for row in day.late}
    assert late == {(one.task, one.days) for one in plan.late}


@every_project
def test_crew_loads_add_up_to_the_hours_of_the_plan_day_by_day(folder: Path) -> None:
    plan, rows = plan_of(folder), document(folder).crew_loads
    trades = computed_of(folder).project.labour.trades
    shown = {
        (row.trade, plan.start + datetime.timedelta(days=n)): (hours, people)
        for row in rows
        for n, (hours, people) in enumerate(zip(row.hours, row.people, strict=True))
        if hours
    }
    assert shown == {(trades[one.trade].name, one.day): (one.hours, one.people) for one in plan.crew_days}


@every_project
def test_what_may_slip_ends_in_time(folder: Path) -> None:
    for row in document(folder).activities:
        assert row.latest >= row.finish, row.key
        assert (row.latest == row.finish) == (row.total_float == 0), row.key


@pytest.mark.independent
def test_the_latest_days_of_one_meeting_room_by_hand() -> None:
    """Programming takes one day and must be over before commissioning on Wednesday 28 May 2031.

    7.5 h of drafting take a day, so that the drawings are approved on Friday 18 April and programming is done
    on Monday 21 April; it may slip to Tuesday 27 May, which is 26 working days later. The documents may slip
    to the day of acceptance, 29 May.
    """
    by_key = {row.key: row for row in document(PROJECTS / "minimal").activities}
    programming = by_key["programming"]
    assert (programming.start, programming.days) == (datetime.date(2031, 4, 21), 1)
    assert programming.latest == datetime.date(2031, 5, 27)
    assert programming.total_float == 26
    assert by_key["documents"].latest == datetime.date(2031, 5, 29)


def test_the_example_rests_on_assumptions_of_its_programme_alone() -> None:
    whole = document(EXAMPLE)
    assert whole.programme is not None
    assert not whole.programme.order_assumed
    paths = {row.number: row.path for row in whole.assumptions}
    assert whole.programme.assumptions
    for number in whole.programme.assumptions:
        assert paths[number].startswith("project.programme.")
    assert len(whole.programme.assumptions) == sum(
        path.startswith("project.programme.") for path in paths.values()
    )


def test_days_off_are_those_that_the_programme_meets() -> None:
    shown = document(EXAMPLE).programme
    assert shown is not None
    assert [row.key for row in shown.days_off] == ["founders_day", "last_sitting", "summer_holiday"]
    assert [row.kind for row in shown.days_off] == ["holiday", "site closure", "holiday"]


@pytest.mark.parametrize("reader", READERS)
def test_hours_and_people_reach_reviewer_and_estimator_alone(reader: Reader) -> None:
    shown = edition_of(document(EXAMPLE), reader).document
    checks = reader in ("reviewer", "estimator")
    assert bool(shown.crew_loads) == checks
    assert bool(shown.check_sheets) == checks
    assert any(row.crew for row in shown.activities) == checks
    assert [row.key for row in shown.activities] == [row.key for row in document(EXAMPLE).activities]
    assert not any(sheet.kind == "crew loading" for sheet in (*shown.sheets, *shown.detail_sheets))


@every_project
def test_every_activity_stands_on_a_sheet_of_the_chart_and_every_trade_on_one_of_the_loading(
    folder: Path,
) -> None:
    whole = document(folder)
    charts = [sheet for sheet in whole.sheets if sheet.kind == "gantt chart"]
    shown = [key for sheet in charts for key in sheet.members or [row.key for row in whole.activities]]
    assert shown == [row.key for row in whole.activities]
    loads = [sheet for sheet in whole.check_sheets if sheet.kind == "crew loading"]
    trades = [trade for sheet in loads for trade in sheet.members or [row.trade for row in whole.crew_loads]]
    assert trades == [row.trade for row in whole.crew_loads]


def test_all_hours_of_the_example_but_travel_are_on_days() -> None:
    whole, labour = document(EXAMPLE), computed_of(EXAMPLE).labour
    on_days = sum((sum(row.hours, Decimal(0)) for row in whole.crew_loads), Decimal(0))
    charged = sum((row.hours for row in labour.summary if row.phase != "travel"), Decimal(0))
    assert on_days == charged
