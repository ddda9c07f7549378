"""From a kind of room's own coordinates into the building, by the outline that both have."""

import math
from collections.abc import Sequence

Point = tuple[float, float]


def turned(points: Sequence[Point], own: Sequence[Point], built: Sequence[Point]) -> tuple[Point, ...]:
    """Return points of a room's own coordinates in the building's, m.

    own, built: corners of the room in both, in the same order; the room is turned, moved or mirrored only.
    """
    mirrored = (_area(own) > 0) != (_area(built) > 0)
    far = max(range(1, len(own)), key=lambda n: math.dist(own[0], own[n]))
    first = math.atan2(own[far][1] - own[0][1], own[far][0] - own[0][0])
    then = math.atan2(built[far][1] - built[0][1], built[far][0] - built[0][0])
    turn = then + first if mirrored else then - first
    cosine, sine = math.cos(turn), math.sin(turn)
    found = []
    for x, y in points:
        dx, dy = x - own[0][0], y - own[0][1]
        if mirrored:
            dy = -dy
        found.append(
            (
                round(built[0][0] + dx * cosine - dy * sine, 4),
                round(built[0][1] + dx * sine + dy * cosine, 4),
            )
        )
    return tuple(found)


def _area(corners: Sequence[Point]) -> float:
    return sum(
        x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in zip(corners, (*corners[1:], corners[0]), strict=True)
    )
