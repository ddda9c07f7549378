"""Columns that say where a thing is bought and by when, alike in every schedule of what is bought."""

import datetime
from typing import Annotated

from pydantic import Field

from proposal.document.schedule import HOUSE, NOT_CLIENT, Shows

Supplier = Annotated[
    str, Shows("supplier", HOUSE), Field(description="Who is asked for a quote, and sells it.")
]
Article = Annotated[str, Shows("article", HOUSE), Field(description="The supplier's own number for it.")]
Priced = Annotated[
    str,
    Shows("priced", HOUSE),
    Field(description="Price list or quote that its prices come from, and its day."),
]
NeededBy = Annotated[
    datetime.date | None,
    Shows("needed_by", NOT_CLIENT, "date", follows=True),
    Field(description="Last working day before the first work that it is used in."),
]
OrderBy = Annotated[
    datetime.date | None,
    Shows("order_by", NOT_CLIENT, "date", follows=True),
    Field(
        description="Last working day on which an order brings it by then, by its lead time; none where "
        "others furnish it."
    ),
]
