"""The price: its lines summed by room, system and phase; taxes, payments, unit prices, what recurs each year.

All sums are of the same rounded lines, so every view adds to the same total to the currency's smallest unit.
What serves several rooms stands as a group of its own in the view by room, or is shared out to the rooms by
largest remainder in proportion to their own prices.
"""

from collections.abc import Callable, Sequence
from decimal import Decimal

from proposal.design.design import Design
from proposal.design.equipment.unit_costs import in_currency
from proposal.design.numbers.numbering import natural
from proposal.estimate.labour.labour import LabourEstimate
from proposal.estimate.price.general_counts import general_counts
from proposal.estimate.price.labour_prices import labour_prices
from proposal.estimate.price.markup_and_margin import NOTHING, PriceLine
from proposal.estimate.price.price_lines import Pricing
from proposal.estimate.price.spread import with_spread
from proposal.estimate.price.stated_sums import allowances, shares_of_the_sum, surcharges
from proposal.estimate.price.unit_prices import UnitPrice, unit_prices
from proposal.estimate.programme.time_on_site import NO_TIME, TimeOnSite
from proposal.estimate.takeoff.systems import SYSTEMS
from proposal.estimate.takeoff_and_reels import Estimate
from proposal.field_classes import dataclass
from proposal.model.labour.labour import PHASES, Labour
from proposal.model.price.commercial import Price, TaxedAs
from proposal.model.programme import PaymentEvent
from proposal.model.project import Project
from proposal.quantities.rounding import rounded, shared_out

