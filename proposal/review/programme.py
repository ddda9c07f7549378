"""Rules about the programme: what finishes after a date set by others."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from proposal.model.project import Project
from proposal.quantities import formatting
from proposal.review.finding import Finding, counted
from proposal.standards.sources import COMMON_PRACTICE

if TYPE_CHECKING:
    # Imported only where the programme is planned: asking whether days are set does not wait for it.
    from proposal.estimate.programme.programme import ProgrammePlan


def has_days_to_keep(project: Project) -> bool:
    """Return whether others set a day by which work has to be done, which only the programme can tell."""
    return any(day.rule == "done by" for day in project.brief.programme.dates.values())


def late_work(project: Project, plan: "ProgrammePlan") -> Iterator[Finding]:
    """Yield a warning for each activity that finishes after a date set for it by others.

    plan: the programme of the project.
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
            remedy="Agree a later date, place the order earlier, or use a larger crew.",
        )
