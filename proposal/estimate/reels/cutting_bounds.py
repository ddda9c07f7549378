"""How few reels can do: weights that prove a bound, and the counts of reels that no bound forbids.

A weighting gives every piece a whole weight. No reel can hold more weight than its best pattern, so counts
of reels whose best patterns together weigh less than all pieces are impossible. All of it is in whole
numbers, so that a bound is a proof and not a matter of tolerances.
"""

import math
from collections.abc import Sequence
from operator import le
from typing import Any

from proposal.field_classes import dataclass

MOST_STEPS = 200_000
_NOISE = 1e-12  # of a division in floating point


@dataclass(frozen=True, slots=True)
class Demand:
    """Pieces of one length.

    length: whole units.  count: how many.
    """

    length: int
    count: int


@dataclass(frozen=True, slots=True)
class Offer:
    """Reels of one length that may be bought, any number of them.

    length: whole units.  cost: whole units of money.
    """

    length: int
    cost: int


@dataclass(frozen=True, slots=True)
class Weighting:
    """A bound: the counts of reels times what each can hold must reach the whole weight.

    holds: the greatest weight of a pattern, for each offer.  whole: the weight of all pieces.
    """

    holds: tuple[int, ...]
    whole: int

    def forbids(self, counts: Sequence[int]) -> bool:
        """Say whether these counts of reels cannot hold all pieces."""
        return sum(count * hold for count, hold in zip(counts, self.holds, strict=True)) < self.whole


@dataclass(frozen=True, slots=True)
class BestPatterns:
    """The heaviest pattern for each offer: its weight, and how many pieces of each demand it has."""

    weights: tuple[int, ...]
    patterns: tuple[tuple[int, ...], ...]


