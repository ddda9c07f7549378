"""Assumptions, open questions, exclusions; scope and terms; who does what; cautions."""

from collections.abc import Sequence
from typing import ClassVar

from proposal.document.document import Document
from proposal.document.rows.client_steps import HANDOVER, MUTE_CONTROLS, called_by_client
from proposal.document.rows.findings import AssumptionRow, QuestionRow
from proposal.document.rows.mute_controls import MuteControlRow
from proposal.document.rows.pathways import PenetrationRow
from proposal.document.rows.terms import OWN_EQUIPMENT, Caution, ContractTermRow, DutyRow
from proposal.field_classes import dataclass
from proposal.pages.client_answers import NEEDED, PAYMENTS, not_included, panels_wanted
from proposal.pages.cover import called_on_pages
from proposal.pages.fact_list import fact_list, facts_of_groups
from proposal.pages.markdown import Html, html_text, join, text
from proposal.pages.page_context import PageContext
from proposal.pages.part_page import PartPage, part_page
from proposal.pages.paths import ASSUMPTIONS, OWNER_EQUIPMENT, VALUES_TAKEN
from proposal.pages.prose import parts_of_scope, prose_of
from proposal.pages.schedule_parts import SchedulePart, links_to_parts, value_parts
from proposal.pages.schedule_table import Field, fields_of, schedule
from proposal.quantities import formatting
from proposal.quantities.formatting import count_of


@dataclass(frozen=True, slots=True, kw_only=True)
class AssumptionsPage:
    """What was assumed, what has to be found out, what is left out.

    foremost: the assumptions that matter most; assumptions: all of them, below a title.
    parts: of many, the way to the page of each part and how many stand there.
    prose, exclusions: the author's; standing, standing_exclusions: lines shown where the author wrote none.
    """

    template: ClassVar[str] = "assumptions.md.jinja"
    questions: Html | None
    foremost: Html | None
    all_title: Html | None
    assumptions: Html | None
    parts: tuple[Html, ...]
    standing: tuple[Html, ...]
    prose: Html | None
    clarifications: Html | None
    exclusions: Html | None
    standing_exclusions: tuple[Html, ...]


def excludes(document: Document) -> bool:
    """Say whether a document tells what is not included.

    document: as its reader may see it.
    """
    return bool(document.wording.get("exclusions") or document.exclusions)


def assumptions_page(here: PageContext) -> AssumptionsPage:
    """Return the page of assumptions and open questions."""
    document = here.document
    prose = prose_of(document, "assumptions", here.path, level=3)
    exclusions, standing_exclusions = not_included(here)
    ranked = sorted((row for row in document.assumptions if row.foremost), key=lambda row: row.foremost)
    links = links_to_parts(
        value_parts(document), VALUES_TAKEN, here.to, lambda rows: count_of(len(rows), "value")
    )
    return AssumptionsPage(
        questions=_questions(here) if document.questions else None,
        foremost=_foremost(here, ranked) if ranked else None,
        all_title=Html("Appendix: all assumptions") if document.assumptions else None,
        assumptions=_assumptions(here, document.assumptions) if document.assumptions and not links else None,
        parts=links,
        standing=() if prose else tuple(text(line) for line in document.standing_assumptions),
        prose=prose,
        clarifications=prose_of(document, "clarifications", here.path, level=3),
        exclusions=exclusions,
        standing_exclusions=standing_exclusions,
    )


def values_part_page(here: PageContext, part: SchedulePart[AssumptionRow]) -> PartPage:
    """Return the page of a part of the values taken.

    part: the values that stand on it.
    """
    whole = ASSUMPTIONS, "Assumptions and open questions"
    return part_page(here, f"Assumptions, {part.title}", whole, _assumptions(here, part.rows))


def _foremost(here: PageContext, rows: list[AssumptionRow]) -> Html:
    """Return the assumptions that matter most, each of which stands in the list of all of them too."""
    fields: list[Field[AssumptionRow]] = [*fields_of(here, AssumptionRow, "said", "value_beside")]
    return schedule("The assumptions that matter most", fields, rows)


def _assumptions(here: PageContext, rows: Sequence[AssumptionRow]) -> Html:
    fields: list[Field[AssumptionRow]] = [
        *fields_of(here, AssumptionRow, "number", "title", "subject", "value", "source", "path"),
    ]
    return schedule(
        "Values taken",
        fields,
        rows,
        identity=lambda row: row.number,
        mark=here.mark("assumptions"),
    )


