"""Rows of the programme: activities and milestones, the days that matter, the calendar, who is at work."""

import datetime
from decimal import Decimal

from pydantic import Field

from proposal.document.readers import Checkers, Everyone, Shown


class ActivityRow(Shown):
    """One activity or milestone."""

    key: Everyone[str] = Field(description="Its own key, the same in every revision, such as `first fix L1`.")
    name: Everyone[str] = Field(description="What it is called.")
    kind: Everyone[str] = Field(description="A phase of the work, lead time, approval or milestone.")
    storey: Everyone[str] = Field(description="Tag of the storey it is done on; empty where it is on none.")
    days: Everyone[int] = Field(description="How long, days of its calendar; 0 for a milestone.")
    calendar: Everyone[str] = Field(
        description="Which days count: working, site (working days on which the site is open) or calendar."
    )
    start: Everyone[datetime.date] = Field(description="First day; of a milestone, its day.")
    finish: Everyone[datetime.date] = Field(description="Last day; of a milestone, its day.")
    latest: Everyone[datetime.date] = Field(
        description="Day on which it has to be over at the latest, so that acceptance is not delayed."
    )
    total_float: Everyone[int] = Field(
        description="Days of its calendar by which it may slip without delaying acceptance."
    )
    free_float: Everyone[int] = Field(
        description="Days of its calendar by which it may slip without delaying anything else."
    )
    critical: Everyone[bool] = Field(description="Whether a day's delay delays acceptance.")
    driving: Everyone[bool] = Field(description="Whether it is on the chain that sets the day of acceptance.")
    after: Everyone[tuple[str, ...]] = Field(description="Keys of what it waits for.")
    crew: Checkers[tuple[tuple[str, int, Decimal], ...]] = Field(
        default=(), description="Trade, people at once, and hours of each trade that does it."
    )


class EventRow(Shown):
    """A day that payments or other people wait for."""

    key: Everyone[str] = Field(description="Event as the terms of payment name it, such as `delivery`.")
    name: Everyone[str] = Field(description="What it is called.")
    date: Everyone[datetime.date] = Field(description="Its day.")


class DaysOffRow(Shown):
    """Days on which nobody works, or nobody may work on site."""

    key: Everyone[str] = Field(description="The name of its own that the project gives it.")
    name: Everyone[str] = Field(description="What they are called.")
    kind: Everyone[str] = Field(description="holiday or site closure.")
    first: Everyone[datetime.date] = Field(description="First day.")
    last: Everyone[datetime.date] = Field(description="Last day.")


class LateRow(Shown):
    """An activity that is over after the day that others set."""

    activity: Everyone[str] = Field(description="Key of the activity.")
    name: Everyone[str] = Field(description="What it is called.")
    finish: Everyone[datetime.date] = Field(description="Its last day.")
    days: Everyone[int] = Field(description="Working days too late.")


class SetDayRow(Shown):
    """A day that others set."""

    key: Everyone[str] = Field(description="The name of its own that the project gives it.")
    name: Everyone[str] = Field(description="What happens then.")
    date: Everyone[datetime.date] = Field(description="The day.")
    rule: Everyone[str] = Field(description="begin not before, or done by.")
    phases: Everyone[tuple[str, ...]] = Field(description="Phases of the work it holds for.")
    storeys: Everyone[tuple[str, ...]] = Field(description="Tags of the storeys; empty for all.")
    late: Everyone[tuple[LateRow, ...]] = Field(description="What is over after it.")


class CrewLoadRow(Shown):
    """Hours and people of one trade, day by day."""

    trade: Checkers[str] = Field(default="", description="What the trade is called.")
    crew: Checkers[int] = Field(default=0, description="Most people of the trade at work at once.")
    hours: Checkers[tuple[Decimal, ...]] = Field(
        default=(), description="Hours of each day from the order on, days off included, to the last worked."
    )
    people: Checkers[tuple[Decimal, ...]] = Field(default=(), description="People that makes, day by day.")


class ProgrammeSummary(Shown):
    """The programme as a whole."""

    start: Everyone[datetime.date] = Field(description="Day of the order.")
    finish: Everyone[datetime.date] = Field(description="Day of acceptance.")
    order_assumed: Everyone[bool] = Field(description="Whether the day of the order is our assumption.")
    working_days: Everyone[tuple[str, ...]] = Field(description="Days of the week on which people work.")
    hours_a_day: Everyone[Decimal] = Field(description="Working hours of one person and day.")
    approval_days: Everyone[int] = Field(description="Working days for the approval of drawings.")
    events: Everyone[tuple[EventRow, ...]] = Field(description="The days that matter, earliest first.")
    driving: Everyone[tuple[str, ...]] = Field(
        description="Keys of the chain of activities that sets the day of acceptance, from first to last."
    )
    days_off: Everyone[tuple[DaysOffRow, ...]] = Field(
        description="Holidays and closures that the programme meets."
    )
    days_set: Everyone[tuple[SetDayRow, ...]] = Field(description="Days set by others, earliest first.")
    assumptions: Everyone[tuple[str, ...]] = Field(description="Numbers of the assumptions it rests on.")
