"""Rows of the take-off and of the reels to order."""

from decimal import Decimal
from typing import Annotated

from pydantic import Field

from proposal.document.quantities import Holds
from proposal.document.readers import Checkers, House, NotClient, Shown


class TakeoffRow(Shown):
    """One line of the take-off."""

    number: Annotated[NotClient[str], Holds("tag")] = Field(
        default="", description="Number, such as A101-T12."
    )
    section: Annotated[NotClient[str], Holds("text")] = Field(
        default="", description="Equipment, cable, reels, termination and so on."
    )
    item: Annotated[NotClient[str], Holds("tag")] = Field(default="", description="Model code.")
    description: Annotated[NotClient[str], Holds("text")] = Field(default="", description="What it is.")
    room: Annotated[NotClient[str], Holds("tag")] = Field(
        default="", description="Room or equipment room; empty for the building."
    )
    quantity: Annotated[NotClient[Decimal], Holds("how many")] = Field(
        default=Decimal(0), description="How much, before waste."
    )
    unit: Annotated[NotClient[str], Holds("unit")] = Field(
        default="", description="What is counted: each, m, or the length of a reel."
    )
    is_length: Annotated[NotClient[bool], Holds("flag")] = Field(
        default=False, description="Whether the quantity is a length in m."
    )
    plan_m: Annotated[NotClient[Decimal | None], Holds("length")] = Field(
        default=None, description="Of a cable line, length on plan, m."
    )
    vertical_m: Annotated[NotClient[Decimal | None], Holds("length")] = Field(
        default=None, description="Of a cable line, rises, m."
    )
    slack_start_m: Annotated[NotClient[Decimal | None], Holds("length")] = Field(
        default=None, description="Of a cable line, slack at the devices, m."
    )
    slack_end_m: Annotated[NotClient[Decimal | None], Holds("length")] = Field(
        default=None, description="Of a cable line, slack at the far ends, m."
    )
    ends_m: Annotated[NotClient[Decimal | None], Holds("length")] = Field(
        default=None, description="Of a cable line, used up by terminating, m."
    )
    cut_m: Annotated[NotClient[Decimal | None], Holds("length")] = Field(
        default=None, description="Of a cable line, cut length: each cable rounded up to 0.1 m."
    )
    count: Annotated[NotClient[int | None], Holds("count")] = Field(
        default=None, description="Of a cable line, how many cables."
    )
    terminations: Annotated[NotClient[int | None], Holds("count")] = Field(
        default=None, description="Of a cable line, ends to terminate."
    )
    reels: Annotated[NotClient[tuple[int, ...]], Holds("number")] = Field(
        default=(), description="Of a cable line, numbers of the reels it is cut from."
    )
    waste: Annotated[NotClient[Decimal], Holds("share")] = Field(
        default=Decimal(0), description="Share added for spoilage, 0 to 1."
    )
    causes: Annotated[NotClient[tuple[str, ...]], Holds("tag")] = Field(
        default=(), description="Cables or devices the line is for."
    )
    recompute: Annotated[NotClient[bool], Holds("flag")] = Field(
        default=False, description="Whether the quantity comes from a plan that has to be computed again."
    )
    unit_cost: Annotated[House[Decimal | None], Holds("unit price")] = Field(
        default=None, description="What one unit costs us."
    )
    spoilage_only: Annotated[House[bool], Holds("flag")] = Field(
        default=False, description="Whether the cost is for the spoiled part alone, as reels hold the rest."
    )
    cost: Annotated[House[Decimal | None], Holds("money")] = Field(
        default=None, description="What the line costs us."
    )
    trades: Annotated[Checkers[tuple[str, ...]], Holds("text")] = Field(
        default=(), description="Who installs its devices or cables, of work that is done to these."
    )
    base_hours: Annotated[Checkers[Decimal | None], Holds("hours")] = Field(
        default=None, description="Hours before conditions, h."
    )
    condition_factor: Annotated[Checkers[Decimal | None], Holds("ratio")] = Field(
        default=None, description="What conditions, groups and repetition make of the base hours."
    )
    hours: Annotated[Checkers[Decimal | None], Holds("hours")] = Field(
        default=None, description="Hours charged, h."
    )
    labour_cost: Annotated[House[Decimal | None], Holds("money")] = Field(
        default=None, description="What these hours cost us."
    )


class ReelRow(Shown):
    """One reel and what is cut from it."""

    number: Annotated[NotClient[int], Holds("number")] = Field(
        default=0, description="Number within its type of cable, from 1."
    )
    stock: Annotated[NotClient[str], Holds("text")] = Field(
        default="", description="Which of the lengths it is sold in."
    )
    length_m: Annotated[NotClient[Decimal], Holds("length")] = Field(
        default=Decimal(0), description="Length on it, m."
    )
    cuts: Annotated[NotClient[tuple[tuple[str, Decimal, str], ...]], Holds("tag", "length", "text")] = Field(
        default=(), description="Cable, cut length, m, and pull group, in the order of pulling."
    )
    remnant_m: Annotated[NotClient[Decimal], Holds("length")] = Field(
        default=Decimal(0), description="What is left, m."
    )
    groups: Annotated[NotClient[tuple[str, ...]], Holds("text")] = Field(
        default=(), description="Storeys for which it is set up, in order."
    )


class ReelOrderRow(Shown):
    """The reels of one type of cable."""

    type: Annotated[NotClient[str], Holds("tag")] = Field(default="", description="Model code of the cable.")
    description: Annotated[NotClient[str], Holds("text")] = Field(default="", description="What it is.")
    reels: NotClient[tuple[ReelRow, ...]] = Field(default=(), description="Reels of the plan.")
    counts: Annotated[NotClient[tuple[tuple[str, int], ...]], Holds("text", "count")] = Field(
        default=(), description="Length it is sold in, and how many the plan takes."
    )
    spare: Annotated[NotClient[str], Holds("text")] = Field(
        default="", description="Spare ordered beside the plan."
    )
    too_long: Annotated[NotClient[tuple[str, ...]], Holds("tag")] = Field(
        default=(), description="Cables longer than every reel."
    )
    cut_m: Annotated[NotClient[Decimal], Holds("length")] = Field(
        default=Decimal(0), description="All cuts together, m."
    )
    remnant_m: Annotated[NotClient[Decimal], Holds("length")] = Field(
        default=Decimal(0), description="All remnants together, m."
    )
    set_ups: Annotated[NotClient[int], Holds("count")] = Field(
        default=0, description="How often a reel is set up for a storey."
    )
    proven: Annotated[NotClient[bool], Holds("flag")] = Field(
        default=False, description="Whether no plan is better."
    )
    percentage_stock: Annotated[NotClient[str], Holds("text")] = Field(
        default="", description="Reel that a percentage counts."
    )
    percentage_count: Annotated[NotClient[int], Holds("count")] = Field(
        default=0, description="How many of them a percentage for waste would order."
    )
    cost: Annotated[House[Decimal | None], Holds("money")] = Field(
        default=None, description="What the plan's reels cost us."
    )
    bound: Annotated[House[Decimal | None], Holds("money")] = Field(
        default=None, description="No plan costs less than this."
    )