def _questions(here: PageContext) -> Html:
    # Records of earlier programs have no questions in a person's words.
    words = "asked" if any(row.asked for row in here.document.questions) else "title"
    names = ("number", words, "subject", "who", "by", "value", "used_by", "place")
    fields: list[Field[QuestionRow]] = [*fields_of(here, QuestionRow, *names)]
    return schedule(
        "Values to be found out",
        fields,
        here.document.questions,
        identity=lambda row: row.number,
        mark=here.mark("questions"),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class ScopePage:
    """What is done, and what the author wrote on warranty, terms and the like.

    scope: the author's; standing: lines shown where the author wrote none.
    handover, standing_handover: what is handed over, likewise; papers: heading above it.
    handed_over: by which day.
    terms: of the contract.  payments: leads to those that stand with the price.  parts: heading and prose.
    """

    template: ClassVar[str] = "scope.md.jinja"
    scope: Html | None
    standing: tuple[Html, ...]
    handover: Html | None
    standing_handover: tuple[Html, ...]
    papers: Html | None
    handed_over: Html | None
    terms: Html | None
    payments: Html | None
    parts: tuple[tuple[Html, Html], ...]


def scope_page(here: PageContext) -> ScopePage:
    """Return the page of the scope of work and of the author's prose that no other page shows."""
    scope = prose_of(here.document, "scope", here.path, level=3)
    handover = prose_of(here.document, "handover", here.path, level=3)
    terms = _terms_here(here)
    return ScopePage(
        scope=scope,
        standing=() if scope else tuple(text(line) for line in here.document.scope),
        handover=handover,
        standing_handover=() if handover else tuple(text(line) for line in here.document.handover),
        papers=text("What is handed over") if handover or here.document.handover else None,
        handed_over=_handed_over(here),
        terms=_terms(here, terms) if terms else None,
        payments=here.to(PAYMENTS, "payments and what is kept of them")
        if len(terms) < len(here.document.contract_terms)
        else None,
        parts=tuple(parts_of_scope(here.document, here.path).values()),
    )


def _handed_over(here: PageContext) -> Html | None:
    """Return by which day papers and files are handed over; None without a programme."""
    day = next((one.finish for one in here.document.activities if one.key == HANDOVER), None)
    return None if day is None else text(f"By {formatting.date(day, here.cover.locale)}, before acceptance:")


_OF_PAYMENTS = frozenset({"payment", "payment days"})
"""Terms that the table of payments tells with their days and sums, and nothing else does."""


def _terms_here(here: PageContext) -> tuple[ContractTermRow, ...]:
    """Return the terms that no other page tells: a client finds the payments with the price."""
    terms = here.document.contract_terms
    if here.edition.reader != "client" or not here.document.payments:
        return terms
    return tuple(row for row in terms if row.what not in _OF_PAYMENTS)


def _terms(here: PageContext, terms: Sequence[ContractTermRow]) -> Html:
    rises = any(one.price_then is not None for one in terms)
    names = ("what", "words", *(("price_then",) if rises else ()))
    fields: list[Field[ContractTermRow]] = [*fields_of(here, ContractTermRow, *names)]
    return schedule("Terms of the contract", fields, terms)


_MEANT = {
    "furnish": "provides it: equipment, work or papers",
    "ready_for": "the work that cannot begin without it, and the day on which that begins",
    "install": "puts it up",
    "terminate": "connects the ends of its cables",
    "configure": "sets it up",
    "test": "proves that it works",
    "maintain": "keeps it working after acceptance",
}
"""What the headings of the duties mean, in plain words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ResponsibilitiesPage:
    """Who furnishes, installs, tests and maintains what.

    needed: leads a client to what is asked of it.  headings: what those of the table mean.
    own_by: days by which the owner's equipment is in place.
    mutes: what the client's panels or computers mute.  mutes_by: day by which they are in place.
    buttons: who makes what people press there, and how many places it is wanted at.
    openings: to be closed by others, where no page of pathways lists them.
    """

    template: ClassVar[str] = "responsibilities.md.jinja"
    prose: Html | None
    needed: Html | None
    headings: tuple[Html, ...]
    parties: Html
    called: Html
    matrix: Html
    own_by: Html | None
    mutes: Html | None
    mutes_by: Html | None
    buttons: Html
    openings: Html | None


def responsibilities_page(here: PageContext) -> ResponsibilitiesPage:
    """Return the matrix of duties."""
    document = here.document
    fields: list[Field[DutyRow]] = [
        *fields_of(
            here,
            DutyRow,
            "about",
            "furnish",
            "before",
            "ready_by",
            "install",
            "terminate",
            "configure",
            "test",
            "maintain",
        ),
    ]
    return ResponsibilitiesPage(
        prose=prose_of(document, "responsibilities", here.path),
        needed=here.to(NEEDED, "what we need from you") if here.edition.reader == "client" else None,
        headings=tuple(
            join((Html(f"<strong>{html_text(here.heading(key))}</strong>"), text(said)), ": ")
            for key, said in _MEANT.items()
        ),
        parties=fact_list("Parties and their letters", facts_of_groups(here, document, "parties")),
        called=called_on_pages(here),
        matrix=schedule(
            "Duties, by the letters of the party that has them", fields, document.responsibilities
        ),
        own_by=_own_by(here),
        mutes=_mute_controls(here) if document.mute_controls else None,
        mutes_by=_mutes_by(here),
        buttons=text(_buttons(here)),
        openings=_openings(here) if document.penetrations and not document.pathways else None,
    )


def _own_by(here: PageContext) -> Html | None:
    """Return by which day the owner's equipment is in place on each storey; None for one day."""
    rows = here.document.owner_equipment
    days = sorted({day for one in rows if (day := one.in_place_by(here.document))})
    if len(days) < 2:
        return None
    shown = formatting.listed([formatting.date(day, here.cover.locale) for day in days])
    said = text(f"{OWN_EQUIPMENT} is in place by {shown}, storey by storey:")
    return join((said, here.to(OWNER_EQUIPMENT, "which by which day")), " ")


def _mutes_by(here: PageContext) -> Html | None:
    """Return the day by which what mutes groups is in place; None without a programme."""
    days = (
        row.first_day(here.document) for row in here.document.responsibilities if row.about == MUTE_CONTROLS
    )
    day = next((day for day in days if day is not None), None)
    return None if day is None else text(formatting.date(day, here.cover.locale))


def _buttons(here: PageContext) -> str:
    """Return who makes the buttons that mute groups, and how many places they are wanted at, in sentences."""
    document = here.document
    names = dict(document.parties)
    letters = [
        letter
        for row in document.responsibilities
        if row.about == MUTE_CONTROLS
        for letter in row.configure.split(", ")
        if letter
    ]
    makers = [names.get(letter, letter) for letter in letters]
    if here.edition.reader == "client":
        makers = [called_by_client(name) for name in makers]
    made = f"Its buttons are made by {formatting.listed(makers)}; we set up the groups behind them. "
    return f"{made if makers else ''}{panels_wanted(here)}".strip()


def _mute_controls(here: PageContext) -> Html:
    fields: list[Field[MuteControlRow]] = [
        *fields_of(here, MuteControlRow, "kind", "rooms", "groups", "operators", "controls", "joined_at"),
        *fields_of(here, MuteControlRow, "run_m", "passes"),
    ]
    return schedule("What mutes groups of microphones", fields, here.document.mute_controls)


def _openings(here: PageContext) -> Html:
    fields: list[Field[PenetrationRow]] = [
        *fields_of(here, PenetrationRow, "tag", "crosses", "fire_rating", "storey", "kind", "size"),
        *fields_of(here, PenetrationRow, "width_m", "depth_m", "cables", "sleeves", "closed"),
    ]
    return schedule(
        "Openings through rated walls and floors", fields, here.document.penetrations, total="All"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class CautionsPage:
    """What can hurt somebody, for those who use the system and for those who do the work.

    use, work: title and text of each caution; one for both stands in the first alone.
    """

    template: ClassVar[str] = "cautions.md.jinja"
    prose: Html | None
    use: tuple[tuple[Html, Html], ...]
    work: tuple[tuple[Html, Html], ...]


def cautions_page(here: PageContext) -> CautionsPage:
    """Return the page of cautions."""
    return CautionsPage(
        prose=prose_of(here.document, "cautions", here.path),
        use=_cautions(here.document.cautions),
        work=_cautions(
            tuple(one for one in here.document.work_cautions if one not in here.document.cautions)
        ),
    )


def _cautions(cautions: tuple[Caution, ...]) -> tuple[tuple[Html, Html], ...]:
    return tuple((text(caution.title), text(caution.text)) for caution in cautions)
