"""How long people work on site: what supervision, storage and mobilisation are counted by."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import chain

from proposal.estimate.programme.programme import ProgrammePlan, ProgrammeTask
from proposal.estimate.programme.work_calendar import WorkCalendar, disjoint
from proposal.field_classes import dataclass
from proposal.model.labour.labour import SITE_PHASES, Phase
from proposal.quantities.general_conditions import TimeCount

Span = tuple[int, int]
_WEEK = 7


@dataclass(frozen=True, slots=True)
class TimeOnSite:
    """When each phase is worked on site.

    spans: first and last day of each of its activities, as ordinals, by phase; in parts where days between
        are not worked since its rooms are closed.
    site: days on which the site is open.
    """

    spans: Mapping[Phase, Sequence[Span]]
    site: WorkCalendar

    def count(self, by: TimeCount, phases: Sequence[Phase] = ()) -> int:
        """Return how many days, weeks or phases of work there are on site.

        by: what is counted. Days are those on which somebody works there; weeks are begun weeks from the
            first day to the last, as what stands there is hired by them, whoever works meanwhile.
        phases: that count; all of them where left out.
        """
        found = {phase: spans for phase, spans in self.spans.items() if phase in (phases or SITE_PHASES)}
        spans = disjoint(chain.from_iterable(found.values()))
        if by == "phase on site":
            return len(found)
        if by == "week on site":
            return -((spans[0][0] - spans[-1][1] - 1) // _WEEK) if spans else 0
        return sum(self.site.between(first, last + 1) for first, last in spans)


NO_TIME = TimeOnSite({}, WorkCalendar(frozenset()))


def time_on_site(plan: ProgrammePlan) -> TimeOnSite:
    """Return when each phase is worked on site.

    plan: the whole programme.
    """
    spans: dict[Phase, list[Span]] = {}
    for phase in SITE_PHASES:
        for task in plan.tasks:
            if task.kind == phase:
                spans.setdefault(phase, []).extend(_worked(task))
    return TimeOnSite(spans, plan.site)


def _worked(task: ProgrammeTask) -> Iterator[Span]:
    """Yield the spans of an activity between the days on which its rooms are closed."""
    first = task.start.toordinal()
    for shut in (day.toordinal() for day in task.shut):
        if first < shut:
            yield first, shut - 1
        first = shut + 1
    yield first, task.finish.toordinal()
