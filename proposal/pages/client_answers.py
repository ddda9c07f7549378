"""What a client asks first, each answer made once: every page that tells it takes it from here."""

import datetime
from collections.abc import Collection, Iterator, Mapping, Sequence

from proposal.document.order_days import order_days
from proposal.document.rows.client_steps import (
    PANEL_MAINS,
    PANEL_OUTLETS,
    PANELS,
    SLEEVES,
    YOU,
    YOURS,
    called_by_client,
)
from proposal.document.rows.mute_controls import panel_count
from proposal.document.rows.owner_equipment import FIRST_FIX
from proposal.document.rows.price_movers import RATES
from proposal.document.rows.programme import ProgrammeSummary
from proposal.pages import paths
from proposal.pages.added_by_alternate import furnished_with
from proposal.pages.markdown import Html, join, text
from proposal.pages.page_context import PageContext
from proposal.pages.prose import prose_of
from proposal.quantities import formatting
from proposal.quantities.code_runs import code_phrase
from proposal.quantities.formatting import count_of

PAYMENTS = f"{paths.PRICE}#payments"
DELAYS = f"{paths.PROGRAMME}#delays"
NOT_INCLUDED = f"{paths.SUMMARY}#what-is-not-included"
NEEDED = f"{paths.SUMMARY}#what-we-need-from-you"
"""Where the answers stand."""


def order_and_acceptance(here: PageContext) -> str:
    """Return in sentences by when to order, when the work is done, and how long the price holds."""
    programme = here.document.programme
    later = "" if programme is None else _last_order(here, programme)
    return f"{order_days(here.document)}{later}"


def choose_by(here: PageContext) -> str:
    """Return by when alternates are chosen, as a sentence."""
    programme = here.document.programme
    if programme is None or not here.document.activities:
        return "Choose with the order."
    last = min(programme.start, here.cover.valid_until)
    return f"Choose with the order; the days hold for an order by {formatting.date(last, here.cover.locale)}."


def tax_of_alternates(here: PageContext) -> str:
    """Return how the tax of an alternate is rounded, in a sentence; empty without tax."""
    if not here.document.taxes:
        return ""
    return "Tax is rounded line by line, so that of an alternate may differ by some cents from its rate."


def groups_to_choose(here: PageContext) -> Mapping[str, tuple[str, ...]]:
    """Return the alternates that can be chosen of each group of which one has to be, by what it is for."""
    found: dict[str, tuple[str, ...]] = {}
    for one in here.edition.alternates:
        if one.row.one_of and not one.row.not_offered:
            found[one.row.one_of] = (*found.get(one.row.one_of, ()), one.row.key)
    return found


def names_in_quotes(here: PageContext, keys: Sequence[str]) -> str:
    """Return the names of alternates; keys: of them."""
    names = {one.row.key: one.row.name for one in here.edition.alternates}
    return formatting.listed([f"“{names[key]}”" for key in keys])


def still_to_choose(here: PageContext) -> Iterator[str]:
    """Yield in sentences what has to be chosen, and the lowest price with it, beside that as it stands."""
    cover, least = here.cover, _least_chosen(here)
    for name, keys in groups_to_choose(here).items():
        yield f"One alternate has to be chosen for {name}: {names_in_quotes(here, keys)}."
    if least and here.document.price is not None:
        now = formatting.money(here.document.price.price, cover.currency, cover.locale)
        yield (
            f"The price of the proposal as it stands, {now} before tax, holds none of them and cannot be "
            f"ordered alone; with the least that can be chosen it is {least}."
        )


def open_choices(here: PageContext) -> str:
    """Return for what one alternate has to be chosen, and the lowest price with it; empty for nothing."""
    names, least = formatting.listed(list(groups_to_choose(here))), _least_chosen(here)
    return f"{names}; then {least} before tax at least" if least else names


