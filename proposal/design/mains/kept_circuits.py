"""Which outlets share a circuit, and its number: as an issued revision gave them as long as that holds."""

from collections.abc import Mapping, Sequence
from itertools import count

Sizes = Sequence[tuple[float, float]]
_ROUNDING = 1e-9


def numbered(
    sizes: Sizes,
    before: Sequence[int | None],
    used: frozenset[int],
    anew: Sequence[Sequence[int]],
    spread_over: int | None,
) -> Mapping[int, list[int]]:
    """Return the loads of each circuit by its number, both in order.

    sizes: of each load, as shares of what a circuit may carry: its current and its leakage.
    before: circuit that an issued revision gave each, None where it gave none.
    used: every number that was ever given at the place.
    anew: the circuits as they would be without that revision.
    spread_over: circuits that the project asks for, None where they follow from the loads.
    What was issued stays as long as no circuit is too much, since it may be wired. Where it does not hold,
    the circuits are made anew, and each has the number that most of its loads had.
    """
    kept = _kept(sizes, before, used, spread_over)
    if kept is not None and _holds_as_well(sizes, list(kept.values()), anew):
        return dict(sorted(kept.items()))
    shared = sorted(
        (
            (-sum(before[load] == number for load in group), number, place)
            for place, group in enumerate(anew)
            for number in {before[load] for load in group} - {None}
            if number is not None
        ),
    )
    numbers: dict[int, int] = {}
    for _, number, place in shared:
        if place not in numbers and number not in numbers.values():
            numbers[place] = number
    free = (number for number in count(1) if number not in used)
    for place in range(len(anew)):
        if place not in numbers:
            numbers[place] = next(free)
    return dict(sorted((numbers[place], sorted(group)) for place, group in enumerate(anew)))


def _kept(
    sizes: Sizes, before: Sequence[int | None], used: frozenset[int], spread_over: int | None
) -> dict[int, list[int]] | None:
    """Return the circuits as they were issued with what is new on them, None where nothing was issued.

    What is new is put, the largest first, on the emptiest circuit that has room, else on one more.
    """
    groups: dict[int, list[int]] = {}
    for load, number in enumerate(before):
        if number is not None:
            groups.setdefault(number, []).append(load)
    if not groups:
        return None
    if spread_over is not None and len(groups) > spread_over:
        return None
    free = (number for number in count(1) if number not in used)
    new = [load for load, number in enumerate(before) if number is None]
    for load in sorted(new, key=lambda one: (-max(sizes[one]), one)):
        left = {
            number: [1 - sum(sizes[one][axis] for one in group) - sizes[load][axis] for axis in (0, 1)]
            for number, group in groups.items()
        }
        roomy = [number for number in groups if min(left[number]) >= -_ROUNDING]
        if spread_over is not None:
            number = (
                next(free)
                if len(groups) < spread_over
                else min(groups, key=lambda one: (-min(left[one]), one))
            )
        else:
            number = min(roomy, key=lambda one: (-min(left[one]), one)) if roomy else next(free)
        groups.setdefault(number, []).append(load)
    return {number: sorted(group) for number, group in groups.items()}


def _holds_as_well(sizes: Sizes, kept: Sequence[Sequence[int]], anew: Sequence[Sequence[int]]) -> bool:
    """Return whether no circuit is too much as kept, or at least not for less reason than anew."""
    return _too_much(sizes, kept) <= _too_much(sizes, anew) + _ROUNDING


def _too_much(sizes: Sizes, groups: Sequence[Sequence[int]]) -> float:
    return sum(max(sum(sizes[load][axis] for load in group) - 1, 0.0) for group in groups for axis in (0, 1))
