"""The cover and the summary."""

from collections.abc import Iterator
from functools import partial
from typing import ClassVar
from urllib.parse import quote

from proposal.document.rows.findings import FindingCount
from proposal.document.rows.rooms import RoomSheet
from proposal.document.rows.terms import Party, RevisionRow
from proposal.field_classes import dataclass
from proposal.pages import paths
from proposal.pages.client_answers import NEEDED, NOT_INCLUDED, open_choices
from proposal.pages.fact_list import Fact, fact_list, fact_of_part, facts_of, leading_to, marked
from proposal.pages.markdown import Html, join, text
from proposal.pages.page_context import PageContext
from proposal.pages.page_elements import note_box
from proposal.pages.phrases import capital, code_runs, natural, plural
from proposal.pages.prose import prose_of
from proposal.pages.requirements import requirements_met
from proposal.pages.schedule_table import Field, fields_of, schedule
from proposal.pages.tables import Column
from proposal.quantities import formatting


@dataclass(frozen=True, slots=True, kw_only=True)
class CoverPage:
    """The first page: what the proposal is, for whom, in which revision, until when.

    called: by which words the pages mean the two parties.
    start: leads a client to the page that answers first.  answers: lead to each answer that a client wants.
    contents: links to the chapters.
    downloads: links to the files that the edition is handed over with.
    """

    template: ClassVar[str] = "cover.md.jinja"
    logo: Html | None
    name: Html
    site: Html
    facts: Html
    client: Html
    integrator: Html
    called: Html
    revisions: Html
    contents: tuple[Html, ...]
    start: Html | None
    answers: tuple[Html, ...]
    downloads: Html | None
    internal_note: Html | None


def called_on_pages(here: PageContext) -> Html:
    """Return the names by which pages call the client and the integrator."""
    client, integrator = here.cover.client.name, here.cover.integrator.name
    own = (
        "“you” and “the owner” are" if here.edition.reader == "client" else "“the client” and “the owner” are"
    )
    return text(
        f"On these pages {own} {client}; “we”, “us” and “the audio-visual contractor” are {integrator}."
    )


def cover_page(here: PageContext, contents: tuple[Html, ...], downloads: Html | None = None) -> CoverPage:
    """Return the cover.

    contents: links to the chapters, from the cover.
    downloads: links to the files that the edition is handed over with.
    """
    cover = here.cover
    revision = cover.revision
    for_client = here.edition.reader == "client"
    return CoverPage(
        logo=_logo(here) if cover.logo else None,
        name=text(cover.name),
        site=text(cover.site),
        facts=fact_list(
            "The proposal",
            (
                *((*price_facts(here), *days_of_work(here)) if for_client else ()),
                *facts_of(here, cover, "number"),
                *facts_of(here, revision, "identity", "date", "purpose"),
                *facts_of(here, cover, "state", "with_errors", "record_digest", "rebuilt", "valid_until"),
                *facts_of(here, cover, "warranty_months"),
                _edition(here),
                # What the radio needs no client has to know before it is read of on its page.
                *(() if for_client else facts_of(here, cover, "region")),
            ),
        ),
        client=_party(here, "client", cover.client),
        integrator=_party(here, "integrator", cover.integrator),
        called=called_on_pages(here),
        revisions=_revisions(here),
        contents=contents,
        start=here.to(paths.SUMMARY, "Summary: price, days, choices, and what we need from you")
        if for_client
        else None,
        answers=tuple(_answers(here)) if for_client else (),
        downloads=downloads,
        internal_note=note_box(here.heading("internal_note"), cover.internal_note),
    )


def _answers(here: PageContext) -> Iterator[Html]:
    """Yield the way to each answer that a client wants first, one click away."""
    document = here.document
    if document.price is not None:
        yield here.to(paths.PRICE, "What it costs, what may change that, and when you pay")
    if document.activities:
        yield here.to(paths.PROGRAMME, "When it is ready, what may delay it, and by when to order")
    yield here.to(NEEDED, "What you have to decide and to have ready, and by when")
    if document.wording.get("exclusions") or document.exclusions:
        yield here.to(NOT_INCLUDED, "What is not included")
    sheets = join((named_rooms(here, sheet) for sheet in document.room_sheets), ", ")
    yield join((text("What happens in each room:"), sheets), " ")


def _logo(here: PageContext) -> Html:
    # The name of whoever the logo belongs to stands in words on the same page.
    return Html(f'<img src="{quote(here.href(f"images/{here.cover.logo}"))}" alt="">')


def _edition(here: PageContext) -> Fact:
    reader = here.edition.reader
    return Fact(here.heading("edition"), here.values.words.value(reader, "edition"))


def _party(here: PageContext, role: str, party: Party) -> Html:
    return fact_list(
        here.heading(role),
        (*fact_of_part(here, here.cover, role, "name"), *facts_of(here, party, "contact", "address")),
    )


def _revisions(here: PageContext) -> Html:
    fields: list[Field[RevisionRow]] = [
        *fields_of(here, RevisionRow, "identity", "date", "purpose", "state"),
        *fields_of(here, RevisionRow, "changes", "prepared_by", "checked_by"),
    ]
    return schedule("Revisions, the oldest first", fields, (*here.cover.history, here.cover.revision))


