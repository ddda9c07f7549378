"""Patterns by linear and integer programme: whether given counts of reels can hold all pieces.

Source: P. C. Gilmore and R. E. Gomory, A linear programming approach to the cutting-stock problem,
Operations Research 9 (1961) 849-859 and 11 (1963) 863-888: patterns are made as they are needed, by a
knapsack over the prices of the pieces.

All limits are counts of steps, never times, so that the same input gives the same plan.
"""

from collections.abc import Iterator, Sequence
from typing import Any

from proposal.design.solving.solver import silent_solver
from proposal.estimate.reels.cutting_bounds import Demand, Offer, Weighting, best_patterns
from proposal.field_classes import dataclass

MOST_ROUNDS = 400
MOST_PATTERNS = 4_000
MOST_NODES = 2_000
_HEAVIEST = 1_000_000
_ROUNDING = 1e-7
_A_FIFTH = 0.2  # of a reel


@dataclass(frozen=True, slots=True)
class Pattern:
    """Pieces cut from one reel: place of the offer, and how many of each demand."""

    offer: int
    counts: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Relaxed:
    """What the linear programme says of given counts of reels.

    weighting: a bound that forbids them, if one was found.
    patterns, uses: else patterns and how often each is cut, not whole numbers.
    """

    weighting: Weighting | None
    patterns: tuple[Pattern, ...]
    uses: tuple[float, ...]


def relaxed(
    demands: Sequence[Demand], offers: Sequence[Offer], counts: Sequence[int], known: Sequence[Pattern]
) -> Relaxed:
    """Return a bound that forbids the counts of reels, or patterns that hold all pieces in fractions.

    known: patterns to begin with.
    """
    patterns = list(dict.fromkeys([*_single(demands, offers, counts), *known]))
    master = _Master(demands, counts)
    for pattern in patterns:
        master.add(pattern)
    have = set(patterns)
    strongest: Weighting | None = None
    proven_scale = 1.0
    for _ in range(MOST_ROUNDS):
        scale, prices = master.solve()
        # Once counts are forbidden, prices are sought on that forbid nearly as much as any: else the next
        # counts would have to be forbidden one by one.
        if scale <= 1 + _ROUNDING or (strongest and (scale - proven_scale) * sum(counts) < _A_FIFTH):
            break
        highest = max(prices)
        weights = [max(0, int(price / highest * _HEAVIEST)) for price in prices]
        best = best_patterns(demands, offers, weights)
        whole = sum(demand.count * weight for demand, weight in zip(demands, weights, strict=True))
        held = sum(count * hold for count, hold in zip(counts, best.weights, strict=True))
        if whole > held and whole >= proven_scale * held:
            strongest, proven_scale = Weighting(best.weights, whole), whole / held if held else scale
        found = [Pattern(n, best.patterns[n]) for n in range(len(offers)) if counts[n]]
        new = [pattern for pattern in found if pattern not in have]
        if not new:
            break
        for pattern in new:
            have.add(pattern)
            patterns.append(pattern)
            master.add(pattern)
    if strongest is not None:
        return Relaxed(strongest, (), ())
    return Relaxed(None, tuple(patterns), master.uses())


