"""Rows of what the system costs its owner each year, whoever is paid for it."""

from collections.abc import Collection, Iterator, Sequence
from decimal import Decimal
from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.rows.mains import EnergyRow
from proposal.document.rows.pack_life import PackLifeRow
from proposal.document.rows.price import YearlyRow
from proposal.document.rows.standby import StandbySupplyRow
from proposal.document.schedule import BUYERS, Row, Schedule, Shows
from proposal.quantities import formatting
from proposal.quantities.currencies import smallest_unit
from proposal.quantities.formatting import count_of
from proposal.quantities.rounding import rounded

NOTHING = Decimal(0)


class YearlyCostRow(Row):
    """Something that costs the owner money every year and is in no price of the proposal."""

    schedule: ClassVar = Schedule("yearly_cost", subject="price", key=("what",))

    what: Annotated[str, Shows("what", BUYERS)] = Field(default="", description="What is paid for.")
    short: Annotated[str, Shows("what", BUYERS, drawn=True)] = Field(
        default="", description="The same in a word or two, in the middle of a sentence."
    )
    paid_to: Annotated[str, Shows("paid_to", BUYERS)] = Field(default="", description="Who is paid.")
    amount: Annotated[Decimal | None, Shows("all_a_year", BUYERS, "money", sums=True, empty="on_request")] = (
        Field(default=None, description="Of a year; none where it is priced on request.")
    )
    rests_on: Annotated[str, Shows("rests_on", BUYERS)] = Field(
        default="", description="What the amount rests on, in words."
    )


def yearly_costs(
    ours: Sequence[YearlyRow],
    energy: Sequence[EnergyRow],
    packs: Sequence[PackLifeRow],
    currency: str,
    locale: str,
    *,
    supplies: Sequence[StandbySupplyRow] = (),
    with_owners: bool = False,
) -> tuple[YearlyCostRow, ...]:
    """Return what recurs each year: our charges, electricity, and packs that wear out.

    ours: licences and support.
    energy: what the equipment takes in a year, place by place; told where all of it has a cost.
    packs: of the microphones; told where a year's share of them can be said.
    currency: of the proposal, by its code of ISO 4217.  locale: in which sums are written.
    supplies: standby supplies, whose batteries wear out.
    with_owners: whether the energy is also that of equipment which the owner furnishes.
    """
    return (
        *_ours(ours),
        *_electricity(energy, currency, locale, with_owners),
        *_packs(packs, smallest_unit(currency)),
        *_supplies(supplies, smallest_unit(currency)),
    )


def _ours(rows: Sequence[YearlyRow]) -> Iterator[YearlyCostRow]:
    for row in rows:
        alone = "; nothing else of ours has a yearly fee" if len(rows) == 1 else ""
        model = f"{row.quantity} × {row.item}" if row.quantity > 1 else row.item
        yield YearlyCostRow(
            what=f"Licence and support: {row.description}",
            short="licence and support",
            paid_to="us",
            amount=row.price,
            rests_on=f"{model}; before tax{alone}",
        )


def _electricity(
    rows: Sequence[EnergyRow], currency: str, locale: str, with_owners: bool
) -> Iterator[YearlyCostRow]:
    costs = [row.yearly_cost for row in rows]
    known = [cost for cost in costs if cost is not None]
    if known and len(known) == len(costs):
        yield YearlyCostRow(
            what="Electricity",
            short="electricity",
            paid_to="your electricity supplier",
            amount=sum(known, start=NOTHING),
            rests_on=_tariff(rows, currency, locale, with_owners),
        )


def _tariff(rows: Sequence[EnergyRow], currency: str, locale: str, with_owners: bool) -> str:
    """Return what electricity rests on: the energy of a year and what a kilowatt-hour costs."""
    prices = {row.price_per_kwh for row in rows if row.price_per_kwh is not None}
    at = [formatting.unit_money(price, currency, locale) for price in sorted(prices)]
    costs = (
        f" at {formatting.listed(at)} each, the price before tax that you gave us" if at else " at your price"
    )
    energy = _energy(rows, prices, smallest_unit(currency), locale)
    owners = "; your own equipment is in it" if with_owners else ""
    return f"{energy} kWh{costs}{owners}; the hours of use stand under mains power"


def _energy(rows: Sequence[EnergyRow], prices: Collection[Decimal], step: Decimal, locale: str) -> str:
    """Return the energy of a year in kWh, with the decimals that its cost follows from at one price."""
    kwh = Decimal(repr(sum(row.yearly_wh for row in rows))) / 1000
    cost = sum((row.yearly_cost or NOTHING for row in rows), start=NOTHING)
    price = next(iter(prices)) if len(prices) == 1 else None
    exact = (
        n
        for n in range(_MOST_PLACES + 1)
        if price is not None and rounded(formatting.rounded(kwh, n) * price, step) == cost
    )
    return formatting.number(kwh, locale, next(exact, 0))


_MOST_PLACES = 3
_SELDOM_CHARGED_YEARS = 8.0
"""Packs that their charges would let last longer than this are worn by age first, as nobody can say when."""


def _packs(rows: Sequence[PackLifeRow], step: Decimal) -> Iterator[YearlyCostRow]:
    """Yield what to set aside each year, so that worn packs can be replaced."""
    used = [row for row in rows if row.lasts_years]
    if not used:
        return
    shares = [
        row.packs * row.list_price / Decimal(repr(row.lasts_years))
        for row in used
        if row.list_price is not None and row.lasts_years
    ]
    lives = [row.lasts_years for row in used if row.lasts_years]
    least, most = (f"{one:.0f}" for one in (min(lives), max(lives)))
    lasting = f"{most} years" if least == most else f"{least} to {most} years"
    if max(lives) > _SELDOM_CHARGED_YEARS:
        lasting += " by their charges; age may end those sooner that are seldom charged"
    yield YearlyCostRow(
        what="Batteries, to set aside until they are worn",
        short="batteries",
        paid_to="whoever supplies them then",
        amount=rounded(sum(shares, start=NOTHING), step) if len(shares) == len(used) else None,
        rests_on=f"{count_of(sum(row.packs for row in used), 'battery pack')} of the microphones in use, "
        f"at list price before tax, each lasting about {lasting}",
    )


def _supplies(rows: Sequence[StandbySupplyRow], step: Decimal) -> Iterator[YearlyCostRow]:
    """Yield what to set aside each year for the batteries of standby supplies."""
    if not rows:
        return
    shares = [
        row.battery_price * 12 / row.battery_months
        for row in rows
        if row.battery_price is not None and row.battery_months
    ]
    months = formatting.listed([str(one) for one in sorted({row.battery_months for row in rows})])
    yield YearlyCostRow(
        what="Batteries of standby supplies, to set aside until they are replaced",
        short="the battery of the standby supply" if len(rows) == 1 else "batteries of standby supplies",
        paid_to="whoever supplies them then",
        amount=rounded(sum(shares, start=NOTHING), step) if len(shares) == len(rows) else None,
        rests_on=f"{count_of(len(rows), 'standby supply', 'standby supplies')}, new batteries at list price "
        f"before tax every {months} months, as long as they last at the warmth of the rack",
    )
