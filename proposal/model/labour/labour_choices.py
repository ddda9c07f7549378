"""What a project says of its labour: rates, crews, wages, overtime, and the hours of work."""

from collections.abc import Mapping
from typing import Annotated

from pydantic import Field, model_validator

from proposal.model.base import Written, asked
from proposal.model.labour.labour import Count, Phase
from proposal.model.weekdays import Weekdays
from proposal.quantities.messages import refusal
from proposal.quantities.money import Money
from proposal.quantities.parsing import Fraction, TimeOfDay


class Rate(Written):
    """What an hour of a trade costs and sells for in one project."""

    cost: Money | None = Field(
        default=None, description="What an hour costs; left out, as the labour data say."
    )
    selling: Money | None = Field(
        default=None, description="What an hour sells for; left out, as the labour data say."
    )


class OvertimeWork(Written):
    """Work that is done outside normal working time, and the rooms that it is charged to."""

    name: str = Field(min_length=1, description="What it is called in the proposal, such as `evenings`.")
    phases: Annotated[tuple[Phase, ...], Field(min_length=1)] = Field(
        description="Phases of the work that it is, such as [first fix]."
    )
    rooms: tuple[str, ...] = Field(
        default=(),
        description="Tags of the rooms whose work it is, and which pay for it; all where left out.",
    )
    share: Annotated[Fraction, Field(gt=0, le=1)] = Field(
        default=1.0, description="Share of the hours of these phases and rooms; all of them where left out."
    )
    reason: str = Field(default="", description="Why, in words that the client can read.")


class WorkHours(Written):
    """Hours of the clock in which people may work on site."""

    start: TimeOfDay = Field(description="When work may begin, such as 18:00 or 6:00 pm.")
    end: TimeOfDay = Field(description="When it has to end; on the next day where that is before it begins.")
    rooms: tuple[str, ...] = Field(
        default=(), description="Tags of the rooms that they are for; all where left out."
    )
    weekdays: Weekdays = Field(
        default=(),
        description="Days of the week that they are for, such as Mon-Thu; every day worked on site where "
        "left out. Rooms with hours of some days alone are worked in on these days.",
    )
    phases: tuple[Phase, ...] = Field(
        default=(),
        description="Phases of the work that they are for, such as [first fix] where drilling alone is done "
        "at night; all work on site where left out.",
    )
    reason: str = Field(default="", description="Why, in words that the client can read.")

    @model_validator(mode="after")
    def _last(self) -> "WorkHours":
        """Refuse hours that are none."""
        if self.start == self.end:
            raise refusal(
                "an end that is not the start, such as `start: 18:00, end: 22:00`", "the same twice"
            )
        return self

    @property
    def minutes(self) -> int:
        """How long they last, min."""
        return (self.end - self.start) % (24 * 60) or 24 * 60


class WageRule(Written):
    """What a trade has to be paid at least, by law or by a collective agreement."""

    least: Money | None = asked(
        lambda: None,
        "Least that an hour of it may cost, such as 27.50 EUR; the client is asked where left out.",
        "Least that an hour of a trade may cost by law or agreement",
    )
    by: str = Field(min_length=1, description="The law or the agreement that asks for it.")


class LabourChoices(Written):
    """What a project says of its labour, in project.yaml."""

    conditions: tuple[str, ...] = Field(
        default=(), description="Conditions that slow every line of their phases, by key."
    )
    room_conditions: Mapping[str, tuple[str, ...]] = Field(
        default={}, description="Conditions by tag of a room, or by name of a room type."
    )
    project_conditions: tuple[str, ...] = Field(
        default=(), description="Conditions that multiply the hours of their phases once, at the summary."
    )
    overtime: Annotated[Fraction, Field(ge=0, le=1)] = Field(
        default=0.0, description="Share of the hours on site outside normal working time."
    )
    overtime_work: Mapping[str, OvertimeWork] = Field(
        default={},
        description="Work outside normal working time by phase and room, each under a name of your own; in "
        "place of `overtime`.",
    )
    work_hours: Mapping[str, WorkHours] = Field(
        default={},
        description="Hours of the clock in which people may work on site, each under a name of your own; "
        "nobody has set any where left out.",
    )
    wages: Mapping[str, WageRule] = Field(
        default={}, description="What trades have to be paid at least, by trade."
    )
    crews: Mapping[str, Count] = Field(
        default={}, description="Most people at once by trade, where it differs from the labour data."
    )
    rates: Mapping[str, Rate] = Field(
        default={},
        description="What an hour costs and sells for by trade, where it differs from the labour data; never "
        "printed for the client.",
    )

    @model_validator(mode="after")
    def _says_overtime_once(self) -> "LabourChoices":
        """Refuse overtime that is written in two ways, and could be charged twice."""
        if self.overtime and self.overtime_work:
            raise refusal("either overtime or overtime_work, such as `overtime: 10 %`", "both")
        return self
