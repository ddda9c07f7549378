"""Rows of what the client may choose, and of what moves the price."""

from decimal import Decimal

from pydantic import Field

from proposal.document.readers import Buyers, Everyone, House, Shown

NOTHING = Decimal(0)


class AlternateRow(Shown):
    """An alternate: what it is called, and why somebody might want it."""

    key: Everyone[str] = Field(description="Name of its file.")
    name: Everyone[str] = Field(description="What it is called.")
    description: Everyone[str] = Field(description="Why the client might want it.")
    internal_note: House[str] = Field(default="", description="For our own estimators only.")


class CombinationRow(Shown):
    """What the proposal comes to with some of its open alternates.

    Prices are missing where the alternates cannot be chosen together.
    """

    chosen: Buyers[tuple[str, ...]] = Field(default=(), description="Keys of the alternates chosen.")
    price: Buyers[Decimal | None] = Field(default=None, description="Before tax.")
    tax: Buyers[Decimal | None] = Field(default=None, description="Tax.")
    total: Buyers[Decimal | None] = Field(default=None, description="With tax.")
    impossible: Buyers[tuple[str, ...]] = Field(
        default=(), description="Keys of those among them that cannot be chosen together."
    )
    problems: House[tuple[str, ...]] = Field(
        default=(), description="What would be wrong with them, with file and line."
    )
    cost: House[Decimal | None] = Field(default=None, description="What all of it costs us.")


class VariedRow(Shown):
    """What a price would be, were something assumed otherwise.

    The number of an assumption or question stands in `number`; hours and rates have none.
    """

    number: House[str] = Field(default="", description="Number of the assumption or question.")
    title: House[str] = Field(default="", description="What is assumed.")
    subject: House[str] = Field(default="", description="What it applies to.")
    kind: House[str] = Field(
        default="", description="Kind of quantity, for its unit; `factor` of hours or rates."
    )
    value: House[float | bool | None] = Field(default=None, description="Value taken.")
    lower: House[float | bool | None] = Field(default=None, description="Lower value tried.")
    upper: House[float | bool | None] = Field(default=None, description="Upper or other value tried.")
    lower_price: House[Decimal | None] = Field(default=None, description="Price with the lower value.")
    upper_price: House[Decimal | None] = Field(default=None, description="Price with the upper value.")
    lower_problem: House[str] = Field(default="", description="Why the lower value cannot be.")
    upper_problem: House[str] = Field(default="", description="Why the upper value cannot be.")


class Sensitivity(Shown):
    """Which assumptions move the price most."""

    price: House[Decimal] = Field(default=NOTHING, description="Price before tax, as the proposal has it.")
    rows: House[tuple[VariedRow, ...]] = Field(
        default=(), description="What was varied, the largest movement first."
    )
    fixed: House[tuple[VariedRow, ...]] = Field(
        default=(), description="What cannot be varied by the rule, in order of the numbers."
    )
