"""What is ordered with the alternates that are ticked: payments, what you furnish, and lines to sign."""

from collections.abc import Iterator, Mapping, Sequence
from functools import partial

from proposal.document.rows.alternates import CombinationRow
from proposal.document.rows.price import PaymentRow
from proposal.pages.added_by_alternate import furnished_with
from proposal.pages.fact_list import facts_to_come, rows_to_come
from proposal.pages.markdown import Html, html_text
from proposal.pages.page_context import PageContext
from proposal.pages.schedule_table import Field, fields_of, schedule
from proposal.pages.tables import Column
from proposal.quantities import formatting

_COLUMNS = ("name", "due_date", "due")
"""What is told of each payment of a choice."""


def payments_of(here: PageContext, row: CombinationRow) -> Sequence[Sequence[str]]:
    """Return the payments of a choice: name, last day to pay, and sum of each."""
    cover = here.cover
    return [
        [
            one.name,
            "" if one.due_date is None else formatting.date(one.due_date, cover.locale),
            formatting.money(one.due, cover.currency, cover.locale),
        ]
        for one in row.payments
    ]


def payments_of_all(here: PageContext, rows: Sequence[CombinationRow]) -> Html | None:
    """Return what is paid with each choice: a row a choice, a column a payment; None where none is agreed.

    rows: choices that can be ordered.
    """
    shown = [row for row in rows if row.payments]
    if not shown:
        return None

    def due(row: CombinationRow, name: str) -> object:
        return here.money(next((one.due for one in row.payments if one.name == name), None))

    names = dict.fromkeys(one.name for row in shown for one in row.payments)
    fields: list[Field[CombinationRow]] = [
        *fields_of(here, CombinationRow, "chosen"),
        *(Field(Column(name, numeric=True), partial(due, name=name)) for name in names),
    ]
    taxed = ", with tax" if here.document.taxes else ""
    made = schedule(f"Payments of all combinations{taxed}", fields, shown)
    return Html(f'<div class="payments-of-all">\n{made}\n</div>')


def payments_to_come(here: PageContext) -> Html:
    """Return a table of payments with nothing in it before a script fills it; empty where none is agreed."""
    if not any(row.payments for row in here.edition.combinations):
        return Html("")
    taxed = ", with tax" if here.document.taxes else ""
    return rows_to_come(here, "chosen-payments", f"Payments with this choice{taxed}", PaymentRow, _COLUMNS)


def order_form(here: PageContext, parts: Mapping[str, str]) -> Iterator[str]:
    """Yield what is printed of the choice alone, with lines to sign; a script names what is ticked.

    parts: columns of a choice by what the script calls each.
    """
    cover = here.cover
    revision = f"revision {cover.revision.identity} of {formatting.date(cover.revision.date, cover.locale)}"
    named = ", ".join(part for part in (cover.name, cover.number, revision) if part)
    to = ", ".join(part for part in (cover.integrator.name, *cover.integrator.address) if part)
    ordered = (
        f"{cover.client.name} orders the work of this proposal, with the alternates named below, at the "
        "price below and on the terms of the proposal."
    )
    yield '<section class="sign">'
    yield "<h3>Order form</h3>"
    for said in (named, f"To: {to}", ordered):
        yield f"<p>{html_text(said)}</p>"
    yield '<ul class="sign__chosen" data-none="No alternate: the proposal as it stands"></ul>'
    yield facts_to_come(here, CombinationRow, parts)
    yield f"<p>{html_text(_days_hold(here))}</p>"
    yield payments_to_come(here)
    if any(furnished_with(here, one) for one in here.edition.alternates):
        yield '<ul class="sign__furnished"></ul>'
    yield '<p class="sign__address"></p>'
    yield (
        f'<p class="sign__line">Ordered for {html_text(cover.client.name)}: name, position, date, '
        "signature</p>"
    )
    yield (
        f'<p class="sign__line">Order accepted for {html_text(cover.integrator.name)}: name, date, '
        "signature</p>"
    )
    yield "</section>"


def _days_hold(here: PageContext) -> str:
    """Return until when the price holds, and the days with it."""
    programme, cover = here.document.programme, here.cover
    last = formatting.date(cover.valid_until, cover.locale)
    said = f"The price holds for an order by {last}."
    if programme is None or not here.document.activities:
        return said
    by = formatting.date(min(programme.start, cover.valid_until), cover.locale)
    return (
        f"{said} The day of acceptance and the days of payment hold for an order by {by}; each working day "
        "that it comes later may move them by a working day."
    )
