"""The price of a computed project as rows."""

from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import TypedDict, TypeVar

from proposal.design.equipment.unit_costs import in_currency
from proposal.document.making.by_name import ByName
from proposal.document.making.cash import cash_rows
from proposal.document.making.offer import offer_rows
from proposal.document.making.price_inputs import price_inputs, rule_key
from proposal.document.making.serials import serials
from proposal.document.rows.price import (
    NOTHING,
    ExchangeRow,
    GroupPrice,
    OfferRow,
    PaymentRow,
    PhasePrice,
    PriceSum,
    PriceTotal,
    RoomPrice,
    SystemPrice,
    TaxRow,
    UnitPriceRow,
    YearlyRow,
)
from proposal.document.rows.price_build_up import CashRow, PriceLineRow, SurchargeRow, UnitCostRow
from proposal.document.rows.price_inputs import PriceInputRow
from proposal.estimate.price.markup_and_margin import PriceLine
from proposal.estimate.price.price import PaymentAmount, PriceEstimate, Sum, TaxSum, Yearly
from proposal.estimate.price.spread import takes_spread
from proposal.estimate.price.unit_prices import UnitPrice
from proposal.estimate.programme.programme import payment_days
from proposal.model.checks.commercial_checks import own_amounts
from proposal.model.design_rules import ExchangeRate
from proposal.model.price.commercial import Surcharge
from proposal.model.project import Project
from proposal.pipeline import Computed
from proposal.quantities.currencies import smallest_unit
from proposal.quantities.money import Money
from proposal.quantities.rounding import rounded

SPREAD, OWN_LINE = "spread over lump lines", "a line of its own"
OF_SUM = "a line of its own, of the sum with itself"


_TAX = ByName(TaxRow, TaxSum)
_ROOM, _SYSTEM = ByName(RoomPrice, Sum), ByName(SystemPrice, Sum)
_PHASE, _GROUP = ByName(PhasePrice, Sum), ByName(GroupPrice, Sum)
_PAYMENT = ByName(PaymentRow, PaymentAmount)
_UNIT_COST = ByName(UnitCostRow, UnitPrice, "item")
_YEARLY = ByName(YearlyRow, Yearly)
_EXCHANGE = ByName(ExchangeRow, ExchangeRate)
_LINE = ByName(PriceLineRow, PriceLine, "kind", "item", "cost_from")


class PriceParts(TypedDict):
    """The price and its rows."""

    price: PriceTotal | None
    offer: tuple[OfferRow, ...]
    room_prices: tuple[RoomPrice, ...]
    system_prices: tuple[SystemPrice, ...]
    phase_prices: tuple[PhasePrice, ...]
    group_prices: tuple[GroupPrice, ...]
    taxes: tuple[TaxRow, ...]
    payments: tuple[PaymentRow, ...]
    unit_prices: tuple[UnitPriceRow, ...]
    unit_costs: tuple[UnitCostRow, ...]
    yearly: tuple[YearlyRow, ...]
    exchange_rates: tuple[ExchangeRow, ...]
    price_lines: tuple[PriceLineRow, ...]
    price_inputs: tuple[PriceInputRow, ...]
    surcharges: tuple[SurchargeRow, ...]
    cash_flow: tuple[CashRow, ...]


def price_parts(computed: Computed) -> PriceParts:
    """Return the fields of the document that hold the price, by name."""
    project, price = computed.project, computed.price
    payments = payment_rows(computed)
    unit_costs = _unit_costs(project, price)
    return {
        "price": _total(project, price),
        "offer": offer_rows(project, computed.design, price.lines, smallest_unit(price.currency)),
        "room_prices": _sums(price.rooms, _ROOM),
        "system_prices": _sums(price.systems, _SYSTEM),
        "phase_prices": _sums(price.phases, _PHASE),
        "group_prices": _sums(price.groups, _GROUP),
        "taxes": tuple(_TAX.of(one) for one in price.taxes),
        "payments": payments,
        "unit_prices": tuple(
            UnitPriceRow(to=one.to, item=one.item, description=one.description, price=one.stated)
            for one in unit_costs
            if one.stated is not None
        ),
        "unit_costs": unit_costs,
        "yearly": _yearly(project, price),
        "exchange_rates": _exchange_rates(project, price),
        "price_lines": tuple(
            _line(project, number, line)
            for number, line in zip(
                serials("P", (line.room for line in price.lines)), price.lines, strict=True
            )
        ),
        "price_inputs": price_inputs(computed),
        "surcharges": tuple(_surcharges(project, price)),
        "cash_flow": cash_rows(computed, payments),
    }


def _total(project: Project, price: PriceEstimate) -> PriceTotal:
    whole, rules = price.whole, project.brief.price
    return PriceTotal(
        currency=price.currency,
        price=whole.price,
        tax=whole.tax,
        total=whole.total,
        room_view=rules.shared_items,
        client_detail=rules.client_detail,
        retention=Decimal(repr(rules.retention)),
        cost=whole.cost,
        reserve=whole.reserve,
        margin=whole.price - whole.cost,
    )


P = TypeVar("P", bound=PriceSum)


def _sums(sums: Sequence[Sum], rows: ByName[Sum, P]) -> tuple[P, ...]:
    """Return the price seen in one way.

    rows: how its rows are filled.
    """
    return tuple(rows.of(one, margin=one.price - one.cost) for one in sums)


