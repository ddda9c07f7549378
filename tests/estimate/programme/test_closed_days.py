"""Days that come again on which nobody may work, against a calendar of months and the largest flow."""

import calendar
import datetime
from decimal import Decimal
from fractions import Fraction
from itertools import combinations

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from proposal.estimate.programme.closed_days import closed_in, closed_on_site
from proposal.estimate.programme.programme import ProgrammePlan, programme
from proposal.estimate.programme.time_on_site import time_on_site
from proposal.estimate.programme.work_calendar import Need, Recurring, WorkCalendar, with_needs
from proposal.model.labour.labour import SITE_PHASES
from proposal.model.price.commercial import Commercial
from tests.estimate.labour.test_labour import EXAMPLE, MINIMAL, computed, labour_of
from tests.estimate.labour_data import shared_labour

WEEK = WorkCalendar(frozenset(range(5)))


@pytest.mark.independent
@pytest.mark.parametrize(("weeks", "index"), [({1}, 0), ({2}, 1), ({4}, 3), ({-1}, -1)])
@pytest.mark.parametrize("weekday", range(7))
def test_days_of_the_month_are_those_of_a_calendar_of_months(
    weekday: int, weeks: set[int], index: int
) -> None:
    days = Recurring(frozenset({weekday}), frozenset(weeks))
    for month in range(1, 13):
        of_month = [
            week[weekday] for week in calendar.Calendar().monthdatescalendar(2032, month)
            if week[weekday].month == month
        ]  # fmt: skip
        first = datetime.date(2032, month, 1).toordinal()
        last = first + calendar.monthrange(2032, month)[1]
        found = [day for day in range(first, last) if days.falls_on(day)]
        assert found == [of_month[index].toordinal()]


def _flow(hours: dict[int, int], closed: dict[int, Recurring | None], days: list[int]) -> int:
    """Return how many days of work fit into days, each of which serves one part that is open on it."""
    graph = nx.DiGraph()
    graph.add_nodes_from(("start", "end"))
    for part, wanted in hours.items():
        graph.add_edge("start", ("part", part), capacity=wanted)
        shut = closed[part]
        for day in days:
            if shut is None or not shut.falls_on(day):
                graph.add_edge(("part", part), ("day", day), capacity=1)
    for day in days:
        graph.add_edge(("day", day), "end", capacity=1)
    return int(nx.maximum_flow_value(graph, "start", "end"))


@pytest.mark.independent
@given(
    st.lists(st.tuples(st.integers(1, 4), st.sets(st.integers(0, 4), max_size=4)), min_size=1, max_size=4),
    st.integers(730_000, 730_060),
)
@settings(max_examples=60, deadline=None)
def test_work_in_rooms_that_are_closed_takes_as_long_as_the_largest_flow_says(
    parts: list[tuple[int, set[int]]], start: int
) -> None:
    hours = {n: days for n, (days, _) in enumerate(parts)}
    closed = {n: Recurring(frozenset(shut)) if shut else None for n, (_, shut) in enumerate(parts)}
    needs = [
        Need(
            sum(hours[n] for n in chosen),
            tuple((shut,) if (shut := closed[n]) is not None else () for n in chosen),
        )
        for size in range(len(parts), 0, -1)
        for chosen in combinations(hours, size)
    ]
    mine = with_needs(WEEK, needs)
    wanted = sum(hours.values())
    moment = mine.from_day(start)
    end = mine.after(moment, wanted)
    assert _flow(hours, closed, list(WEEK.days(moment, end))) == wanted
    assert _flow(hours, closed, list(WEEK.days(moment, end - 1))) < wanted
    first, last = mine.before(end, wanted)
    assert last <= end
    assert first >= moment
    assert _flow(hours, closed, list(WEEK.days(first, last))) == wanted


def _plan(folder: str, rules: dict[str, object]) -> ProgrammePlan:
    one, commercial, labour = computed(folder), Commercial.model_validate(rules), shared_labour()
    return programme(
        one.project, one.estimate, labour_of(folder, labour, commercial.labour), labour, commercial
    )


