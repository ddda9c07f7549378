"""Rows of drawing sheets."""

from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.schedule import ALL, Row, Schedule, Shows


class SheetRow(Row):
    """A drawing sheet."""

    schedule: ClassVar = Schedule("sheet", subject="drawings", key=("kind", "subject", "part"))

    number: Annotated[str, Shows("sheet", ALL, "tag", link="drawing")] = Field(description="Sheet number.")
    title: Annotated[str, Shows("title", ALL)] = Field(description="Title.")
    kind: Annotated[str, Shows("kind", ALL, "word")] = Field(
        description="riser overall, riser detail, signal flow, plan, conduit sections; later ones likewise."
    )
    subject: Annotated[str, Shows("subject", ALL, "tag")] = Field(
        description="What it shows: empty for the building, a storey's tag, or the key of a room sheet."
    )
    part: Annotated[int, Shows("part", ALL, "number")] = Field(
        description="Part of a drawing that takes several sheets, from 1."
    )
    parts: Annotated[int, Shows("parts", ALL, "count")] = Field(
        description="How many sheets the drawing takes."
    )
    members: Annotated[tuple[str, ...], Shows("members", ALL, "tag")] = Field(
        description="Tags of the rooms, or codes of the boxes, shown on this part; empty where all are."
    )
    first: Annotated[int, Shows("first", ALL, "number")] = Field(
        default=1, description="First cable shown of the first member, from 1 in order of identity."
    )
    last: Annotated[int, Shows("last", ALL, "number")] = Field(
        default=0, description="Last cable shown of the last member; 0 where all are."
    )