@dataclass(frozen=True, slots=True, kw_only=True)
class SummaryPage:
    """One page for a reader with two minutes: goals, rooms, outcome in figures, what is still open."""

    template: ClassVar[str] = "summary.md.jinja"
    prose: Html | None
    goals: tuple[Html, ...]
    figures: Html
    rooms: Html
    checks: Html | None
    open_questions: Html


def summary_page(here: PageContext) -> SummaryPage:
    """Return the summary."""
    document = here.document
    return SummaryPage(
        prose=prose_of(document, "summary", here.path),
        goals=tuple(text(goal) for goal in document.cover.goals),
        figures=fact_list("Outcome in figures", (*_figures(here), *requirements_met(here))),
        rooms=rooms_of_summary(here),
        checks=None if document.finding_count is None else counts_of_findings(here, document.finding_count),
        open_questions=open_questions(here),
    )


def open_questions(here: PageContext) -> Html:
    """Return how many questions are open and how many assumptions are made, leading to their page."""
    document = here.document
    return here.to(
        paths.ASSUMPTIONS,
        f"{formatting.count_of(len(document.questions), 'open question')} and "
        f"{formatting.count_of(len(document.assumptions), 'assumption')}",
    )


def _figures(here: PageContext) -> tuple[Fact, ...]:
    document = here.document
    counts: dict[str, int] = {}
    for line in document.equipment:
        if line.unit == "each":
            counts[line.kind] = counts.get(line.kind, 0) + line.quantity
    return (
        Fact(here.heading("rooms"), here.to(paths.ROOMS, len(document.rooms) - len(document.portable_sets))),
        *(
            (Fact(here.heading("portable_sets"), here.to(paths.STATES, len(document.portable_sets))),)
            if document.portable_sets
            else ()
        ),
        Fact(here.heading("microphones_in_use_at_once"), sum(row.microphones for row in document.rooms)),
        *(Fact(capital(kind if count == 1 else plural(kind)), count) for kind, count in counts.items()),
        Fact(here.heading("equipment_rooms"), len(document.equipment_rooms) or None),
        *_cables(here),
        *days_of_work(here),
        *leading_to(here, paths.LABOUR, facts_of(here, document, "labour_hours")),
        *price_facts(here),
    )


def _cables(here: PageContext) -> tuple[Fact, ...]:
    """Return how many cables there are, and how long they are together, where the edition holds them."""
    rows = here.document.cable_totals
    if not rows:
        return ()
    length = here.quantity(sum(row.length_m for row in rows), "length")
    together = f"{sum(row.count for row in rows)}, together {length}"
    return (Fact(here.heading("cables"), here.to(paths.CABLES, together)),)


def days_of_work(here: PageContext) -> tuple[Fact, ...]:
    """Return the days of order and acceptance, where the edition has a page for them."""
    document = here.document
    if document.programme is None or not document.activities:
        return ()
    return leading_to(here, paths.PROGRAMME, facts_of(here, document.programme, "start", "finish"))


def price_facts(here: PageContext) -> tuple[Fact, ...]:
    """Return the price and, where the edition holds it, its margin."""
    price = here.document.price
    if price is None:
        return ()
    taxed = bool(here.document.taxes)
    return (
        *leading_to(here, paths.PRICE, facts_of(here, price, "price")),
        *(facts_of(here, price, "tax") if taxed else ()),
        *(leading_to(here, paths.PRICE, facts_of(here, price, "total")) if taxed else ()),
        *leading_to(here, paths.MARGIN, facts_of(here, price, "margin", "margin_share")),
        Fact(here.heading("still_to_choose"), open_choices(here)),
    )


def rooms_of_summary(here: PageContext) -> Html:
    """Return the kinds of room, with their rooms and microphones, as a schedule."""
    rooms = here.document.rooms

    def microphones(sheet: RoomSheet) -> int:
        return sum(room.microphones for room in rooms if room.sheet == sheet.key)

    kind = () if here.edition.reader == "client" else fields_of(here, RoomSheet, "title")
    fields: list[Field[RoomSheet]] = [
        *kind,
        Field(here.heading("rooms"), partial(named_rooms, here)),
        *fields_of(here, RoomSheet, "use_in_full"),
        Field(
            Column(here.heading("microphones"), numeric=True),
            microphones,
            total=lambda _: sum(room.microphones for room in rooms),
        ),
    ]
    return schedule("Rooms, and what happens in them", fields, here.document.room_sheets, total="All rooms")


def named_rooms(here: PageContext, sheet: RoomSheet) -> Html:
    """Return the rooms of a kind by their names, neighbours joined, as links to the page of the kind."""
    names = sorted((row.name for row in here.document.rooms if row.tag in sheet.rooms), key=natural)
    runs = (" to ".join(ends) for ends in code_runs(names))
    return join((here.sheet(sheet.key, run) for run in runs), ", ")


def counts_of_findings(here: PageContext, count: FindingCount) -> Html:
    """Return how many findings of each severity stand, as ready HTML."""
    marks = {
        "errors": "bad" if count.errors else "good",
        "warnings": "care" if count.warnings else "good",
        "notes": "info",
        "accepted": "info",
    }
    return fact_list("Findings of the design review", marked(facts_of(here, count, *marks), marks))
