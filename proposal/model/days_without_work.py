"""What days that come again, on which nobody may work, leave of a day's hours."""

from collections.abc import Iterator

from proposal.model.labour.labour_choices import WorkHours
from proposal.model.labour.working_day import disjoint_spans, spans_of
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
    """Return whether what is left of a day is less than is worked on others.

    A day is worked for the hours of the programme, or for all hours of work where these are fewer.

    normal: when a normal day of work begins and ends, minutes after midnight; where there are hours of work,
        these count.
    tag: of the room it is asked for; the whole site where left out.
    """
    if one.start is None or one.end is None:
        return True
    spans = list(disjoint_spans(spans_of(hours_of(tag, commercial)) or [normal]))
    open_for = sum(last - first for first, last in spans)
    lost = sum(max(0, min(last, one.end) - max(first, one.start)) for first, last in spans)
    return open_for - lost < min(int(commercial.programme.hours_a_day * 60), open_for)
