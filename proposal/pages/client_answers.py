"""What a client asks first, each answer made once: every page that tells it takes it from here."""

import datetime
from collections.abc import Iterator

from proposal.document.rows.programme import ProgrammeSummary
from proposal.editions import AlternateEdition
from proposal.pages import paths
from proposal.pages.markdown import Html, join, text
from proposal.pages.page_context import PageContext
from proposal.pages.prose import prose_of
from proposal.quantities import formatting

PAYMENTS = f"{paths.PRICE}#payments"
NOT_INCLUDED = f"{paths.SUMMARY}#what-is-not-included"
NEEDED = f"{paths.SUMMARY}#what-we-need-from-you"
"""Where the answers stand."""


def order_and_acceptance(here: PageContext) -> str:
    """Return in sentences by when to order, when the work is done, and how long the price holds."""
    programme, locale = here.document.programme, here.cover.locale
    last = formatting.date(here.cover.valid_until, locale)
    holds = f"{last}{but_rates(here)}"
    if programme is None or not here.document.activities:
        return f"The price holds until {holds}."
    order, done = (formatting.date(day, locale) for day in (programme.start, programme.finish))
    if programme.start > here.cover.valid_until:
        return (
            f"The price holds until {holds}; the programme begins later, on {order}, and ends with "
            f"acceptance on {done}. Order by {last}, or ask us to prolong the price."
        )
    first = programme.order_not_before == programme.start
    by = f"Order on {order}, the first day on which you can" if first else f"Order by {order}"
    return (
        f"{by}; the work is then complete and accepted on {done}. The price holds until {holds}. "
        "Each working day that the order comes later may move acceptance, and the other days with it, by a "
        f"working day.{_last_order(here, programme)}"
    )


def choose_by(here: PageContext) -> str:
    """Return by when alternates are chosen, as a sentence."""
    programme = here.document.programme
    if programme is None or not here.document.activities:
        return "Choose with the order."
    last = min(programme.start, here.cover.valid_until)
    return f"Choose with the order, by {formatting.date(last, here.cover.locale)}."


def days_chosen(here: PageContext) -> str:
    """Return by when alternates are chosen, and what the days beside them mean, in sentences."""
    programme, locale = here.document.programme, here.cover.locale
    said = choose_by(here)
    if programme is None or not here.document.activities:
        return said
    told = [said, f"The days of acceptance hold for an order on {formatting.date(programme.start, locale)}."]
    if programme.asked_by is not None:
        asked = formatting.date(programme.asked_by, locale)
        told.append(f"An order on the latest day that is shown is accepted by {asked}, as you asked.")
    return " ".join(told)


def _last_order(here: PageContext, programme: ProgrammeSummary) -> str:
    """Return until when an order keeps the day that the client asked for; empty without one."""
    if programme.asked_by is None or programme.latest_order is None:
        return ""
    locale = here.cover.locale
    asked, last = (formatting.date(day, locale) for day in (programme.asked_by, programme.latest_order))
    others = [
        f"with “{one.row.name}” {_ordered_by(day, locale)}"
        for one in here.edition.alternates
        if not one.row.not_offered
        and one.document.programme is not None
        and (day := one.document.programme.latest_order) != programme.latest_order
    ]
    told = f", {formatting.listed(others)}" if others else ""
    return f" To have it accepted by {asked}, as you asked, order by {last} at the latest{told}."


def _ordered_by(day: datetime.date | None, locale: str) -> str:
    return "that day cannot be kept" if day is None else f"by {formatting.date(day, locale)}"


def but_rates(here: PageContext) -> str:
    """Return that sums in other currencies follow their rates; empty where there are none."""
    codes = [row.currency for row in here.document.exchange_rates]
    if not codes:
        return ""
    rates = "rate" if len(codes) == 1 else "rates"
    aside = any(row.group == "allowance" for row in here.document.offer)
    after = ", and those set aside until they are paid" if aside else ""
    sums = f"sums in {formatting.listed(codes)}"
    return f", but {sums} follow the exchange {rates} until the price is agreed{after}"


def payments_in_short(here: PageContext) -> Html | None:
    """Return in how many parts the price is paid, and the first of them; None where no payment is agreed."""
    parts = [row for row in here.document.payments if row.share]
    if not parts:
        return None
    cover, first = here.cover, parts[0]
    amount = formatting.money(first.due, cover.currency, cover.locale)
    taxed = " with tax" if here.document.taxes else ""
    due = first.due_date
    day = "" if due is None else f", by {formatting.date(due, cover.locale)}"
    said = (
        f"You pay the price at once: {amount}{taxed}{day}."
        if len(parts) == 1
        else f"You pay in {len(parts)} parts, the first of them {amount}{taxed}{day}."
    )
    kept = [row for row in here.document.payments if not row.share]
    if kept and kept[-1].due_date is not None:
        last = formatting.money(kept[-1].due, cover.currency, cover.locale)
        said += (
            f" What is kept of them, {last}, follows by {formatting.date(kept[-1].due_date, cover.locale)}."
        )
    return join((text(said), text("Each sum and its day:"), here.to(PAYMENTS, "payments")), " ")


def own_equipment_with(here: PageContext, one: AlternateEdition) -> str:
    """Return what an alternate asks the client to furnish besides, in a sentence; empty for nothing.

    one: the alternate.
    """
    known = {row.tag for row in here.document.owner_equipment}
    more = [row for row in one.document.owner_equipment if row.tag not in known]
    muted = {tag for row in here.document.mute_controls for tag in row.rooms}
    panels = [
        tag for row in one.document.mute_controls if not row.controls for tag in row.rooms if tag not in muted
    ]
    named = [f"{row.name} ({row.room})" for row in more]
    named += [f"a panel, computer or laptop that mutes all microphones together ({tag})" for tag in panels]
    if not named:
        return ""
    names = formatting.listed(named)
    return f"With it you also furnish, at your own cost: {names}."


def own_equipment_sentences(here: PageContext) -> Iterator[Html]:
    """Yield a sentence for each alternate that asks the client to furnish something besides."""
    for one in here.edition.alternates:
        said = own_equipment_with(here, one)
        if said:
            link = here.to(paths.alternate_path(one.row.key), one.row.name)
            yield join((link, text(f": {said[0].lower()}{said[1:]}")))


def not_included(here: PageContext) -> tuple[Html | None, tuple[Html, ...]]:
    """Return what is not part of the price: as the author wrote it, or line by line where nobody did."""
    written = prose_of(here.document, "exclusions", here.path, level=3)
    return written, () if written else tuple(text(line) for line in here.document.exclusions)
