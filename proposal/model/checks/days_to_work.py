"""Days that come again on which nobody may work: whether their rooms are known, and whether a day is left."""

from collections.abc import Collection, Iterator

from proposal.model.days_without_work import hours_of, takes_the_day
from proposal.model.price.commercial import Commercial
from proposal.model.reading.tree import Path
from proposal.model.weekdays import WEEKS
from proposal.quantities.messages import wanted_one_of


def no_day_left(
    commercial: Commercial, normal: tuple[int, int], tags: Collection[str]
) -> Iterator[tuple[Path, str]]:
    """Yield path and message of what names no room, and of a place in which no day of the week is left.

    normal: when a normal day of work begins and ends, minutes after midnight.
    tags: of rooms and equipment rooms.
    """
    rules = commercial.programme
    for key, one in rules.no_work.items():
        for index, tag in enumerate(one.rooms):
            if tag not in tags:
                message = wanted_one_of(tag, tags, "a room or equipment room")
                yield ("programme", "no_work", key, "rooms", index), message
    for tag in ("", *tags):
        closed = {
            (day, week)
            for one in rules.no_work.values()
            if (not one.rooms or tag in one.rooms)
            and takes_the_day(one, commercial, normal, tag if one.rooms else "")
            for day in one.days
            for week in one.weeks or WEEKS
        }
        # A fifth one is in no list; it is the last of its month.
        left = {day for day in rules.days_on_site if any((day, week) not in closed for week in WEEKS)}
        hours = list(hours_of(tag, commercial))
        if hours and all(one.weekdays for one in hours):
            left &= {day for one in hours for day in one.weekdays}
        if not left:
            where = f" in {tag}" if tag else ""
            message = f"wanted a day of the week on which people may work{where}; found none that is left"
            yield ("programme", "no_work") if closed else ("labour", "work_hours"), message
            return
