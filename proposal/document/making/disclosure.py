"""What a client can work out, as rows, and what is said of it."""

from collections.abc import Sequence
from typing import TypedDict

from proposal.document.headings import Words
from proposal.document.making.composed_texts import words_of
from proposal.document.making.findings import house_finding_rows
from proposal.document.rows.disclosure import DisclosureRow
from proposal.document.rows.findings import FindingRow
from proposal.pipeline import Computed
from proposal.review.disclosure import Disclosed
from proposal.review.finding import HOUSE_RULES, Finding, in_order, nothing_to_accept, unmatched_acceptances
from proposal.review.received import Received


class DisclosureParts(TypedDict):
    """What a client can work out, and what is said of it."""

    disclosure: tuple[DisclosureRow, ...]
    house_findings: tuple[FindingRow, ...]


NOTHING_DISCLOSED: DisclosureParts = {"disclosure": (), "house_findings": ()}


def disclosure_parts(computed: Computed) -> DisclosureParts:
    """Return the fields of the document that tell what a client can work out of its price, by name."""
    found = computed.disclosed()
    return _parts(computed, found, computed.house_findings(found))


def all_disclosure_parts(computed: Computed, others: Sequence[Received]) -> DisclosureParts:
    """Return the same fields of what a client can work out of every price that they receive or ever received.

    others: all prices beside the one as it stands.
    """
    return _parts(computed, computed.disclosed(others), all_house_findings(computed, others))


def _parts(computed: Computed, found: Sequence[Disclosed], findings: Sequence[Finding]) -> DisclosureParts:
    words = words_of(computed.project)
    return {
        "disclosure": tuple(_row(one, words) for one in found),
        "house_findings": house_finding_rows(findings, computed.project.brief.locale),
    }


def all_house_findings(computed: Computed, others: Sequence[Received]) -> tuple[Finding, ...]:
    """Return the findings about all prices received, for the house alone, and unmatched acceptances.

    others: all else that the client receives beside the price as it stands, or ever received.
    """
    found = computed.house_findings(computed.disclosed(others))
    unmatched = [one for one in unmatched_acceptances(computed.project, found) if one.rule in HOUSE_RULES]
    return in_order((*found, *(nothing_to_accept(computed.project, one) for one in unmatched)))


def _row(one: Disclosed, words: Words) -> DisclosureRow:
    by = 1.0 if one.kind == "hours" else 100.0
    return DisclosureRow(
        about=words.text(f"disclosure.{one.kind}", about=one.about),
        key=one.key,
        value=round(one.value * by, 2),
        low=round(one.low * by, 2),
        high=round(one.high * by, 2),
        unit="h" if one.kind == "hours" else "%",
        enough=one.enough,
    )