def _least_chosen(here: PageContext) -> str:
    """Return the lowest price before tax with all that has to be chosen; empty without one."""
    groups = groups_to_choose(here)
    prices = [
        row.price
        for row in here.edition.combinations
        if row.price is not None and not row.to_choose and len(row.chosen) == len(groups)
    ]
    return formatting.money(min(prices), here.cover.currency, here.cover.locale) if groups and prices else ""


def days_chosen(here: PageContext) -> str:
    """Return by when alternates are chosen, and what the days beside them mean, in sentences."""
    programme, locale = here.document.programme, here.cover.locale
    said = choose_by(here)
    if programme is None or not here.document.activities:
        return said
    told = [said]
    if programme.asked_by is not None:
        asked = formatting.date(programme.asked_by, locale)
        told.append(
            f"With an order on the latest day that is shown the work is accepted by {asked}, as you asked."
        )
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


def rates_followed(here: PageContext) -> str:
    """Return which sums follow an exchange rate, and how long; empty where none does."""
    return " ".join(row.settled for row in here.document.price_movers if row.place == RATES)


def rooms_in_use(here: PageContext, tags: Collection[str] = ()) -> Iterator[Html]:
    """Yield, storey by storey, from which day rooms can be used, in a sentence; nothing without a programme.

    tags: of the rooms that are asked for; empty for all.
    """
    document, locale = here.document, here.cover.locale
    if document.programme is None or not document.activities:
        return
    accepted = formatting.date(document.programme.finish, locale)
    tested = {row.storey: row.finish for row in document.activities if row.kind == "commissioning"}
    storeys: dict[str, list[str]] = {}
    for row in document.planned_rooms:
        if not tags or row.tag in tags:
            storeys.setdefault(row.storey, []).append(row.name)
    for storey, names in storeys.items():
        day = tested.get(storey)
        shown = "" if day is None else f"; the sound there is tested by {formatting.date(day, locale)}"
        yield text(
            f"{code_phrase(names)}: you can meet there after {accepted}, the day of acceptance{shown}."
        )


def panels_wanted(here: PageContext) -> str:
    """Return how many panels that mute are wanted, and what each needs, in sentences; empty for none."""
    known = panel_count(here.document.mute_controls)
    if not known.least:
        return ""
    rooms = formatting.listed(list(known.shared))
    more = f", or up to {known.most} where people who mute in one room ({rooms}) do not share one"
    return (
        f"{formatting.count_of(known.least, 'is', 'are')} needed, one in each room"
        f"{more if known.more else ''}. {_decided(here)}Each needs a data "
        "outlet, a cable from it to the port that the table of mutes keeps for its room, a mains outlet, and "
        f"an address of the range of the microphones. {_furnished(here)}Where that port is in another room, "
        "the cable is laid while its way is open, and keeps to the 90 m of the standard; a "
        "further panel in a room shares its port by a small network switch beside the outlet. "
        f"{_openings(here)}None of it is in this price."
    )


def _decided(here: PageContext) -> str:
    """Return by when the client decides how many panels mute, and where; empty without a day."""
    day = next((row.by for row in here.document.client_steps if row.key == PANELS), None)
    if day is None:
        return ""
    said = formatting.date(day, here.cover.locale)
    you = "You decide" if here.edition.reader == "client" else "The client decides"
    return f"{you} by {said} how many there are and where each stands. "


def _furnished(here: PageContext) -> str:
    """Return who furnishes outlets and cables for panels that mute, and by when, in a sentence."""
    document = here.document
    names = dict(document.parties)
    told = []
    for what, about in (("data outlets", PANEL_OUTLETS), ("mains outlets", PANEL_MAINS)):
        row = next((one for one in document.responsibilities if one.about == about), None)
        if row is None or not row.furnish:
            continue
        who = formatting.listed(
            [_in_a_sentence(called_by_client(names.get(one, one))) for one in row.furnish.split(", ")]
        )
        day = row.first_day(document)
        by = "" if day is None else f" by {formatting.date(day, here.cover.locale)}"
        told.append(f"{what} from {who}{by}")
        if about == PANEL_OUTLETS:
            told.append(f"their cables to the switch from {who} during first fix{_first_fix(here)}")
    return f"They come as follows: {formatting.listed(told)}. " if told else ""


