"""Rows of the reels to order, and what is cut from each."""

from decimal import Decimal
from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.rows.bought_from import NeededBy, OrderBy, Supplier
from proposal.document.schedule import HOUSE, NOT_CLIENT, Row, Schedule, Shows, composed


class ReelRow(Row):
    """One reel and what is cut from it."""

    schedule: ClassVar = Schedule("reel", subject="cabling", key=("number",))

    number: Annotated[int, Shows("reel", NOT_CLIENT, "number")] = Field(
        default=0, description="Number within its type of cable, from 1."
    )
    stock: Annotated[str, Shows("sort", NOT_CLIENT)] = Field(
        default="", description="Which of the lengths it is sold in."
    )
    container: Annotated[str, Shows("comes_in_a", NOT_CLIENT, "word")] = Field(
        default="", description="Box, reel or coil."
    )
    weight_kg: Annotated[float | None, Shows("weight", NOT_CLIENT, "weight", sums=True)] = Field(
        default=None, description="Weight of the whole reel as it is delivered, kg, where it is known."
    )
    length_m: Annotated[Decimal, Shows("length", NOT_CLIENT, "length")] = Field(
        default=Decimal(0), description="Length on it, m."
    )
    cuts: Annotated[
        tuple[tuple[str, Decimal, str], ...],
        Shows("cuts", NOT_CLIENT, ("tag", "cut length", "text")),
    ] = Field(default=(), description="Cable, cut length, m, and pull group, in the order of pulling.")
    remnant_m: Annotated[Decimal, Shows("left_over", NOT_CLIENT, "cut length")] = Field(
        default=Decimal(0), description="What is left, m."
    )
    groups: Annotated[tuple[str, ...], Shows("set_up_for", NOT_CLIENT)] = Field(
        default=(), description="Storeys for which it is set up, in order."
    )

    @composed(
        Shows("cuts_in_the_order_of_pulling", NOT_CLIENT, ("tag", "cut length"), link="tag", together=True)
    )
    def lengths(self) -> tuple[tuple[str, Decimal], ...]:
        """Cable and cut length, in the order of pulling."""
        return tuple((cable, length_m) for cable, length_m, _ in self.cuts)


class ReelOrderRow(Row):
    """The reels of one type of cable."""

    schedule: ClassVar = Schedule("reel_order", subject="cabling", key=("type",))

    type: Annotated[str, Shows("cable", NOT_CLIENT, "tag")] = Field(
        default="", description="Model code of the cable."
    )
    description: Annotated[str, Shows("description", NOT_CLIENT)] = Field(
        default="", description="What it is."
    )
    reels: Annotated[tuple[ReelRow, ...], Shows("reels", NOT_CLIENT, "rows")] = Field(
        default=(), description="Reels of the plan."
    )
    counts: Annotated[
        tuple[tuple[str, int], ...], Shows("plan_takes", NOT_CLIENT, ("text", "count"), follows=True)
    ] = Field(default=(), description="Length it is sold in, and how many the plan takes.")
    spare: Annotated[str, Shows("spare", NOT_CLIENT)] = Field(
        default="", description="Spare ordered beside the plan."
    )
    ordered: Annotated[int, Shows("reels_ordered", NOT_CLIENT, "count", sums=True, follows=True)] = Field(
        default=0, description="How many reels are ordered, the spare among them."
    )
    supplier: Supplier = ""
    needed_by: NeededBy = None
    order_by: OrderBy = None
    too_long: Annotated[tuple[str, ...], Shows("too_long_for_any_reel", NOT_CLIENT, "tag")] = Field(
        default=(), description="Cables longer than every reel."
    )
    tolerance: Annotated[Decimal, Shows("length_tolerance", NOT_CLIENT, "share")] = Field(
        default=Decimal(0), description="Share by which estimated lengths are cut longer, 0 to 1."
    )
    lead_and_tail_m: Annotated[Decimal, Shows("lead_and_tail", NOT_CLIENT, "length")] = Field(
        default=Decimal(0), description="Added to every cut, m."
    )
    cut_m: Annotated[
        Decimal, Shows("cut", NOT_CLIENT, "length", sums=True, subject="lengths", follows=True)
    ] = Field(default=Decimal(0), description="All cuts together, m.")
    remnant_m: Annotated[
        Decimal, Shows("left_over", NOT_CLIENT, "length", sums=True, subject="lengths", follows=True)
    ] = Field(default=Decimal(0), description="All remnants together, m.")
    set_ups: Annotated[int, Shows("set_ups", NOT_CLIENT, "count", follows=True)] = Field(
        default=0, description="How often a reel is set up for a storey."
    )
    proven: Annotated[bool, Shows("proven_least", NOT_CLIENT, "flag")] = Field(
        default=False, description="Whether no plan is better."
    )
    percentage_stock: Annotated[str, Shows("percentage_stock", NOT_CLIENT)] = Field(
        default="", description="Reel that a percentage counts."
    )
    percentage_count: Annotated[int, Shows("percentage_count", NOT_CLIENT, "count")] = Field(
        default=0, description="How many of them a percentage for waste would order."
    )
    cost: Annotated[
        Decimal | None, Shows("cost_without_spares", HOUSE, "money", sums=True, subject="price", follows=True)
    ] = Field(default=None, description="What the plan's reels cost us; a spare is not among them.")
    bound: Annotated[Decimal | None, Shows("least_possible", HOUSE, "money", sums=True, subject="price")] = (
        Field(default=None, description="No plan costs less than this.")
    )

    @composed(Shows("proof", NOT_CLIENT, "verdict", together=True))
    def proof(self) -> str:
        """Whether no plan is better, as a mark."""
        return "proven" if self.proven else "not proven least"

    @composed(Shows("by_percentage", NOT_CLIENT, ("text", "count"), together=True))
    def by_percentage(self) -> tuple[tuple[str, int], ...]:
        """What a percentage for waste would order."""
        return ((self.percentage_stock, self.percentage_count),)
