"""The order in which a line leads from one loudspeaker to the next: the one that takes least cable."""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import accumulate, combinations, pairwise, product

EXACT_UP_TO = 10
"""Lines of so many loudspeakers or fewer are as short as can be; in longer ones no exchange shortens them."""
_STEPS_A_METRE = 10_000
_NEVER = 10**12
"""Length of a stretch that is not allowed, in steps: longer than all lines together."""
_MOVED_TOGETHER = 3
_STARTS = 16
_FEW = 100
_PAIRS_LOOKED_AT = 4_000_000
"""Bounds the work for a line by counted steps: each round looks at all pairs of its loudspeakers."""
_KEPT = 1024

_Steps = tuple[int, ...]


def line_order(first_m: Sequence[float | None], between_m: Sequence[Sequence[float | None]]) -> list[int]:
    """Return the order of the loudspeakers of a line along which its cables are shortest together.

    first_m: length of the cable from where the line begins to each of them, m; None where none may begin.
    between_m: length of the cable from that of the row on to that of the column, m; None where none may lie.
    Among orders of one length the first in order of their numbers is taken. What is not allowed is taken
    where there is no other way.
    """
    first = _in_steps(first_m)
    least = min(first, default=0)
    # Rooms that are built alike differ in how far the rack is, which changes nothing.
    return list(
        _order(
            tuple(one if one == _NEVER else one - least for one in first),
            tuple(_in_steps(row) for row in between_m),
        )
    )


def _in_steps(lengths_m: Sequence[float | None]) -> _Steps:
    """Return lengths as whole numbers, so that equal ones are equal however they were added."""
    return tuple(_NEVER if one is None else round(one * _STEPS_A_METRE) for one in lengths_m)


@lru_cache(maxsize=_KEPT)
def _order(first: _Steps, between: tuple[_Steps, ...]) -> _Steps:
    if len(first) <= EXACT_UP_TO:
        return _shortest(first, between)
    starts = sorted(range(len(first)), key=lambda at: (first[at], at))[: _STARTS if len(first) <= _FEW else 1]
    orders = [_shortened(_nearest_first(start, between), first, between) for start in starts]
    return min(orders, key=lambda order: (_length(order, first, between), order))


def _shortest(first: _Steps, between: tuple[_Steps, ...]) -> _Steps:
    """Return the shortest order: the best one of each set that ends in each loudspeaker, set by set."""
    ends: dict[tuple[int, int], tuple[int, _Steps]] = {
        (1 << at, at): (length, (at,)) for at, length in enumerate(first)
    }
    for _ in first[1:]:
        longer: dict[tuple[int, int], tuple[int, _Steps]] = {}
        for (there, last), (length, order) in ends.items():
            for at, on in enumerate(between[last]):
                if there >> at & 1:
                    continue
                key, way = (there | 1 << at, at), (length + on, (*order, at))
                if key not in longer or way < longer[key]:
                    longer[key] = way
        ends = longer
    return min(ends.values(), default=(0, ()))[1]


def _nearest_first(start: int, between: tuple[_Steps, ...]) -> _Steps:
    """Return the order that begins at one loudspeaker and goes on to the nearest each time."""
    left = set(range(len(between))) - {start}
    order = [start]
    while left:
        row = between[order[-1]]
        order.append(min(left, key=lambda at: (row[at], at)))
        left.remove(order[-1])
    return tuple(order)


def _shortened(order: _Steps, first: _Steps, between: tuple[_Steps, ...]) -> _Steps:
    """Return an order that no turning round of a part and no moving of up to three makes shorter."""
    for _ in range(_PAIRS_LOOKED_AT // len(order) ** 2):
        other = next(_exchanged(order, first, between), None)
        if other is None:
            break
        order = other
    return order


def _length(order: _Steps, first: _Steps, between: tuple[_Steps, ...]) -> int:
    return first[order[0]] + sum(between[one][after] for one, after in pairwise(order))


def _exchanged(order: _Steps, first: _Steps, between: tuple[_Steps, ...]) -> Iterator[_Steps]:
    """Yield the orders that come of one exchange and are shorter; what each changes is added up alone."""
    forth = tuple(accumulate((between[one][after] for one, after in pairwise(order)), initial=0))
    back = tuple(accumulate((between[after][one] for one, after in pairwise(order)), initial=0))
    ends = (None, *order, None)

    def stretch(one: int | None, after: int | None) -> int:
        """Return the way on from a loudspeaker, or from where the line begins; none after the last."""
        if after is None:
            return 0
        return first[after] if one is None else between[one][after]

    for start, end in combinations(range(len(order)), 2):
        # `ends` has one more in front: what stands before place n of the order is its n.
        before, after = ends[start], ends[end + 2]
        turned = stretch(before, order[end]) + stretch(order[start], after) + back[end] - back[start]
        if turned < stretch(before, order[start]) + stretch(order[end], after) + forth[end] - forth[start]:
            yield (*order[:start], *reversed(order[start : end + 1]), *order[end + 1 :])
    for start, count in product(range(len(order)), range(1, _MOVED_TOGETHER + 1)):
        part, rest = order[start : start + count], (*order[:start], *order[start + count :])
        if not rest or len(part) < count:
            continue
        before, after = ends[start], ends[start + count + 1]
        end = start + count - 1
        saved = stretch(before, part[0]) + stretch(part[-1], after) - stretch(before, after)
        saved += forth[end] - forth[start]
        between_rest = (None, *rest, None)
        for at, (one, other) in enumerate(pairwise(between_rest)):
            gone = stretch(one, other)
            for moved, inside in ((part, forth[end] - forth[start]), (part[::-1], back[end] - back[start])):
                if stretch(one, moved[0]) + stretch(moved[-1], other) + inside - gone < saved:
                    yield (*rest[:at], *moved, *rest[at:])
