"""The whole proposal as rows: base, open alternates, prices of their combinations, what moves the price."""

from pydantic import Field

from proposal.document.alternate_rows import AlternateRow, CombinationRow, Sensitivity
from proposal.document.document import Document
from proposal.document.readers import Buyers, Everyone, House, Shown

MOST_TICKED = 5
"""Most open alternates of which every combination is computed."""


class OpenAlternate(Shown):
    """Something the client may choose, with all that the proposal would then say."""

    row: Everyone[AlternateRow] = Field(description="What it is.")
    document: Everyone[Document] = Field(description="The document with this alternate alone.")


class Proposal(Shown):
    """All that one revision offers."""

    document: Everyone[Document] = Field(description="The base, with the alternates that are accepted.")
    alternates: Everyone[tuple[OpenAlternate, ...]] = Field(default=(), description="Open alternates by key.")
    combinations: Buyers[tuple[CombinationRow, ...]] = Field(
        default=(),
        description="Prices of all combinations of open alternates, the base first; of the base and of each "
        "alternate alone where there are more than five.",
    )
    sensitivity: House[Sensitivity | None] = Field(
        default=None, description="Which assumptions move the price most; nothing where nobody asked."
    )
