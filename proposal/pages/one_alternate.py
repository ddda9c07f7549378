"""One alternate, and all that would be otherwise with it."""

from dataclasses import replace
from typing import ClassVar

from proposal.differences.changes import Changes, State
from proposal.differences.details import by_subject, details_of
from proposal.differences.inputs import Inputs
from proposal.differences.terms_sentences import ASSUMPTIONS
from proposal.differences.told_changes import ToldChange, told_changes
from proposal.editions import AlternateEdition
from proposal.field_classes import dataclass
from proposal.pages.added_by_alternate import assumed_with, each_year_with, furnished_with
from proposal.pages.alternates import TOTALS, about_offer, for_the_client
from proposal.pages.client_answers import tax_of_alternates
from proposal.pages.client_changes import ToldSection, told_sections
from proposal.pages.consequence_tables import by, changed_totals, rows_that_differ
from proposal.pages.markdown import Html, text
from proposal.pages.page_context import PageContext
from proposal.pages.page_elements import note_box
from proposal.pages.paths import ALTERNATES
from proposal.quantities import formatting


@dataclass(frozen=True, slots=True, kw_only=True)
class AlternatePage:
    """One alternate, and all that would be otherwise with it.

    totals: those that differ; whole: what the price among them is; unchanged: names of the chief ones that
        do not.
    each_year: what it adds to what recurs; None where nothing recurs or the reader reads no prices.
    told: what differs in sentences, as a client reads it.
    subjects: heading and rows that differ of each, for who reads them; nothing: said where nothing differs.
    """

    template: ClassVar[str] = "alternate.md.jinja"
    name: Html
    description: Html
    on_request: Html | None
    internal_note: Html | None
    overview: Html
    totals: Html | None
    whole: Html | None
    each_year: Html | None
    unchanged: Html | None
    told: tuple[ToldSection, ...]
    subjects: tuple[tuple[Html, Html], ...]
    nothing: Html | None


_WHOLE = (
    "The difference of the price is all that you pay for it. The price of each room is a share of the whole "
    "and is shared out again, so that the price of another room may change a little with it."
)


def client_alternate_page(here: PageContext, alternate: AlternateEdition) -> AlternatePage:
    """Return the page of one alternate without the rows that differ: sentences tell of them.

    It has one price, that of the whole: how it would be shared among the rooms anew is no second one.
    """
    told = (
        one.model_copy(update={"price_before": None, "price_now": None})
        for one in _told(here, alternate)
        if one.sentences
    )
    each_year = each_year_with(here, alternate)
    return replace(
        alternate_page(here, alternate),
        each_year=text(each_year) if each_year and alternate.document.price is not None else None,
        whole=text(f"{_WHOLE} {tax_of_alternates(here)}".strip()) if _costs_otherwise(alternate) else None,
        told=told_sections(here, tuple(told)),
        subjects=(),
    )


def _costs_otherwise(alternate: AlternateEdition) -> bool:
    return any(one.changed for one in alternate.consequences if one.group == "price")


def alternate_page(here: PageContext, alternate: AlternateEdition) -> AlternatePage:
    """Return the page of one alternate."""
    details = details_of(alternate.difference, here.document, alternate.document)
    for_client = here.edition.reader == "client"
    told = [one for one in alternate.consequences if not for_client or for_the_client(one.group, one.name)]
    differ = [one for one in told if by(here, one, "")]
    alike = {(one.group, one.name) for one in told if not by(here, one, "")}
    unchanged = [title[0].lower() + title[1:] for title, group, name in TOTALS if (group, name) in alike]
    return AlternatePage(
        name=text(alternate.row.name),
        description=text(f"{alternate.row.description} {furnished_with(here, alternate)}".strip()),
        on_request=about_offer(here, alternate.row),
        internal_note=note_box(here.heading("internal_note"), alternate.row.internal_note),
        overview=here.to(ALTERNATES, "All alternates"),
        totals=changed_totals(here, "Totals that differ", differ, ("As proposed", "With this alternate"))
        if differ
        else None,
        whole=None,
        each_year=None,
        unchanged=text(formatting.listed(unchanged)) if unchanged else None,
        told=told_sections(here, _told(here, alternate)),
        subjects=tuple(
            (text(subject), rows_that_differ(here, f"{subject}: what differs", rows))
            for subject, rows in by_subject(details, here.values.words)
        ),
        nothing=None if differ or details else text("Nothing that this edition shows would change."),
    )


def _told(here: PageContext, alternate: AlternateEdition) -> tuple[ToldChange, ...]:
    """Return what an alternate changes, in sentences.

    Prose that names values reads otherwise with every alternate; what these values do is told already.
    """
    told = (one for one in told_changes(_from_base(here, alternate)) if one.cause != "texts")
    return tuple(_with_assumptions(here, alternate, one) if one.cause == "terms" else one for one in told)


def _with_assumptions(here: PageContext, alternate: AlternateEdition, told: ToldChange) -> ToldChange:
    """Return what an alternate changes of the terms with its assumptions in full: no list marks them."""
    kept = tuple(one for one in told.sentences if not one.startswith(ASSUMPTIONS))
    return told.model_copy(update={"sentences": (*kept, *assumed_with(here, alternate))})


def _from_base(here: PageContext, alternate: AlternateEdition) -> Changes:
    """Return an alternate as a change of the proposal; nobody has to be told that it is chosen."""
    date = here.cover.revision.date
    chosen = alternate.document.included_alternates
    same: dict[str, object] = {"included_alternates": chosen}
    if alternate.document.price is None:
        same["offer"] = ()  # priced on request: no price is told beside none
    base = here.document.model_copy(update=same)
    return Changes(
        before=State(label="the proposal", document=base, date=date),
        after=State(label=alternate.row.name, document=alternate.document, date=date),
        difference=alternate.difference,
        consequences=alternate.consequences,
        inputs=Inputs(),
    )