def _single(demands: Sequence[Demand], offers: Sequence[Offer], counts: Sequence[int]) -> Iterator[Pattern]:
    """Yield for each demand and offer the pattern of that demand alone."""
    for n, offer in enumerate(offers):
        for place, demand in enumerate(demands):
            copies = min(offer.length // demand.length, demand.count)
            if counts[n] and copies:
                yield Pattern(n, tuple(copies if k == place else 0 for k in range(len(demands))))


class _Master:
    """By what the counts of reels must be multiplied so that patterns in fractions hold all pieces."""

    def __init__(self, demands: Sequence[Demand], counts: Sequence[int]) -> None:
        import highspy

        self.solver = silent_solver()
        self.pieces = len(demands)
        self.offers = len(counts)
        none: list[int] = []
        for demand in demands:
            self.solver.addRow(float(demand.count), highspy.kHighsInf, 0, none, [])
        for _ in counts:
            self.solver.addRow(-highspy.kHighsInf, 0.0, 0, none, [])
        rows = [self.pieces + n for n in range(self.offers)]
        self.solver.addCol(1.0, 0.0, highspy.kHighsInf, len(rows), rows, [-float(count) for count in counts])
        self.infinite = highspy.kHighsInf

    def add(self, pattern: Pattern) -> None:
        rows = [place for place, count in enumerate(pattern.counts) if count]
        values = [float(pattern.counts[place]) for place in rows]
        self.solver.addCol(
            0.0, 0.0, self.infinite, len(rows) + 1, [*rows, self.pieces + pattern.offer], [*values, 1.0]
        )

    def solve(self) -> tuple[float, list[float]]:
        """Return the multiple and the price of one piece of each demand."""
        self.solver.run()
        solution = self.solver.getSolution()
        return float(solution.col_value[0]), [float(price) for price in solution.row_dual[: self.pieces]]

    def uses(self) -> tuple[float, ...]:
        return tuple(float(value) for value in list(self.solver.getSolution().col_value)[1:])


@dataclass(frozen=True, slots=True)
class Whole:
    """What the integer programme says.

    uses: how often each pattern is cut, if a way was found.
    impossible: whether it was shown that these patterns will not do.
    """

    uses: tuple[int, ...] | None
    impossible: bool


def whole(demands: Sequence[Demand], counts: Sequence[int], patterns: Sequence[Pattern]) -> Whole:
    """Return how often each pattern is cut, whole times, within the counts of reels."""
    import highspy

    solver: Any = silent_solver()
    solver.setOptionValue("mip_max_nodes", MOST_NODES)
    for demand in demands:
        solver.addRow(float(demand.count), highspy.kHighsInf, 0, [], [])
    for count in counts:
        solver.addRow(-highspy.kHighsInf, float(count), 0, [], [])
    for n, pattern in enumerate(patterns):
        rows = [place for place, count in enumerate(pattern.counts) if count]
        values = [float(pattern.counts[place]) for place in rows]
        most = float(counts[pattern.offer])
        rows_all = [*rows, len(demands) + pattern.offer]
        solver.addCol(0.0, 0.0, most, len(rows_all), rows_all, [*values, 1.0])
        solver.changeColIntegrality(n, highspy.HighsVarType.kInteger)
    solver.run()
    status = solver.getModelStatus()
    if status == highspy.HighsModelStatus.kInfeasible:
        return Whole(None, True)
    if status != highspy.HighsModelStatus.kOptimal:
        return Whole(None, False)
    return Whole(tuple(round(float(value)) for value in solver.getSolution().col_value), False)


def all_patterns(
    demands: Sequence[Demand], offers: Sequence[Offer], counts: Sequence[int]
) -> tuple[Pattern, ...] | None:
    """Return every pattern to which no piece can be added, or None where there are too many."""
    found: list[Pattern] = []
    steps = 0
    for n, offer in enumerate(offers):
        if not counts[n]:
            continue
        waiting: list[tuple[int, int, tuple[int, ...]]] = [(0, offer.length, ())]
        while waiting:
            place, room, taken = waiting.pop()
            steps += 1
            if steps > 20 * MOST_PATTERNS or len(found) > MOST_PATTERNS:
                return None
            if place == len(demands):
                if all(
                    had == demand.count or demand.length > room
                    for had, demand in zip(taken, demands, strict=True)
                ):
                    found.append(Pattern(n, taken))
                continue
            demand = demands[place]
            for copies in range(min(demand.count, room // demand.length) + 1):
                waiting.append((place + 1, room - copies * demand.length, (*taken, copies)))
    return tuple(found)
