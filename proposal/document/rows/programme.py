"""Rows of the programme: activities and milestones, the days that matter, the calendar, who is at work."""

import datetime
from collections.abc import Sequence
from decimal import Decimal
from typing import Annotated, ClassVar, Protocol

from pydantic import Field

from proposal.document.schedule import ALL, CHECKERS, Row, Schedule, Shows, composed, gathered


class ActivityRow(Row):
    """One activity or milestone."""

    schedule: ClassVar = Schedule("activity", subject="programme", key=("key",))

    key: Annotated[str, Shows("key", ALL, "tag")] = Field(
        description="Its own key, the same in every revision, such as `first fix L1`."
    )
    name: Annotated[str, Shows("activity", ALL)] = Field(description="What it is called.")
    kind: Annotated[str, Shows("kind", ALL, "word")] = Field(
        description="A phase of the work, lead time, approval or milestone."
    )
    storey: Annotated[str, Shows("storey", ALL, "tag")] = Field(
        description="Tag of the storey it is done on; empty where it is on none."
    )
    days: Annotated[int, Shows("takes", ALL, "by calendar", zero=False)] = Field(
        description="How long, days of its calendar; 0 for a milestone."
    )
    calendar: Annotated[str, Shows("days_of", ALL, "calendar")] = Field(
        description="Which days count: working, site (working days on which the site is open) or calendar."
    )
    start: Annotated[datetime.date, Shows("begins", ALL, "date")] = Field(
        description="First day; of a milestone, its day."
    )
    finish: Annotated[datetime.date, Shows("is_over", ALL, "date")] = Field(
        description="Last day; of a milestone, its day."
    )
    latest: Annotated[datetime.date, Shows("at_the_latest", ALL, "date")] = Field(
        description="Day on which it has to be over at the latest, so that acceptance is not delayed."
    )
    total_float: Annotated[int, Shows("float", ALL, "by calendar")] = Field(
        description="Days of its calendar by which it may slip without delaying acceptance."
    )
    free_float: Annotated[int, Shows("free_float", ALL, "by calendar")] = Field(
        description="Days of its calendar by which it may slip without delaying anything else."
    )
    critical: Annotated[bool, Shows("critical", ALL, "flag")] = Field(
        description="Whether a day's delay delays acceptance."
    )
    driving: Annotated[bool, Shows("sets_acceptance", ALL, "flag")] = Field(
        description="Whether it is on the chain that sets the day of acceptance."
    )
    after: Annotated[tuple[str, ...], Shows("waits_for", ALL, "tag", link="activity")] = Field(
        description="Keys of what it waits for."
    )
    crew: Annotated[
        tuple[tuple[str, int, Decimal], ...], Shows("crew", CHECKERS, ("text", "count", "hours"))
    ] = Field(default=(), description="Trade, people at once, and hours of each trade that does it.")

    @composed(Shows("critical", ALL, "verdict", together=True))
    def criticality(self) -> str:
        """Whether it is critical, as a mark."""
        return "critical" if self.critical else "no"


class Planned(Protocol):
    """What has a programme."""

    @property
    def activities(self) -> tuple[ActivityRow, ...]:
        """Activities and milestones."""


def begins(activities: Sequence[ActivityRow], kind: str) -> datetime.date | None:
    """Return the first day of the activities of a kind; none where there are none.

    kind: a phase of the work, such as `second fix`. Where no hours of ours set up the network, since all
        switches are the owner's, it has to be there when commissioning begins.
    """
    days = [one.start for one in activities if one.kind == kind]
    if not days and kind == "network":
        return begins(activities, "commissioning")
    return min(days, default=None)


class EventRow(Row):
    """A day that payments or other people wait for."""

    schedule: ClassVar = Schedule("event", subject="programme", key=("key",))

    key: Annotated[str, Shows("what", ALL, "tag", link="activity")] = Field(
        description="Event as the terms of payment name it, such as `delivery`."
    )
    name: Annotated[str, Shows("name", ALL)] = Field(description="What it is called.")
    date: Annotated[datetime.date, Shows("day", ALL, "date")] = Field(description="Its day.")

    @gathered(Shows("float", ALL, "working days"))
    def total_float(self, document: Planned) -> int | None:
        """Working days by which it may slip without delaying acceptance."""
        return next((row.total_float for row in document.activities if row.key == self.key), None)


class DaysOffRow(Row):
    """Days on which nobody works, or nobody may work on site."""

    schedule: ClassVar = Schedule("days_off", subject="programme", key=("key",))

    key: Annotated[str, Shows("key", ALL, "tag")] = Field(
        description="The name of its own that the project gives it."
    )
    name: Annotated[str, Shows("what", ALL)] = Field(description="What they are called.")
    kind: Annotated[str, Shows("kind", ALL, "word")] = Field(description="holiday or site closure.")
    first: Annotated[datetime.date, Shows("first_day", ALL, "date")] = Field(description="First day.")
    last: Annotated[datetime.date, Shows("last_day", ALL, "date")] = Field(description="Last day.")


