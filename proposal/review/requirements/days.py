"""Answers by days of the programme: on which something has happened, and on which nobody works on site."""

import datetime

from proposal.model.requirements.answers import DateAnswer, SiteClosedAnswer
from proposal.model.weekdays import WEEKDAYS
from proposal.quantities import formatting
from proposal.review.requirements.answered import Answered, Evidence


def answered_by_day(answer: DateAnswer, evidence: Evidence) -> Answered:
    """Return what came of holding a day of the programme against the last one allowed."""
    day = evidence.programme.events[answer.date]
    return Answered(
        about=answer.date,
        verdict="met" if day <= answer.by else "not met",
        date=day,
        limit_date=answer.by,
        comparison="at most",
    )


def answered_by_closed_site(answer: SiteClosedAnswer, evidence: Evidence) -> Answered:
    """Return whether nobody works on site from one day to another, by the days of every activity there."""
    plan, rules = evidence.programme, evidence.project.brief.programme
    closed = [one for one in rules.holidays.values() if one.where != "in our offices"]
    closed += rules.closures.values()
    days = (answer.until - answer.site_closed).days + 1
    asked = [answer.site_closed + datetime.timedelta(days=n) for n in range(days)]
    worked = [
        (day, task.name)
        for day in asked
        if WEEKDAYS[day.weekday()] in rules.days_on_site
        and not any(one.first <= day <= (one.last or one.first) for one in closed)
        for task in plan.tasks
        if task.calendar == "site" and task.days and task.start <= day <= task.finish
    ]
    locale = evidence.project.brief.locale
    first, last = (formatting.date(day, locale) for day in (answer.site_closed, answer.until))
    return Answered(
        about="days without work on site",
        verdict="not met" if worked else "met",
        found=f"{worked[0][1]} on {formatting.date(worked[0][0], locale)}"
        if worked
        else "nobody works on site",
        wanted=f"nobody from {first} to {last}",
    )
