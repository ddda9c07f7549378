"""What may change the price, and what the system costs each year."""

from collections.abc import Iterator, Mapping
from decimal import Decimal

from proposal.document.rows.client_steps import called_by_client
from proposal.document.rows.price_movers import (
    ALLOWANCES,
    ALTERNATES,
    ASSUMPTIONS,
    RATES,
    TERMS,
    UNIT_PRICES,
    PriceMoverRow,
)
from proposal.document.rows.yearly_costs import YearlyCostRow
from proposal.pages import paths
from proposal.pages.alternates import has_alternates
from proposal.pages.markdown import Html, join, text
from proposal.pages.page_context import PageContext
from proposal.pages.schedule_table import Field, fields_of, schedule
from proposal.pages.tables import Cell, Column
from proposal.quantities import formatting

EACH_YEAR = f"{paths.PRICE}#each-year"
MOVERS = f"{paths.PRICE}#what-may-change-the-price"
"""Where the tables stand in full."""
_PLACES: Mapping[str, tuple[str, str]] = {
    ALTERNATES: (paths.ALTERNATES, "alternates"),
    ALLOWANCES: (f"{paths.PRICE}#allowances", "allowances"),
    RATES: (f"{paths.PRICE}#exchange-rates", "exchange rates"),
    ASSUMPTIONS: (paths.ASSUMPTIONS, "assumptions and questions"),
    UNIT_PRICES: (paths.UNIT_PRICES, "unit prices"),
    TERMS: (paths.SCOPE, "terms"),
}
"""Page and name of where each row stands in full."""


def movers_table(here: PageContext) -> Html:
    """Return what may change the price, the alternates first."""
    fields: list[Field[PriceMoverRow]] = [
        *fields_of(here, PriceMoverRow, "what", "way"),
        Field(Column(here.heading("sum_concerned"), numeric=True), lambda row: _sum(here, row)),
        *fields_of(here, PriceMoverRow, "settled"),
        Field(here.heading("in_full"), lambda row: _place(here, row.place)),
    ]
    rows = (*_alternates(here), *here.document.price_movers)
    shown = schedule("What makes the price higher or lower, before tax", fields, rows)
    return Html(f'<div class="sentences">\n{shown}\n</div>')


def _sum(here: PageContext, row: PriceMoverRow) -> Cell | str | None:
    """Return the sum of a row; where none can be given, why."""
    return here.money(row.amount) or row.no_sum


def _place(here: PageContext, place: str) -> Html | None:
    if place not in _PLACES or (place == ALTERNATES and not has_alternates(here.edition)):
        return None
    path, name = _PLACES[place]
    return here.to(path, name)


def _alternates(here: PageContext) -> Iterator[PriceMoverRow]:
    """Yield each alternate that can be chosen, with what it adds or takes away."""
    names = {one.row.key: one.row.name for one in here.edition.alternates}
    for row in here.edition.combinations:
        moved = row.difference(here.document)
        if len(row.chosen) == 1 and moved is not None and row.chosen[0] in names:
            yield PriceMoverRow(
                what=f"You choose: {names[row.chosen[0]]}",
                way="lower" if moved < 0 else "higher",
                amount=abs(moved),
                settled="You choose it with the order.",
                place=ALTERNATES,
            )


def each_year_table(here: PageContext) -> Html:
    """Return what recurs each year, whoever is paid for it."""
    rows = here.document.yearly_costs
    fields: list[Field[YearlyCostRow]] = [
        *fields_of(here, YearlyCostRow, "what", "paid_to", "amount", "rests_on"),
    ]
    known = all(row.amount is not None for row in rows)
    return schedule("What it costs each year", fields, rows, total="All" if known and len(rows) > 1 else "")


def each_year_in_short(here: PageContext) -> Html | None:
    """Return what recurs each year in one line, with rounded sums; None where nothing does."""
    rows = here.document.yearly_costs
    if not rows:
        return None
    known = [row.amount for row in rows if row.amount is not None]
    asked = tuple(dict.fromkeys(row.short for row in rows if row.amount is None))
    told = []
    if known:
        named = formatting.listed([row.short for row in rows if row.amount is not None])
        total = formatting.about_money(sum(known, start=Decimal(0)), here.cover.currency, here.cover.locale)
        told.append(f"about {total} before tax for {named}")
    if asked:
        told.append(f"{formatting.listed(asked)} {here.values.words.value('on_request')}")
    return here.to(EACH_YEAR, "; ".join(told))


def upkeep(here: PageContext) -> Html | None:
    """Return who keeps the system running, in sentences; None where nobody is named."""
    letters = {one for row in here.document.responsibilities for one in row.maintain.split(", ") if one}
    if not letters:
        return None
    names = dict(here.document.parties)
    people = formatting.listed([called_by_client(names.get(one, one)) for one in sorted(letters)])
    months = here.cover.warranty_months
    faults = (
        f"Faults that come up within the warranty of {months} months are ours to put right. "
        if months
        else ""
    )
    return join(
        (
            text(f"{faults}Day to day the system is kept running by {people}:"),
            here.to(paths.RESPONSIBILITIES, "who does what"),
        ),
        " ",
    )
