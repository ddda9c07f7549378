"""Cables in a conduit as they come to rest: circles in a circle, lowest first, none over another."""

import math
from collections.abc import Iterator, Sequence

Placed = tuple[float, float, float]
_TOLERANCE = 1e-9


def packed(radii: Sequence[float], around: float) -> tuple[Placed | None, ...]:
    """Return centre and radius of every circle inside one of radius `around`; None for those without room.

    radii: in the order in which the result stands; the largest are laid first, each as low as it can lie,
    then as near to the middle.
    """
    lying: list[Placed] = []
    places: list[Placed | None] = [None] * len(radii)
    for n in sorted(range(len(radii)), key=lambda n: (-radii[n], n)):
        radius = radii[n]
        if radius > around * (1 + _TOLERANCE):
            continue
        free = [
            (round(y, 9), round(abs(x), 9), round(x, 9), x, y)
            for x, y in _resting(lying, radius, around)
            if _is_free(lying, x, y, radius, around)
        ]
        if free:
            *_, x, y = min(free)
            places[n] = (x, y, radius)
            lying.append((x, y, radius))
    return tuple(places)


def _resting(lying: Sequence[Placed], radius: float, around: float) -> Iterator[tuple[float, float]]:
    """Yield where a circle may rest: at the bottom, on the wall and one other, or on two others."""
    yield 0.0, -(around - radius)
    for n, (x, y, other) in enumerate(lying):
        yield from _crossings((0.0, 0.0), around - radius, (x, y), other + radius)
        for x2, y2, other2 in lying[:n]:
            if math.dist((x, y), (x2, y2)) <= other + other2 + 2 * radius:
                yield from _crossings((x, y), other + radius, (x2, y2), other2 + radius)


def _crossings(
    first: tuple[float, float], reach: float, second: tuple[float, float], reach2: float
) -> Iterator[tuple[float, float]]:
    """Yield the points at two distances from two points."""
    apart = math.dist(first, second)
    if apart == 0 or apart > reach + reach2 or apart < abs(reach - reach2):
        return
    along = (apart**2 + reach**2 - reach2**2) / (2 * apart)
    aside = math.sqrt(max(reach**2 - along**2, 0.0))
    dx, dy = (second[0] - first[0]) / apart, (second[1] - first[1]) / apart
    for sign in (-1, 1):
        yield first[0] + along * dx - sign * aside * dy, first[1] + along * dy + sign * aside * dx


def _is_free(lying: Sequence[Placed], x: float, y: float, radius: float, around: float) -> bool:
    slack = _TOLERANCE * around
    inside = math.hypot(x, y) + radius <= around + slack
    return inside and all(math.dist((x, y), (x2, y2)) >= radius + r2 - slack for x2, y2, r2 in lying)
