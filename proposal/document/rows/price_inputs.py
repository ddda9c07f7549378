"""Rows of the figures that the price rests on, as people write them: for the house alone."""

from decimal import Decimal
from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.schedule import HOUSE, Row, Schedule, Shows


class PriceInputRow(Row):
    """One figure that the price rests on: a cost, a rate, hours, a share."""

    schedule: ClassVar = Schedule("price_input", subject="price", key=("key",))

    key: Annotated[str, Shows("key", HOUSE, "tag")] = Field(
        default="", description="Where it is written: its keys, joined by points."
    )
    what: Annotated[str, Shows("what", HOUSE)] = Field(default="", description="What it is.")
    subject: Annotated[str, Shows("input_is_of", HOUSE)] = Field(
        default="", description="What it is of: a model code, a trade, a task, a condition and so on."
    )
    value: Annotated[Decimal, Shows("value", HOUSE, "how many")] = Field(
        default=Decimal(0), description="As it is written, with all its digits; a share is 0 to 1."
    )
    unit: Annotated[str, Shows("unit", HOUSE, "unit")] = Field(
        default="", description="Currency, share, h, each; where it is for one of something, by what."
    )
    per: Annotated[Decimal, Shows("input_is_for", HOUSE, "how many")] = Field(
        default=Decimal(0),
        description="How many pieces or metres the value is for, where that is not one.",
    )
