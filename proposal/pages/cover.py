"""The cover and the summary."""

from dataclasses import dataclass
from typing import ClassVar
from urllib.parse import quote

from proposal.document.rows.findings import FindingCount
from proposal.document.rows.rooms import RoomSheet
from proposal.document.rows.terms import Party, RevisionRow
from proposal.pages import paths
from proposal.pages.build_up import margin_words
from proposal.pages.markdown import Html, html_text, join, text
from proposal.pages.page_context import PageContext, note_box
from proposal.pages.page_elements import facts, status
from proposal.pages.phrases import capital, plural
from proposal.pages.prose import prose_of
from proposal.pages.schedule_table import Field, fields_of, schedule
from proposal.pages.tables import Column
from proposal.quantities import formatting

DRAFT = "draft, not issued"
WITH_ERRORS = "Issued with errors that are not resolved"


@dataclass(frozen=True, slots=True, kw_only=True)
class CoverPage:
    """The first page: what the proposal is, for whom, in which revision, until when.

    contents: links to the chapters.
    """

    template: ClassVar[str] = "cover.md.jinja"
    logo: Html | None
    name: Html
    site: Html
    facts: Html
    client: Html
    integrator: Html
    revisions: Html
    contents: tuple[Html, ...]
    internal_note: Html | None


def cover_page(here: PageContext, contents: tuple[Html, ...]) -> CoverPage:
    """Return the cover.

    contents: links to the chapters, from the cover.
    """
    cover = here.cover
    revision = cover.revision
    return CoverPage(
        logo=_logo(here) if cover.logo else None,
        name=text(cover.name),
        site=text(cover.site),
        facts=facts(
            "The proposal",
            [
                *([("Proposal number", cover.number)] if cover.number else []),
                ("Revision", revision.identity),
                ("Date", formatting.date(revision.date, cover.locale)),
                ("Purpose", revision.purpose),
                *([("State", status(DRAFT, "care"))] if cover.draft else []),
                *([("State", WITH_ERRORS)] if cover.with_errors else []),
                *([("Reason for issuing it so", cover.with_errors)] if cover.with_errors else []),
                *(
                    [("Record", Html(f"<code>{html_text(cover.record_digest)}</code>"))]
                    if cover.record_digest
                    else []
                ),
                *([("Made again with", cover.rebuilt)] if cover.rebuilt else []),
                ("Valid until", formatting.date(cover.valid_until, cover.locale)),
                ("Edition", f"for the {here.edition.reader}"),
                ("Radio region", cover.region),
            ],
        ),
        client=_party("Client", cover.client),
        integrator=_party("Integrator", cover.integrator),
        revisions=_revisions(here),
        contents=contents,
        internal_note=note_box("Internal note", cover.internal_note),
    )


def _logo(here: PageContext) -> Html:
    # The name of whoever the logo belongs to stands in words on the same page.
    return Html(f'<img src="{quote(here.href(f"images/{here.cover.logo}"))}" alt="">')


def _party(role: str, party: Party) -> Html:
    lines = join((line for line in party.address if line), "<br>")
    return facts(
        role,
        [
            (role, party.name),
            *([("Contact", party.contact)] if party.contact else []),
            *([("Address", lines)] if lines else []),
        ],
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
    count = len(document.questions)
    return SummaryPage(
        prose=prose_of(document, "summary", here.path),
        goals=tuple(text(goal) for goal in document.cover.goals),
        figures=facts("Outcome in figures", _figures(here)),
        rooms=_rooms(here),
        checks=None if document.finding_count is None else counts_of_findings(here, document.finding_count),
        open_questions=here.to(
            paths.ASSUMPTIONS,
            f"{formatting.count_of(count, 'open question')} and "
            f"{formatting.count_of(len(document.assumptions), 'assumption')}",
        ),
    )


def _figures(here: PageContext) -> list[tuple[object, object]]:
    document = here.document
    counts: dict[str, int] = {}
    for line in document.equipment:
        if line.unit == "each":
            counts[line.kind] = counts.get(line.kind, 0) + line.quantity
    pairs: list[tuple[object, object]] = [
        ("Rooms", here.to(paths.ROOMS, len(document.rooms))),
        ("Microphones in use at once", sum(row.microphones for row in document.rooms)),
        *((capital(kind if count == 1 else plural(kind)), count) for kind, count in counts.items()),
        ("Equipment rooms", len(document.equipment_rooms)),
    ]
    if document.cable_totals:
        cables = sum(row.count for row in document.cable_totals)
        length_m = sum(row.length_m for row in document.cable_totals)
        pairs.append(
            ("Cables", here.to(paths.CABLES, f"{cables}, together {here.quantity(length_m, 'length')}"))
        )
    if document.programme is not None and document.activities:
        start, finish = (
            formatting.date(day, document.cover.locale)
            for day in (document.programme.start, document.programme.finish)
        )
        pairs += [
            ("Order", here.to(paths.PROGRAMME, start)),
            ("Acceptance", here.to(paths.PROGRAMME, finish)),
        ]
    if document.labour_hours is not None:
        hours = f"{formatting.number(document.labour_hours, document.cover.locale)} h"
        pairs.append(("Labour, travel included", here.to(paths.LABOUR, hours)))
    return [*pairs, *_price(here)]


def _price(here: PageContext) -> list[tuple[object, object]]:
    """Return the price and, where the edition holds it, its margin."""
    price, locale = here.document.price, here.cover.locale
    if price is None:
        return []
    pairs: list[tuple[object, object]] = [
        ("Price before tax", here.to(paths.PRICE, formatting.money(price.price, here.cover.currency, locale)))
    ]
    if here.document.taxes:
        pairs += [
            ("Tax", formatting.money(price.tax, here.cover.currency, locale)),
            (
                "Total with tax",
                here.to(paths.PRICE, formatting.money(price.total, here.cover.currency, locale)),
            ),
        ]
    if price.margin is not None:
        pairs.append(("Margin", here.to(paths.MARGIN, margin_words(here, price))))
    return pairs


def _rooms(here: PageContext) -> Html:
    rooms = here.document.rooms

    def microphones(sheet: RoomSheet) -> int:
        return sum(room.microphones for room in rooms if room.sheet == sheet.key)

    fields: list[Field[RoomSheet]] = [
        *fields_of(here, RoomSheet, "title", "use", "rooms"),
        Field(
            Column(here.heading("microphones"), numeric=True),
            microphones,
            total=lambda _: sum(room.microphones for room in rooms),
        ),
    ]
    return schedule("Kinds of room, and where they are", fields, here.document.room_sheets, total="All rooms")


def counts_of_findings(here: PageContext, count: FindingCount) -> Html:
    """Return how many findings of each severity stand, as ready HTML."""
    errors = status(count.errors, "bad" if count.errors else "good")
    warnings = status(count.warnings, "care" if count.warnings else "good")
    return facts(
        "Findings of the design review",
        [
            ("Errors", errors),
            ("Warnings", warnings),
            ("Notes", status(count.notes, "info")),
            ("Accepted by the designer", status(count.accepted, "info")),
        ],
    )
