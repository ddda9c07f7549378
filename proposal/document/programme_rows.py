"""Rows of the programme: activities and milestones, the days that matter, the calendar, who is at work."""

import datetime
from decimal import Decimal
from typing import Annotated

from pydantic import Field

from proposal.document.quantities import Holds
from proposal.document.readers import Checkers, Everyone, Shown


class ActivityRow(Shown):
    """One activity or milestone."""

    key: Annotated[Everyone[str], Holds("tag")] = Field(
        description="Its own key, the same in every revision, such as `first fix L1`."
    )
    name: Annotated[Everyone[str], Holds("text")] = Field(description="What it is called.")
    kind: Annotated[Everyone[str], Holds("text")] = Field(
        description="A phase of the work, lead time, approval or milestone."
    )
    storey: Annotated[Everyone[str], Holds("tag")] = Field(
        description="Tag of the storey it is done on; empty where it is on none."
    )
    days: Annotated[Everyone[int], Holds("by calendar")] = Field(
        description="How long, days of its calendar; 0 for a milestone."
    )
    calendar: Annotated[Everyone[str], Holds("calendar")] = Field(
        description="Which days count: working, site (working days on which the site is open) or calendar."
    )
    start: Annotated[Everyone[datetime.date], Holds("date")] = Field(
        description="First day; of a milestone, its day."
    )
    finish: Annotated[Everyone[datetime.date], Holds("date")] = Field(
        description="Last day; of a milestone, its day."
    )
    latest: Annotated[Everyone[datetime.date], Holds("date")] = Field(
        description="Day on which it has to be over at the latest, so that acceptance is not delayed."
    )
    total_float: Annotated[Everyone[int], Holds("by calendar")] = Field(
        description="Days of its calendar by which it may slip without delaying acceptance."
    )
    free_float: Annotated[Everyone[int], Holds("by calendar")] = Field(
        description="Days of its calendar by which it may slip without delaying anything else."
    )
    critical: Annotated[Everyone[bool], Holds("flag")] = Field(
        description="Whether a day's delay delays acceptance."
    )
    driving: Annotated[Everyone[bool], Holds("flag")] = Field(
        description="Whether it is on the chain that sets the day of acceptance."
    )
    after: Annotated[Everyone[tuple[str, ...]], Holds("tag")] = Field(
        description="Keys of what it waits for."
    )
    crew: Annotated[Checkers[tuple[tuple[str, int, Decimal], ...]], Holds("text", "count", "hours")] = Field(
        default=(), description="Trade, people at once, and hours of each trade that does it."
    )


class EventRow(Shown):
    """A day that payments or other people wait for."""

    key: Annotated[Everyone[str], Holds("tag")] = Field(
        description="Event as the terms of payment name it, such as `delivery`."
    )
    name: Annotated[Everyone[str], Holds("text")] = Field(description="What it is called.")
    date: Annotated[Everyone[datetime.date], Holds("date")] = Field(description="Its day.")


class DaysOffRow(Shown):
    """Days on which nobody works, or nobody may work on site."""

    key: Annotated[Everyone[str], Holds("tag")] = Field(
        description="The name of its own that the project gives it."
    )
    name: Annotated[Everyone[str], Holds("text")] = Field(description="What they are called.")
    kind: Annotated[Everyone[str], Holds("text")] = Field(description="holiday or site closure.")
    first: Annotated[Everyone[datetime.date], Holds("date")] = Field(description="First day.")
    last: Annotated[Everyone[datetime.date], Holds("date")] = Field(description="Last day.")


class LateRow(Shown):
    """An activity that is over after the day that others set."""

    activity: Annotated[Everyone[str], Holds("tag")] = Field(description="Key of the activity.")
    name: Annotated[Everyone[str], Holds("text")] = Field(description="What it is called.")
    finish: Annotated[Everyone[datetime.date], Holds("date")] = Field(description="Its last day.")
    days: Annotated[Everyone[int], Holds("days")] = Field(description="Working days too late.")


class SetDayRow(Shown):
    """A day that others set."""

    key: Annotated[Everyone[str], Holds("tag")] = Field(
        description="The name of its own that the project gives it."
    )
    name: Annotated[Everyone[str], Holds("text")] = Field(description="What happens then.")
    date: Annotated[Everyone[datetime.date], Holds("date")] = Field(description="The day.")
    rule: Annotated[Everyone[str], Holds("text")] = Field(description="begin not before, or done by.")
    phases: Annotated[Everyone[tuple[str, ...]], Holds("text")] = Field(
        description="Phases of the work it holds for."
    )
    storeys: Annotated[Everyone[tuple[str, ...]], Holds("tag")] = Field(
        description="Tags of the storeys; empty for all."
    )
    late: Everyone[tuple[LateRow, ...]] = Field(description="What is over after it.")


class CrewLoadRow(Shown):
    """Hours and people of one trade, day by day."""

    trade: Annotated[Checkers[str], Holds("text")] = Field(
        default="", description="What the trade is called."
    )
    crew: Annotated[Checkers[int], Holds("count")] = Field(
        default=0, description="Most people of the trade at work at once."
    )
    hours: Annotated[Checkers[tuple[Decimal, ...]], Holds("hours")] = Field(
        default=(), description="Hours of each day from the order on, days off included, to the last worked."
    )
    people: Annotated[Checkers[tuple[Decimal, ...]], Holds("count")] = Field(
        default=(), description="People that makes, day by day."
    )


class ProgrammeSummary(Shown):
    """The programme as a whole."""

    start: Annotated[Everyone[datetime.date], Holds("date")] = Field(description="Day of the order.")
    finish: Annotated[Everyone[datetime.date], Holds("date")] = Field(description="Day of acceptance.")
    order_assumed: Annotated[Everyone[bool], Holds("flag")] = Field(
        description="Whether the day of the order is our assumption."
    )
    working_days: Annotated[Everyone[tuple[str, ...]], Holds("text")] = Field(
        description="Days of the week on which people work."
    )
    hours_a_day: Annotated[Everyone[Decimal], Holds("hours")] = Field(
        description="Working hours of one person and day."
    )
    approval_days: Annotated[Everyone[int], Holds("days")] = Field(
        description="Working days for the approval of drawings."
    )
    events: Everyone[tuple[EventRow, ...]] = Field(description="The days that matter, earliest first.")
    driving: Annotated[Everyone[tuple[str, ...]], Holds("tag")] = Field(
        description="Keys of the chain of activities that sets the day of acceptance, from first to last."
    )
    days_off: Everyone[tuple[DaysOffRow, ...]] = Field(
        description="Holidays and closures that the programme meets."
    )
    days_set: Everyone[tuple[SetDayRow, ...]] = Field(description="Days set by others, earliest first.")
    assumptions: Annotated[Everyone[tuple[str, ...]], Holds("tag")] = Field(
        description="Numbers of the assumptions it rests on."
    )
