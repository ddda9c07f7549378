"""The critical path: earliest and latest moments of activities that wait for one another, and their floats.

Method: forward and backward pass over activities on nodes (critical path method), each activity counting days
of its own calendar. Moments are the beginnings of days, as in `work_calendar`.
"""

from collections.abc import Mapping, Sequence

from proposal.estimate.programme.work_calendar import WorkCalendar
from proposal.field_classes import dataclass


@dataclass(frozen=True, slots=True)
class Activity:
    """A piece of work, or a milestone where it takes no day.

    key: its own name.
    days: how long it takes, days of its calendar.
    after: keys of what has to be over first.
    calendar: key of its calendar.
    not_before: moment before which it cannot begin, if any.
    lag: whole days from when what it waits for is over until it can begin.
    """

    key: str
    days: int
    after: tuple[str, ...] = ()
    calendar: str = "calendar"
    not_before: int | None = None
    lag: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Timed:
    """The earliest and latest times of an activity.

    early_start, early_finish, late_start, late_finish: moments.
    total_float: days of its own calendar by which it may slip without moving the end of all.
    free_float: days of its own calendar by which it may slip without moving anything else.
    """

    early_start: int
    early_finish: int
    late_start: int
    late_finish: int
    total_float: int
    free_float: int

    @property
    def critical(self) -> bool:
        """Return whether one day of delay delays the end of all."""
        return self.total_float == 0


def timed(
    activities: Sequence[Activity], calendars: Mapping[str, WorkCalendar], start: int
) -> dict[str, Timed]:
    """Return when every activity happens, by key, in an order in which each follows what it waits for.

    start: moment at which the first can begin.
    Raises ValueError where activities wait for one another in a circle or for an unknown activity.
    """
    ordered = in_order(activities)
    followers: dict[str, list[str]] = {one.key: [] for one in ordered}
    early: dict[str, tuple[int, int]] = {}
    for one in ordered:
        calendar = calendars[one.calendar]
        reached = max([start, *(early[key][1] for key in one.after)])
        moment = max(reached + one.lag, one.not_before or start)
        if one.days:
            moment = calendar.from_day(moment)
        early[one.key] = (moment, calendar.after(moment, one.days))
        for key in one.after:
            followers[key].append(one.key)
    end = max((finish for _, finish in early.values()), default=start)
    lags = {one.key: one.lag for one in ordered}
    late: dict[str, tuple[int, int]] = {}
    for one in reversed(ordered):
        bound = min((late[key][0] - lags[key] for key in followers[one.key]), default=end)
        late[one.key] = calendars[one.calendar].before(bound, one.days)
    found = {}
    for one in ordered:
        calendar = calendars[one.calendar]
        (early_start, early_finish), (late_start, late_finish) = early[one.key], late[one.key]
        next_start = min((early[key][0] - lags[key] for key in followers[one.key]), default=end)
        found[one.key] = Timed(
            early_start=early_start,
            early_finish=early_finish,
            late_start=late_start,
            late_finish=late_finish,
            total_float=calendar.between(early_start, late_start),
            free_float=calendar.between(early_finish, next_start),
        )
    return found


def in_order(activities: Sequence[Activity]) -> list[Activity]:
    """Return activities so that each comes after those it waits for, otherwise in the order given.

    Raises ValueError where two have the same key, or where one waits for an unknown activity or in a circle.
    """
    by_key = {one.key: one for one in activities}
    if len(by_key) != len(activities):
        raise ValueError("wanted activities with keys of their own")
    missing = sorted({key for one in activities for key in one.after} - set(by_key))
    if missing:
        raise ValueError(f"wanted activities that wait for known ones; found {missing[0]}")
    ordered: dict[str, Activity] = {}
    waiting = list(activities)
    while waiting:
        ready = [one for one in waiting if all(key in ordered for key in one.after)]
        if not ready:
            raise ValueError(f"wanted activities without a circle; {waiting[0].key} waits for itself")
        ordered.update((one.key, one) for one in ready)
        waiting = [one for one in waiting if one.key not in ordered]
    return list(ordered.values())


def driving_chain(activities: Sequence[Activity], times: Mapping[str, Timed]) -> tuple[str, ...]:
    """Return the chain of activities that sets the end of all, from first to last.

    Each is the one that the next has waited for longest; the first begins without waiting for another, or on
    a day set by others, unless what it waits for has no float before that day. Where calendars differ,
    members of the chain may still have a float of their own.
    """
    by_key = {one.key: one for one in activities}
    order = {key: n for n, key in enumerate(times)}
    if not by_key:
        return ()
    here = max(by_key, key=lambda key: (times[key].early_finish, order[key]))
    chain = [here]
    while by_key[here].after:
        waited_for = max(by_key[here].after, key=lambda key: (times[key].early_finish, order[key]))
        held = by_key[here].not_before
        before = times[waited_for]
        if held is not None and held > before.early_finish and before.total_float > 0:
            break
        chain.append(waited_for)
        here = waited_for
    return tuple(reversed(chain))
