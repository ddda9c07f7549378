"""The whole proposal as rows: base, open alternates, prices of their combinations, what moves the price."""

from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.document import Document
from proposal.document.rows.alternates import AlternateRow, CombinationRow, Sensitivity
from proposal.document.schedule import ALL, BUYERS, HOUSE, Row, Schedule, Shows

MOST_TICKED = 5
"""Most open alternates of which every combination is computed."""
MOST_IN_PAIRS = 7
"""Most open alternates of which each two are computed: no more work than all combinations of five."""


class OpenAlternate(Row):
    """Something the client may choose, with all that the proposal would then say."""

    schedule: ClassVar = Schedule("open_alternate", subject="terms")

    row: Annotated[AlternateRow, Shows("row", ALL, "rows")] = Field(description="What it is.")
    document: Annotated[Document, Shows("document", ALL, "rows")] = Field(
        description="The document with this alternate alone."
    )


class Proposal(Row):
    """All that one revision offers."""

    schedule: ClassVar = Schedule("proposal", subject="terms")

    document: Annotated[Document, Shows("document", ALL, "rows")] = Field(
        description="The base, with the alternates that are accepted."
    )
    alternates: Annotated[tuple[OpenAlternate, ...], Shows("alternates", ALL, "rows")] = Field(
        default=(), description="Open alternates by key."
    )
    combinations: Annotated[tuple[CombinationRow, ...], Shows("combinations", BUYERS, "rows")] = Field(
        default=(),
        description="Prices of all combinations of open alternates that the client reads prices of, the base "
        "first; of the base, of each alternate alone and of each two where there are more than five, and "
        "without these two where there are more than seven.",
    )
    sensitivity: Annotated[Sensitivity | None, Shows("sensitivity", HOUSE, "rows")] = Field(
        default=None, description="Which assumptions move the price most; nothing where nobody asked."
    )
