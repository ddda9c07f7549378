"""What came before this revision: those that were issued, and what was offered in them."""

from collections.abc import Mapping, Sequence
from decimal import Decimal

from proposal.document.document import Document
from proposal.document.rows.alternates import AlternateRow
from proposal.document.rows.terms import RevisionRow
from proposal.review.received import Received


def with_issued(document: Document, earlier: Document) -> Document:
    """Return a document whose cover names the revisions that were issued before, beside those it names.

    earlier: the document of the last issue, whose own cover names the issues before it. Each revision stands
    there once, as project.yaml has it where it has it.
    """
    before = earlier.cover
    issued = [*(row for row in before.history if row.issued), before.revision]
    own = {row.identity: row for row in document.cover.history}
    found: dict[str, RevisionRow] = dict(own)
    for row in issued:
        if row.identity != document.cover.revision.identity:
            known = own.get(row.identity, row)
            found[row.identity] = known.model_copy(update={"issued": True})
    history = tuple(sorted(found.values(), key=lambda row: row.date))
    return document.model_copy(update={"cover": document.cover.model_copy(update={"history": history})})


def with_offered_prices(document: Document, received: Sequence[Received]) -> Document:
    """Return a document that tells of each alternate that was chosen what it came to when it was offered.

    received: prices that the client received with revisions issued before, the earliest first.
    """
    prices = {one.key: one.price for one in received}
    told = tuple(_offered(row, prices) for row in document.included_alternates)
    return document.model_copy(update={"included_alternates": told})


def _offered(row: AlternateRow, prices: Mapping[str, Decimal]) -> AlternateRow:
    """Return a row with what an alternate alone added in the last revision in which it stood open."""
    for key in reversed(tuple(prices)):
        revision, _, chosen = key.partition(" ")
        if chosen == row.key and revision in prices:
            difference = prices[key] - prices[revision]
            return row.model_copy(update={"offered_at": difference, "offered_in": revision})
    return row