def best_patterns(demands: Sequence[Demand], offers: Sequence[Offer], weights: Sequence[int]) -> BestPatterns:
    """Return the heaviest pattern of every offer, exactly: a bounded knapsack by dynamic programming.

    weights: whole weight of one piece of each demand; their sums stay below 2^62.
    """
    import numpy

    unit = math.gcd(*(demand.length for demand in demands))
    longest = max(offer.length for offer in offers) // unit
    reached = numpy.zeros(longest + 1, dtype=numpy.int64)
    steps: list[tuple[int, int, int, Any]] = []
    for place, (demand, weight) in enumerate(zip(demands, weights, strict=True)):
        size = demand.length // unit
        left = min(demand.count, longest // size) if weight > 0 else 0
        copies = 1
        while left > 0:
            copies = min(copies, left)
            left -= copies
            length = size * copies
            with_it = reached[: longest + 1 - length] + weight * copies
            better = with_it > reached[length:]
            steps.append((place, copies, length, better))
            reached[length:] = numpy.where(better, with_it, reached[length:])
            copies *= 2
    found_weights, patterns = [], []
    for offer in offers:
        room = offer.length // unit
        found_weights.append(int(reached[room]))
        pattern = [0] * len(demands)
        for place, copies, length, better in reversed(steps):
            if room >= length and better[room - length]:
                pattern[place] += copies
                room -= length
        patterns.append(tuple(pattern))
    return BestPatterns(tuple(found_weights), tuple(patterns))


def weighted(demands: Sequence[Demand], offers: Sequence[Offer], weights: Sequence[int]) -> Weighting:
    """Return the bound that weights of the pieces give."""
    whole = sum(demand.count * weight for demand, weight in zip(demands, weights, strict=True))
    return Weighting(best_patterns(demands, offers, weights).weights, whole)


def first_weightings(demands: Sequence[Demand], offers: Sequence[Offer]) -> list[Weighting]:
    """Return bounds that need no linear programme: by length, and by number of the longer pieces."""
    longest = max(offer.length for offer in offers)
    limits = {offer.length for offer in offers} | {longest // share for share in range(2, 9)} | {0}
    found = [weighted(demands, offers, [demand.length for demand in demands])]
    for limit in sorted(limits):
        counted = [1 if demand.length > limit else 0 for demand in demands]
        if any(counted):
            found.append(weighted(demands, offers, counted))
    return found


def least_cost(offers: Sequence[Offer], weightings: Sequence[Weighting]) -> int:
    """Return a cost below which no counts of reels satisfy the bounds, without any search.

    It is a multiple of what divides all costs, as the cost of any counts is.
    """
    unit = math.gcd(*(offer.cost for offer in offers)) or 1
    least = max(
        min(
            -(-offer.cost * weighting.whole // hold)
            for offer, hold in zip(offers, weighting.holds, strict=True)
            if hold
        )
        for weighting in weightings
    )
    return -(-least // unit) * unit


Objective = tuple[int, int, int, tuple[int, ...]]


def objective(offers: Sequence[Offer], counts: Sequence[int]) -> Objective:
    """Return cost, number of reels, length bought, and counts turned round, in the order they matter."""
    return (
        sum(offer.cost * count for offer, count in zip(offers, counts, strict=True)),
        sum(counts),
        sum(offer.length * count for offer, count in zip(offers, counts, strict=True)),
        tuple(-count for count in counts),
    )


def cheapest_allowed(
    offers: Sequence[Offer],
    weightings: Sequence[Weighting],
    barred: Sequence[Sequence[int]],
) -> tuple[tuple[int, ...], bool]:
    """Return the counts of reels least in the objective that no bound forbids and that are not barred.

    barred: counts that will not do, nor will any that are nowhere above them.
    Returns the counts and whether they are the least: where that takes more than a set number of steps, the
    least found so far.
    """
    order = sorted(
        range(len(offers)), key=lambda n: (-offers[n].cost / offers[n].length, offers[n].length, n)
    )
    search = _Search(offers, weightings, barred, order)
    search.begin(max(order, key=lambda n: offers[n].length))
    search.descend(0, [0] * len(offers), 0)
    assert search.best is not None  # enough of the longest reel always hold all pieces
    return search.best, search.steps <= MOST_STEPS


class _Search:
    """Depth first over the counts of one offer after another, the one with the cheapest metre last."""

    def __init__(
        self,
        offers: Sequence[Offer],
        weightings: Sequence[Weighting],
        barred: Sequence[Sequence[int]],
        order: Sequence[int],
    ) -> None:
        self.offers, self.weightings, self.barred, self.order = offers, weightings, barred, order
        self.best: tuple[int, ...] | None = None
        self.best_objective: Objective | None = None
        self.steps = 0

    def begin(self, longest: int) -> None:
        """Take as many as are needed of the longest reel alone for a first best."""
        counts = [0] * len(self.offers)
        counts[longest] = self._needed(longest, counts)
        self._keep(counts, longest)

    def descend(self, depth: int, counts: list[int], cost: int) -> None:
        """Try all counts of the offer at a depth that may still be better than the best."""
        offer = self.order[depth]
        needed = self._needed(offer, counts)
        last = depth == len(self.order) - 1
        most = needed if last else max([needed, *(counts[offer] + 1 for counts in self.barred)])
        for count in range(needed if last else 0, most + 1):
            self.steps += 1
            if self.steps > MOST_STEPS:
                break
            counts[offer] = count
            now = cost + count * self.offers[offer].cost
            if last:
                self._keep(counts, offer)
            elif not self._hopeless(depth + 1, counts, now):
                self.descend(depth + 1, counts, now)
        counts[offer] = 0

    def _needed(self, offer: int, counts: Sequence[int]) -> int:
        """Return how many of an offer satisfy all bounds, the others as they stand."""
        return max(
            (
                -(-missing // weighting.holds[offer]) if weighting.holds[offer] else 0
                for weighting in self.weightings
                if (missing := self._missing(weighting, counts)) > 0
            ),
            default=0,
        )

    @staticmethod
    def _missing(weighting: Weighting, counts: Sequence[int]) -> int:
        return weighting.whole - sum(c * hold for c, hold in zip(counts, weighting.holds, strict=True))

    def _is_barred(self, counts: Sequence[int]) -> bool:
        return any(all(map(le, counts, barred)) for barred in self.barred)

    def _hopeless(self, depth: int, counts: Sequence[int], cost: int) -> bool:
        """Say whether these counts, with whatever is still missing, must be worse than the best found."""
        assert self.best_objective is not None
        dearest, fewest, shortest = 0.0, 0, 0.0
        for weighting in self.weightings:
            missing = self._missing(weighting, counts)
            if missing > 0:
                rest = [n for n in self.order[depth:] if weighting.holds[n]]
                if not rest:
                    return True
                holds = weighting.holds
                dearest = max(dearest, min(self.offers[n].cost * missing / holds[n] for n in rest))
                fewest = max(fewest, min(-(-missing // holds[n]) for n in rest))
                shortest = max(shortest, min(self.offers[n].length * missing / holds[n] for n in rest))
        least = (
            max(cost, math.ceil((cost + dearest) * (1 - _NOISE))),
            sum(counts) + fewest,
            math.ceil((objective(self.offers, counts)[2] + shortest) * (1 - _NOISE)),
        )
        return least > self.best_objective[:3]

    def _keep(self, counts: list[int], offer: int) -> None:
        """Keep these counts if they are allowed and the best so far, with more of the last where barred."""
        if any(weighting.forbids(counts) for weighting in self.weightings):
            return
        while self._is_barred(counts):
            counts[offer] += 1
        value = objective(self.offers, counts)
        if self.best_objective is None or value < self.best_objective:
            self.best, self.best_objective = tuple(counts), value
