"""How many hours of a day people may work in a room, as the hours of its place leave them."""

from collections.abc import Iterable, Iterator
from decimal import Decimal
from fractions import Fraction

from proposal.model.labour.labour import SITE_PHASES, Phase
from proposal.model.labour.labour_choices import LabourChoices, WorkHours
from proposal.model.weekdays import WEEKDAYS, Weekday

Span = tuple[int, int]
_HOUR = 60


def working_day(tag: str, phase: Phase, choices: LabourChoices, hours_a_day: Decimal) -> Fraction:
    """Return the hours that one person works in a room on a day, h: no more than its hours of work leave.

    Hours of the clock for a phase stand in place of those for all work. Where days of the week have other
    hours, the shortest of them counts.

    tag: of the room; any other name is a place that has no hours of its own.
    hours_a_day: working hours of one person and day where nothing shortens them, h.
    """
    day = Fraction(hours_a_day)
    if phase not in SITE_PHASES:
        return day
    there = [one for one in choices.work_hours.values() if not one.rooms or tag in one.rooms]
    hours = [one for one in there if phase in one.phases] or [one for one in there if not one.phases]
    lengths = [
        sum(last - first for first, last in disjoint_spans(spans_of(_of_day(hours, weekday))))
        for weekday in WEEKDAYS
    ]
    return min([day, *(Fraction(minutes, _HOUR) for minutes in lengths if minutes)])


def spans_of(hours: Iterable[WorkHours]) -> list[Span]:
    """Return when hours of the clock begin and end, minutes after midnight of the day they begin on."""
    return [(one.start, one.start + one.minutes) for one in hours]


def disjoint_spans(spans: list[Span]) -> Iterator[Span]:
    """Yield spans of the clock, joined where they overlap."""
    end = 0
    for first, last in sorted(spans):
        if last > end:
            yield max(first, end), last
            end = last


def _of_day(hours: Iterable[WorkHours], weekday: Weekday) -> Iterator[WorkHours]:
    return (one for one in hours if not one.weekdays or weekday in one.weekdays)