def payment_rows(computed: Computed) -> tuple[PaymentRow, ...]:
    """Return the payments of a computed project in order, with their days by its programme."""
    amounts, plan = computed.price.payments, computed.programme
    days = payment_days(plan, [(one.key, one.event, one.days) for one in amounts])
    return tuple(
        _PAYMENT.of(one, number=one.key, event_date=plan.events[one.event], due_date=day)
        for one, (_, day) in zip(amounts, days, strict=True)
    )


def _unit_costs(project: Project, price: PriceEstimate) -> tuple[UnitCostRow, ...]:
    trades = project.labour.trades
    return tuple(
        _UNIT_COST.of(
            one,
            item="" if one.to == "hour" else one.item,
            description=trades[one.item].name
            if one.to == "hour"
            else project.library.entry(one.item).description,
        )
        for one in price.unit_prices
    )


def _yearly(project: Project, price: PriceEstimate) -> tuple[YearlyRow, ...]:
    return tuple(
        _YEARLY.of(one, item=one.model, description=project.library.entry(one.model).description)
        for one in price.yearly
    )


def _exchange_rates(project: Project, price: PriceEstimate) -> tuple[ExchangeRow, ...]:
    """Return the rates that amounts written in the project were converted by, in order of currencies.

    What the library prices in another currency is the house's own: those rates stand with the inputs.
    """
    fixed = {money.currency for money in _fixed_amounts(project)}
    aside = {one.price.currency for one in project.brief.price.allowances.values()}
    rates = project.brief.terms.exchange
    return tuple(
        _EXCHANGE.of(rates[code], currency=code, only_set_aside=code not in fixed)
        for code in sorted((fixed | aside) - {price.currency})
    )


def _fixed_amounts(project: Project) -> Iterator[Money]:
    """Yield every amount but those set aside that the project's own files state, as it was written."""
    rules = project.brief.price
    yield from (one.amount for one in rules.surcharges.values() if one.amount is not None)
    yield from (one.each for one in rules.surcharges.values() if one.each is not None)
    yield from (step.above for one in rules.surcharges.values() for step in one.steps.values())
    yield from own_amounts(project.brief.commercial).values()


def _line(project: Project, number: str, line: PriceLine) -> PriceLineRow:
    bought = line.group in ("equipment", "materials")
    return _LINE.of(
        line,
        number=number,
        kind=line.kind.replace("_", " "),
        item=line.item if bought else "",
        description=_description(project, line),
        cost_from=line.cost_from or "",
        rule_from=rule_key(project, line),
    )


def _description(project: Project, line: PriceLine) -> str:
    rules = project.brief.price
    if line.group == "surcharge":
        return rules.surcharges[line.item].name
    if line.group == "allowance":
        return rules.allowances[line.item].name
    if line.group in ("labour", "travel"):
        return project.labour.trades[line.item].name
    return project.library.entry(line.item).description


def _surcharges(project: Project, price: PriceEstimate) -> Iterator[SurchargeRow]:
    """Yield every surcharge with what it comes to."""
    rules = project.brief.price
    lines = {line.item: line for line in price.lines if line.group == "surcharge"}
    for key, one in rules.surcharges.items():
        line = lines.get(key)
        each = None if one.each is None else _amount(project, one.each)
        yield SurchargeRow(
            name=one.name,
            share=_share(one),
            of=one.of if one.share is not None else (),
            steps=_steps(project, one),
            each=each,
            count=None if each is None else int(line.cost / each) if line and each else 0,
            counted_by=one.by if each is not None else "",
            phases=one.phases,
            covers=one.covers,
            way=SPREAD if one.spread else OF_SUM if one.share_of_sum is not None else OWN_LINE,
            cost=line.cost if line else _spread(project, price, key)[0],
            price=line.price if line else _spread(project, price, key)[1],
        )


def _amount(project: Project, money: Money) -> Decimal:
    return rounded(in_currency(project, money), smallest_unit(project.brief.currency))


def _share(one: Surcharge) -> Decimal | None:
    share = one.share if one.share is not None else one.share_of_sum
    return None if share is None else Decimal(repr(share))


def _steps(project: Project, one: Surcharge) -> tuple[tuple[Decimal, Decimal], ...]:
    """Return from which amount of the sum each step of a sliding scale holds, and its share."""
    step_of_money = smallest_unit(project.brief.currency)
    return tuple(
        sorted(
            (rounded(in_currency(project, step.above), step_of_money), Decimal(repr(step.share)))
            for step in one.steps.values()
        )
    )


def _spread(project: Project, price: PriceEstimate, key: str) -> tuple[Decimal, Decimal]:
    """Return cost and price of what one surcharge spreads; nothing where no line may take it."""
    one = project.brief.price.surcharges[key]
    if not any(takes_spread(line) for line in price.lines):
        return NOTHING, NOTHING
    share, step = Decimal(repr(one.share)), smallest_unit(price.currency)
    of = [line for line in price.lines if line.group in one.of]
    cost = sum((line.cost for line in of), NOTHING)
    before = sum((line.price - line.spread for line in of), NOTHING)
    return rounded(share * cost, step), rounded(share * before, step)