class NoWorkRow(Row):
    """Days that come again on which nobody may work on site or in some rooms."""

    schedule: ClassVar = Schedule("no_work", subject="programme", key=("key",))

    key: Annotated[str, Shows("key", ALL, "tag")] = Field(
        description="The name of its own that the project gives it."
    )
    words: Annotated[str, Shows("when_nobody_works", ALL)] = Field(
        description="Days, hours and rooms in words, with the reason."
    )
    takes_the_day: Annotated[bool, Shows("takes_the_day", ALL, "flag")] = Field(
        description="Whether too few hours are left, so that the whole day is not worked."
    )
    dates: Annotated[tuple[datetime.date, ...], Shows("days_met", ALL, "date", empty="none")] = Field(
        default=(), description="Days of it while work on site goes on, on which the site would be open."
    )


class LateRow(Row):
    """An activity that finishes after a date set by others."""

    schedule: ClassVar = Schedule("late", subject="programme", key=("activity",))

    activity: Annotated[str, Shows("key_of_the_activity", ALL, "tag")] = Field(
        description="Key of the activity."
    )
    name: Annotated[str, Shows("activity", ALL, link="activity", target="activity")] = Field(
        description="What it is called."
    )
    finish: Annotated[datetime.date, Shows("is_over", ALL, "date")] = Field(description="Its last day.")
    days: Annotated[int, Shows("late_by", ALL, "working days")] = Field(description="Working days too late.")


class SetDayRow(Row):
    """A day that others set."""

    schedule: ClassVar = Schedule("set_day", subject="programme", key=("key",))

    key: Annotated[str, Shows("key", ALL, "tag")] = Field(
        description="The name of its own that the project gives it."
    )
    name: Annotated[str, Shows("what_happens", ALL)] = Field(description="What happens then.")
    date: Annotated[datetime.date, Shows("day", ALL, "date")] = Field(description="The day.")
    rule: Annotated[str, Shows("rule", ALL)] = Field(description="begin not before, or done by.")
    phases: Annotated[tuple[str, ...], Shows("phases", ALL)] = Field(
        description="Phases of the work it holds for."
    )
    storeys: Annotated[tuple[str, ...], Shows("storeys", ALL, "tag", link="tag", empty="all")] = Field(
        description="Tags of the storeys; empty for all."
    )
    late: Annotated[tuple[LateRow, ...], Shows("late", ALL, "rows")] = Field(
        description="What is over after it."
    )
    party: Annotated[str, Shows("from_whom", ALL)] = Field(
        default="", description="Name of the party that it depends on; empty where none is named."
    )


class CrewLoadRow(Row):
    """Hours and people of one trade, day by day."""

    schedule: ClassVar = Schedule("crew_load", subject="programme", key=("trade",))

    trade: Annotated[str, Shows("trade", CHECKERS)] = Field(
        default="", description="What the trade is called."
    )
    crew: Annotated[int, Shows("crew", CHECKERS, "count")] = Field(
        default=0, description="Most people of the trade at work at once."
    )
    hours: Annotated[tuple[Decimal, ...], Shows("hours", CHECKERS, "hours", drawn=True)] = Field(
        default=(), description="Hours of each day from the order on, days off included, to the last worked."
    )
    people: Annotated[tuple[Decimal, ...], Shows("people", CHECKERS, "count", drawn=True)] = Field(
        default=(), description="People that makes, day by day."
    )


class CrewDayRow(Row):
    """Hours and people of one trade on one day worked."""

    schedule: ClassVar = Schedule("crew_day", subject="programme", key=("trade", "day"))

    trade: Annotated[str, Shows("trade", CHECKERS)] = Field(
        default="", description="What the trade is called."
    )
    day: Annotated[datetime.date | None, Shows("day", CHECKERS, "date")] = Field(
        default=None, description="Day."
    )
    hours: Annotated[Decimal, Shows("hours", CHECKERS, "hours", sums=True)] = Field(
        default=Decimal(0), description="Hours of that day, h."
    )
    people: Annotated[Decimal, Shows("people", CHECKERS, "count")] = Field(
        default=Decimal(0), description="People that makes."
    )
    crew: Annotated[int, Shows("can_come", CHECKERS, "count")] = Field(
        default=0, description="Most people of the trade at work at once."
    )


