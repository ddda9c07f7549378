"""Days that come again on which nobody works, on site or in a room, as the calendar counts them."""

from proposal.estimate.programme.work_calendar import Recurring
from proposal.model.days_without_work import hours_of, takes_the_day
from proposal.model.price.commercial import Commercial
from proposal.model.programme import NoWork
from proposal.model.project import Project
from proposal.model.weekdays import WEEKDAYS, WEEKS

_LAST = -1


def closed_on_site(project: Project, commercial: Commercial) -> tuple[Recurring, ...]:
    """Return the days that come again on which nobody works on site.

    commercial: with the programme and the hours of work.
    """
    return tuple(
        recurring(one)
        for one in commercial.programme.no_work.values()
        if not one.rooms and takes_the_day(one, commercial, normal_day(project))
    )


def closed_in(tag: str, project: Project, commercial: Commercial) -> tuple[Recurring, ...]:
    """Return the days that come again on which nobody works in a room, besides those of the whole site.

    tag: of the room; any other name is a place that has no hours and no such days of its own.
    commercial: with the programme and the hours of work.
    """
    found = [
        recurring(one)
        for one in commercial.programme.no_work.values()
        if tag in one.rooms and takes_the_day(one, commercial, normal_day(project), tag)
    ]
    hours = list(hours_of(tag, commercial))
    if hours and all(one.weekdays for one in hours):
        worked = {day for one in hours for day in one.weekdays}
        others = frozenset(n for n, day in enumerate(WEEKDAYS) if day not in worked)
        found += [Recurring(others)] if others else []
    return tuple(dict.fromkeys(found))


def normal_day(project: Project) -> tuple[int, int]:
    """Return when a normal day of work begins and ends, minutes after midnight."""
    return project.brief.rules.review.day_begins, project.brief.rules.review.day_ends


def recurring(one: NoWork) -> Recurring:
    """Return days that come again as the calendar counts them."""
    weeks = (_LAST if week == "last" else WEEKS.index(week) + 1 for week in one.weeks)
    return Recurring(frozenset(map(WEEKDAYS.index, one.days)), frozenset(weeks))
