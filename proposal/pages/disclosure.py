"""What a client can work out from all prices received, and what is to be said of it: for the house alone."""

from typing import ClassVar

from proposal.document.rows.disclosure import DisclosureRow
from proposal.field_classes import dataclass
from proposal.pages.calculations import source_table
from proposal.pages.findings import finding_section
from proposal.pages.markdown import Html
from proposal.pages.page_context import PageContext
from proposal.pages.schedule_table import Field, fields_of, schedule


@dataclass(frozen=True, slots=True, kw_only=True)
class DisclosurePage:
    """How far costs, margins and hours stay open to a client.

    ranges: each with what it can be for all that the client can tell; None where nothing is told of it.
    known: what the client is taken to know; None where the project has no such data.
    findings: what is to be said of the price.
    """

    template: ClassVar[str] = "disclosure.md.jinja"
    ranges: Html | None
    known: Html | None
    findings: tuple[Html, ...]


def disclosure_page(here: PageContext) -> DisclosurePage:
    """Return the page of what a client can work out."""
    document = here.document
    return DisclosurePage(
        ranges=_ranges(here) if document.disclosure else None,
        known=source_table(
            here, "What the client is taken to know", "client_knowledge", document.client_knowledge
        ),
        findings=tuple(finding_section(here, row) for row in document.house_findings),
    )


def _ranges(here: PageContext) -> Html:
    fields: list[Field[DisclosureRow]] = [
        *fields_of(here, DisclosureRow, "about", "value", "low", "high", "left_open", "key"),
    ]
    return schedule("What a client who knows the shared library can tell", fields, here.document.disclosure)
