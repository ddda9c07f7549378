"""The one objective by which everything is chosen: least cost, fewest boxes, least spare, order of codes."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

MOST_BOXES = 10_000


@dataclass(frozen=True, slots=True)
class Option:
    """One model that may be chosen any number of times.

    code: model code; the order of codes breaks the last tie.
    cost: what one box costs, in one currency for all options.
    gives: what one box gives of each need, in the order of the needs, whole numbers.
    """

    code: str
    cost: Decimal
    gives: tuple[int, ...]


@lru_cache(maxsize=4096)
def cover(options: tuple[Option, ...], needs: tuple[int, ...]) -> tuple[tuple[str, int], ...] | None:
    """Return how many boxes of each model cover every need at least cost, exactly.

    options: the models to choose from, in any order.
    needs: what must be covered, such as (channels,) or (ports, powered ports, watts).
    Returns code and count of the models taken, in order of codes; None where no number of boxes will do.
    The answer is unique: among equal costs the fewest boxes, then the least spare over all needs, then
    the most boxes of the first code in order, then of the second, and so on.
    """
    ordered = sorted(options, key=lambda option: option.code)
    if all(need <= 0 for need in needs):
        return ()
    if any(need > 0 and not any(option.gives[n] > 0 for option in ordered) for n, need in enumerate(needs)):
        return None
    counts = _counted(ordered, needs[0]) if len(needs) == 1 else _solved(ordered, needs)
    if counts is None:
        return None
    return tuple((option.code, count) for option, count in zip(ordered, counts, strict=True) if count)


_Best = tuple[Decimal, int, tuple[int, ...]]


def _counted(options: Sequence[Option], need: int) -> list[int]:
    """Return the counts for a single need by dynamic programming over the sum given.

    A best answer never gives as much as the need and its largest box together: that box could be left out.
    """
    largest = max(option.gives[0] for option in options)
    best: list[_Best | None] = [None] * (need + largest)
    best[0] = (Decimal(0), 0, (0,) * len(options))
    for given in range(1, len(best)):
        for n, option in enumerate(options):
            before = best[given - option.gives[0]] if 0 < option.gives[0] <= given else None
            if before is None:
                continue
            cost, boxes, negatives = before
            fewer = (*negatives[:n], negatives[n] - 1, *negatives[n + 1 :])
            candidate = (cost + option.cost, boxes + 1, fewer)
            now = best[given]
            if now is None or candidate < now:
                best[given] = candidate
    reached = [
        (found[0], found[1], given, found[2]) for given, found in enumerate(best) if found and given >= need
    ]
    return [-count for count in min(reached)[3]]


def _solved(options: Sequence[Option], needs: Sequence[int]) -> list[int] | None:
    """Solve the integer programme once for each step of the objective, holding what was reached before.

    Every weight is a whole number (costs in cents), so that half a unit separates two answers.
    """
    import highspy

    class Silent(highspy.Highs):
        """A solver that prints nothing: the library's banner comes with its callbacks."""

        def enableCallbacks(self) -> None:  # noqa: N802 - the library's name
            self.setOptionValue("output_flag", False)
            super().enableCallbacks()  # type: ignore[no-untyped-call]  # the library's

    solver = Silent()  # type: ignore[no-untyped-call]  # the library's
    for name in ("mip_rel_gap", "mip_abs_gap"):
        solver.setOptionValue(name, 0.0)
    boxes = [solver.addIntegral(lb=0, ub=MOST_BOXES) for _ in options]
    for n, need in enumerate(needs):
        if need > 0:
            given = [option.gives[n] for option in options]
            solver.addConstr(sum(give * box for give, box in zip(given, boxes, strict=True)) >= need)
    steps = [[float(option.cost.scaleb(2)) for option in options], [1.0] * len(options)]
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
