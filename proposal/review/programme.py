"""Rules about the programme: what finishes after a date set by others, and what comes too late for one."""

from collections.abc import Callable, Iterable, Iterator
from datetime import timedelta
from itertools import product
from typing import TYPE_CHECKING, TypeAlias

from proposal.model.project import Project
from proposal.model.requirements.answers import DateAnswer
from proposal.quantities import formatting
from proposal.review.finding import Finding, counted
from proposal.standards.sources import COMMON_PRACTICE

if TYPE_CHECKING:
    # Imported only where the programme is planned: asking whether days are set does not wait for it.
    from proposal.estimate.programme.late_deliveries import LateDelivery
    from proposal.estimate.programme.programme import Late, ProgrammePlan
    from proposal.model.price.commercial import Commercial

    Planning: TypeAlias = Callable[[Commercial], ProgrammePlan]
_MORE_DAYS = 15
_MORE_PEOPLE = 3


def has_days_to_keep(project: Project) -> bool:
    """Return whether others set a day by which work has to be done, which only the programme can tell."""
    return any(day.rule == "done by" for day in project.brief.programme.dates.values())


def has_days_to_deliver_by(project: Project) -> bool:
    """Return whether a requirement or others set a day that a late delivery would miss."""
    return has_days_to_keep(project) or any(
        isinstance(answer, DateAnswer)
        for requirement in project.requirements.values()
        for answer in requirement.answers
    )


def late_work(project: Project, plan: "ProgrammePlan", planned: "Planning") -> Iterator[Finding]:
    """Yield a warning for each activity that finishes after a date set for it by others.

    plan: the programme of the project.  planned: gives it for another day of order or other crews.
    """
    locale = project.brief.locale
    names = {task.key: task.name for task in plan.tasks}
    for late in plan.late:
        yield Finding(
            rule="done-too-late",
            severity="warning",
            where=late.task,
            place=project.place("project", "programme", "dates", late.key, "date"),
            message=f"{names[late.task]} is over on {formatting.date(late.finish, locale)}, "
            f"{counted(late.days, 'working day')} after {late.name} on {formatting.date(late.date, locale)}.",
            value=float(late.days),
            limit=0.0,
            unit="working days",
            source=COMMON_PRACTICE,
            remedy=_in_time(project, plan, planned, late),
        )


def late_articles(project: Project, deliveries: "Iterable[LateDelivery]") -> Iterator[Finding]:
    """Yield a warning for each article that comes later than a day that has to be kept allows.

    deliveries: as `late_deliveries` returns them.
    """
    locale = project.brief.locale
    for one in deliveries:
        arrives, needed, by = (formatting.date(day, locale) for day in (one.arrives, one.needed, one.by))
        lead = ("library", one.model, "lead_time_days")
        # A project may change the lead time alone.
        ours = lead in project.places or lead[:2] in project.places
        yield Finding(
            rule="delivered-too-late",
            severity="warning",
            where=one.model,
            place=project.place(*lead) if ours else project.place("project", "programme"),
            message=f"It comes {counted(one.lead_time_days, 'day')} after its order, on {arrives}. "
            f"{one.name} waits for it and begins {counted(one.days, 'working day')} too late for {one.until} "
            f"by {by}.",
            value=float(one.days),
            limit=0.0,
            unit="working days",
            source=COMMON_PRACTICE,
            remedy=f"Have it delivered by {needed}, if need be ahead of the rest of its order; or choose an "
            "article that comes sooner; or order it before the drawings are approved.",
        )


def _in_time(project: Project, plan: "ProgrammePlan", planned: "Planning", late: "Late") -> str:
    """Return what brings an activity to its end in time, each planned again."""
    locale = project.brief.locale
    ways = [f"Agree with others on {formatting.date(late.finish, locale)} or later for {late.name}"]
    commercial = project.brief.commercial
    early = (late.finish - late.date).days

    def in_time(**changes: object) -> bool:
        again = planned(commercial.model_copy(update=changes))
        return not any((one.key, one.task) == (late.key, late.task) for one in again.late)

    for days in range(early, early + _MORE_DAYS):
        order = plan.start - timedelta(days=days)
        if order < project.brief.revision.date:
            break
        if in_time(programme=commercial.programme.model_copy(update={"order": order})):
            ways.append(
                f"place the order by {formatting.date(order, locale)}, {counted(days, 'day')} earlier"
            )
            break
    trades = project.labour.trades
    crews = {trade: commercial.labour.crews.get(trade, row.crew) for trade, row in trades.items()}
    at_work = dict.fromkeys(trade for task in plan.tasks for trade, _, _ in task.crew)
    for trade, more in product(at_work, range(1, _MORE_PEOPLE + 1)):
        larger = {**commercial.labour.crews, trade: crews[trade] + more}
        if in_time(labour=commercial.labour.model_copy(update={"crews": larger})):
            ways.append(
                f"have {crews[trade] + more} people of the trade {trades[trade].name.lower()} at once "
                f"instead of {crews[trade]}"
            )
            break
    return "; or ".join(ways) + "."
