"""Price rules at work: what a rule makes of a cost, and the line that holds cost, price and tax.

A price by margin is cost / (1 − margin), by markup cost · (1 + markup), by discount list · (1 − discount).
"""

from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from typing import Literal

from proposal.field_classes import dataclass
from proposal.model.equipment.entry import Layer
from proposal.model.labour.labour import Phase
from proposal.model.price.commercial import PriceRule, TaxedAs
from proposal.quantities.rounding import rounded

NOTHING = Decimal(0)
AT_COST = PriceRule(markup=0.0)
RuleName = Literal["margin", "markup", "discount", "rate", "stated"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceLine:
    """One line of the price.

    group: equipment, materials, labour, travel, surcharge or allowance.
    kind: section of the take-off, kind of equipment, or what the line is: hours, overtime, expenses.
    item: model code, key of the trade, key of the surcharge or allowance.
    room: tag of the room or equipment room it is for; empty for the building.
    system, phase: what it belongs to, and when it is used or done.
    quantity: what is charged, in `unit`.
    unit_cost, cost: what it costs the integrator; cost is half up to the smallest unit of the currency.
    cost_from: library that the cost comes from; None where it is a sum of others or stated by the project.
    list_price: list price of one unit, where there is one.
    rule, rule_value: how the cost becomes a price.
    cost_of_wholes, wholes: what of cost and price is beyond quantity × one, since whole pieces, packs and
        reels are bought once for the project and shared by need; it may be below 0.
    reserve: cost of the surcharges that are spread over the line; spread: its part of the price.
    unit_price: of one unit, before anything is spread; price: of the line before tax, `spread` included.
    tax_kind, tax_place, tax_rate, tax: tax on the line.
    causes: cables, devices or tasks that it is for.
    """

    group: str
    kind: str
    item: str
    room: str
    system: str
    phase: Phase
    quantity: Decimal
    unit: str
    unit_cost: Decimal
    cost: Decimal
    cost_from: Layer | None
    list_price: Decimal | None
    rule: RuleName
    rule_value: Decimal
    reserve: Decimal
    spread: Decimal
    unit_price: Decimal
    price: Decimal
    tax_kind: TaxedAs
    tax_place: str
    tax_rate: Decimal
    tax: Decimal
    cost_of_wholes: Decimal = NOTHING
    wholes: Decimal = NOTHING
    causes: tuple[str, ...] = ()


def price_by(rule: PriceRule, cost: Decimal, list_price: Decimal, step: Decimal) -> Decimal:
    """Return the price that a rule makes of a cost or a list price, half up to a multiple of a step.

    cost, list_price: of one, in the currency of the project.
    step: the multiple that it is rounded to, in the same.
    """
    if rule.margin is not None:
        return _priced("margin", cost, repr(rule.margin), step)
    if rule.markup is not None:
        return _priced("markup", cost, repr(rule.markup), step)
    assert rule.discount is not None
    return _priced("discount", list_price, repr(rule.discount), step)


@lru_cache(maxsize=20_000)
def _priced(rule: RuleName, of: Decimal, share: str, step: Decimal) -> Decimal:
    """Return the price that a rule makes of an amount; assumptions that are tried ask again."""
    if rule == "margin":
        return rounded(Fraction(of) / (1 - Fraction(share)), step)
    factor = 1 + Fraction(share) if rule == "markup" else 1 - Fraction(share)
    return rounded(Fraction(of) * factor, step)


def named_rule(rule: PriceRule) -> tuple[RuleName, Decimal]:
    """Return a rule's name and value."""
    if rule.margin is not None:
        return "margin", Decimal(repr(rule.margin))
    if rule.markup is not None:
        return "markup", Decimal(repr(rule.markup))
    return "discount", Decimal(repr(rule.discount))


def unit_step(unit_cost: Decimal, step: Decimal, finer: Decimal) -> Decimal:
    """Return the step a unit price is rounded to: that of amounts, or the finer one for pieces and metres.

    unit_cost: cost of one.
    Finer is what costs less than a hundred steps, and is no whole number of them.
    step: smallest unit of the currency; finer: that of its pieces.
    """
    return finer if abs(unit_cost) < 100 * step and unit_cost != rounded(unit_cost, step) else step
