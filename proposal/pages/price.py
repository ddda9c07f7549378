"""The price as a client reads it: totals, the same total by room, system and phase, taxes and payments."""

from collections.abc import Sequence
from typing import ClassVar

from proposal.document.offer_totals import offered_rooms, offered_systems
from proposal.document.rows.price import (
    ExchangeRow,
    OfferRow,
    PaymentRow,
    PriceSum,
    PriceTotal,
    RoomPrice,
    SystemPrice,
    TaxRow,
    YearlyRow,
)
from proposal.document.rows.terms import EXEMPTION
from proposal.field_classes import dataclass
from proposal.pages import paths
from proposal.pages.author_prose import prose
from proposal.pages.client_answers import rates_followed
from proposal.pages.fact_list import fact_list, facts_of
from proposal.pages.markdown import Html, text
from proposal.pages.page_context import PageContext
from proposal.pages.price_over_time import each_year_table, movers_table, upkeep
from proposal.pages.schedule_table import Field, fields_of, schedule
from proposal.quantities import percentages

SHARED = "For the project as a whole"


@dataclass(frozen=True, slots=True, kw_only=True)
class PricePage:
    """The whole price and what is to be paid when.

    totals: price, tax and total; told: how finely, and in which currency.
    views: heading and table of the same total seen in several ways.
    items, unit_prices: links to the pages of lines and of prices for changes; None where there are none.
    lumps: what the prices of rooms are and are not.
    taxes, allowances, yearly, rates: None where there are none.
    movers: what may change the price.
    each_year: what recurs, whoever is paid for it; None where nothing does.  upkeep: who keeps it running.
    payments: each with its day and its sum.  made_up: what the sums are made of.
    retention: what is kept of each payment, in words.
    """

    template: ClassVar[str] = "price.md.jinja"
    prose: Html | None
    totals: Html
    told: Html | None
    items: Html | None
    unit_prices: Html | None
    views: tuple[tuple[Html, Html], ...]
    lumps: Html
    taxes: Html | None
    allowances: Html | None
    payments: Html
    made_up: Html
    retention: Html | None
    movers: Html
    each_year: Html | None
    yearly: Html | None
    upkeep: Html | None
    rates: Html | None
    rates_followed: Html


def price_page(here: PageContext, price: PriceTotal) -> PricePage:
    """Return the page of the price.

    price: the whole of it.
    """
    document = here.document
    words = document.price_wording
    allowances = tuple(row for row in document.offer if row.group == "allowance")
    return PricePage(
        prose=prose(words, level=2) if words.strip() else None,
        totals=_totals(here, price),
        told=None
        if here.edition.reader == "client"
        else fact_list(
            "How the prices are shown", facts_of(here, price, "currency", "client_detail", "room_view")
        ),
        items=here.to(paths.PRICE_ITEMS, "What the price contains") if paths.lists_offer(document) else None,
        unit_prices=here.to(paths.UNIT_PRICES, "Unit prices for changes")
        if document.unit_prices or document.unit_costs
        else None,
        views=_views(here),
        lumps=text(_lumps(price, allowances)),
        taxes=_taxes(here) if document.taxes else None,
        allowances=_allowances(here, allowances) if allowances else None,
        payments=_payments(here),
        made_up=_made_up(here),
        retention=_retention(here, price) if price.retention else None,
        movers=movers_table(here),
        each_year=each_year_table(here) if document.yearly_costs else None,
        yearly=_yearly(here) if document.yearly and any(row.unit_cost for row in document.yearly) else None,
        upkeep=upkeep(here),
        rates=_rates(here) if document.exchange_rates else None,
        rates_followed=text(rates_followed(here)),
    )


_DIVIDED = "is divided among the rooms in proportion to the list prices of the equipment there"
_SHARES = (
    "A room's price is not the amount by which the whole would fall if the room were left out; "
    "ask us for that."
)
_LUMPS = {
    "room": "A room has one price for equipment, materials and work together.",
    "system": "A system of a room has one price for equipment, materials and work together.",
    "line": "What has a price of its own is listed; a room has one price for materials, work and all else "
    "together.",
}


