"""Columns that say where a thing is bought, alike in every schedule of what is bought."""

from typing import Annotated

from pydantic import Field

from proposal.document.schedule import HOUSE, Shows

Supplier = Annotated[
    str, Shows("supplier", HOUSE), Field(description="Who is asked for a quote, and sells it.")
]
Article = Annotated[str, Shows("article", HOUSE), Field(description="The supplier's own number for it.")]
Priced = Annotated[
    str,
    Shows("priced", HOUSE),
    Field(description="Price list or quote that its prices come from, and its day."),
]
