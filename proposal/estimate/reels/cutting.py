"""Every piece cut from reels at least cost, then fewest reels, then least length bought, with its proof.

Counts of reels are proposed in the order of the objective, cheapest first. Each proposal is either packed,
or shown impossible by a bound in whole numbers or by an integer programme over all patterns; the first that
is packed is then the best there is. Where a proposal is neither packed nor shown impossible, the answer is
not called proven, and that proposal's cost is the bound: all that is cheaper was shown impossible.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from itertools import product
from operator import le

from proposal.estimate.reels.cutting_bounds import (
    Demand,
    Offer,
    Weighting,
    cheapest_allowed,
    first_weightings,
    least_cost,
    objective,
)
from proposal.estimate.reels.cutting_patterns import Pattern, Relaxed, all_patterns, relaxed, whole
from proposal.estimate.reels.packing import (
    BY_GROUP,
    FILLING_RULES,
    TIGHT,
    Filled,
    FillingRule,
    Piece,
    packed,
)
from proposal.field_classes import dataclass

MOST_UNDECIDED = 3
MOST_PROPOSALS = 200
SMALL_REST = 8
LOOSENED = (2, 6)


@dataclass(frozen=True, slots=True)
class Cutting:
    """Reels that hold all pieces.

    reels: place of the offer, and the pieces cut from it.
    cost: of all reels.  bound: no cost below it is possible.  proven: whether nothing is better in cost,
    number of reels and length bought.
    """

    reels: tuple[tuple[int, tuple[Piece, ...]], ...]
    cost: int
    bound: int
    proven: bool


def cut(pieces: Sequence[Piece], offers: Sequence[Offer]) -> Cutting:
    """Return the best way to cut all pieces from reels that are offered.

    pieces: in the order of their numbers; each fits on the longest reel.
    offers: reels to buy, no two of one length; the order breaks the last tie.
    """
    if not pieces:
        return Cutting((), 0, 0, True)
    return _Cutter(pieces, offers).best()


class _Cutter:
    """What is known while proposals are tried."""

    def __init__(self, pieces: Sequence[Piece], offers: Sequence[Offer]) -> None:
        self.pieces, self.offers = pieces, offers
        by_length = Counter(piece.length for piece in pieces)
        self.demands = [Demand(length, by_length[length]) for length in sorted(by_length, reverse=True)]
        self.places = {demand.length: place for place, demand in enumerate(self.demands)}
        self.offer_of = {offer.length: n for n, offer in enumerate(offers)}
        self.weightings: list[Weighting] = first_weightings(self.demands, offers)
        self.known: dict[Pattern, None] = {}
        self.fallback: list[Filled] | None = None

    def best(self) -> Cutting:
        """Try proposals in order until one is packed, or too many stay undecided."""
        barred: list[tuple[int, ...]] = []
        undecided = 0
        bound = least_cost(self.offers, self.weightings)
        for _ in range(MOST_PROPOSALS):
            counts, least = cheapest_allowed(self.offers, self.weightings, barred)
            proposed = objective(self.offers, counts)
            exact = least and not undecided
            bound = max(bound, proposed[0] if exact else least_cost(self.offers, self.weightings))
            if self.fallback is not None and self._objective(self.fallback) <= proposed:
                return self._cutting(self.fallback, bound, exact)
            reels, impossible = self._tried(counts)
            if reels is not None:
                return self._cutting(reels, bound, exact)
            if not impossible or not any(weighting.forbids(counts) for weighting in self.weightings):
                barred.append(counts)
            undecided += not impossible
            if undecided >= MOST_UNDECIDED or not least:
                break
        assert self.fallback is not None
        return self._cutting(self.fallback, bound, False)

    def _tried(self, counts: tuple[int, ...]) -> tuple[list[Filled] | None, bool]:
        """Return reels within the counts, or None and whether it was shown that there are none."""
        reels = self._by_filling(self.pieces, counts, FILLING_RULES)
        if reels is not None:
            return reels, False
        fractions = relaxed(self.demands, self.offers, counts, list(self.known))
        if fractions.weighting is not None:
            self.weightings.append(fractions.weighting)
            return None, True
        self.known.update(dict.fromkeys(fractions.patterns))
        reels = self._by_cutting_anew(counts) or self._by_diving(self.pieces, counts)
        if reels is not None:
            return reels, False
        patterns = all_patterns(self.demands, self.offers, counts)
        if patterns is None:
            return None, False
        answer = whole(self.demands, counts, patterns)
        if answer.uses is None:
            return None, answer.impossible
        return self._cut_by(patterns, answer.uses, self.pieces)[0], False

    def _capacities(self, counts: Sequence[int]) -> list[int]:
        return [offer.length for offer, count in zip(self.offers, counts, strict=True) for _ in range(count)]

    def _by_filling(
        self, pieces: Sequence[Piece], counts: Sequence[int], rules: Sequence[FillingRule]
    ) -> list[Filled] | None:
        """Fill reels one after another, each rule in turn; the last ones know no groups."""
        if max(piece.length for piece in pieces) > max(self._capacities(counts)):
            return None
        for rule in rules:
            filled, enough = packed(pieces, self._capacities(counts), rule)
            if enough:
                return filled
            if len(pieces) == len(self.pieces):
                self._remember(filled)
        return None

    def _remember(self, reels: list[Filled]) -> None:
        """Keep the patterns, and the reels, no longer than need be, if they are the best so far."""
        for reel in reels:
            self.known[self._pattern(reel)] = None
        reels = [Filled(self._enough(reel).length, reel.pieces) for reel in reels]
        if self.fallback is None or self._objective(reels) < self._objective(self.fallback):
            self.fallback = reels

    def _enough(self, reel: Filled) -> Offer:
        """Return the cheapest offer that holds the pieces of a reel."""
        used = reel.capacity - reel.spare
        fitting = [offer for offer in self.offers if offer.length >= used]
        return min(fitting, key=lambda offer: (offer.cost, offer.length))

    def _pattern(self, reel: Filled) -> Pattern:
        counts = [0] * len(self.demands)
        for piece in reel.pieces:
            counts[self.places[piece.length]] += 1
        return Pattern(self.offer_of[reel.capacity], tuple(counts))

    def _by_cutting_anew(self, counts: tuple[int, ...]) -> list[Filled] | None:
        """Keep the reels that filling by group leaves full, and cut what was on the others anew.

        So most reels stay with one group. The last full ones of each group are cut anew too: the lengths on
        them are what makes the rest fit.
        """
        share = (self._length(counts) - sum(piece.length for piece in self.pieces)) / sum(counts)
        for loosened, rule in product(LOOSENED, BY_GROUP):
            filled, _ = packed(self.pieces, self._capacities(counts), rule)
            by_group: dict[int, list[Filled]] = {}
            for reel in filled:
                if reel.spare <= share:
                    by_group.setdefault(reel.pieces[0].group, []).append(reel)
            kept = [reel for reels in by_group.values() for reel in reels[:-loosened]]
            left = [have - used for have, used in zip(counts, self._counts(kept), strict=True)]
            if min(left) < 0 or not any(left):
                continue
            gone = {piece.number for reel in kept for piece in reel.pieces}
            more = self._by_diving([piece for piece in self.pieces if piece.number not in gone], left)
            if more is not None:
                return [*kept, *more]
        return None

    def _by_diving(self, pieces: Sequence[Piece], counts: Sequence[int]) -> list[Filled] | None:
        """Fix the patterns that the linear programme likes best, solve for the rest, and so on.

        After each step the rest is filled reel by reel, and a small rest is cut by integer programme.
        """
        reels: list[Filled] = []
        rest, left = list(pieces), list(counts)
        while True:
            waiting = Counter(piece.length for piece in rest)
            demands = [Demand(demand.length, waiting[demand.length]) for demand in self.demands]
            fractions = relaxed(demands, self.offers, left, _within(self.known, demands))
            if fractions.weighting is not None:
                return None
            self.known.update(dict.fromkeys(fractions.patterns))
            if sum(left) <= SMALL_REST:
                answer = whole(demands, left, fractions.patterns)
                if answer.uses is not None:
                    return [*reels, *self._cut_by(fractions.patterns, answer.uses, rest)[0]]
            taken, rest = self._cut_by(fractions.patterns, _liked(fractions, demands, left), rest)
            reels += taken
            left = [have - used for have, used in zip(left, self._counts(taken), strict=True)]
            if not rest:
                return reels
            if not taken or not any(left):
                return None
            more = self._by_filling(rest, left, TIGHT)
            if more is not None:
                return [*reels, *more]

    def _length(self, counts: Sequence[int]) -> int:
        return objective(self.offers, counts)[2]

    def _cut_by(
        self, patterns: Sequence[Pattern], uses: Sequence[int], pieces: Sequence[Piece]
    ) -> tuple[list[Filled], list[Piece]]:
        """Return reels cut by patterns, each piece taken in the order of groups, and the pieces left."""
        waiting: dict[int, list[Piece]] = {demand.length: [] for demand in self.demands}
        for piece in sorted(pieces, key=lambda piece: (piece.group, piece.number), reverse=True):
            waiting[piece.length].append(piece)
        reels = []
        for pattern, use in sorted(zip(patterns, uses, strict=True), key=lambda pair: _order(pair[0])):
            for _ in range(use):
                taken = [
                    waiting[demand.length].pop()
                    for demand, count in zip(self.demands, pattern.counts, strict=True)
                    for _ in range(min(count, len(waiting[demand.length])))
                ]
                if taken:
                    reels.append(Filled(self.offers[pattern.offer].length, tuple(taken)))
        return reels, [piece for left in waiting.values() for piece in left]

    def _counts(self, reels: Sequence[Filled]) -> list[int]:
        found = Counter(reel.capacity for reel in reels)
        return [found[offer.length] for offer in self.offers]

    def _objective(self, reels: Sequence[Filled]) -> tuple[int, int, int, tuple[int, ...]]:
        return objective(self.offers, self._counts(reels))

    def _cutting(self, reels: Sequence[Filled], bound: int, proven: bool) -> Cutting:
        cost = self._objective(reels)[0]
        placed = tuple((self.offer_of[reel.capacity], reel.pieces) for reel in reels)
        return Cutting(placed, cost, cost if proven else min(bound, cost), proven)


def _order(pattern: Pattern) -> tuple[int, tuple[int, ...]]:
    """Return what sorts patterns: longest pieces first."""
    return pattern.offer, tuple(-count for count in pattern.counts)


def _liked(fractions: Relaxed, demands: Sequence[Demand], left: Sequence[int]) -> list[int]:
    """Return how often to cut each pattern for certain: its whole part, else the greatest broken parts.

    No more pieces are taken than are wanted, and no more reels than are left.
    """
    wanted = [demand.count for demand in demands]
    reels = list(left)
    uses = [0] * len(fractions.uses)

    def cut(n: int, times: int) -> None:
        pattern = fractions.patterns[n]
        fits = [wanted[k] // count for k, count in enumerate(pattern.counts) if count]
        times = min([times, reels[pattern.offer], *fits])
        uses[n] += times
        reels[pattern.offer] -= times
        for k, count in enumerate(pattern.counts):
            wanted[k] -= times * count

    for n, use in enumerate(fractions.uses):
        if use >= 1 - 1e-6:
            cut(n, int(use + 1e-6))
    most = max(1, sum(left) // 10)
    by_part = sorted(range(len(uses)), key=lambda n: (-(fractions.uses[n] % 1), n))
    for n in by_part:
        if sum(uses) >= most:
            break
        if fractions.uses[n] > 1e-6:
            cut(n, 1)
    return uses


def _within(patterns: Iterable[Pattern], demands: Sequence[Demand]) -> list[Pattern]:
    """Return the patterns with no more pieces than are wanted."""
    wanted = tuple(demand.count for demand in demands)
    return [pattern for pattern in patterns if all(map(le, pattern.counts, wanted))]
