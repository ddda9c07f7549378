"""Rows of what a client can work out from all prices received: for the house alone."""

from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.schedule import HOUSE, Row, Schedule, Shows, composed


class DisclosureRow(Row):
    """How far one thing that stays in the house is open to a client."""

    schedule: ClassVar = Schedule("disclosure", subject="price", key=("key", "about"))

    about: Annotated[str, Shows("what", HOUSE, "word")] = Field(default="", description="What it is.")
    key: Annotated[str, Shows("alternates_or_revision", HOUSE, "tag")] = Field(
        default="", description="Alternates or revision that it is of; empty for the price as it stands."
    )
    value: Annotated[float, Shows("it_is", HOUSE, "figure")] = Field(
        default=0.0, description="Its value, in `unit`."
    )
    low: Annotated[float, Shows("at_least", HOUSE, "figure")] = Field(
        default=0.0, description="Least that it can be for all that the client can tell."
    )
    high: Annotated[float, Shows("at_most", HOUSE, "figure")] = Field(
        default=0.0, description="Most that it can be."
    )
    unit: Annotated[str, Shows("unit", HOUSE, "unit")] = Field(default="", description="%, or h of hours.")
    enough: Annotated[bool, Shows("enough", HOUSE, "flag")] = Field(
        default=False, description="Whether that leaves enough open below and above it."
    )

    @composed(Shows("open", HOUSE, "verdict", together=True))
    def left_open(self) -> str:
        """Whether enough is left open, as a mark."""
        return "pass" if self.enough else "warning"
