"""The statement of compliance: what the client asks for, what answers it, and whether it is met."""

from collections.abc import Iterator, Mapping
from typing import ClassVar

from proposal.document.document import Document
from proposal.document.readers import Reader
from proposal.document.rows.requirements import RequirementAnswerRow, RequirementRow
from proposal.document.schedule import columns_of
from proposal.document.values import cell_text
from proposal.field_classes import dataclass
from proposal.pages import paths
from proposal.pages.fact_list import Fact
from proposal.pages.markdown import Html, anchor, join, text
from proposal.pages.page_context import PageContext
from proposal.pages.paths import RADIO
from proposal.pages.phrases import capital
from proposal.pages.schedule_table import Field, fields_of, grouped, schedule
from proposal.quantities import formatting


@dataclass(frozen=True, slots=True, kw_only=True)
class RequirementsPage:
    """Every requirement with its answer, then what each answer was computed from.

    title: and whose words these are, as the reader calls the client.
    counts: how many are met, in a sentence.
    statements: a table for each document of the client, a row a requirement.
    evidence: tables of answers by figures, by days and sums, and in words.
    """

    template: ClassVar[str] = "requirements.md.jinja"
    title: Html
    whose: Html
    counts: Html
    statements: tuple[Html, ...]
    evidence: tuple[Html, ...]


def requirements_page(here: PageContext) -> RequirementsPage:
    """Return the statement of compliance."""
    document = here.document
    answers = grouped(document.requirement_answers, lambda row: row.requirement)
    fields: list[Field[RequirementRow]] = [
        # The verdict stands first, in sight on narrow screens too.
        *fields_of(here, RequirementRow, "tag", "verdict", "clause", "text"),
        Field(here.heading("answer"), lambda row: _answer(here, answers.get(row.tag, ()))),
    ]
    return RequirementsPage(
        title=text(title_of_requirements(here.edition.reader)),
        whose=text("your" if here.edition.reader == "client" else "the client's"),
        counts=text(f"{capital(_counts(document))}."),
        statements=tuple(
            schedule(
                said_in,
                fields,
                rows,
                identity=lambda row: anchor(row.tag),
                mark=here.mark("requirements"),
            )
            for said_in, rows in grouped(document.requirements, lambda row: row.document).items()
        ),
        evidence=tuple(_evidence(here)),
    )


def title_of_requirements(reader: Reader) -> str:
    """Return what the page is called.

    reader: of the edition.
    """
    return f"What {'you' if reader == 'client' else 'the client'} asked for"


def requirements_met(here: PageContext) -> tuple[Fact, ...]:
    """Return how many requirements are met, as a fact that leads to the statement of compliance."""
    if not here.document.requirements:
        return ()
    return (Fact(here.heading("requirements_met"), here.to(paths.REQUIREMENTS, _counts(here.document))),)


_SAID = (
    ("stated", "promised by us"),
    ("by_others", "left to others"),
    ("met_in_part", "met in part"),
    ("not_met", "not met"),
    ("open", "open"),
)


def _counts(document: Document) -> str:
    """Return how many requirements there are of each verdict, in words."""
    count = document.requirement_count
    assert count is not None
    others = [f"{getattr(count, name)} {words}" for name, words in _SAID if getattr(count, name)]
    noun = "requirement" if count.all == 1 else "requirements"
    return formatting.listed([f"{count.met} of {count.all} {noun} met", *others])


def _answer(here: PageContext, rows: tuple[RequirementAnswerRow, ...]) -> Html:
    """Return what answers a requirement, an answer a line."""
    return join((_said(here, row) for row in rows), Html("<br>")) if rows else text("not answered")


_STATED = {
    "complies": "Promised",
    "complies in part": "Promised in part",
    "does not comply": "Not offered",
    "clarification": "To be clear",
    "by others": "By others",
}
"""What a statement is called, by its stance."""


def _said(here: PageContext, row: RequirementAnswerRow) -> Html:
    """Return one answer in words: what was looked at, what was found, and its limit."""
    about = _STATED.get(row.about, row.about) if row.sort == "statement" else capital(row.about)
    if row.sort == "check":
        about = f"Our checks of {row.about}"
    path = _page_of(here.document, row)
    head: list[object] = [here.to(path, about) if path else text(about)]
    if row.where:
        head += [text("in"), here.linked(row.where, "room")]
    found = [_cell(here, row, name) for name in ("value", "date", "amount", "found")]
    limits = [_cell(here, row, name) for name in ("limit", "limit_date", "limit_amount")]
    said = next((one for one in found if one), row.nothing)
    limit = next((one for one in limits if one), "")
    bound = f" ({row.comparison} {limit})" if limit else ""
    if row.limit_date is not None and limit:
        bound = f" (by {limit})"
    if row.sort == "measured" and row.wanted:
        bound = f" (wanted: {row.wanted})"
    return join((join(head, " "), text(f"{said}{bound}")), ": ") if said else join(head, " ")


def _cell(here: PageContext, row: RequirementAnswerRow, name: str) -> str:
    """Return what an answer holds in a column, as text; empty where this reader may not see it."""
    shows = columns_of(RequirementAnswerRow)[name].shows
    if here.edition.reader not in shows.readers:
        return ""
    return cell_text(getattr(row, name), shows, here.values, row) or ""


def _page_of(document: Document, row: RequirementAnswerRow) -> str:
    """Return the path of the page on which stands what an answer was computed from; empty without one."""
    if row.sort == "count":
        return paths.ROOMS if row.about in ("rooms", "seats", "microphones") else paths.EQUIPMENT
    if row.sort == "figure":
        return _FIGURES.get(row.about, "") if row.about != "conduit fill" or document.pathways else ""
    there: Mapping[str, tuple[str, object]] = {
        "check": (paths.FINDINGS, document.finding_count or document.findings),
        "connection": (paths.SYSTEM, True),
        "price": (paths.PRICE, document.price),
        "date": (paths.PROGRAMME, document.programme and document.activities),
        "term": (paths.COVER, True),
        "cable": (paths.CABLES, True),
        "state": (paths.STATES, document.states),
        "site_closed": (paths.PROGRAMME, document.programme and document.activities),
        "agreed": (paths.SCOPE, document.contract_terms and document.scope),
    }
    path, held = there.get(row.sort, ("", None))
    return path if held else ""


_FIGURES: Mapping[str, str] = {
    "radio margin": RADIO,
    "lowest charge": paths.ROOMS,
    "link length": paths.CABLES,
    "conduit fill": paths.PATHWAYS,
}


def _evidence(here: PageContext) -> Iterator[Html]:
    """Yield the tables of what answers were computed from, or stated."""
    rows = here.document.requirement_answers
    tables = (
        (
            "Answers by figures",
            [row for row in rows if row.value is not None],
            ("bound", "value", "at"),
        ),
        (
            "Answers by days and sums",
            [row for row in rows if row.sort in ("date", "price") and not row.nothing],
            ("comparison", "limit_date", "date", "limit_amount", "amount"),
        ),
        (
            "Answers in words",
            [row for row in rows if row.found or row.nothing],
            ("comparison", "wanted", "found", "at", "stated_by", "stated_on", "nothing"),
        ),
    )
    for caption, shown, names in tables:
        if shown:
            yield schedule(
                caption,
                [
                    *fields_of(here, RequirementAnswerRow, "requirement", "number", "verdict"),
                    *fields_of(here, RequirementAnswerRow, "sort", "about", "where", *names),
                ],
                shown,
                mark=here.mark("requirement_answers"),
            )