def _in_a_sentence(party: str) -> str:
    """Return what the client calls a party with its article, where it is no name of its own."""
    own = party.startswith((YOU, YOURS, "the ", "a ", "an "))
    return party if own or not party[:1].islower() else f"the {party}"


def _first_fix(here: PageContext) -> str:
    """Return from when to when first fix goes on, after its name; empty without a programme."""
    found = [row for row in here.document.activities if row.kind == FIRST_FIX]
    if not found:
        return ""
    days = (min(row.start for row in found), max(row.finish for row in found))
    first, last = (formatting.date(day, here.cover.locale) for day in days)
    return f", from {first} to {last}"


def _openings(here: PageContext) -> str:
    """Return which openings cables of panels pass that their sleeves are not sized for, in sentences."""
    counts: dict[str, int] = {}
    for row in here.document.mute_controls:
        for tag in row.passes if not row.controls else ():
            counts[tag] = counts.get(tag, 0) + len(row.rooms)
    told = [
        f"{count_of(count, 'cable')} of panels {'passes' if count == 1 else 'pass'} the opening {tag}"
        for tag, count in counts.items()
    ]
    if not told:
        return ""
    said = formatting.listed(told)
    return (
        f"{said[:1].upper()}{said[1:]}. The sleeves listed there are sized without them: a further sleeve"
        f"{_sleeves_from(here)} is set before they are laid. "
    )


def _sleeves_from(here: PageContext) -> str:
    """Return from whom sleeves come, between commas; empty where nobody is named."""
    document, names = here.document, dict(here.document.parties)
    row = next((one for one in document.responsibilities if one.about == SLEEVES), None)
    letters = row.furnish.split(", ") if row is not None and row.furnish else []
    called = [called_by_client(names.get(one, one)) for one in letters]
    return f", from {formatting.listed(called)}," if called else ""


def payments_in_short(here: PageContext) -> Html | None:
    """Return in how many parts the price is paid, with the way to each; None where no payment is agreed."""
    said = payments_sentence(here)
    return (
        join((text(said), text("Each sum and its day:"), here.to(PAYMENTS, "payments")), " ")
        if said
        else None
    )


def payments_sentence(here: PageContext) -> str:
    """Return how many payments there are, the first and what is kept back; empty where none is agreed."""
    parts = [row for row in here.document.payments if row.share]
    if not parts:
        return ""
    cover, first = here.cover, parts[0]
    amount = formatting.money(first.due, cover.currency, cover.locale)
    taxed = " with tax" if here.document.taxes else ""
    due = first.due_date
    day = "" if due is None else f", by {formatting.date(due, cover.locale)}"
    kept = [row for row in here.document.payments if not row.share]
    number = len(parts) + len(kept)
    if number == 1:
        return f"You pay the price at once: {amount}{taxed}{day}."
    said = f"You make {number} payments, the first of them {amount}{taxed}{day}."
    if kept:
        last = formatting.money(kept[-1].due, cover.currency, cover.locale)
        until = kept[-1].due_date
        by_day = "" if until is None else f", by {formatting.date(until, cover.locale)}"
        of = "it" if len(parts) == 1 else "each of the others"
        said += f" The last, {last}{taxed}{by_day}, is what you keep back of {of} as security."
    return said


def own_equipment_sentences(here: PageContext) -> Iterator[Html]:
    """Yield a sentence for each alternate that asks the client to furnish something besides."""
    for one in here.edition.alternates:
        said = furnished_with(here, one)
        if said:
            link = here.to(paths.alternate_path(one.row.key), one.row.name)
            yield join((link, text(f": {said[0].lower()}{said[1:]}")))


def not_included(here: PageContext) -> tuple[Html | None, tuple[Html, ...]]:
    """Return what is not part of the price: as the author wrote it, or line by line where nobody did."""
    written = prose_of(here.document, "exclusions", here.path, level=3)
    return written, () if written else tuple(text(line) for line in here.document.exclusions)
