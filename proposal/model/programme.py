"""When the work is done: days on which people work, days off, and days that others set."""

import re
from collections.abc import Mapping
from decimal import Decimal
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, WithJsonSchema, model_validator

from proposal.model.base import Written, assumed
from proposal.model.labour.labour import Hours, Phase
from proposal.quantities.dates import Date
from proposal.quantities.messages import refusal, shown

Weekday = Literal["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"]
WEEKDAYS: tuple[Weekday, ...] = (
    "Monday",
    "Tuesday",
    "Wednesday",
    "Thursday",
    "Friday",
    "Saturday",
    "Sunday",
)
_SHORTEST = 3
_RUN = re.compile(r"([A-Za-z]+)(?:\s*(?:-|–|to)\s*([A-Za-z]+))?")


def _weekday(name: str) -> int | None:
    """Return which day of the week a name or its beginning means, from 0 for Monday; None for no day."""
    found = [n for n, day in enumerate(WEEKDAYS) if day.lower().startswith(name.lower())]
    return found[0] if len(name) >= _SHORTEST and len(found) == 1 else None


def _read_weekdays(value: Any) -> Any:
    """Return the days of the week that a list or a short form means: `Sat`, `Mon-Fri`, `Tue, Thu`."""
    parts = value.split(",") if isinstance(value, str) else value
    if not isinstance(parts, list | tuple) or not all(isinstance(part, str) for part in parts):
        return value
    days: set[int] = set()
    for part in parts:
        run = _RUN.fullmatch(part.strip())
        first = _weekday(run[1]) if run else None
        last = first if run is None or run[2] is None else _weekday(run[2])
        if first is None or last is None:
            raise refusal("days of the week, such as `Mon-Fri`, `Sat` or `[Tuesday, Thursday]`", shown(part))
        days |= {(first + n) % 7 for n in range((last - first) % 7 + 1)}
    return tuple(WEEKDAYS[day] for day in sorted(days))


Weekdays = Annotated[
    tuple[Weekday, ...],
    BeforeValidator(_read_weekdays),
    WithJsonSchema(
        {
            "description": "Days of the week: Mon-Fri, Sat, or a list of days.",
            "anyOf": [{"type": "string"}, {"type": "array", "items": {"type": "string"}}],
        },
        mode="validation",
    ),
]
"""Days of the week in their order, as a list or in a short form."""
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
            raise refusal("a last day on or after the first, within ten years", self.last.isoformat())
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
    holidays: Mapping[str, DaysOff] = assumed(
        dict, "Holidays, each under a name of your own.", "No public holidays fall into the programme"
    )
    closures: Mapping[str, DaysOff] = assumed(
        dict,
        "Days on which nobody may work on site, each under a name of your own.",
        "The site is open on every working day",
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
        return self
