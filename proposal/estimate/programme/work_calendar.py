"""Working days: which days of the year are worked, and counting along them."""

import datetime
from collections.abc import Iterable, Iterator

from proposal.field_classes import dataclass
from proposal.model.programme import WEEKDAYS, DaysOff, Programme

LAST_DAY = datetime.date.max.toordinal()


@dataclass(frozen=True, slots=True)
class WorkCalendar:
    """Days on which work goes on.

    weekdays: 0 for Monday to 6 for Sunday; at least one.
    off: first and last day of every span off, as proleptic ordinals (`date.toordinal`), in any order.
    day: a day, as an ordinal.  days: a number of days worked.
    start, end: moments. A moment is the beginning of a day, so that work from moment 10 to moment 12 takes
        days 10 and 11.
    """

    weekdays: frozenset[int]
    off: tuple[tuple[int, int], ...] = ()

    def works(self, day: int) -> bool:
        """Return whether a day is worked."""
        # Day 1 of the proleptic calendar is a Monday.
        return (day - 1) % 7 in self.weekdays and not any(first <= day <= last for first, last in self.off)

    def from_day(self, day: int) -> int:
        """Return the first day worked from a moment on."""
        while not self.works(day):
            day += 1
        return day

    def after(self, start: int, days: int) -> int:
        """Return the moment at which so many days worked from a moment on are over; the moment for 0."""
        if self == EVERY_DAY:
            return start + days
        moment = start
        for _ in range(days):
            moment = self.from_day(moment) + 1
        return moment

    def before(self, end: int, days: int) -> tuple[int, int]:
        """Return the latest start and finish of so many days worked that are over at a moment."""
        if not days:
            return end, end
        if self == EVERY_DAY:
            return end - days, end
        day = end - 1
        while not self.works(day):
            day -= 1
        finish = day + 1
        for _ in range(days - 1):
            day -= 1
            while not self.works(day):
                day -= 1
        return day, finish

    def between(self, start: int, end: int) -> int:
        """Return the number of days worked between two moments, below 0 where the second comes first."""
        if end < start:
            return -self.between(end, start)
        off = sum(
            self._weekdays_between(max(first, start), min(last + 1, end))
            for first, last in disjoint(self.off)
        )
        return self._weekdays_between(start, end) - off

    def _weekdays_between(self, start: int, end: int) -> int:
        """Return the number of days between two moments that fall on a weekday worked."""
        if end <= start:
            return 0
        weeks, rest = divmod(end - start, 7)
        return weeks * len(self.weekdays) + sum((start + n - 1) % 7 in self.weekdays for n in range(rest))

    def days(self, start: int, end: int) -> Iterator[int]:
        """Yield the days worked between two moments."""
        return (day for day in range(start, end) if self.works(day))


def disjoint(spans: Iterable[tuple[int, int]]) -> list[tuple[int, int]]:
    """Return spans of days so that none shares a day with another, in their order.

    spans: first and last day of each, as ordinals.
    """
    found: list[tuple[int, int]] = []
    for first, last in sorted(spans):
        if found and first <= found[-1][1]:
            found[-1] = (found[-1][0], max(found[-1][1], last))
        else:
            found.append((first, last))
    return found


EVERY_DAY = WorkCalendar(frozenset(range(7)))


def work_calendars(programme: Programme) -> dict[str, WorkCalendar]:
    """Return the calendars of a project: `working` days, days on `site`, and `calendar` days."""
    weekdays, on_site = (
        frozenset(map(WEEKDAYS.index, days)) for days in (programme.working_days, programme.days_on_site)
    )
    holidays = programme.holidays.values()
    ours = _spans(one for one in holidays if one.where != "on site")
    of_the_site = _spans(one for one in holidays if one.where != "in our offices")
    return {
        "working": WorkCalendar(weekdays, ours),
        "site": WorkCalendar(on_site, of_the_site + _spans(programme.closures.values())),
        "calendar": EVERY_DAY,
    }


def _spans(days: Iterable[DaysOff]) -> tuple[tuple[int, int], ...]:
    return tuple((one.first.toordinal(), (one.last or one.first).toordinal()) for one in days)


def date_of(day: int) -> datetime.date:
    """Return the date of an ordinal; what lies beyond the last date that can be written is shown as that.

    day: number of days since the last day before the year 1.
    """
    return datetime.date.fromordinal(min(day, LAST_DAY))
