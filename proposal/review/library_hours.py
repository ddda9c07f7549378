"""What the client knows of the cost of a state of the price, or of what two differ by, from public hours.

Hours that the shared library gives for each state are public, and so is how many more or fewer they are in
one than in the other. The house's own hours need not differ in the same proportion: conditions and whole
visits change them otherwise. A client who takes the library's hours, off by no more than hours and rates
usually are, may so have less left open than one who takes each trade's hours as a whole.
"""

from collections.abc import Iterator, Mapping
from decimal import Decimal

from proposal.model.price.disclosure import ClientKnowledge
from proposal.review.client_knowledge import EXACT, Known, Span
from proposal.review.received import NOTHING, Part, Received


def cost_by_library_hours(
    known: Known, knowledge: ClientKnowledge, one: Received, less: Received | None
) -> tuple[float, float] | None:
    """Return between what the cost of a state, or what it has more than another, lies; in the currency.

    known: what the client takes from the shared library; knowledge: how far all else may be off.
    Where the client is wrong, what it is stands for the end that misses it. None where a state does not keep
    the library's hours.
    """
    hours = _more_hours(one, less)
    if hours is None:
        return None
    low = high = 0.0
    for amount, (least, most) in (*_work(known, knowledge, hours), *_all_else(known, knowledge, one, less)):
        ends = sorted((amount * least, amount * most))
        low, high = low + ends[0], high + ends[1]
    cost = float(one.cost - (less.cost if less else NOTHING))
    return min(low, cost), max(high, cost)


def _more_hours(one: Received, less: Received | None) -> Mapping[str, Decimal] | None:
    """Return how many hours of each trade the library gives more for one state than for another, h."""
    before = {} if less is None else less.library_hours
    if one.library_hours is None or before is None:
        return None
    trades = dict.fromkeys((*one.library_hours, *before))
    return {trade: one.library_hours.get(trade, NOTHING) - before.get(trade, NOTHING) for trade in trades}


def _work(
    known: Known, knowledge: ClientKnowledge, hours: Mapping[str, Decimal]
) -> Iterator[tuple[float, Span]]:
    """Yield the cost of hours of each trade, with between what it lies as multiples of it.

    hours: by trade, h.
    """
    for trade, more in hours.items():
        if trade in known.hour_costs:
            low, high = known.rates[trade]
            off = knowledge.hours_factor.factor if trade in known.hours else 1.0
            yield known.hour_costs[trade] * float(more), (low / off, high * off)


def _all_else(
    known: Known, knowledge: ClientKnowledge, one: Received, less: Received | None
) -> Iterator[tuple[float, Span]]:
    """Yield all other costs by which two states differ, with between what they lie as multiples of them."""
    hours, rates = knowledge.hours_factor.factor, knowledge.rates_factor.factor
    goods = knowledge.costs_factor.factor
    spans: Mapping[str, Span] = {
        "own": (1 / goods, goods),
        "surcharge": (1 / hours / rates, hours * rates),
        "work": (1 / rates, rates),
    }
    found: dict[tuple[str, str], Decimal] = {}
    for parts, sign in ((one.parts, 1), (less.parts if less else (), -1)):
        for part in parts:
            if not _is_of_hours(part, known) and part.sort != "spread":
                key = (part.sort, part.name)
                found[key] = found.get(key, NOTHING) + sign * part.cost
    for (sort, _), cost in found.items():
        yield float(cost), spans.get(sort, EXACT)


def _is_of_hours(part: Part, known: Known) -> bool:
    """Say whether a part is the work of a trade, its premiums with it: the client knows none of those."""
    return part.sort == "work" and part.name in known.hour_costs
