"""When the work is done: days on which people work, days off, and days that others set."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Annotated, Literal

from pydantic import Field, model_validator

from proposal.model.base import Written, asked, assumed
from proposal.model.labour.labour import Hours, Phase
from proposal.model.weekdays import WEEKDAYS, Weekday, Weekdays, Weeks
from proposal.quantities.dates import Date
from proposal.quantities.messages import refusal
from proposal.quantities.parsing import TimeOfDay

PaymentEvent = Literal[
    "order", "drawings approved", "delivery", "first fix complete", "second fix complete", "accepted"
]
PAYMENT_EVENTS: tuple[PaymentEvent, ...] = (
    "order",
    "drawings approved",
    "delivery",
    "first fix complete",
    "second fix complete",
    "accepted",
)


class DaysOff(Written):
    """Days on which nobody works, or nobody may work on site."""

    name: str = Field(min_length=1, description="What they are called.")
    first: Date = Field(description="First day.")
    last: Date | None = Field(default=None, description="Last day; the first one where left out.")
    where: Literal["everywhere", "on site", "in our offices"] = Field(
        default="everywhere", description="Where nobody works then: a holiday of the site's place or of ours."
    )

    @model_validator(mode="after")
    def _runs_forward(self) -> "DaysOff":
        """Refuse a span that ends before it begins, or lasts for years."""
        if self.last is not None and not 0 <= (self.last - self.first).days <= 3660:
            raise refusal(
                "a last day on or after the first, within ten years, such as "
                "`first: 2031-08-01, last: 2031-08-15`",
                self.last.isoformat(),
            )
        return self


class NoWork(Written):
    """Days that come again, on which nobody may work on site, in some rooms or at some hours."""

    days: Annotated[Weekdays, Field(min_length=1)] = Field(
        description="Days of the week, such as Tue, or Mon, Thu."
    )
    weeks: Weeks = Field(
        default=(),
        description="Which ones of the month, such as second, or first, third; every one where left out.",
    )
    start: TimeOfDay | None = Field(
        default=None, description="From when on nobody may work, such as 18:00; the whole day where left out."
    )
    end: TimeOfDay | None = Field(default=None, description="Until when, with `start`.")
    rooms: tuple[str, ...] = Field(
        default=(), description="Tags of the rooms it holds for; the whole site where left out."
    )
    reason: str = Field(
        default="", description="Why, in words that the client can read, such as `council sits`."
    )

    @model_validator(mode="after")
    def _has_two_ends(self) -> "NoWork":
        """Refuse hours of which one end is missing, or that are none."""
        if (self.start is None) != (self.end is None):
            raise refusal("both a start and an end, such as `start: 18:00, end: 22:00`, or neither", "one")
        if self.start is not None and self.end is not None and self.start >= self.end:
            raise refusal("an end after the start, such as `start: 18:00, end: 22:00`", "one before it")
        return self


class NotBefore(Written):
    """Work that has to wait for somebody else's day, or be done by one."""

    name: str = Field(min_length=1, description="What happens then, such as `ceilings open`.")
    date: Date = Field(description="The day.")
    phases: Annotated[tuple[Phase, ...], Field(min_length=1)] = Field(
        description="Phases that begin on that day at the earliest, or are done by it."
    )
    storeys: tuple[str, ...] = Field(default=(), description="Storeys it holds for; all where left out.")
    rule: Literal["begin not before", "done by"] = Field(
        default="begin not before", description="Which of the two it means."
    )
    party: str = Field(
        default="",
        max_length=10,
        description="Letters of the party that it depends on, such as GC, as responsibilities name them.",
    )


class Programme(Written):
    """When the work is done."""

    order: Date | None = Field(default=None, description="Day of the order.")
    order_not_before: Date | None = Field(
        default=None,
        description="First day on which the client can order, such as that of the meeting that decides; the "
        "order is planned for no earlier day.",
    )
    working_days: Annotated[Weekdays, Field(min_length=1)] = assumed(
        WEEKDAYS[:5],
        "Days of the week on which people work, such as Mon-Fri.",
        "People work from Monday to Friday",
        "common practice",
    )
    site_days: Weekdays = Field(
        default=(),
        description="Days of the week on which people may work on site, such as Sat; the working days where "
        "left out.",
    )
    hours_a_day: Annotated[Hours, Field(gt=0, le=24)] = assumed(
        Decimal(8),
        "Working hours of one person and day.",
        "Working hours of one person and day, h",
        "common practice",
    )
    holidays: Mapping[str, DaysOff] = asked(
        dict,
        "Holidays, each under a name of your own; `{}` where none falls into the work. Left out, they are an "
        "open question.",
        "Public holidays on which nobody works",
    )
    closures: Mapping[str, DaysOff] = assumed(
        dict,
        "Days on which nobody may work on site, each under a name of your own: no fixing, commissioning or "
        "training, no delivery to site and no acceptance; work elsewhere goes on.",
        "The site is open on every working day",
    )
    no_work: Mapping[str, NoWork] = Field(
        default={},
        description="Days that come again on which nobody may work on site or in some rooms, such as every "
        "Tuesday or the second Monday of the month, each under a name of your own.",
    )
    approval_days: Annotated[int, Field(ge=0, le=365)] = assumed(
        10,
        "Working days the client takes to approve drawings.",
        "The client approves drawings within 10 working days",
    )
    dates: Mapping[str, NotBefore] = Field(
        default={}, description="Days set by others, each under a name of your own."
    )
    milestones: Mapping[PaymentEvent, Annotated[str, Field(min_length=1)]] = Field(
        default={},
        description="What the contract calls what has happened, such as `accepted: Practical completion`.",
    )
    order_after_days: Annotated[int, Field(ge=0, le=3650)] = assumed(
        30,
        "Days from the date of the revision to the order, where no day of the order is written.",
        "Days from the date of this revision to the order",
    )

    @property
    def days_on_site(self) -> tuple[Weekday, ...]:
        """The days of the week on which people work on site."""
        return self.site_days or self.working_days

    @model_validator(mode="after")
    def _assumes_no_day_that_is_written(self) -> "Programme":
        # Nothing rests on the days to an order whose own day is known, so they are no assumption.
        if self.order is not None:
            self.model_fields_set.add("order_after_days")
        if self.no_work:
            self.model_fields_set.add("closures")
        first = self.order_not_before
        if first is not None and self.order is not None and self.order < first:
            raise refusal(
                f"an order on {first.isoformat()} (order_not_before) or later, such as "
                f"`order: {first.isoformat()}`",
                self.order.isoformat(),
            )
        return self
