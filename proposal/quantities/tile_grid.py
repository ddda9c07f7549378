"""Where points lie in a grid of ceiling tiles whose lines begin at the origin of their coordinates."""

import math
from collections.abc import Sequence


def to_tile_middle_m(at: Sequence[float], tile: Sequence[float]) -> tuple[float, float]:
    """Return the way from a point to the middle of the tile that it lies in, m along x and y.

    at: the point, m.  tile: size of a tile along x and y, m.
    """
    dx, dy = (
        (math.floor(round(value / size, 9)) + 0.5) * size - value
        for value, size in zip(at, tile, strict=True)
    )
    return round(dx, 6), round(dy, 6)


def to_bar_m(at: Sequence[float], tile: Sequence[float]) -> float:
    """Return the distance from a point to the nearest line of the grid, m.

    at: the point, m.  tile: size of a tile along x and y, m.
    """
    away = to_tile_middle_m(at, tile)
    return round(min(size / 2 - abs(one) for one, size in zip(away, tile, strict=True)), 6)
