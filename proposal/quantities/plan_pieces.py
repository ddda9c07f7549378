"""How a storey that is too large for one sheet is parted: along lines that cut the fewest rooms."""

import math
from collections.abc import Sequence
from itertools import pairwise

Point = tuple[float, float]
Piece = tuple[float, float, float, float]
"""West, south, east, north, m."""
WHOLE_M = (92.0, 45.0)
"""Width and height up to which a storey stands on one sheet, at 1:250 at the smallest."""
LARGEST_M = (72.0, 34.0)
"""Width and height of a piece that stands on a sheet at 1:200, with places for labels around it."""
_AWAY = 0.3
"""How far from an even share a line may be moved so that it cuts fewer rooms, as a share of a piece."""


def pieces_of(rooms: Sequence[Piece], points: Sequence[Point]) -> tuple[Piece, ...]:
    """Return the pieces of a storey, row by row from the north-west; none where one sheet holds it.

    rooms: what each reaches over.  points: of what else stands on the storey, m.
    Pieces with nothing on them are left out.
    """
    xs = [value for west, _, east, _ in rooms for value in (west, east)] + [x for x, _ in points]
    ys = [value for _, south, _, north in rooms for value in (south, north)] + [y for _, y in points]
    if not xs or (max(xs) - min(xs) <= WHOLE_M[0] and max(ys) - min(ys) <= WHOLE_M[1]):
        return ()
    across = _lines([(west, east) for west, _, east, _ in rooms], (min(xs), max(xs)), LARGEST_M[0])
    up = _lines([(south, north) for _, south, _, north in rooms], (min(ys), max(ys)), LARGEST_M[1])
    cells = [
        (west, south, east, north)
        for south, north in reversed(list(pairwise(up)))
        for west, east in pairwise(across)
    ]
    middles = [((west + east) / 2, (south + north) / 2) for west, south, east, north in rooms]
    held = {place_of(at, cells) for at in (*middles, *points)}
    return tuple(cell for n, cell in enumerate(cells) if n in held)


def place_of(at: Point, pieces: Sequence[Piece]) -> int:
    """Return the number of the piece that a point lies in, from 0: of the nearest where it lies in none.

    at: m.  pieces: some.
    """
    x, y = at

    def away(n: int) -> tuple[float, int]:
        west, south, east, north = pieces[n]
        dx, dy = max(west - x, x - east, 0.0), max(south - y, y - north, 0.0)
        return round(math.hypot(dx, dy), 6), n

    return min(range(len(pieces)), key=away)


def _lines(spans: Sequence[Point], whole: Point, most: float) -> list[float]:
    """Return the lines between pieces along an axis, with both ends.

    spans: what rooms take along it.  whole: its beginning and end.  most: of a piece.
    """
    low, high = whole
    count = max(1, math.ceil((high - low) / most - 1e-9))
    found = [low]
    for n in range(1, count):
        left = count - n + 1
        share = (high - found[-1]) / left
        ideal = found[-1] + share
        least = max(found[-1] + (1 - _AWAY) * share, high - (left - 1) * most)
        farthest = min(ideal + _AWAY * share, found[-1] + most)
        edges = sorted({round(edge, 3) for span in spans for edge in span})
        middles = [(one + two) / 2 for one, two in pairwise(edges)]
        tried = [at for at in (ideal, *edges, *middles) if least - 1e-9 <= at <= farthest + 1e-9]
        found.append(
            min(
                tried or [ideal],
                key=lambda at: (
                    sum(one + 0.01 < at < two - 0.01 for one, two in spans),
                    # Between rooms rather than along their walls.
                    at in edges,
                    abs(at - ideal),
                    at,
                ),
            )
        )
    return [*found, high]
