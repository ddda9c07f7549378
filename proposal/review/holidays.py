"""Rules about days that people have set: none falls on a day on which nobody works."""

import datetime
from collections.abc import Iterator, Mapping, Sequence

from proposal.design.design import Design
from proposal.estimate.programme.closed_days import closed_on_site
from proposal.estimate.programme.work_calendar import Recurring
from proposal.model.programme import DaysOff, Programme
from proposal.model.project import Path, Project
from proposal.model.weekdays import WEEKDAYS
from proposal.quantities import formatting
from proposal.review.finding import Finding, Rule
from proposal.standards.sources import COMMON_PRACTICE

MOST_DAYS = 184
"""Days on each side of a day off in which a day of work is looked for."""


def set_on_a_day_off(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for the order and for each day of work that is set on a day nobody works."""
    programme, locale = project.brief.programme, project.brief.locale
    days: list[tuple[Path, str, str, datetime.date, Mapping[str, DaysOff]]] = []
    if programme.order is not None:
        ours = {key: one for key, one in programme.holidays.items() if one.where != "on site"}
        days.append((("order",), "order", "The order", programme.order, ours))
    of_the_site = {key: one for key, one in programme.holidays.items() if one.where != "in our offices"}
    for key, one in programme.dates.items():
        shut = {**of_the_site, **programme.closures}
        days.append((("dates", key, "date"), key, one.name, one.date, shut))
    for path, where, name, day, off in days:
        closed = () if path == ("order",) else closed_on_site(project, project.brief.commercial)
        why = _why_off(programme, off, closed, day)
        if why:
            yield Finding(
                rule="day-off-work",
                severity="warning",
                where=where,
                place=project.place("project", "programme", *path),
                message=f"{name} is set for {formatting.date(day, locale)}, {why}.",
                source=COMMON_PRACTICE,
                remedy=_working_days(programme, off, closed, day),
            )


def _why_off(
    programme: Programme, off: Mapping[str, DaysOff], closed: Sequence[Recurring], day: datetime.date
) -> str:
    """Return why nobody works on a day, as a phrase; empty where people do."""
    for one in off.values():
        if one.first <= day <= (one.last or one.first):
            return f"which is {one.name}"
    # The order is given in an office; where days on site are others, either may be meant.
    if WEEKDAYS[day.weekday()] not in (*programme.working_days, *programme.site_days):
        return f"a {day.strftime('%A')}, on which nobody works"
    if any(one.falls_on(day.toordinal()) for one in closed):
        return "on which nobody may work on site (programme.no_work)"
    return ""


def _working_days(
    programme: Programme, off: Mapping[str, DaysOff], closed: Sequence[Recurring], day: datetime.date
) -> str:
    """Return which days before and after a day off people work on, as what to do."""
    near = [
        next((found.isoformat() for found in days if not _why_off(programme, off, closed, found)), "")
        for days in (_days(day, -1), _days(day, 1))
    ]
    which = " or ".join(one for one in near if one) or "a day on which people work"
    return f"Set it for {which}, or correct the days off."


def _days(day: datetime.date, step: int) -> Iterator[datetime.date]:
    """Yield the days before a day or after it, up to half a year away; step: 1 or -1."""
    for n in range(1, MOST_DAYS):
        yield day + datetime.timedelta(days=step * n)


HOLIDAY_RULES: tuple[Rule, ...] = (set_on_a_day_off,)
