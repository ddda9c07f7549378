"""Where a right-angled run meets a straight pathway, and which pathways are near a point."""

import math
from collections.abc import Sequence
from typing import Generic, TypeVar

Point3 = tuple[float, float, float]
Item = TypeVar("Item")

CELL_M = 10.0


def run_parts_m(start: Point3, end: Point3, around: float) -> tuple[float, float]:
    """Return what of a right-angled run lies along x and y, and what goes up or down, m.

    start, end: in the building, m.
    around: factor on the horizontal part for ways round obstacles.
    """
    across = abs(end[0] - start[0]) + abs(end[1] - start[1])
    return across * around, abs(end[2] - start[2])


def run_m(start: Point3, end: Point3, around: float) -> float:
    """Return the length of a right-angled run, m.

    start, end: in the building, m.
    around: factor on the horizontal part for ways round obstacles.
    """
    return sum(run_parts_m(start, end, around))


def point_between(start: Point3, end: Point3, share: float) -> Point3:
    """Return the point at a share of the way from start to end."""
    x, y, z = (a + (b - a) * share for a, b in zip(start, end, strict=True))
    return x, y, z


def turning_shares(start: Point3, end: Point3, at: Point3) -> list[float]:
    """Return the shares of a straight pathway at which it is level with a point along an axis, ends left out.

    The length of a right-angled run to a point of the pathway changes its slope there and nowhere else, so
    that the shortest run, and the cheapest route on from it, begins there or at an end.
    """
    shares = set()
    for a, b, p in zip(start, end, at, strict=True):
        if a != b:
            share = round((p - a) / (b - a), 9)
            if 0 < share < 1:
                shares.add(share)
    return sorted(shares)


class JoinGrid(Generic[Item]):
    """Things that lie between two points of one storey, found by how near they are."""

    def __init__(self, items: Sequence[tuple[Item, Point3, Point3]]) -> None:
        """Sort things into square cells by the box around their two points."""
        self._cells: dict[tuple[int, int], list[tuple[int, Item]]] = {}
        for order, (item, start, end) in enumerate(items):
            (west, east), (south, north) = (sorted((_cell(start[axis]), _cell(end[axis]))) for axis in (0, 1))
            for column in range(west, east + 1):
                for row in range(south, north + 1):
                    self._cells.setdefault((column, row), []).append((order, item))
        self._rings: dict[tuple[int, int], list[tuple[float, list[Item]]]] = {}

    def around(self, at: Point3) -> Sequence[tuple[float, list[Item]]]:
        """Return things ring by ring, each once: their least horizontal distance, m, and the things."""
        cell = _cell(at[0]), _cell(at[1])
        if cell not in self._rings:
            self._rings[cell] = self._rings_around(*cell)
        return self._rings[cell]

    def _rings_around(self, column: int, row: int) -> list[tuple[float, list[Item]]]:
        """Return what lies ring by ring around a cell."""
        # The nearest ring of each thing, by its order.
        nearest: dict[int, int] = {}
        things: dict[int, Item] = {}
        for (x, y), held in self._cells.items():
            ring = max(abs(x - column), abs(y - row))
            for order, item in held:
                nearest[order] = min(ring, nearest.get(order, ring))
                things[order] = item
        rings: dict[int, list[Item]] = {}
        for order in sorted(things):
            rings.setdefault(nearest[order], []).append(things[order])
        return [(max(ring - 1, 0) * CELL_M, rings[ring]) for ring in sorted(rings)]


def _cell(coordinate: float) -> int:
    return math.floor(coordinate / CELL_M)
