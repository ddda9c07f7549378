"""Spread sums: what is spread over lump lines, so that no unit price and no rate ever shows it.

What a contract or a price list fixes (a stated price, an agreed discount off the list) is never changed by
what is spread, nor is any unit price or rate: the sum goes onto lines that a client reads in lumps only.
"""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from proposal.estimate.price.markup_and_margin import NOTHING, PriceLine
from proposal.model.price.commercial import Surcharge
from proposal.quantities.rounding import rounded, shared_out

LUMP_GROUPS = ("equipment", "materials", "labour", "travel")
FIXED_RULES = ("stated", "discount")


def takes_spread(line: PriceLine) -> bool:
    """Say whether a line may take what is spread: a lump whose price nothing fixes."""
    return line.group in LUMP_GROUPS and line.rule not in FIXED_RULES


def with_spread(
    lines: Sequence[PriceLine], surcharges: Sequence[Surcharge], step: Decimal
) -> tuple[PriceLine, ...]:
    """Return price lines with what is spread over them.

    lines: of equipment, materials, labour and travel, before anything is spread.
    surcharges: those that are spread; each is a share of what the lines of its groups come to, and goes over
        lump lines of these groups in proportion to their prices, over all lump lines where they have none.
    step: smallest unit of the currency.
    Where there is no lump line at all nothing is spread, which is an error finding of its own.
    """
    takers = [n for n, line in enumerate(lines) if takes_spread(line)]
    if not takers:
        return tuple(lines)
    price = [rounded(NOTHING, step)] * len(lines)
    cost = [rounded(NOTHING, step)] * len(lines)
    for surcharge in surcharges:
        share = Decimal(repr(surcharge.share or 0.0))
        of = [line for line in lines if line.group in surcharge.of]
        own = [n for n in takers if lines[n].group in surcharge.of] or takers
        weights = [max(lines[n].price, NOTHING) for n in own]
        for total, parts in (
            (rounded(share * sum((line.price for line in of), NOTHING), step), price),
            (rounded(share * sum((line.cost for line in of), NOTHING), step), cost),
        ):
            for n, part in zip(own, shared_out(total, weights, step), strict=True):
                parts[n] += part
    return tuple(
        replace(
            line,
            spread=price[n],
            reserve=cost[n],
            price=line.price + price[n],
            tax=rounded((line.price + price[n]) * line.tax_rate, step),
        )
        if price[n] or cost[n]
        else line
        for n, line in enumerate(lines)
    )
