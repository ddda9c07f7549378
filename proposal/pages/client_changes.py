"""What changed since the issue before, in sentences: price and days first, then cause by cause."""

from collections.abc import Iterator
from typing import ClassVar, TypeAlias

from proposal.differences.changes import Changes
from proposal.differences.told_changes import ChangeCause, ToldChange, told_changes
from proposal.document.schedule import columns_of
from proposal.document.values import cell_text
from proposal.field_classes import dataclass
from proposal.pages.consequence_tables import totals_side_by_side
from proposal.pages.markdown import Html, html_text, join, text
from proposal.pages.page_context import PageContext
from proposal.pages.schedule_table import Field, fields_of, schedule
from proposal.quantities import formatting

TOTALS = (
    ("price", "price_before_tax"),
    ("price", "tax"),
    ("price", "price_with_tax"),
    ("programme", "acceptance"),
)
"""What a client asks first: group and name of each total."""
HEADINGS: dict[ChangeCause, str] = {
    "chosen": "What you chose",
    "asked": "Changes to rooms and building",
    "follows": "What follows",
    "dates": "Days",
    "terms": "Scope and terms",
    "texts": "Texts that were rewritten",
}


ToldSection: TypeAlias = tuple[Html, tuple[tuple[Html | None, tuple[Html, ...]], ...]]
"""What changed for one cause: its heading, then what each part is about, if that says more, and sentences."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClientChangesPage:
    """What changed, as a client reads it.

    since: with what this revision is compared.
    summary: what the author says of the revision; None where nothing.
    totals: price and acceptance, before and now; None where neither is told.
    prices: what each part that changed does to the price; None where no price is told by parts.
    """

    template: ClassVar[str] = "client_changes.md.jinja"
    since: Html
    summary: Html | None
    totals: Html | None
    prices: Html | None
    sections: tuple[ToldSection, ...]
    nothing: Html | None


def client_changes_page(here: PageContext, changes: Changes) -> ClientChangesPage:
    """Return the page of what changed in sentences.

    changes: of this edition.
    """
    told = told_changes(changes)
    heads = (f"In {changes.before.label}", "Now")
    totals = [one for name in TOTALS for one in changes.consequences if (one.group, one.name) == name]
    priced = [one for one in told if one.price_difference is not None]
    summary = here.cover.revision.changes
    return ClientChangesPage(
        since=since(here, changes),
        summary=text(summary) if summary else None,
        totals=totals_side_by_side(here, "Price and acceptance", totals, heads) if totals else None,
        prices=_prices(here, priced) if priced else None,
        sections=told_sections(here, told),
        nothing=None if told else text("Nothing that this edition shows has changed."),
    )


def since(here: PageContext, changes: Changes) -> Html:
    """Return the name of the issue with which a revision is compared.

    changes: of this edition.
    """
    revision = changes.before.document.cover.revision
    words = f"{changes.before.label} of {formatting.date(changes.before.date, here.cover.locale)}"
    return text(f"{words}, issued {revision.purpose}" if revision.purpose else words)


def _prices(here: PageContext, told: list[ToldChange]) -> Html:
    fields: list[Field[ToldChange]] = [
        *fields_of(here, ToldChange, "about", "price_before", "price_now", "price_difference"),
    ]
    return schedule("Price before tax of what changed", fields, told, total="Together")


def told_sections(here: PageContext, told: tuple[ToldChange, ...]) -> tuple[ToldSection, ...]:
    """Return what changed by cause, as ready text, with what it does to the price.

    told: in the order in which it is told.
    """
    return tuple(
        (
            text(heading),
            tuple(
                (text(one.about) if one.about else None, _sentences(here, one))
                for one in told
                if one.cause == cause
            ),
        )
        for cause, heading in HEADINGS.items()
        if any(one.cause == cause for one in told)
    )


def _sentences(here: PageContext, one: ToldChange) -> tuple[Html, ...]:
    return (*(text(sentence) for sentence in one.sentences or (_ONLY_SHARE,)), *_price(here, one))


def _price(here: PageContext, one: ToldChange) -> Iterator[Html]:
    """Yield the sentence that says what a change does to the price, where that differs."""
    if not one.price_difference:
        return
    columns = columns_of(ToldChange)
    by, now = (
        cell_text(columns[name].of(one, here.document), columns[name].shows, here.values)
        for name in ("price_difference", "price_now")
    )
    rest = text(f"before tax, now {now}." if now else "before tax.")
    yield join((text("Price:"), Html(f"<strong>{html_text(by)}</strong>"), rest), " ")


_ONLY_SHARE = "The equipment that we furnish here is the same; its share of the whole price changed."