BUILDING = ""
"""Key of the building group in the view by room."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sum:
    """Lines of one room, system, phase or group together.

    key: tag or name; empty for the building group.
    cost, reserve: of the integrator; price: before tax; tax: on it.
    """

    key: str
    cost: Decimal
    reserve: Decimal
    price: Decimal
    tax: Decimal

    @property
    def total(self) -> Decimal:
        """Return the price with tax."""
        return self.price + self.tax


@dataclass(frozen=True, slots=True, kw_only=True)
class TaxSum:
    """Tax at one place on one kind of line: name, rate, price before tax, tax."""

    place: str
    name: str
    kind: TaxedAs
    rate: Decimal
    price: Decimal
    tax: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class PaymentAmount:
    """One payment: what it is for, its share, and how much of price and tax it is.

    key: of the payment in the project; `retention` for what was kept until later.
    event, days: it is due so many days after the event.
    price, tax: of the whole payment; retained: kept of them until later; due: what is paid.
    """

    key: str
    name: str
    share: Decimal
    event: PaymentEvent
    days: int
    price: Decimal
    tax: Decimal
    retained: Decimal
    due: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Yearly:
    """What recurs each year for a model; not in the total.

    unit_cost: of one; computed: what its rule makes of that.
    unit_price, price: of one and of all, as the project states it; None where it says nothing.
    """

    model: str
    quantity: int
    unit_cost: Decimal
    computed: Decimal
    unit_price: Decimal | None
    price: Decimal | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceEstimate:
    """The whole price.

    lines: every line, once.
    whole: their sum.
    rooms: with a building group, or shared out, as the project says; systems, phases, groups: other views.
    taxes: by place, kind and rate; payments: they add up to price and tax.
    unit_prices: for later changes; yearly: licences and support.
    """

    currency: str
    lines: tuple[PriceLine, ...]
    whole: Sum
    rooms: tuple[Sum, ...]
    systems: tuple[Sum, ...]
    phases: tuple[Sum, ...]
    groups: tuple[Sum, ...]
    taxes: tuple[TaxSum, ...]
    payments: tuple[PaymentAmount, ...]
    unit_prices: tuple[UnitPrice, ...]
    yearly: tuple[Yearly, ...]


def price_estimate(
    project: Project,
    design: Design,
    estimate: Estimate,
    labour: LabourEstimate,
    data: Labour,
    price: Price,
    on_site: TimeOnSite = NO_TIME,
) -> PriceEstimate:
    """Return the price of a design.

    estimate: its take-off; labour: its labour; data: rates by trade; price: the project's rules.
    on_site: when people work on site, where something is counted by that.
    Raises KeyError where an amount stands in a currency without an exchange rate.
    """
    pricing = Pricing(project, price, data)
    lines = _lines(pricing, estimate, labour, on_site)
    return PriceEstimate(
        currency=project.brief.currency,
        lines=tuple(lines),
        whole=summed("", lines),
        rooms=room_sums(lines, sorted(project.planned_rooms, key=natural), price.shared_items, pricing.step),
        systems=sums(lines, lambda line: line.system, SYSTEMS),
        phases=sums(lines, lambda line: line.phase, PHASES),
        groups=sums(lines, lambda line: line.group),
        taxes=_taxes(lines, price),
        payments=payments(price, summed("", lines), pricing.step),
        unit_prices=unit_prices(pricing, design),
        yearly=_yearly(pricing, estimate),
    )


def whole_price(
    project: Project,
    estimate: Estimate,
    labour: LabourEstimate,
    data: Labour,
    price: Price,
    on_site: TimeOnSite = NO_TIME,
) -> Sum:
    """Return the sum of the whole price of a design alone; the parameters are those of `price_estimate`.

    estimate, labour, data, price, on_site: as there.
    """
    return summed("", _lines(Pricing(project, price, data), estimate, labour, on_site))


def _lines(
    pricing: Pricing, estimate: Estimate, labour: LabourEstimate, on_site: TimeOnSite
) -> list[PriceLine]:
    """Return every line of a price, once."""
    project, price = pricing.project, pricing.price
    computed = [*pricing.takeoff(estimate.lines, estimate.purchases), *labour_prices(pricing, labour)]
    spread = [one for one in price.surcharges.values() if one.spread]
    lines = [
        *with_spread(computed, spread, pricing.step),
        *surcharges(
            pricing, computed, general_counts(project, computed, labour, estimate.purchases), on_site
        ),
        *allowances(pricing),
    ]
    return [*lines, *shares_of_the_sum(pricing, lines)]


def summed(key: str, lines: Sequence[PriceLine]) -> Sum:
    """Return the sum of lines.

    key: what they are the lines of, such as the tag of a room.
    """
    return Sum(
        key=key,
        cost=sum((line.cost for line in lines), NOTHING),
        reserve=sum((line.reserve for line in lines), NOTHING),
        price=sum((line.price for line in lines), NOTHING),
        tax=sum((line.tax for line in lines), NOTHING),
    )


def sums(
    lines: Sequence[PriceLine], key: Callable[[PriceLine], str], order: Sequence[str] = ()
) -> tuple[Sum, ...]:
    """Return the sums of lines by a key, in a given order and then as they come; no empty ones."""
    grouped: dict[str, list[PriceLine]] = {name: [] for name in order}
    for line in lines:
        grouped.setdefault(key(line), []).append(line)
    return tuple(summed(name, members) for name, members in grouped.items() if members)


def room_sums(
    lines: Sequence[PriceLine], rooms: Sequence[str], shared_items: str, step: Decimal
) -> tuple[Sum, ...]:
    """Return the sums by room; what serves several rooms is a building group, or shared out to them.

    rooms: tags in order; shared_items: `building group` or `shared out`.
    step: smallest unit of the currency.
    """
    known = set(rooms)
    own = sums(lines, lambda line: line.room if line.room in known else BUILDING, (*rooms, BUILDING))
    if shared_items == "building group":
        return own
    shared = next((one for one in own if one.key == BUILDING), None)
    of_rooms = {one.key: one for one in own}
    nothing = Sum(key="", cost=NOTHING, reserve=NOTHING, price=NOTHING, tax=NOTHING)
    each = [of_rooms.get(tag, nothing) for tag in rooms]
    if shared is None:
        return tuple(one for one in own if one.key != BUILDING)
    # A room that is a credit as a whole takes nothing of what others share.
    weights = [max(one.price, NOTHING) for one in each]
    parts = {
        name: shared_out(getattr(shared, name), weights, step) for name in ("cost", "reserve", "price", "tax")
    }
    return tuple(
        Sum(
            key=tag,
            cost=one.cost + parts["cost"][n],
            reserve=one.reserve + parts["reserve"][n],
            price=one.price + parts["price"][n],
            tax=one.tax + parts["tax"][n],
        )
        for n, (tag, one) in enumerate(zip(rooms, each, strict=True))
    )


def _taxes(lines: Sequence[PriceLine], price: Price) -> tuple[TaxSum, ...]:
    grouped: dict[tuple[str, TaxedAs], list[PriceLine]] = {}
    for line in lines:
        if line.tax_place:
            grouped.setdefault((line.tax_place, line.tax_kind), []).append(line)
    return tuple(
        TaxSum(
            place=place,
            name=price.taxes[place].name,
            kind=kind,
            rate=members[0].tax_rate,
            price=sum((line.price for line in members), NOTHING),
            tax=sum((line.tax for line in members), NOTHING),
        )
        for (place, kind), members in sorted(grouped.items())
    )


def payments(price: Price, whole: Sum, step: Decimal) -> tuple[PaymentAmount, ...]:
    """Return the payments, whose prices and taxes add up to the whole; what is retained comes last.

    whole: sum of all lines; step: smallest unit of the currency.
    """
    shares = [Decimal(repr(one.share)) for one in price.payments.values()]
    prices, taxes = shared_out(whole.price, shares, step), shared_out(whole.tax, shares, step)
    kept_share = Decimal(repr(price.retention))
    found = []
    for n, (key, one) in enumerate(price.payments.items()):
        amount = prices[n] + taxes[n]
        retained = rounded(amount * kept_share, step)
        found.append(
            PaymentAmount(
                key=key,
                name=one.name,
                share=shares[n],
                event=one.event,
                days=one.days,
                price=prices[n],
                tax=taxes[n],
                retained=retained,
                due=amount - retained,
            )
        )
    kept, nothing = sum((one.retained for one in found), NOTHING), rounded(NOTHING, step)
    if kept:
        found.append(
            PaymentAmount(
                key="retention",
                name="Retention",
                share=NOTHING,
                event="accepted",
                days=price.retention_days,
                price=nothing,
                tax=nothing,
                retained=nothing,
                due=kept,
            )
        )
    return tuple(found)


def _yearly(pricing: Pricing, estimate: Estimate) -> tuple[Yearly, ...]:
    found = []
    for count in estimate.equipment:
        entry = pricing.project.library.entry(count.model)
        if entry.yearly_cost is None or entry.furnished_by == "owner":
            continue
        cost = in_currency(pricing.project, entry.yearly_cost)
        stated = pricing.price.yearly.get(count.model)
        each = None if stated is None else pricing.amount(stated)
        found.append(
            Yearly(
                model=count.model,
                quantity=count.quantity,
                unit_cost=cost,
                computed=pricing.priced(entry, "equipment", cost),
                unit_price=each,
                price=None if each is None else rounded(each * count.quantity, pricing.step),
            )
        )
    return tuple(found)
