"""What days that come again, on which nobody may work, leave of a day's hours."""

from collections.abc import Iterator

from proposal.model.labour.labour_choices import WorkHours
from proposal.model.price.commercial import Commercial
from proposal.model.programme import NoWork


def hours_of(tag: str, commercial: Commercial) -> Iterator[WorkHours]:
    """Yield the hours of the clock in which people may do any work in a room.

    tag: of the room; empty for what holds for the whole site.
    """
    return (
        one
        for one in commercial.labour.work_hours.values()
        if not one.phases and (not one.rooms or tag in one.rooms)
    )


def takes_the_day(one: NoWork, commercial: Commercial, normal: tuple[int, int], tag: str = "") -> bool:
    """Return whether what is left of a day is less than the working day of the programme.

    normal: when a normal day of work begins and ends, minutes after midnight; where there are hours of work,
        these count.
    tag: of the room it is asked for; the whole site where left out.
    """
    if one.start is None or one.end is None:
        return True
    spans = [(hours.start, hours.start + hours.minutes) for hours in hours_of(tag, commercial)]
    left = sum(
        last - first - max(0, min(last, one.end) - max(first, one.start))
        for first, last in _disjoint(spans or [normal])
    )
    return left < commercial.programme.hours_a_day * 60


def _disjoint(spans: list[tuple[int, int]]) -> Iterator[tuple[int, int]]:
    """Yield spans of the clock, joined where they overlap."""
    end = 0
    for first, last in sorted(spans):
        if last > end:
            yield max(first, end), last
            end = last
