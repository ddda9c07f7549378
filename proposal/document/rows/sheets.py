"""Rows of drawing sheets."""

from collections.abc import Sequence
from typing import Annotated, ClassVar, Protocol

from pydantic import Field

from proposal.document.rows.rooms import RoomSheet
from proposal.document.schedule import ALL, CHECKERS, Row, Schedule, Shows, composed, gathered

# Kinds of drawings that a page shows besides their own; whatever their subject names is found by itself.
SIGNAL_FLOW, CHARGE_TIMELINE, LEVEL_MAP = "signal flow", "charge timeline", "level map"
PORTABLE_PLACE = "portable place"
FLOOR_PLAN, CEILING_PLAN, ROOM_PLAN = "floor plan", "ceiling plan", "room plan"
GANTT_CHART, CREW_LOADING = "gantt chart", "crew loading"
RADIO_NEIGHBOURS, CONDUIT_SECTIONS = "radio neighbours", "conduit sections"
ROOM_KINDS = (SIGNAL_FLOW, CHARGE_TIMELINE, LEVEL_MAP, ROOM_PLAN)
PROGRAMME_KINDS = (GANTT_CHART, CREW_LOADING)
THE_PROGRAMME = "the programme"


class Designed(Protocol):
    """What has kinds of room."""

    @property
    def room_sheets(self) -> Sequence[RoomSheet]:
        """Kinds of room as designed."""


class SheetRow(Row):
    """A drawing sheet."""

    schedule: ClassVar = Schedule("sheet", subject="drawings", key=("kind", "subject", "part"))

    number: Annotated[str, Shows("sheet", ALL, "tag", link="drawing")] = Field(description="Sheet number.")
    title: Annotated[str, Shows("title", ALL)] = Field(description="Title.")
    kind: Annotated[str, Shows("kind", ALL, "word")] = Field(
        description="riser overall, riser detail, signal flow, floor plan, ceiling plan; later ones likewise."
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
    members: Annotated[tuple[str, ...], Shows("on_this_part", ALL, "tag", link="subject")] = Field(
        description="Tags of the rooms, or codes of the boxes, shown on this part; empty where all are."
    )
    first: Annotated[int, Shows("first", ALL, "number")] = Field(
        default=1, description="First cable shown of the first member, from 1 in order of identity."
    )
    last: Annotated[int, Shows("last", ALL, "number")] = Field(
        default=0, description="Last cable shown of the last member; 0 where all are."
    )
    hours_charged: Annotated[bool, Shows("hours_charged", CHECKERS, "flag", follows=True)] = Field(
        default=False,
        description="Whether labour charges the hours of drawing it; others are made from what charged ones "
        "hold.",
    )

    @gathered(Shows("shows", ALL, link="subject", empty="the_whole_building", together=True))
    def shown(self, document: Designed) -> str:
        """What it shows; empty for the whole building."""
        if self.kind in PROGRAMME_KINDS:
            return THE_PROGRAMME
        if self.kind in ROOM_KINDS:
            # The key of a kind of room may be a room's tag as well.
            titles = {sheet.key: sheet.title for sheet in document.room_sheets}
            return titles.get(self.subject, self.subject)
        # Of a portable set in a place its tag comes first.
        return self.subject.partition(" ")[0] if self.kind == PORTABLE_PLACE else self.subject

    @composed(Shows("part", ALL, together=True))
    def place(self) -> str:
        """Which part it is of how many; empty for a drawing of one sheet."""
        return f"{self.part} of {self.parts}" if self.parts > 1 else ""
