"""The day of the order: the planned one, and the last one that keeps the day by which work is wanted."""

import datetime
from collections.abc import Callable

from proposal.estimate.programme.programme_tasks import ACCEPTED
from proposal.estimate.programme.work_calendar import WorkCalendar, date_of
from proposal.model.programme import Programme
from proposal.model.project import Project
from proposal.model.requirements.answers import DateAnswer


def order_day(project: Project, rules: Programme) -> datetime.date:
    """Return the day of the order: as the project says, or the default number of days after its revision.

    Where the client cannot order before some day, it is not planned for an earlier one.
    """
    planned = rules.order or date_of(project.brief.revision.date.toordinal() + rules.order_after_days)
    return max(planned, rules.order_not_before or planned)


def asked_by_client(project: Project) -> datetime.date | None:
    """Return the earliest of the days by which requirements want the work accepted; None without any."""
    return min(
        (
            answer.by
            for requirement in project.requirements.values()
            for answer in requirement.answers
            if isinstance(answer, DateAnswer) and answer.date == ACCEPTED
        ),
        default=None,
    )


def latest_order(
    accepted: Callable[[int], int], first: int, asked_by: datetime.date | None, working: WorkCalendar
) -> datetime.date | None:
    """Return the last working day on which an order keeps a day of acceptance; None where `first` does not.

    accepted: the day of acceptance for a day of the order, never earlier for a later one.
    first: the planned day of the order.  asked_by: when acceptance is wanted, if it is.
    working: days on which people work in an office.
    """
    if asked_by is None or accepted(first) > asked_by.toordinal():
        return None
    early, late = first, asked_by.toordinal()
    while early < late:
        middle = (early + late + 1) // 2
        if accepted(middle) <= asked_by.toordinal():
            early = middle
        else:
            late = middle - 1
    return date_of(max(first, working.before(early + 1, 1)[0]))