def _lumps(price: PriceTotal, allowances: Sequence[OfferRow]) -> str:
    """Return what a room's price is made of, and that sums set aside are not divided where there are any.

    allowances: rows of the offer that are sums set aside.
    """
    sums = (
        f"Their sum, without sums set aside, {_DIVIDED}; a sum set aside for a room is wholly in its price."
        if allowances
        else f"Their sum {_DIVIDED}."
    )
    return " ".join(part for part in (_LUMPS.get(price.client_detail, ""), sums, _SHARES) if part)


def _totals(here: PageContext, price: PriceTotal) -> Html:
    exempt = any(row.what == EXEMPTION for row in here.document.contract_terms)
    tax = ("tax", "total") if here.document.taxes and not exempt else ("untaxed",)
    return fact_list(
        "The price",
        (
            *facts_of(here, price, "price", *tax),
            *facts_of(here, here.cover, "valid_until"),
        ),
    )


def _views(here: PageContext) -> tuple[tuple[Html, Html], ...]:
    document = here.document
    views = (
        ("By room", "Price by room", RoomPrice, offered_rooms(document.offer)),
        ("By system", "Price by system", SystemPrice, offered_systems(document.offer)),
    )
    return tuple(
        (text(heading), price_view(here, caption, part, rows))
        for heading, caption, part, rows in views
        if rows
    )


def price_view(here: PageContext, caption: str, part: type[PriceSum], rows: Sequence[PriceSum]) -> Html:
    """Return the same total seen in one way.

    caption: says what the table shows.
    part: class of the rows.
    """
    taxed = bool(here.document.taxes)
    fields: list[Field[PriceSum]] = [
        *fields_of(here, part, "key", "price", *(("tax", "total") if taxed else ())),
    ]
    return schedule(caption, fields, rows, total="Total")


def _taxes(here: PageContext) -> Html:
    rows = here.document.taxes
    fields: list[Field[TaxRow]] = [
        *fields_of(here, TaxRow, "place", "name", "kind", "rate", "price", "tax"),
    ]
    return schedule(
        "Tax by place and kind; it is rounded line by line, and may differ a little from the rate of the sum",
        fields,
        rows,
        total="All",
        row_heads=3,
    )


def _allowances(here: PageContext, rows: Sequence[OfferRow]) -> Html:
    fields: list[Field[OfferRow]] = [
        *fields_of(here, OfferRow, "number", "description", "room", "price"),
    ]
    return schedule("Sums set aside", fields, rows)


def _payments(here: PageContext) -> Html:
    """Return each payment with its day and its sum."""
    fields: list[Field[PaymentRow]] = [
        *fields_of(here, PaymentRow, "name", "event", "event_date", "days", "due_date", "due"),
    ]
    return schedule("Payments: by when, and how much", fields, here.document.payments, total="All")


def _made_up(here: PageContext) -> Html:
    """Return what each sum is made of."""
    taxed = ("tax",) if here.document.taxes else ()
    fields: list[Field[PaymentRow]] = [
        *fields_of(here, PaymentRow, "number", "name", "share", "price", *taxed, "retained"),
    ]
    rows = [row for row in here.document.payments if row.share]
    return schedule("What each sum is made of", fields, rows, total="All", row_heads=2)


def _retention(here: PageContext, price: PriceTotal) -> Html:
    share = percentages.percentage(price.retention, here.cover.locale)
    taxed = " with tax" if here.document.taxes else ""
    return text(
        f"{share} of each payment is kept until the retention falls due; what is to be paid is the "
        f"rest{taxed}."
    )


def _yearly(here: PageContext) -> Html:
    rows = here.document.yearly
    open_ones = any(row.price is None for row in rows)
    fields: list[Field[YearlyRow]] = [
        *fields_of(here, YearlyRow, "item", "description", "quantity", "unit_price", "price"),
        *fields_of(here, YearlyRow, "unit_cost", "computed"),
    ]
    total = "" if open_ones else "All"
    return schedule("What recurs each year, before tax", fields, rows, total=total)


def _rates(here: PageContext) -> Html:
    fields: list[Field[ExchangeRow]] = [
        *fields_of(here, ExchangeRow, "currency", "rate", "date", "source"),
    ]
    return schedule("Exchange rates", fields, here.document.exchange_rates)
