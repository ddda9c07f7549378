"""Rows of what the design review warns of, in words for those who do not read findings."""

from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.schedule import ALL, Row, Schedule, Shows


class PlainWarningRow(Row):
    """A warning or error of the design review in plain words."""

    schedule: ClassVar = Schedule("plain_warning", subject="checks", key=("what",))

    what: Annotated[str, Shows("what", ALL)] = Field(description="What is the matter, and what is done.")
    where: Annotated[str, Shows("where", ALL)] = Field(
        default="", description="Tags of what it concerns, in a line."
    )
