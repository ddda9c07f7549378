"""Alternates that an estimator may add: lines of nothing, which a name and an amount in the inputs fill.

Such an alternate is an amount that the client may add or deduct: what it changes of the design is written in
its own file, which import makes.
"""

from dataclasses import replace
from decimal import Decimal

from proposal.document.document import Document
from proposal.document.rows.price_inputs import PriceInputRow
from proposal.editions import Edition

ALTERNATE, FURTHER = "alternate", "Further alternate"
_COUNT = 3
SAID = (
    "An alternate is added among the inputs: type what it is called over Further alternate 1, and what it "
    "adds before tax, or below 0 what it deducts. Import writes it into a file of its own in alternates/, as "
    "an allowance that the client may choose. One that changes rooms or equipment is written there by hand."
)


def is_spare_alternate(row: PriceInputRow) -> bool:
    """Say whether an input is an alternate that nobody has named yet."""
    return row.what == ALTERNATE


def with_spare_alternates(edition: Edition) -> Edition:
    """Return an edition with three alternates of nothing among the inputs, where its price has any."""
    return replace(edition, document=spare_alternates(edition.document))


def spare_alternates(document: Document) -> Document:
    """Return a document with three alternates of nothing among the inputs.

    document: as its reader may see it; the same one where its price has no inputs.
    """
    if not document.price_inputs or any(map(is_spare_alternate, document.price_inputs)):
        return document
    rows = [
        PriceInputRow(
            key=f"alternates.added_{n}.price",
            what=ALTERNATE,
            subject=f"{FURTHER} {n}",
            unit=document.cover.currency,
            per=Decimal(1),
            layer="project",
        )
        for n in range(1, _COUNT + 1)
    ]
    return document.model_copy(update={"price_inputs": (*document.price_inputs, *rows)})