def _site_days(plan: ProgrammePlan) -> set[datetime.date]:
    return {
        datetime.date.fromordinal(day)
        for task in plan.tasks
        if task.kind in SITE_PHASES
        for day in range(task.start.toordinal(), task.finish.toordinal() + 1)
        if plan.site.works(day) and datetime.date.fromordinal(day) not in task.shut
    }


@pytest.mark.independent
def test_the_only_room_is_not_worked_in_on_days_on_which_it_is_closed() -> None:
    """Otherwise second fix, network, commissioning and training take Monday 26 to Thursday 29 May 2031.

    The room is closed on Wednesdays: commissioning waits until Thursday and training until Friday. Network
    work is done at the rack. Closed on Mondays too, second fix begins at the rack and ends on Tuesday.
    """
    (tag,) = computed(MINIMAL).project.rooms
    for days, fixed, tested, accepted in (("Wed", 26, 29, 30), ("Tue", 26, 28, 29), ("Mon, Wed", 27, 29, 30)):
        plan = _plan(MINIMAL, {"programme": {"no_work": {"board": {"days": days, "rooms": [tag]}}}})
        tasks = {task.key: task for task in plan.tasks}
        found = [tasks["second fix L0"].finish, tasks["commissioning L0"].start, plan.finish]
        assert found == [datetime.date(2031, 5, day) for day in (fixed, tested, accepted)]


def test_the_site_is_not_worked_on_days_on_which_it_is_closed() -> None:
    """The second Monday of each month, and every Friday from noon on: four hours are left of ten."""
    rules: dict[str, object] = {
        "programme": {
            "no_work": {
                "council": {"days": "Mon", "weeks": "second"},
                "prayers": {"days": "Fri", "start": "12:00", "end": "18:00"},
                "evening": {"days": "Thu", "start": "17:00", "end": "22:00"},
            }
        }
    }
    plan, free = _plan(EXAMPLE, rules), _plan(EXAMPLE, {})
    days = _site_days(plan)
    assert days
    assert not [day for day in days if day.weekday() == 4 or (day.weekday() == 0 and 8 <= day.day <= 14)]
    assert [day for day in days if day.weekday() == 3]
    assert plan.finish > free.finish
    for trade in {one.trade for one in free.crew_days}:
        held, before = (
            sum((one.hours for one in each.crew_days if one.trade == trade), Decimal(0))
            for each in (plan, free)
        )
        assert held == before


@pytest.mark.independent
def test_short_hours_of_the_place_make_a_phase_as_long_as_a_short_day_of_everybody() -> None:
    """Four hours an evening for one phase: as if people worked four hours a day, in that phase alone."""
    evening: dict[str, object] = {"start": "18:00", "end": "22:00"}
    usual, short = _plan(EXAMPLE, {}), _plan(EXAMPLE, {"programme": {"hours_a_day": 4}})
    for phases in (["first fix"], ["second fix", "commissioning"], list(SITE_PHASES)):
        hours = {**evening, "phases": phases}
        plan = _plan(EXAMPLE, {"labour": {"work_hours": {"evening": hours}}})
        wanted = {
            one.key: one.days for each in (usual, short) for one in each.tasks
            if (one.kind in phases) == (each is short)
        }  # fmt: skip
        assert {one.key: one.days for one in plan.tasks} == wanted
        assert all(one.hours == 0 or one.people >= one.hours / 8 for one in plan.crew_days)
    everywhere = _plan(EXAMPLE, {"labour": {"work_hours": {"evening": evening}}})
    assert {one.key: one.days for one in everywhere.tasks} == wanted


