"""Rows of what the client may choose, and of what moves the price."""

from decimal import Decimal
from typing import Annotated

from pydantic import Field

from proposal.document.quantities import Holds
from proposal.document.readers import Buyers, Everyone, House, Shown

NOTHING = Decimal(0)


class AlternateRow(Shown):
    """An alternate: what it is called, and why somebody might want it."""

    key: Annotated[Everyone[str], Holds("tag")] = Field(description="Name of its file.")
    name: Annotated[Everyone[str], Holds("text")] = Field(description="What it is called.")
    description: Annotated[Everyone[str], Holds("text")] = Field(description="Why the client might want it.")
    internal_note: Annotated[House[str], Holds("text")] = Field(
        default="", description="For our own estimators only."
    )


class CombinationRow(Shown):
    """What the proposal comes to with some of its open alternates.

    Prices are missing where the alternates cannot be chosen together.
    """

    chosen: Annotated[Buyers[tuple[str, ...]], Holds("tag")] = Field(
        default=(), description="Keys of the alternates chosen."
    )
    price: Annotated[Buyers[Decimal | None], Holds("money")] = Field(default=None, description="Before tax.")
    tax: Annotated[Buyers[Decimal | None], Holds("money")] = Field(default=None, description="Tax.")
    total: Annotated[Buyers[Decimal | None], Holds("money")] = Field(default=None, description="With tax.")
    impossible: Annotated[Buyers[tuple[str, ...]], Holds("tag")] = Field(
        default=(), description="Keys of those among them that cannot be chosen together."
    )
    problems: Annotated[House[tuple[str, ...]], Holds("text")] = Field(
        default=(), description="What would be wrong with them, with file and line."
    )
    cost: Annotated[House[Decimal | None], Holds("money")] = Field(
        default=None, description="What all of it costs us."
    )


class VariedRow(Shown):
    """What a price would be, were something assumed otherwise.

    The number of an assumption or question stands in `number`; hours and rates have none.
    """

    number: Annotated[House[str], Holds("tag")] = Field(
        default="", description="Number of the assumption or question."
    )
    title: Annotated[House[str], Holds("text")] = Field(default="", description="What is assumed.")
    subject: Annotated[House[str], Holds("tag")] = Field(default="", description="What it applies to.")
    kind: Annotated[House[str], Holds("kind")] = Field(
        default="", description="Kind of quantity, for its unit; `factor` of hours or rates."
    )
    value: Annotated[House[float | bool | None], Holds("by kind")] = Field(
        default=None, description="Value taken."
    )
    lower: Annotated[House[float | bool | None], Holds("by kind")] = Field(
        default=None, description="Lower value tried."
    )
    upper: Annotated[House[float | bool | None], Holds("by kind")] = Field(
        default=None, description="Upper or other value tried."
    )
    lower_price: Annotated[House[Decimal | None], Holds("money")] = Field(
        default=None, description="Price with the lower value."
    )
    upper_price: Annotated[House[Decimal | None], Holds("money")] = Field(
        default=None, description="Price with the upper value."
    )
    lower_problem: Annotated[House[str], Holds("text")] = Field(
        default="", description="Why the lower value cannot be."
    )
    upper_problem: Annotated[House[str], Holds("text")] = Field(
        default="", description="Why the upper value cannot be."
    )


class Sensitivity(Shown):
    """Which assumptions move the price most."""

    price: Annotated[House[Decimal], Holds("money")] = Field(
        default=NOTHING, description="Price before tax, as the proposal has it."
    )
    rows: House[tuple[VariedRow, ...]] = Field(
        default=(), description="What was varied, the largest movement first."
    )
    fixed: House[tuple[VariedRow, ...]] = Field(
        default=(), description="What cannot be varied by the rule, in order of the numbers."
    )