class CrewWeekRow(Row):
    """Hours of one trade in one week."""

    schedule: ClassVar = Schedule("crew_week", subject="programme", key=("trade", "monday"))

    trade: Annotated[str, Shows("trade", CHECKERS)] = Field(
        default="", description="What the trade is called."
    )
    monday: Annotated[datetime.date | None, Shows("week_from", CHECKERS, "date")] = Field(
        default=None, description="First day of the week."
    )
    hours: Annotated[Decimal, Shows("hours", CHECKERS, "hours", sums=True)] = Field(
        default=Decimal(0), description="Hours of that week, h."
    )
    most: Annotated[Decimal, Shows("most_people_on_a_day", CHECKERS, "count")] = Field(
        default=Decimal(0), description="Most people on a day of it."
    )
    crew: Annotated[int, Shows("can_come", CHECKERS, "count")] = Field(
        default=0, description="Most people of the trade at work at once."
    )

    @composed(Shows("enough", CHECKERS, "verdict"))
    def enough(self) -> str:
        """Whether the crew is large enough, as a mark."""
        return "enough" if self.most <= self.crew else "too few"


def crew_days(loads: Sequence[CrewLoadRow], start: datetime.date) -> tuple[CrewDayRow, ...]:
    """Return the days worked, trade by trade.

    start: first day of the loads.
    """
    return tuple(
        CrewDayRow(
            trade=load.trade,
            day=start + datetime.timedelta(days=n),
            hours=hours,
            people=people,
            crew=load.crew,
        )
        for load in loads
        for n, (hours, people) in enumerate(zip(load.hours, load.people, strict=True))
        if hours
    )


def crew_weeks(days: Sequence[CrewDayRow]) -> tuple[CrewWeekRow, ...]:
    """Return the weeks of days worked, trade by trade."""
    weeks: dict[tuple[str, datetime.date], list[CrewDayRow]] = {}
    for row in days:
        if row.day is not None:
            monday = row.day - datetime.timedelta(days=row.day.weekday())
            weeks.setdefault((row.trade, monday), []).append(row)
    return tuple(
        CrewWeekRow(
            trade=trade,
            monday=monday,
            hours=sum((row.hours for row in worked), Decimal(0)),
            most=max(row.people for row in worked),
            crew=worked[0].crew,
        )
        for (trade, monday), worked in weeks.items()
    )


class ProgrammeSummary(Row):
    """The programme as a whole."""

    schedule: ClassVar = Schedule("programme_summary", subject="programme")

    start: Annotated[datetime.date, Shows("order_by", ALL, "date")] = Field(description="Day of the order.")
    finish: Annotated[datetime.date, Shows("acceptance", ALL, "date")] = Field(
        description="Day of acceptance."
    )
    asked_by: Annotated[datetime.date | None, Shows("acceptance_asked_by", ALL, "date")] = Field(
        default=None,
        description="Last day of acceptance that the client's requirements allow; none where they name none.",
    )
    latest_order: Annotated[datetime.date | None, Shows("latest_order", ALL, "date", follows=True)] = Field(
        default=None, description="Last day of an order that keeps it; none where it is not kept."
    )
    order_not_before: Annotated[datetime.date | None, Shows("order_not_before", ALL, "date")] = Field(
        default=None, description="First day on which the client can order; none where none is written."
    )
    order_assumed: Annotated[bool, Shows("order_assumed", ALL, "flag")] = Field(
        description="Whether the day of the order is our assumption."
    )
    working_days: Annotated[tuple[str, ...], Shows("people_work_on", ALL)] = Field(
        description="Days of the week on which people work."
    )
    site_days: Annotated[tuple[str, ...], Shows("people_work_on_site_on", ALL, empty="as_working_days")] = (
        Field(default=(), description="Days of the week on which people work on site, where they are others.")
    )
    hours_a_day: Annotated[Decimal, Shows("hours_of_one_person_and_day", ALL, "hours")] = Field(
        description="Working hours of one person and day."
    )
    site_hours: Annotated[tuple[str, ...], Shows("hours_that_shorten_the_day", ALL)] = Field(
        default=(),
        description="Hours of work on site that leave less than a working day, with what they leave.",
    )
    approval_days: Annotated[int, Shows("the_client_approves_drawings_within", ALL, "working days")] = Field(
        description="Working days for the approval of drawings."
    )
    events: Annotated[tuple[EventRow, ...], Shows("events", ALL, "rows", follows=True)] = Field(
        description="The days that matter, earliest first."
    )
    driving: Annotated[tuple[str, ...], Shows("driving", ALL, "tag", follows=True)] = Field(
        description="Keys of the chain of activities that sets the day of acceptance, from first to last."
    )
    days_off: Annotated[tuple[DaysOffRow, ...], Shows("days_off", ALL, "rows")] = Field(
        description="Holidays and closures that the programme meets."
    )
    no_work: Annotated[tuple[NoWorkRow, ...], Shows("no_work", ALL, "rows")] = Field(
        default=(), description="Days that come again on which nobody may work on site or in some rooms."
    )
    days_set: Annotated[tuple[SetDayRow, ...], Shows("days_set", ALL, "rows")] = Field(
        description="Days set by others, earliest first."
    )
    assumptions: Annotated[tuple[str, ...], Shows("assumptions", ALL, "tag", refers="assumptions")] = Field(
        description="Numbers of the assumptions it rests on."
    )