@pytest.mark.pinned
def test_one_room_with_short_hours_takes_longer_by_its_own_work_alone() -> None:
    """An access point of 1.25 h, a charger and a breakout of 0.6 h each, ends of the lead 0.3 h: 2.75 h in
    the room, at half an hour a day 5.5 days, and the rack's 3 h are 0.375 days of 8 h: 5.875 days of one
    person, so three of the two installers."""
    (tag,) = computed(MINIMAL).project.rooms
    hours = {"start": "12:00", "end": "12:30", "rooms": [tag], "phases": ["second fix"]}
    rules: dict[str, object] = {"labour": {"work_hours": {"noon": hours}}}
    tasks = {one.key: one for one in _plan(MINIMAL, rules).tasks}
    assert tasks["second fix L0"].days == 3
    assert tasks["second fix L0"].day == (Fraction(1, 2), 8)
    choices = Commercial.model_validate(rules).labour
    found = {(row.trade, row.phase): row for row in labour_of(MINIMAL, shared_labour(), choices).summary}
    assert found["installer", "second fix"].person_days == 6
    assert found["commissioning engineer", "commissioning"].person_days == 1


def test_hours_that_a_day_keeps_whole_are_no_hours_without_work() -> None:
    """People work from six to nine in the evening, and the mornings on which nobody may work cost nothing."""
    evening = {"evening": {"start": "18:00", "end": "21:00"}}
    without, with_mornings = (
        _plan(
            MINIMAL,
            {
                "labour": {"work_hours": evening},
                "programme": {"no_work": {"m": {"days": "Mon-Fri", "start": start, "end": "12:00"}}},
            },
        )
        for start in ("11:00", "8:00")
    )
    assert without.finish == with_mornings.finish
    assert not with_mornings.site.closed


@pytest.mark.independent
def test_nothing_is_delivered_to_a_closed_site_or_accepted_there() -> None:
    """Closed from the day of delivery for a week: what goes to site comes on the day it opens again.

    What is built in the workshop is not held up, and nothing of what is done elsewhere moves.
    """
    free = _plan(EXAMPLE, {})
    leads = [one for one in free.tasks if one.kind == "lead time"]
    last = max(one.finish for one in leads)
    to_site = max(one.finish for one in leads if one.name.partition(": ")[2] not in ("mixer", "switch"))
    assert free.events["delivery"] == last
    for first, wanted in ((to_site, None), (free.events["accepted"], "accepted")):
        span = {"first": first, "last": first + datetime.timedelta(days=6)}
        plan = _plan(EXAMPLE, {"programme": {"closures": {"fair": {"name": "Fair", **span}}}})
        before, after = ({one.key: one for one in each.tasks} for each in (free, plan))
        for key in ("design", "drafting", "workshop", "programming", *(one.key for one in leads)):
            assert (after[key].start, after[key].finish) == (before[key].start, before[key].finish)
        opens = datetime.date.fromordinal(plan.site.from_day(span["last"].toordinal() + 1))
        assert plan.events["delivery"] == (opens if wanted is None and to_site == last else last)
        if wanted is not None:
            assert plan.events["accepted"] >= opens
        for one in plan.tasks:
            if one.kind in SITE_PHASES or one.key == "accepted":
                assert not span["first"] <= one.finish <= span["last"]
            assert one.finish <= one.latest


def test_days_on_site_are_those_on_which_somebody_is_there() -> None:
    """Every room of a storey closed on the same day: nobody is there, and no supervision is counted."""
    one = computed(EXAMPLE)
    rooms = [*one.project.rooms, *one.project.building.equipment_rooms]
    hours: dict[str, object] = {
        "labour": {"work_hours": {"most": {"start": "8:00", "end": "18:00", "weekdays": "Mon-Wed"}}},
    }
    plan = _plan(EXAMPLE, hours)
    commercial = Commercial.model_validate(hours)
    assert closed_on_site(one.project, commercial) == ()
    assert {closed_in(tag, one.project, commercial) for tag in rooms} == {
        (Recurring(frozenset({3, 4, 5, 6})),)
    }
    worked = _site_days(plan)
    assert {day.weekday() for day in worked} <= {0, 1, 2}
    assert time_on_site(plan).count("day on site") == len(worked)
