"""Rows of the take-off and of the reels to order."""

from decimal import Decimal

from pydantic import Field

from proposal.document.readers import Checkers, House, NotClient, Shown


class TakeoffRow(Shown):
    """One line of the take-off."""

    number: NotClient[str] = Field(default="", description="Number, such as A101-T12.")
    section: NotClient[str] = Field(default="", description="Equipment, cable, reels, termination and so on.")
    item: NotClient[str] = Field(default="", description="Model code.")
    description: NotClient[str] = Field(default="", description="What it is.")
    room: NotClient[str] = Field(default="", description="Room or equipment room; empty for the building.")
    quantity: NotClient[Decimal] = Field(default=Decimal(0), description="How much, before waste.")
    unit: NotClient[str] = Field(default="", description="What is counted: each, m, or the length of a reel.")
    is_length: NotClient[bool] = Field(default=False, description="Whether the quantity is a length in m.")
    plan_m: NotClient[Decimal | None] = Field(default=None, description="Of a cable line, length on plan, m.")
    vertical_m: NotClient[Decimal | None] = Field(default=None, description="Of a cable line, rises, m.")
    slack_start_m: NotClient[Decimal | None] = Field(
        default=None, description="Of a cable line, slack at the devices, m."
    )
    slack_end_m: NotClient[Decimal | None] = Field(
        default=None, description="Of a cable line, slack at the far ends, m."
    )
    ends_m: NotClient[Decimal | None] = Field(
        default=None, description="Of a cable line, used up by terminating, m."
    )
    cut_m: NotClient[Decimal | None] = Field(
        default=None, description="Of a cable line, cut length: each cable rounded up to 0.1 m."
    )
    count: NotClient[int | None] = Field(default=None, description="Of a cable line, how many cables.")
    terminations: NotClient[int | None] = Field(
        default=None, description="Of a cable line, ends to terminate."
    )
    reels: NotClient[tuple[int, ...]] = Field(
        default=(), description="Of a cable line, numbers of the reels it is cut from."
    )
    waste: NotClient[Decimal] = Field(default=Decimal(0), description="Share added for spoilage, 0 to 1.")
    causes: NotClient[tuple[str, ...]] = Field(default=(), description="Cables or devices the line is for.")
    recompute: NotClient[bool] = Field(
        default=False, description="Whether the quantity comes from a plan that has to be computed again."
    )
    unit_cost: House[Decimal | None] = Field(default=None, description="What one unit costs us.")
    spoilage_only: House[bool] = Field(
        default=False, description="Whether the cost is for the spoiled part alone, as reels hold the rest."
    )
    cost: House[Decimal | None] = Field(default=None, description="What the line costs us.")
    trades: Checkers[tuple[str, ...]] = Field(
        default=(), description="Who installs its devices or cables, of work that is done to these."
    )
    base_hours: Checkers[Decimal | None] = Field(default=None, description="Hours before conditions, h.")
    condition_factor: Checkers[Decimal | None] = Field(
        default=None, description="What conditions, groups and repetition make of the base hours."
    )
    hours: Checkers[Decimal | None] = Field(default=None, description="Hours charged, h.")
    labour_cost: House[Decimal | None] = Field(default=None, description="What these hours cost us.")


class ReelRow(Shown):
    """One reel and what is cut from it."""

    number: NotClient[int] = Field(default=0, description="Number within its type of cable, from 1.")
    stock: NotClient[str] = Field(default="", description="Which of the lengths it is sold in.")
    length_m: NotClient[Decimal] = Field(default=Decimal(0), description="Length on it, m.")
    cuts: NotClient[tuple[tuple[str, Decimal, str], ...]] = Field(
        default=(), description="Cable, cut length, m, and pull group, in the order of pulling."
    )
    remnant_m: NotClient[Decimal] = Field(default=Decimal(0), description="What is left, m.")
    groups: NotClient[tuple[str, ...]] = Field(
        default=(), description="Storeys for which it is set up, in order."
    )


class ReelOrderRow(Shown):
    """The reels of one type of cable."""

    type: NotClient[str] = Field(default="", description="Model code of the cable.")
    description: NotClient[str] = Field(default="", description="What it is.")
    reels: NotClient[tuple[ReelRow, ...]] = Field(default=(), description="Reels of the plan.")
    counts: NotClient[tuple[tuple[str, int], ...]] = Field(
        default=(), description="Length it is sold in, and how many the plan takes."
    )
    spare: NotClient[str] = Field(default="", description="Spare ordered beside the plan.")
    too_long: NotClient[tuple[str, ...]] = Field(default=(), description="Cables longer than every reel.")
    cut_m: NotClient[Decimal] = Field(default=Decimal(0), description="All cuts together, m.")
    remnant_m: NotClient[Decimal] = Field(default=Decimal(0), description="All remnants together, m.")
    set_ups: NotClient[int] = Field(default=0, description="How often a reel is set up for a storey.")
    proven: NotClient[bool] = Field(default=False, description="Whether no plan is better.")
    percentage_stock: NotClient[str] = Field(default="", description="Reel that a percentage counts.")
    percentage_count: NotClient[int] = Field(
        default=0, description="How many of them a percentage for waste would order."
    )
    cost: House[Decimal | None] = Field(default=None, description="What the plan's reels cost us.")
    bound: House[Decimal | None] = Field(default=None, description="No plan costs less than this.")
