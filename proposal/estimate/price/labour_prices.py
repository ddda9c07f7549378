"""Prices of labour: hours by room, system, phase and trade, overtime, and travel."""

from collections.abc import Iterable
from decimal import Decimal

from proposal.design.equipment.unit_costs import in_currency
from proposal.estimate.labour.labour import LabourEstimate
from proposal.estimate.price.markup_and_margin import (
    AT_COST,
    NOTHING,
    PriceLine,
    named_rule,
    price_by,
)
from proposal.estimate.price.price_lines import Pricing
from proposal.estimate.takeoff.systems import SERVICES
from proposal.model.labour.labour import Phase
from proposal.model.price.commercial import Group
from proposal.quantities.rounding import HUNDREDTH, rounded, shared_out


def labour_prices(pricing: Pricing, estimate: LabourEstimate) -> list[PriceLine]:
    """Return the price of all labour: hours by room, system, phase and trade; overtime; travel.

    pricing: prices of the project.
    estimate: what is worked and travelled.
    """
    grouped: dict[tuple[str, str, Phase, str], tuple[Decimal, dict[str, None]]] = {}
    for one in estimate.lines:
        key = (one.room, one.system, one.phase, one.trade)
        hours, tasks = grouped.get(key, (NOTHING, {}))
        grouped[key] = (hours + one.charged_hours, {**tasks, one.task: None})
    found = [
        _hours(pricing, "labour", "hours", trade, room, system, phase, hours, tasks)
        for (room, system, phase, trade), (hours, tasks) in grouped.items()
    ]
    for overtime in estimate.overtime_hours:
        trade, phase, hours = overtime.trade, overtime.phase, overtime.hours
        # The premium is paid where its work is done: in proportion to the hours of each room and system.
        places = {
            (room, system): worked
            for (room, system, of_phase, of_trade), (worked, _) in grouped.items()
            if (of_phase, of_trade) == (phase, trade) and (not overtime.rooms or room in overtime.rooms)
        }
        parts = shared_out(hours, list(places.values()), HUNDREDTH)
        found += [
            _overtime(pricing, trade, phase, room, system, part)
            for (room, system), part in zip(places, parts, strict=True)
            if part
        ]
    for trip in estimate.travel:
        found.append(_hours(pricing, "travel", "hours", trip.trade, "", SERVICES, "travel", trip.hours, ()))
        found += _expenses(pricing, trip.trade, trip.days)
    return found


def _hours(
    pricing: Pricing,
    group: Group,
    kind: str,
    trade: str,
    room: str,
    system: str,
    phase: Phase,
    hours: Decimal,
    tasks: Iterable[str],
) -> PriceLine:
    cost, selling, rule = pricing.rates(trade)
    return pricing.line(
        group=group,
        kind=kind,
        item=trade,
        room=room,
        system=system,
        phase=phase,
        quantity=hours,
        unit="h",
        unit_cost=cost,
        unit_price=selling,
        rule=rule,
        tax_kind=pricing.labour.trades[trade].tax_kind,
        cost_from=pricing.labour.trades[trade].layer,
        causes=tasks,
    )


def _overtime(
    pricing: Pricing, trade: str, phase: Phase, room: str, system: str, hours: Decimal
) -> PriceLine:
    cost, selling, rule = pricing.rates(trade)
    premium = Decimal(repr(pricing.labour.overtime_premium))
    return pricing.line(
        group="labour",
        kind="overtime",
        item=trade,
        room=room,
        system=system,
        phase=phase,
        quantity=hours,
        unit="h",
        unit_cost=cost * premium,
        unit_price=rounded(selling * premium, pricing.step),
        rule=rule,
        tax_kind=pricing.labour.trades[trade].tax_kind,
        cost_from=pricing.labour.trades[trade].layer,
    )


def _expenses(pricing: Pricing, trade: str, days: int) -> list[PriceLine]:
    travel = pricing.labour.travel
    if travel is None or travel.expenses_a_day is None:
        return []
    cost = in_currency(pricing.project, travel.expenses_a_day)
    rule = pricing.price.rules.rule("", "expenses", "travel")
    rule = AT_COST if rule.discount is not None else rule
    line = pricing.line(
        group="travel",
        kind="expenses",
        item=trade,
        room="",
        system=SERVICES,
        phase="travel",
        quantity=Decimal(days),
        unit="day",
        unit_cost=cost,
        unit_price=price_by(rule, cost, cost, pricing.step),
        rule=named_rule(rule),
        tax_kind="services",
        cost_from=travel.layer,
    )
    return [line]
