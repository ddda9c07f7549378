"""Rows of labour: hours line by line, their sums, and what makes work slower. Rates are the house's alone."""

from decimal import Decimal
from typing import Annotated

from pydantic import Field

from proposal.document.quantities import Holds
from proposal.document.readers import Checkers, House, Shown

NOTHING = Decimal(0)


class LabourRow(Shown):
    """One line of labour."""

    number: Annotated[Checkers[str], Holds("tag")] = Field(
        default="", description="Number, such as A101-H12."
    )
    task: Annotated[Checkers[str], Holds("text")] = Field(default="", description="What is done.")
    trade: Annotated[Checkers[str], Holds("text")] = Field(default="", description="Who does it.")
    phase: Annotated[Checkers[str], Holds("text")] = Field(default="", description="Phase of the work.")
    room: Annotated[Checkers[str], Holds("tag")] = Field(
        default="", description="Room or equipment room; empty for the building."
    )
    storey: Annotated[Checkers[str], Holds("tag")] = Field(
        default="", description="Storey it is done on; empty for none."
    )
    system: Annotated[Checkers[str], Holds("text")] = Field(default="", description="System it belongs to.")
    model: Annotated[Checkers[str], Holds("tag")] = Field(
        default="", description="Model code of the devices it is done to."
    )
    units: Annotated[Checkers[Decimal], Holds("how many")] = Field(
        default=NOTHING, description="How many, in `unit`; lengths in m."
    )
    unit: Annotated[Checkers[str], Holds("unit")] = Field(
        default="", description="each, m, or h for a share of hours."
    )
    hours_a_unit: Annotated[Checkers[Decimal], Holds("unit hours")] = Field(
        default=NOTHING, description="Hours for one unit, or the share."
    )
    group_factor: Annotated[Checkers[Decimal], Holds("ratio")] = Field(
        default=NOTHING, description="Factor of cables that are pulled together; 1 for all else."
    )
    additions: Annotated[Checkers[tuple[tuple[str, Decimal], ...]], Holds("text", "share")] = Field(
        default=(), description="Conditions and the share that each adds; below 0 where it takes away."
    )
    hours: Annotated[Checkers[Decimal], Holds("hours")] = Field(
        default=NOTHING, description="Units × hours a unit × group factor × (1 + additions), h."
    )
    charged_hours: Annotated[Checkers[Decimal], Holds("hours")] = Field(
        default=NOTHING, description="Its part of what the summary charges, h."
    )
    causes: Annotated[Checkers[tuple[str, ...]], Holds("tag")] = Field(
        default=(), description="Devices, cables, rooms, sheets or tasks that it counts."
    )


class TradeHoursRow(Shown):
    """Hours of one trade in one phase."""

    phase: Annotated[Checkers[str], Holds("text")] = Field(default="", description="Phase of the work.")
    trade: Annotated[Checkers[str], Holds("text")] = Field(default="", description="Who does it.")
    line_hours: Annotated[Checkers[Decimal], Holds("hours")] = Field(
        default=NOTHING, description="Sum of its lines, h."
    )
    factors: Annotated[Checkers[tuple[tuple[str, Decimal], ...]], Holds("text", "ratio")] = Field(
        default=(), description="Conditions of the whole project and what each multiplies by."
    )
    call_hours: Annotated[Checkers[Decimal], Holds("hours")] = Field(
        default=NOTHING, description="Added by the minimum call, h."
    )
    hours: Annotated[Checkers[Decimal], Holds("hours")] = Field(default=NOTHING, description="Charged, h.")
    overtime_hours: Annotated[Checkers[Decimal], Holds("hours")] = Field(
        default=NOTHING, description="Of these, outside normal working time, h."
    )
    person_days: Annotated[Checkers[int], Holds("days")] = Field(
        default=0, description="Days of one person on site."
    )
    cost: Annotated[House[Decimal | None], Holds("money")] = Field(
        default=None, description="What the hours cost us, overtime included."
    )
    price: Annotated[House[Decimal | None], Holds("money")] = Field(
        default=None, description="What they sell for, before tax."
    )


class TravelRow(Shown):
    """What a trade's coming to site takes."""

    trade: Annotated[Checkers[str], Holds("text")] = Field(default="", description="Who travels.")
    days: Annotated[Checkers[int], Holds("days")] = Field(default=0, description="Days of one person.")
    hours: Annotated[Checkers[Decimal], Holds("hours")] = Field(default=NOTHING, description="Under way, h.")
    cost: Annotated[House[Decimal | None], Holds("money")] = Field(
        default=None, description="What hours and expenses cost us."
    )
    price: Annotated[House[Decimal | None], Holds("money")] = Field(
        default=None, description="What they sell for, before tax."
    )


class TradeRow(Shown):
    """A trade: how many can come, what it works, and what an hour costs and sells for."""

    trade: Annotated[Checkers[str], Holds("text")] = Field(default="", description="Name.")
    crew: Annotated[Checkers[int], Holds("count")] = Field(default=0, description="Most people at once.")
    minimum_call_hours: Annotated[Checkers[Decimal], Holds("hours")] = Field(
        default=NOTHING, description="Fewest hours charged for each phase on site, h."
    )
    hours: Annotated[Checkers[Decimal], Holds("hours")] = Field(
        default=NOTHING, description="Charged, travel included, h."
    )
    source: Annotated[Checkers[str], Holds("text")] = Field(
        default="", description="Where its figures come from."
    )
    cost: Annotated[House[Decimal | None], Holds("unit price")] = Field(
        default=None, description="What an hour costs us."
    )
    selling: Annotated[House[Decimal | None], Holds("unit price")] = Field(
        default=None, description="What an hour sells for, before tax."
    )
    rule: Annotated[House[str], Holds("rule")] = Field(
        default="", description="How its cost becomes its price."
    )
    rule_value: Annotated[House[Decimal | None], Holds("by rule")] = Field(
        default=None, description="Share or rate of that rule, as its name says."
    )


class HoursSum(Shown):
    """Hours of one room, system or phase, travel included."""

    key: Annotated[Checkers[str], Holds("tag")] = Field(
        default="", description="Tag or name; empty for the building."
    )
    hours: Annotated[Checkers[Decimal], Holds("hours")] = Field(default=NOTHING, description="Charged, h.")


class ConditionRow(Shown):
    """Something that makes work slower, or quicker, and what it holds for."""

    name: Annotated[Checkers[str], Holds("text")] = Field(default="", description="What it is.")
    scope: Annotated[Checkers[str], Holds("text")] = Field(
        default="", description="What it holds for: every line, a room, a kind of room, the whole project."
    )
    effect: Annotated[Checkers[str], Holds("text")] = Field(
        default="", description="added to lines, or multiplies the summary."
    )
    addition: Annotated[Checkers[Decimal], Holds("share")] = Field(
        default=NOTHING, description="Share of the hours added."
    )
    phases: Annotated[Checkers[tuple[str, ...]], Holds("text")] = Field(
        default=(), description="Phases whose work it changes."
    )
    source: Annotated[Checkers[str], Holds("text")] = Field(
        default="", description="Where the figure comes from."
    )
