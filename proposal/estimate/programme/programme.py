"""The programme: when work is done, from hours, crews, lead times and the days that others set.

A trade's people work on one activity at a time: activities that need the same trade follow one another, so
that its crew is never asked for twice. An activity takes the days of the trade that needs longest with its
whole crew. Work on site counts days on which the site is open, work elsewhere working days, and lead times
calendar days. Management goes on from order to acceptance and is no activity of its own.
"""

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from math import ceil
from typing import Literal

from proposal.estimate.labour.labour import LabourEstimate
from proposal.estimate.programme.closed_days import closed_on_site
from proposal.estimate.programme.critical_path import Timed, driving_chain, timed
from proposal.estimate.programme.planned_order import asked_by_client, latest_order, order_day
from proposal.estimate.programme.programme_tasks import (
    ACCEPTED,
    FIRST_FIX,
    LEAD_TIME,
    MANAGEMENT,
    ORDER,
    Planned,
    planned_tasks,
)
from proposal.estimate.programme.work_calendar import WorkCalendar, date_of, with_needs, work_calendars
from proposal.estimate.takeoff_and_reels import Estimate
from proposal.field_classes import dataclass
from proposal.model.labour.labour import Labour
from proposal.model.price.commercial import Commercial
from proposal.model.programme import PAYMENT_EVENTS, PaymentEvent, Programme
from proposal.model.project import Project
from proposal.quantities.rounding import HUNDREDTH, shared_out

