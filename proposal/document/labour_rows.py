"""Rows of labour: hours line by line, their sums, and what makes work slower. Rates are the house's alone."""

from decimal import Decimal

from pydantic import Field

from proposal.document.readers import Checkers, House, Shown

NOTHING = Decimal(0)


class LabourRow(Shown):
    """One line of labour."""

    number: Checkers[str] = Field(default="", description="Number, such as A101-H12.")
    task: Checkers[str] = Field(default="", description="What is done.")
    trade: Checkers[str] = Field(default="", description="Who does it.")
    phase: Checkers[str] = Field(default="", description="Phase of the work.")
    room: Checkers[str] = Field(default="", description="Room or equipment room; empty for the building.")
    storey: Checkers[str] = Field(default="", description="Storey it is done on; empty for none.")
    system: Checkers[str] = Field(default="", description="System it belongs to.")
    model: Checkers[str] = Field(default="", description="Model code of the devices it is done to.")
    units: Checkers[Decimal] = Field(default=NOTHING, description="How many, in `unit`; lengths in m.")
    unit: Checkers[str] = Field(default="", description="each, m, or h for a share of hours.")
    hours_a_unit: Checkers[Decimal] = Field(default=NOTHING, description="Hours for one unit, or the share.")
    group_factor: Checkers[Decimal] = Field(
        default=NOTHING, description="Factor of cables that are pulled together; 1 for all else."
    )
    additions: Checkers[tuple[tuple[str, Decimal], ...]] = Field(
        default=(), description="Conditions and the share that each adds; below 0 where it takes away."
    )
    hours: Checkers[Decimal] = Field(
        default=NOTHING, description="Units × hours a unit × group factor × (1 + additions), h."
    )
    charged_hours: Checkers[Decimal] = Field(
        default=NOTHING, description="Its part of what the summary charges, h."
    )
    causes: Checkers[tuple[str, ...]] = Field(
        default=(), description="Devices, cables, rooms, sheets or tasks that it counts."
    )


class TradeHoursRow(Shown):
    """Hours of one trade in one phase."""

    phase: Checkers[str] = Field(default="", description="Phase of the work.")
    trade: Checkers[str] = Field(default="", description="Who does it.")
    line_hours: Checkers[Decimal] = Field(default=NOTHING, description="Sum of its lines, h.")
    factors: Checkers[tuple[tuple[str, Decimal], ...]] = Field(
        default=(), description="Conditions of the whole project and what each multiplies by."
    )
    call_hours: Checkers[Decimal] = Field(default=NOTHING, description="Added by the minimum call, h.")
    hours: Checkers[Decimal] = Field(default=NOTHING, description="Charged, h.")
    overtime_hours: Checkers[Decimal] = Field(
        default=NOTHING, description="Of these, outside normal working time, h."
    )
    person_days: Checkers[int] = Field(default=0, description="Days of one person on site.")
    cost: House[Decimal | None] = Field(
        default=None, description="What the hours cost us, overtime included."
    )
    price: House[Decimal | None] = Field(default=None, description="What they sell for, before tax.")


class TravelRow(Shown):
    """What a trade's coming to site takes."""

    trade: Checkers[str] = Field(default="", description="Who travels.")
    days: Checkers[int] = Field(default=0, description="Days of one person.")
    hours: Checkers[Decimal] = Field(default=NOTHING, description="Under way, h.")
    cost: House[Decimal | None] = Field(default=None, description="What hours and expenses cost us.")
    price: House[Decimal | None] = Field(default=None, description="What they sell for, before tax.")


class TradeRow(Shown):
    """A trade: how many can come, what it works, and what an hour costs and sells for."""

    trade: Checkers[str] = Field(default="", description="Name.")
    crew: Checkers[int] = Field(default=0, description="Most people at once.")
    minimum_call_hours: Checkers[Decimal] = Field(
        default=NOTHING, description="Fewest hours charged for each phase on site, h."
    )
    hours: Checkers[Decimal] = Field(default=NOTHING, description="Charged, travel included, h.")
    source: Checkers[str] = Field(default="", description="Where its figures come from.")
    cost: House[Decimal | None] = Field(default=None, description="What an hour costs us.")
    selling: House[Decimal | None] = Field(default=None, description="What an hour sells for, before tax.")
    rule: House[str] = Field(default="", description="How its cost becomes its price.")
    rule_value: House[Decimal | None] = Field(
        default=None, description="Share or rate of that rule, as its name says."
    )


class HoursSum(Shown):
    """Hours of one room, system or phase, travel included."""

    key: Checkers[str] = Field(default="", description="Tag or name; empty for the building.")
    hours: Checkers[Decimal] = Field(default=NOTHING, description="Charged, h.")


class ConditionRow(Shown):
    """Something that makes work slower, or quicker, and what it holds for."""

    name: Checkers[str] = Field(default="", description="What it is.")
    scope: Checkers[str] = Field(
        default="", description="What it holds for: every line, a room, a kind of room, the whole project."
    )
    effect: Checkers[str] = Field(default="", description="added to lines, or multiplies the summary.")
    addition: Checkers[Decimal] = Field(default=NOTHING, description="Share of the hours added.")
    phases: Checkers[tuple[str, ...]] = Field(default=(), description="Phases whose work it changes.")
    source: Checkers[str] = Field(default="", description="Where the figure comes from.")
