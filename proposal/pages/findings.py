"""What the review of the design found."""

from typing import ClassVar

from proposal.document.rows.findings import FindingRow
from proposal.document.rows.plain_warnings import PlainWarningRow
from proposal.field_classes import dataclass
from proposal.pages.cover import counts_of_findings
from proposal.pages.fact_list import fact_list, facts_of
from proposal.pages.markdown import Html, anchor, html_text, text
from proposal.pages.page_context import PageContext
from proposal.pages.schedule_table import Field, fields_of, schedule

_GROUPS = (("error", "Errors"), ("warning", "Warnings"), ("note", "Notes"))


_DECIDED = (
    "The lines in plain words tell all errors and warnings counted here, those of one kind in one line: they "
    "are still open, and we see to them as each line says. Notes, and findings accepted with a reason, "
    "concern the design alone: nothing is asked of you for them."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingsPage:
    """Findings, errors first, and those that the designer has accepted.

    plain: errors and warnings in plain words; None where there are none.
    counts: how many of each severity, where the edition tells.
    decided: who decides on those that are counted and not listed; None where all are listed.
    overview: every finding in a line, where the edition holds them.
    groups: heading, and what it holds.
    """

    template: ClassVar[str] = "findings.md.jinja"
    plain: Html | None
    counts: Html | None
    decided: Html | None
    overview: Html | None
    groups: tuple[tuple[Html, tuple[Html, ...]], ...]


def findings_page(here: PageContext) -> FindingsPage:
    """Return the page of findings: all of them, or how many there are, as the edition holds."""
    document = here.document
    open_rows = [row for row in document.findings if not row.accepted]
    groups = [(title, [row for row in open_rows if row.severity == severity]) for severity, title in _GROUPS]
    groups.append(("Accepted by the designer", [row for row in document.findings if row.accepted]))
    return FindingsPage(
        plain=_plain(here) if document.plain_warnings else None,
        counts=counts_of_findings(here, document.finding_count) if document.finding_count else None,
        decided=text(_DECIDED) if document.finding_count and not document.findings else None,
        overview=_overview(here) if document.findings else None,
        groups=tuple(
            (text(title), tuple(finding_section(here, row) for row in rows)) for title, rows in groups if rows
        ),
    )


def _plain(here: PageContext) -> Html:
    fields: list[Field[PlainWarningRow]] = [*fields_of(here, PlainWarningRow, "what", "where")]
    return schedule("What to look out for", fields, here.document.plain_warnings)


def _overview(here: PageContext) -> Html:
    fields: list[Field[FindingRow]] = [
        *fields_of(here, FindingRow, "number", "standing", "where", "message", "value", "limit"),
    ]
    return schedule("All findings, errors first", fields, here.document.findings, mark=here.mark("findings"))


def finding_section(here: PageContext, row: FindingRow) -> Html:
    """Return all of one finding."""
    names = ("standing", "where", "value", "limit", "place", "rule", "source", "remedy", "accepted")
    return Html(
        f'<section class="finding">\n<h3 id="{anchor(row.number)}">{html_text(row.number)} '
        f"{html_text(row.message)}</h3>\n"
        + fact_list(f"Finding {row.number}", facts_of(here, row, *names))
        + "\n</section>"
    )