_LONGEST_WAIT = 20
"""Working days that crews wait for racks before storeys without any are fitted first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ProgrammeTask:
    """One activity or milestone on the programme.

    key, name: its key and what it is called.
    kind: a phase of labour, `lead time`, `approval` or `milestone`.
    storey: where it is done; empty where it is not done on one.
    days: how long, days of its `calendar`: working, site or calendar; 0 for a milestone. Where its rooms may
        not be worked in on some days, the days on which one of them is.
    shut: days from start to finish on which the site is open, and none of its rooms.
    start, finish: first and last day; of a milestone both are its day.
    latest: day on which it has to be over at the latest.
    total_float, free_float: days of its calendar.
    critical: whether a day's delay delays acceptance; driving: whether it is on the chain that sets it.
    crew: trade, people, hours.
    after: keys of what it waits for.
    day: fewest and most hours that one person works on a day in one of its rooms, h; both 0 without a crew.
    """

    key: str
    name: str
    kind: str
    storey: str
    days: int
    calendar: Literal["working", "site", "calendar"]
    start: datetime.date
    finish: datetime.date
    latest: datetime.date
    total_float: int
    free_float: int
    critical: bool
    driving: bool
    crew: tuple[tuple[str, int, Decimal], ...]
    after: tuple[str, ...]
    shut: tuple[datetime.date, ...] = ()
    day: tuple[Fraction, Fraction] = (Fraction(0), Fraction(0))


@dataclass(frozen=True, slots=True)
class CrewDay:
    """Hours of one trade on one day, and the people that makes."""

    trade: str
    day: datetime.date
    hours: Decimal
    people: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Late:
    """An activity that finishes after a date set by others.

    key, name, date: of that day; task: key of the activity; days: working days too late.
    """

    key: str
    name: str
    date: datetime.date
    task: str
    finish: datetime.date
    days: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ProgrammePlan:
    """The whole programme.

    tasks: activities and milestones, each after what it waits for.
    critical: keys of the activities and milestones without float; driving: the chain that sets the end.
    events: day of each event that payments are due upon.
    crew_days: hours of each trade, day by day, in order of trades and days.
    late: what is over after a day set by others.
    start, finish: day of the order, day of acceptance.
    asked_by: the last day of acceptance that the client's requirements allow; None where they name none.
    latest_order: the last working day on which an order keeps it; None where even `start` does not.
    site: days on which the site is open.
    """

    tasks: tuple[ProgrammeTask, ...]
    critical: tuple[str, ...]
    driving: tuple[str, ...]
    events: Mapping[PaymentEvent, datetime.date]
    crew_days: tuple[CrewDay, ...]
    late: tuple[Late, ...]
    start: datetime.date
    finish: datetime.date
    asked_by: datetime.date | None
    latest_order: datetime.date | None
    site: WorkCalendar


def programme(
    project: Project, estimate: Estimate, hours: LabourEstimate, labour: Labour, commercial: Commercial
) -> ProgrammePlan:
    """Return when the work of a project is done.

    Equipment is fitted from the lowest storey up. Where racks come so late that crews would wait for them
    for weeks, storeys without racks are not held up: they go first, unless that ends later.

    estimate: its take-off, for lead times; hours: its labour; labour: crews by trade.
    commercial: calendar, days set by others, crews that differ.
    """

    def plan(racks_last: bool) -> ProgrammePlan:
        tasks = planned_tasks(project, estimate, hours, labour, commercial, racks_last=racks_last)
        return _plan(project, hours, labour, commercial, tasks)

    found = plan(racks_last=False)
    if _days_waited_for_racks(found, work_calendars(commercial.programme)["working"]) <= _LONGEST_WAIT:
        return found
    other = plan(racks_last=True)
    return other if other.finish <= found.finish else found


def _days_waited_for_racks(plan: ProgrammePlan, calendar: WorkCalendar) -> int:
    """Return the working days by which racks hold up equipment that is there, with nothing left to pull."""
    tasks = {task.key: task for task in plan.tasks}
    workshop = tasks.get("workshop")
    if workshop is None:
        return 0
    leads = (one for one in plan.tasks if one.kind == LEAD_TIME and one.key not in workshop.after)
    ready = max(one.finish for one in (tasks[FIRST_FIX], *leads))
    return calendar.between(ready.toordinal() + 1, workshop.start.toordinal())


def _plan(
    project: Project,
    hours: LabourEstimate,
    labour: Labour,
    commercial: Commercial,
    planned: Sequence[Planned],
) -> ProgrammePlan:
    rules = commercial.programme
    first = order_day(project, rules).toordinal()
    activities = [one.activity for one in planned]
    calendars = work_calendars(rules, closed_on_site(project, commercial))
    site = calendars["site"]
    calendars |= {one.activity.key: with_needs(site, one.needs) for one in planned if one.needs}
    unheld = timed(activities, calendars, first)
    driving = driving_chain(activities, unheld)
    times = _with_milestones_held(planned, unheld, calendars)
    by_key = {one.activity.key: one for one in planned}
    shown = _all_days_shown(by_key, times, first, site)
    tasks = {}
    for key, moment in times.items():
        one = by_key[key]
        calendar = calendars[one.activity.calendar]
        latest = max(_latest(moment, calendar, shown[key][1]), shown[key][1])
        tasks[key] = _task(one, moment, (*shown[key], latest), key in driving)
        if one.needs:
            tasks[key] = _among_closed_rooms(tasks[key], calendar, site)
    asked_by = asked_by_client(project)

    def accepted(order: int) -> int:
        moved = timed(activities, calendars, order)
        return _all_days_shown(by_key, moved, order, site)[ACCEPTED][1]

    return ProgrammePlan(
        tasks=tuple(tasks.values()),
        critical=tuple(key for key, moment in times.items() if moment.critical),
        driving=driving,
        events={event: tasks[event].finish for event in PAYMENT_EVENTS},
        crew_days=_crew_days(planned, times, hours, labour, rules, calendars),
        late=_late(list(tasks.values()), rules),
        start=tasks[ORDER].start,
        finish=tasks[ACCEPTED].finish,
        asked_by=asked_by,
        latest_order=latest_order(accepted, first, asked_by, calendars["working"]),
        site=site,
    )


def _all_days_shown(
    by_key: Mapping[str, Planned], times: Mapping[str, Timed], first: int, site: WorkCalendar
) -> Mapping[str, tuple[int, int]]:
    """Return first and last day of everything, by keys; `times` has each after what it waits for.

    site: days on which the site is open.
    """
    shown: dict[str, tuple[int, int]] = {}
    for key, moment in times.items():
        shown[key] = _days_shown(by_key[key], moment, shown, first, site)
    return shown


def _with_milestones_held(
    planned: Sequence[Planned], times: Mapping[str, Timed], calendars: Mapping[str, WorkCalendar]
) -> Mapping[str, Timed]:
    """Return the times with each milestone slipping no further than what its day is set by.

    Other work waits for the same activities, so a milestone that slips past their latest finish delays it.
    """
    held = dict(times)
    for one in planned:
        moment = held[one.activity.key]
        setting = [held[key] for key in one.activity.after if held[key].early_finish == moment.early_start]
        latest = min([moment.late_start, *(before.late_finish for before in setting)])
        if one.activity.days or latest == moment.late_start:
            continue
        calendar = calendars[one.activity.calendar]
        held[one.activity.key] = replace(
            moment,
            late_start=latest,
            late_finish=latest,
            total_float=calendar.between(moment.early_start, latest),
            free_float=min(moment.free_float, calendar.between(moment.early_start, latest)),
        )
    return held


def _days_shown(
    one: Planned, moment: Timed, shown: Mapping[str, tuple[int, int]], first: int, site: WorkCalendar
) -> tuple[int, int]:
    """Return first and last day; a milestone is reached on the last day of what it waits for.

    What is delivered to site or accepted there waits for a day on which the site is open.
    """
    if one.activity.days:
        return moment.early_start, moment.early_finish - 1
    ends = (
        site.from_day(shown[key][1]) if key in one.on_site else shown[key][1] for key in one.activity.after
    )
    day = max([first, one.activity.not_before or first, *ends])
    return day, day


def _latest(moment: Timed, calendar: WorkCalendar, finish: int) -> int:
    """Return the last day that is early enough: the one its calendar works before the latest finish.

    finish: day on which it is shown to be over. A milestone that waits for nothing is shown on the day that
    begins with it, so its latest one is shown so too.
    """
    end = moment.late_finish + (1 if finish >= moment.early_finish else 0)
    return calendar.before(end, 1)[0] if moment.total_float else finish


def _task(one: Planned, moment: Timed, days: tuple[int, int, int], driving: bool) -> ProgrammeTask:
    return ProgrammeTask(
        key=one.activity.key,
        name=one.name,
        kind=one.kind,
        storey=one.storey,
        days=one.activity.days,
        calendar=one.calendar,
        start=date_of(days[0]),
        finish=date_of(days[1]),
        latest=date_of(days[2]),
        total_float=moment.total_float,
        free_float=moment.free_float,
        critical=moment.critical,
        driving=driving,
        crew=one.crew,
        after=one.activity.after,
        day=one.day,
    )


def _among_closed_rooms(task: ProgrammeTask, calendar: WorkCalendar, site: WorkCalendar) -> ProgrammeTask:
    """Return an activity with the days that it is worked on and those on which its rooms are closed.

    calendar: its own; site: days on which the site is open.
    """
    first, end = task.start.toordinal(), task.finish.toordinal() + 1
    return replace(
        task,
        days=calendar.between(first, end),
        shut=tuple(date_of(day) for day in site.days(first, end) if not calendar.works(day)),
    )


def _crew_days(
    planned: Sequence[Planned],
    times: Mapping[str, Timed],
    hours: LabourEstimate,
    labour: Labour,
    rules: Programme,
    calendars: Mapping[str, WorkCalendar],
) -> tuple[CrewDay, ...]:
    """Return the hours of each trade day by day: those of an activity, spread evenly over its days."""
    found: dict[tuple[str, int], tuple[Decimal, Fraction]] = {}
    spans = [
        (
            trade,
            amount,
            Fraction(amount) / one.person_days[trade],
            list(calendars[one.activity.calendar].days(moment.early_start, moment.early_finish)),
        )
        for one in planned
        for moment in (times[one.activity.key],)
        for trade, _, amount in one.crew
    ]
    whole = list(calendars["working"].days(times[ORDER].early_start, times[ACCEPTED].early_finish))
    normal = Fraction(rules.hours_a_day)
    spans += [(row.trade, row.hours, normal, whole) for row in hours.summary if row.phase == MANAGEMENT]
    for trade, amount, hours_a_day, days in spans:
        if days:
            parts = shared_out(amount, [Decimal(1)] * len(days), HUNDREDTH)
            for day, part in zip(days, parts, strict=True):
                worked, people = found.get((trade, day), (Decimal(0), Fraction(0)))
                found[trade, day] = worked + part, people + Fraction(part) / hours_a_day
    order = list(labour.trades)
    return tuple(
        CrewDay(trade, date_of(day), amount, _hundredths_up(people))
        for (trade, day), (amount, people) in sorted(
            found.items(), key=lambda one: (order.index(one[0][0]), one[0][1])
        )
        if amount
    )


def _hundredths_up(number: Fraction) -> Decimal:
    """Return a number in hundredths, rounded up."""
    return ceil(number * 100) * HUNDREDTH


def _late(tasks: Sequence[ProgrammeTask], rules: Programme) -> tuple[Late, ...]:
    calendar = work_calendars(rules)["working"]
    found = []
    for key, limit in rules.dates.items():
        if limit.rule != "done by":
            continue
        for task in tasks:
            concerned = task.kind in limit.phases and (not limit.storeys or task.storey in limit.storeys)
            if concerned and task.finish > limit.date:
                days = calendar.between(limit.date.toordinal() + 1, task.finish.toordinal() + 1)
                found.append(
                    Late(
                        key=key,
                        name=limit.name,
                        date=limit.date,
                        task=task.key,
                        finish=task.finish,
                        days=days,
                    )
                )
    return tuple(found)


def payment_days(
    plan: ProgrammePlan, payments: Sequence[tuple[str, PaymentEvent, int]]
) -> tuple[tuple[str, datetime.date], ...]:
    """Return the day on which each payment is due: its event's and so many days more.

    payments: key, event and days of each.
    """
    return tuple((key, date_of(plan.events[event].toordinal() + days)) for key, event, days in payments)
