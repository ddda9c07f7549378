"""The rows of the programme, from the plan as it was computed."""

import datetime
from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from typing import TypedDict

from proposal.document.making.findings import Numbers
from proposal.document.making.parties import names_of
from proposal.document.rows.programme import (
    ActivityRow,
    CrewLoadRow,
    DaysOffRow,
    EventRow,
    LateRow,
    NoWorkRow,
    ProgrammeSummary,
    SetDayRow,
)
from proposal.estimate.programme.closed_days import normal_day, recurring
from proposal.estimate.programme.programme import ProgrammePlan, ProgrammeTask
from proposal.estimate.programme.programme_sheets import charted
from proposal.estimate.programme.work_calendar import date_of
from proposal.model.days_without_work import takes_the_day
from proposal.model.labour.labour import SITE_PHASES
from proposal.model.price.terms_in_words import hours_that_shorten_the_day, no_work_in_words
from proposal.model.programme import DaysOff, NotBefore, NoWork
from proposal.model.project import Project

_RULES = "project.programme."


class ProgrammeParts(TypedDict):
    """The programme and its rows."""

    programme: ProgrammeSummary | None
    activities: tuple[ActivityRow, ...]
    crew_loads: tuple[CrewLoadRow, ...]


def programme_parts(project: Project, plan: ProgrammePlan, numbers: Numbers) -> ProgrammeParts:
    """Return the parts of the document that tell of the programme."""
    trades = {key: trade.name for key, trade in project.labour.trades.items()}
    return {
        "programme": _summary(project, plan, numbers),
        "activities": tuple(_activity(task, trades) for task in charted(plan)),
        "crew_loads": _crew_loads(project, plan),
    }


def _summary(project: Project, plan: ProgrammePlan, numbers: Numbers) -> ProgrammeSummary:
    rules = project.brief.programme
    parties = names_of(project)
    names = {task.key: task.name for task in plan.tasks}
    days_off = [
        *(_days_off(key, "holiday", one) for key, one in rules.holidays.items()),
        *(_days_off(key, "site closure", one) for key, one in rules.closures.items()),
    ]
    return ProgrammeSummary(
        start=plan.start,
        finish=plan.finish,
        asked_by=plan.asked_by,
        latest_order=plan.latest_order,
        order_not_before=rules.order_not_before,
        order_assumed=rules.order is None,
        working_days=rules.working_days,
        site_days=rules.site_days,
        hours_a_day=rules.hours_a_day,
        site_hours=hours_that_shorten_the_day(project.brief, project.brief.locale),
        approval_days=rules.approval_days,
        events=tuple(
            EventRow(key=event, name=names[event], date=day)
            for event, day in sorted(plan.events.items(), key=lambda item: item[1])
        ),
        driving=plan.driving,
        days_off=tuple(
            row
            for row in sorted(days_off, key=lambda row: (row.first, row.last, row.kind, row.key))
            if row.first <= plan.finish and row.last >= plan.start
        ),
        no_work=tuple(_no_work(key, one, project, plan) for key, one in sorted(rules.no_work.items())),
        days_set=tuple(
            _set_day(key, one, plan, names, parties)
            for key, one in sorted(rules.dates.items(), key=lambda item: (item[1].date, item[0]))
        ),
        assumptions=tuple(number for path, number in numbers.assumptions.items() if path.startswith(_RULES)),
    )


def _activity(task: ProgrammeTask, trades: Mapping[str, str]) -> ActivityRow:
    return ActivityRow(
        key=task.key,
        name=task.name,
        kind=task.kind,
        storey=task.storey,
        days=task.days,
        calendar=task.calendar,
        start=task.start,
        finish=task.finish,
        latest=task.latest,
        total_float=task.total_float,
        free_float=task.free_float,
        critical=task.critical,
        driving=task.driving,
        after=task.after,
        crew=tuple((trades[trade], people, hours) for trade, people, hours in task.crew),
    )


def _days_off(key: str, kind: str, days: DaysOff) -> DaysOffRow:
    return DaysOffRow(key=key, name=days.name, kind=kind, first=days.first, last=days.last or days.first)


def _no_work(key: str, one: NoWork, project: Project, plan: ProgrammePlan) -> NoWorkRow:
    """Return days that come again, with those that fall into the work on site.

    The site's own days off are days on which nobody would work anyway, and are not told twice.
    """
    commercial = project.brief.commercial
    whole = takes_the_day(one, commercial, normal_day(project), *one.rooms[:1])
    on_site = [task for task in plan.tasks if task.kind in SITE_PHASES]
    days = recurring(one)
    dates: list[datetime.date] = []
    if on_site:
        first, last = min(task.start for task in on_site), max(task.finish for task in on_site)
        open_days = replace(plan.site, closed=()).days(first.toordinal(), last.toordinal() + 1)
        dates = [date_of(day) for day in open_days if days.falls_on(day)]
    return NoWorkRow(
        key=key,
        words=no_work_in_words(one, project.brief.locale),
        takes_the_day=whole,
        dates=tuple(dates),
    )


def _set_day(
    key: str, day: NotBefore, plan: ProgrammePlan, names: Mapping[str, str], parties: Mapping[str, str]
) -> SetDayRow:
    return SetDayRow(
        key=key,
        name=day.name,
        date=day.date,
        rule=day.rule,
        phases=day.phases,
        storeys=day.storeys,
        late=tuple(
            LateRow(activity=one.task, name=names[one.task], finish=one.finish, days=one.days)
            for one in plan.late
            if one.key == key
        ),
        party=parties.get(day.party, day.party),
    )


def _crew_loads(project: Project, plan: ProgrammePlan) -> tuple[CrewLoadRow, ...]:
    """Return the hours of every trade, a number for each day from the order to the last one worked."""
    last = max((one.day for one in plan.crew_days), default=plan.start)
    days = [plan.start + datetime.timedelta(days=n) for n in range((last - plan.start).days + 1)]
    by_trade: dict[str, dict[datetime.date, tuple[Decimal, Decimal]]] = {}
    for one in plan.crew_days:
        by_trade.setdefault(one.trade, {})[one.day] = (one.hours, one.people)
    crews = project.brief.labour.crews
    none = (Decimal(0), Decimal(0))
    return tuple(
        CrewLoadRow(
            trade=project.labour.trades[trade].name,
            crew=crews.get(trade, project.labour.trades[trade].crew),
            hours=tuple(at.get(day, none)[0] for day in days),
            people=tuple(at.get(day, none)[1] for day in days),
        )
        for trade, at in by_trade.items()
    )
