"""What the client knows of the cost by which two states of the price differ, from the library's hours.

Hours that the shared library gives for each state are public, and so is how many more or fewer they are in
one than in the other. The house's own hours need not differ in the same proportion: conditions, overtime
and whole visits change them otherwise. A client who takes the library's difference, off by no more than
hours and rates usually are, may so have less left open than one who takes each trade's hours as a whole.
"""

from collections.abc import Iterator, Mapping
from decimal import Decimal

from proposal.model.price.disclosure import ClientKnowledge
from proposal.review.client_knowledge import EXACT, Known, Span
from proposal.review.received import NOTHING, Part, Received


def cost_of_difference(
    known: Known, knowledge: ClientKnowledge, one: Received, less: Received
) -> tuple[float, float] | None:
    """Return between what the cost lies that one state has more than another, in the project's currency.

    known: what the client takes from the shared library; knowledge: how far all else may be off.
    Where the client is wrong, what it is stands for the end that misses it. None where a state does not keep
    the library's hours.
    """
    if one.library_hours is None or less.library_hours is None:
        return None
    low = high = 0.0
    for amount, (least, most) in _amounts(known, knowledge, one, less):
        ends = sorted((amount * least, amount * most))
        low, high = low + ends[0], high + ends[1]
    cost = float(one.cost - less.cost)
    return min(low, cost), max(high, cost)


def _amounts(
    known: Known, knowledge: ClientKnowledge, one: Received, less: Received
) -> Iterator[tuple[float, Span]]:
    """Yield sums that make up the cost of a difference, each with between what it lies as multiples of it."""
    hours = knowledge.hours_factor.factor
    rates = knowledge.rates_factor.factor
    of_the_house = knowledge.costs_factor.factor
    rate = _costs_of_an_hour((*less.parts, *one.parts))
    for (sort, name), cost in _differences(one, less).items():
        if sort == "work":
            if name not in rate:
                yield cost, known.rates.get(name, (1 / rates, rates))
        elif sort == "own":
            yield cost, (1 / of_the_house, of_the_house)
        elif sort == "surcharge":
            yield cost, (1 / hours / rates, hours * rates)
        else:
            yield cost, EXACT
    for trade, each in rate.items():
        more = (one.library_hours or {}).get(trade, NOTHING) - (less.library_hours or {}).get(trade, NOTHING)
        low, high = known.rates.get(trade, (1 / rates, rates))
        off = hours if trade in known.hours else 1.0
        yield each * float(more), (low / off, high * off)


def _costs_of_an_hour(parts: tuple[Part, ...]) -> Mapping[str, float]:
    """Return what an hour of each trade costs the house."""
    return {part.name: float(part.cost / part.hours) for part in parts if part.sort == "work" and part.hours}


def _differences(one: Received, less: Received) -> Mapping[tuple[str, str], float]:
    """Return by how much the costs of parts differ, by sort and name."""
    found: dict[tuple[str, str], Decimal] = {}
    for state, sign in ((one, 1), (less, -1)):
        for part in state.parts:
            if part.sort != "spread":
                key = (part.sort, part.name)
                found[key] = found.get(key, NOTHING) + sign * part.cost
    return {key: float(cost) for key, cost in found.items()}
