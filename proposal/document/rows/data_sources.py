"""Rows of where data and standing wording come from that stand beside no calculation."""

from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.schedule import CHECKERS, Row, Schedule, Shows


class DataSourceRow(Row):
    """A figure or a text of the shared data, and its source."""

    schedule: ClassVar = Schedule("data_source", subject="checks", key=("what",))

    what: Annotated[str, Shows("what", CHECKERS, "word")] = Field(default="", description="What it is.")
    least: Annotated[float | None, Shows("at_least", CHECKERS, "figure")] = Field(
        default=None, description="Least value, in `unit`; none of a text."
    )
    most: Annotated[float | None, Shows("at_most", CHECKERS, "figure")] = Field(
        default=None, description="Greatest value, in `unit`; none of a text."
    )
    unit: Annotated[str, Shows("unit", CHECKERS, "unit")] = Field(
        default="", description="dB or %; empty of a text and of a factor."
    )
    source: Annotated[str, Shows("source", CHECKERS)] = Field(
        default="", description="Publication, common practice, editable default, or our own wording."
    )
