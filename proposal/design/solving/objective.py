"""The one objective by which everything is chosen: least cost, fewest boxes, least spare, order of codes."""

from collections.abc import Sequence
from decimal import Decimal
from functools import lru_cache
from heapq import heappop, heappush

from proposal.design.solving.solver import silent_solver
from proposal.field_classes import dataclass
from proposal.quantities.rounding import places_in

MOST_BOXES = 10_000


@dataclass(frozen=True, slots=True)
class Option:
    """One model that may be chosen any number of times, or up to a number.

    code: model code; the order of codes breaks the last tie.
    cost: what one box costs, an amount in one currency for all options.
    gives: what one box gives of each need, in the order of the needs, whole numbers.
    most: boxes of it at most.
    """

    code: str
    cost: Decimal
    gives: tuple[int, ...]
    most: int = MOST_BOXES


Chosen = tuple[tuple[str, int], ...]


@lru_cache(maxsize=4096)
def cover(options: tuple[Option, ...], needs: tuple[int, ...]) -> Chosen | None:
    """Return how many boxes of each model cover every need at least cost, exactly.

    options: the models to choose from, in any order.
    needs: what must be covered, such as (channels,) or (ports, powered ports, watts).
    Returns code and count of the models taken, in order of codes; None where no number of boxes will do.
    The answer is unique: among equal costs the fewest boxes, then the least that the boxes give over all
    needs, then the most boxes of the first code in order, then of the second, and so on.
    """
    ordered = sorted(options, key=lambda option: option.code)
    open_needs = [n for n, need in enumerate(needs) if need > 0]
    if not open_needs:
        return ()
    most = [max((option.gives[n] for option in ordered), default=0) for n in range(len(needs))]
    if any(needs[n] > MOST_BOXES * most[n] for n in open_needs):
        return None
    if len(needs) == 1 and all(option.most == MOST_BOXES for option in ordered):
        counts: Sequence[int] | None = _counted(ordered, needs[0])
    else:
        counts = _first_that_covers(ordered, needs) or _solved(ordered, needs)
    if counts is None:
        return None
    return tuple((option.code, count) for option, count in zip(ordered, counts, strict=True) if count)


_Best = tuple[Decimal, int, tuple[int, ...]]


def _counted(options: Sequence[Option], need: int) -> list[int]:
    """Return the counts for a single need by dynamic programming over the sum given.

    A box that covers the need alone stands alone in a best answer, and any other best answer falls under
    the need by taking one of its boxes away; so sums up to twice the need suffice, however large boxes are.
    """
    nothing = (0,) * len(options)

    def with_one(negatives: tuple[int, ...], n: int) -> tuple[int, ...]:
        return (*negatives[:n], negatives[n] - 1, *negatives[n + 1 :])

    reached = [
        (option.cost, 1, option.gives[0], with_one(nothing, n))
        for n, option in enumerate(options)
        if option.gives[0] >= need
    ]
    small = [
        (n, option.cost, option.gives[0]) for n, option in enumerate(options) if 0 < option.gives[0] < need
    ]
    best: list[_Best | None] = [None] * (2 * need)
    best[0] = (Decimal(0), 0, nothing)
    for given in range(1, len(best)):
        for n, cost, gives in small:
            before = best[given - gives] if gives <= given else None
            if before is None:
                continue
            candidate = (before[0] + cost, before[1] + 1, with_one(before[2], n))
            now = best[given]
            if now is None or candidate < now:
                best[given] = candidate
    reached += [
        (found[0], found[1], given, found[2]) for given, found in enumerate(best) if found and given >= need
    ]
    return [-count for count in min(reached)[3]]


MOST_TRIED = 1_000
"""So many sets of boxes are tried by hand before the solver, which is slow to start, is asked."""


def _first_that_covers(options: Sequence[Option], needs: Sequence[int]) -> list[int] | None:
    """Return the counts by trying sets of boxes in the order of the objective; None if that takes long.

    No part of a set comes after the whole in that order, so the first set that covers every need is the best.
    """
    nothing = (0,) * len(options)
    waiting: list[tuple[Decimal, int, int, tuple[int, ...]]] = [(Decimal(0), 0, 0, nothing)]
    seen = {nothing}
    for _ in range(MOST_TRIED):
        if not waiting:
            return None
        cost, boxes, given, negatives = heappop(waiting)
        sums = [
            -sum(count * option.gives[n] for count, option in zip(negatives, options, strict=True))
            for n in range(len(needs))
        ]
        if all(total >= need for total, need in zip(sums, needs, strict=True)):
            return [-count for count in negatives]
        for n, option in enumerate(options):
            more = (*negatives[:n], negatives[n] - 1, *negatives[n + 1 :])
            if more not in seen and -more[n] <= option.most:
                seen.add(more)
                heappush(waiting, (cost + option.cost, boxes + 1, given + sum(option.gives), more))
    return None


def _solved(options: Sequence[Option], needs: Sequence[int]) -> list[int] | None:
    """Solve the integer programme once for each step of the objective, holding what was reached before.

    Every weight is a whole number (costs in their smallest step), so that half a unit separates two answers.
    """
    import highspy

    solver = silent_solver()
    boxes = [solver.addIntegral(lb=0, ub=option.most) for option in options]
    for n, need in enumerate(needs):
        if need > 0:
            given = [option.gives[n] for option in options]
            solver.addConstr(sum(give * box for give, box in zip(given, boxes, strict=True)) >= need)
    places = max(places_in(option.cost) for option in options)
    steps = [[float(option.cost.scaleb(places)) for option in options], [1.0] * len(options)]
    steps.append([float(sum(option.gives)) for option in options])
    steps += [[-1.0 if n == k else 0.0 for n in range(len(options))] for k in range(len(options) - 1)]
    counts: list[int] | None = None
    for weights in steps:
        terms = [weight * box for weight, box in zip(weights, boxes, strict=True) if weight]
        if not terms:
            continue
        objective = sum(terms[1:], terms[0] + 0.0)
        solver.minimize(objective)
        if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            return None
        counts = [round(float(value)) for value in solver.vals(boxes)]
        reached = sum(weight * count for weight, count in zip(weights, counts, strict=True))
        solver.addConstr(objective <= reached + 0.5)
    return counts
