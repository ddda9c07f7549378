"""Prices of what is a sum of its own: surcharges, shares of the whole sum, and allowances."""

from collections.abc import Mapping, Sequence
from decimal import Decimal
from fractions import Fraction

from proposal.design.equipment.unit_costs import in_currency
from proposal.estimate.price.markup_and_margin import (
    AT_COST,
    NOTHING,
    PriceLine,
    named_rule,
    price_by,
)
from proposal.estimate.price.price_lines import Pricing
from proposal.estimate.price.share_of_sum import share_of_sum
from proposal.estimate.programme.time_on_site import TimeOnSite
from proposal.model.price.commercial import CountedBy, Surcharge
from proposal.quantities.general_conditions import COUNTED_IN_TIME
from proposal.quantities.rounding import rounded


def surcharges(
    pricing: Pricing,
    lines: Sequence[PriceLine],
    counts: Mapping[CountedBy, int],
    on_site: TimeOnSite,
) -> list[PriceLine]:
    """Return a line for every surcharge that is not spread.

    pricing: prices of the project.
    lines: of equipment, materials, labour and travel, which they are computed on.
    counts: how many there are of what they may be counted by.
    on_site: when people work on site, for those that are counted in time.
    """
    return [
        _surcharge(pricing, key, surcharge, lines, _count(surcharge, counts, on_site))
        for key, surcharge in pricing.price.surcharges.items()
        if not surcharge.spread and surcharge.share_of_sum is None
    ]


def shares_of_the_sum(pricing: Pricing, lines: Sequence[PriceLine]) -> list[PriceLine]:
    """Return a line for every surcharge that is a share of the whole sum, itself included.

    pricing: prices of the project.
    lines: all others; of several, each is taken of all before it.
    """
    rest = sum((line.price for line in lines), NOTHING)
    found = []
    for key, one in pricing.price.surcharges.items():
        if one.share_of_sum is None:
            continue
        steps = sorted(
            (Fraction(in_currency(pricing.project, step.above)), Fraction(repr(step.share)))
            for step in one.steps.values()
        )
        shares = [(Fraction(0), Fraction(repr(one.share_of_sum))), *steps]
        amount = rounded(share_of_sum(Fraction(rest), shares), pricing.step)
        rest += amount
        found.append(
            pricing.stated(
                "surcharge",
                key,
                "",
                "project management",
                amount,
                amount,
                one.tax_kind,
                named_rule(AT_COST),
            )
        )
    return found


def _count(one: Surcharge, counts: Mapping[CountedBy, int], on_site: TimeOnSite) -> int:
    """Return how many there are of what a surcharge is counted by."""
    if one.by in COUNTED_IN_TIME:
        return on_site.count(one.by, one.phases)
    return counts[one.by]


def _surcharge(
    pricing: Pricing,
    key: str,
    surcharge: Surcharge,
    lines: Sequence[PriceLine],
    count: int,
) -> PriceLine:
    if surcharge.amount is not None:
        cost = pricing.amount(surcharge.amount)
    elif surcharge.each is not None:
        cost = pricing.amount(surcharge.each) * count
    else:
        base = sum((line.cost for line in lines if line.group in surcharge.of), NOTHING)
        cost = rounded(base * Decimal(repr(surcharge.share)), pricing.step)
    rule = surcharge.rule or AT_COST
    price = price_by(rule, cost, cost, pricing.step)
    return pricing.stated(
        "surcharge", key, "", "project management", cost, price, surcharge.tax_kind, named_rule(rule)
    )


def allowances(pricing: Pricing) -> list[PriceLine]:
    """Return a line for every allowance; its cost is not known, so it is taken to cost its price.

    pricing: prices of the project.
    """
    found = []
    for key, one in pricing.price.allowances.items():
        price = pricing.amount(one.price)
        found.append(pricing.stated("allowance", key, one.room, "second fix", price, price, one.tax_kind))
    return found
