"""Working days: which days of the year are worked, and counting along them."""

import datetime
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from proposal.field_classes import dataclass
from proposal.model.programme import DaysOff, Programme
from proposal.model.weekdays import WEEKDAYS

LAST_DAY = datetime.date.max.toordinal()


_WEEK = 7


@dataclass(frozen=True, slots=True)
class Recurring:
    """Days that come again in each week or month.

    weekdays: 0 for Monday to 6 for Sunday.
    weeks: which ones of the month, from 1, and -1 for the last; every one where empty.
    """

    weekdays: frozenset[int]
    weeks: frozenset[int] = frozenset()

    def falls_on(self, day: int) -> bool:
        """Return whether a day, as an ordinal, is one of them."""
        if (day - 1) % _WEEK not in self.weekdays:
            return False
        if not self.weeks or day + _WEEK > LAST_DAY:
            return not self.weeks
        date = datetime.date.fromordinal(day)
        last = datetime.date.fromordinal(day + _WEEK).month != date.month
        return (date.day - 1) // _WEEK + 1 in self.weeks or (last and -1 in self.weeks)


@dataclass(frozen=True, slots=True)
class Need:
    """Days that some parts of a piece of work take together: each is a day on which one of them is open.

    closed: of each part the days that come again on which it is not worked on.
    """

    days: int
    closed: tuple[tuple[Recurring, ...], ...]

    def counts(self, day: int) -> bool:
        """Return whether a day, as an ordinal, is open for one of the parts."""
        return any(not any(one.falls_on(day) for one in part) for part in self.closed)


@dataclass(frozen=True, slots=True)
class WorkCalendar:
    """Days on which work goes on.

    weekdays: 0 for Monday to 6 for Sunday; at least one.
    off: first and last day of every span off, as proleptic ordinals (`date.toordinal`), in any order.
    closed: days off that come again.
    needs: of a piece of work whose parts are open on different days: what all sets of parts take together,
        the set of all of them first. A day is worked where one part is open, and the work is over when each
        set has had its days; it can be done in that time and not sooner (a set of parts, each for its
        days, fits into open days exactly where every part of the set does: Hall's theorem).
    day: a day, as an ordinal.  days: a number of days worked.
    start, end: moments. A moment is the beginning of a day, so that work from moment 10 to moment 12 takes
        days 10 and 11.
    """

    weekdays: frozenset[int]
    off: tuple[tuple[int, int], ...] = ()
    closed: tuple[Recurring, ...] = ()
    needs: tuple[Need, ...] = ()

    def works(self, day: int) -> bool:
        """Return whether a day is worked."""
        # Day 1 of the proleptic calendar is a Monday.
        return (
            (day - 1) % 7 in self.weekdays
            and not any(first <= day <= last for first, last in self.off)
            and not any(one.falls_on(day) for one in self.closed)
            and (not self.needs or self.needs[0].counts(day))
        )

    def from_day(self, day: int) -> int:
        """Return the first day worked from a moment on."""
        while not self.works(day):
            day += 1
        return day

    def after(self, start: int, days: int) -> int:
        """Return the moment at which so many days worked from a moment on are over; the moment for 0."""
        if self == EVERY_DAY:
            return start + days
        if days and self.needs:
            return self._served(start, 1)[1] + 1
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
        if self.needs:
            finish, start = self._served(end - 1, -1)
            return start, finish + 1
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
        if self.closed or self.needs:
            return sum(1 for _ in self.days(start, end))
        off = sum(
            self._weekdays_between(max(first, start), min(last + 1, end))
            for first, last in disjoint(self.off)
        )
        return self._weekdays_between(start, end) - off

    def _served(self, day: int, step: int) -> tuple[int, int]:
        """Return the first and the last day worked, from a day on, until each set of parts has had its days.

        step: 1 forward, -1 back.
        """
        left = [(need, need.days) for need in self.needs]
        first = last = None
        while left:
            if self.works(day):
                first, last = day if first is None else first, day
                served = [(need, days - need.counts(day)) for need, days in left]
                left = [(need, days) for need, days in served if days > 0]
            day += step
        return (day, day) if first is None or last is None else (first, last)

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


def with_needs(site: WorkCalendar, needs: Sequence[Need]) -> WorkCalendar:
    """Return a calendar for a piece of work whose parts are not open on all of its days; see `needs`."""
    return replace(site, needs=tuple(needs))


def work_calendars(programme: Programme, closed: Sequence[Recurring] = ()) -> dict[str, WorkCalendar]:
    """Return the calendars of a project: `working` days, days on `site`, and `calendar` days.

    closed: days that come again on which nobody may work on site.
    """
    weekdays, on_site = (
        frozenset(map(WEEKDAYS.index, days)) for days in (programme.working_days, programme.days_on_site)
    )
    holidays = programme.holidays.values()
    ours = _spans(one for one in holidays if one.where != "on site")
    of_the_site = _spans(one for one in holidays if one.where != "in our offices")
    return {
        "working": WorkCalendar(weekdays, ours),
        "site": WorkCalendar(on_site, of_the_site + _spans(programme.closures.values()), tuple(closed)),
        "calendar": EVERY_DAY,
    }


def _spans(days: Iterable[DaysOff]) -> tuple[tuple[int, int], ...]:
    return tuple((one.first.toordinal(), (one.last or one.first).toordinal()) for one in days)


def date_of(day: int) -> datetime.date:
    """Return the date of an ordinal; what lies beyond the last date that can be written is shown as that.

    day: number of days since the last day before the year 1.
    """
    return datetime.date.fromordinal(min(day, LAST_DAY))
