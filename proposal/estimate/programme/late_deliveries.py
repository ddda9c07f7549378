"""Articles that come later than a day that has to be kept allows: what waits for them, and for how long."""

import datetime
from collections.abc import Iterator, Mapping

from proposal.estimate.programme.programme import ProgrammePlan, ProgrammeTask
from proposal.estimate.programme.programme_tasks import ACCEPTED, LEAD_TIME, delivered_in, lead_time_key
from proposal.estimate.programme.work_calendar import WorkCalendar, date_of, work_calendars
from proposal.estimate.takeoff_and_reels import Estimate
from proposal.field_classes import dataclass
from proposal.model.project import Project


@dataclass(frozen=True, slots=True, kw_only=True)
class LateDelivery:
    """An article that comes too late.

    model: its code.  lead_time_days: calendar days from order to delivery.
    arrives: its last day on the way; needed: the last day on which it would come in time.
    waits, begins: key and name of what waits for it, and its first day.
    days: working days by which that begins too late on account of this article.
    until: what has to be kept: `acceptance`, or what a day of others is called; by: that day.
    """

    model: str
    lead_time_days: int
    arrives: datetime.date
    needed: datetime.date
    waits: str
    name: str
    begins: datetime.date
    days: int
    until: str
    by: datetime.date


def late_deliveries(project: Project, estimate: Estimate, plan: ProgrammePlan) -> tuple[LateDelivery, ...]:
    """Return the articles on which a day is missed that requirements or others set, the latest first.

    project: its library.  estimate: its take-off.  plan: its programme.
    """
    calendar = work_calendars(project.brief.programme)["working"]
    missed = [(late.task, late.name, late.date, late.finish) for late in plan.late]
    if plan.asked_by is not None and plan.finish > plan.asked_by:
        missed.append((ACCEPTED, "acceptance", plan.asked_by, plan.finish))
    found: dict[tuple[str, str], LateDelivery] = {}
    for key, name, day, finish in missed:
        short = calendar.between(day.toordinal() + 1, finish.toordinal() + 1)
        for one in _behind(project, estimate, plan, calendar, key, short, name, day):
            at = (one.model, one.waits)
            if at not in found or one.days > found[at].days:
                found[at] = one
    return tuple(sorted(found.values(), key=lambda one: (-one.days, one.model, one.waits)))


def _behind(
    project: Project,
    estimate: Estimate,
    plan: ProgrammePlan,
    calendar: WorkCalendar,
    key: str,
    short: int,
    name: str,
    day: datetime.date,
) -> Iterator[LateDelivery]:
    """Yield the articles that an activity ends late by: those on the way when what waits should begin.

    key, name, day: of the activity, of what is missed and its day.  short: working days that it is missed by.
    """
    tasks = {task.key: task for task in plan.tasks}
    waiting = _first_that_waits(tasks, key)
    if waiting is None:
        return
    begins = waiting.start.toordinal()
    allowed = calendar.before(begins, short)[0] if short else begins
    ready = max(
        (tasks[one].finish.toordinal() + 1 for one in waiting.after if tasks[one].kind != LEAD_TIME),
        default=plan.start.toordinal(),
    )
    leads = [tasks[one] for one in waiting.after if tasks[one].kind == LEAD_TIME]
    if allowed < ready:
        # No delivery alone makes up for what is missed: the last to come is named, and no other.
        allowed, leads = ready, [max(leads, key=lambda task: task.finish)]
    last = max(task.finish for task in leads).toordinal() + 1
    for model, kind in sorted(delivered_in(project, estimate).items()):
        lead = tasks.get(lead_time_key(kind))
        if lead is None or lead not in leads:
            continue
        days = project.library.entry(model).lead_time_days
        arrives = lead.start.toordinal() + days
        if allowed == ready and arrives < last:
            continue
        late = calendar.between(allowed, min(arrives, begins))
        if late > 0:
            yield LateDelivery(
                model=model,
                lead_time_days=days,
                arrives=date_of(arrives - 1),
                needed=date_of(allowed - 1),
                waits=waiting.key,
                name=waiting.name,
                begins=waiting.start,
                days=late,
                until=name,
                by=day,
            )


def waiting_for_delivery(plan: ProgrammePlan) -> ProgrammeTask | None:
    """Return what waits for a lead time on the chain that sets the end; None where none is on it.

    plan: the programme.
    """
    return _first_that_waits({task.key: task for task in plan.tasks}, ACCEPTED)


def last_delivered(project: Project, estimate: Estimate, waiting: ProgrammeTask) -> tuple[str, ...]:
    """Return the models that come last of those that a piece of work waits for, in order of their codes.

    project: its library.  estimate: its take-off.  waiting: the work.
    """
    days = {
        model: project.library.entry(model).lead_time_days
        for model, kind in delivered_in(project, estimate).items()
        if lead_time_key(kind) in waiting.after
    }
    longest = max(days.values(), default=0)
    return tuple(sorted(model for model, one in days.items() if one == longest))


def _first_that_waits(tasks: Mapping[str, ProgrammeTask], key: str) -> ProgrammeTask | None:
    """Return what waits for a lead time on the chain that leads to an activity; None where none is on it."""
    here = tasks[key]
    while here.after:
        waited_for = max((tasks[one] for one in here.after), key=lambda task: (task.finish, task.key))
        if waited_for.kind == LEAD_TIME:
            return here
        here = waited_for
    return None
