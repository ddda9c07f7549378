"""Interference of two links by the formulas of the standards alone, path by path, for the tests."""

import math
from collections.abc import Sequence

from shapely import LineString

from proposal.design.radio.propagation import WallLine
from proposal.design.radio.radio_neighbours import Link

Position = tuple[float, float, float]


def storey_of(z: float, floors_m: Sequence[float]) -> int:
    return max([n for n, floor in enumerate(floors_m) if z >= floor - 1e-9], default=0)


def path_loss_db(
    hz: float,
    start: Position,
    end: Position,
    walls: Sequence[WallLine],
    storeys: Sequence[str],
    floors_m: Sequence[float],
    slab_db: Sequence[float],
    further_db: float,
) -> float:
    """Return free space, walls crossed on each storey passed, and floors."""
    loss = 32.45 + 20 * math.log10(hz / 1e6) + 20 * math.log10(max(math.dist(start, end), 1.0) / 1000)
    low, high = sorted((storey_of(start[2], floors_m), storey_of(end[2], floors_m)))
    if high > low:
        loss += min(slab_db[low + 1 : high + 1]) + further_db * (high - low - 1)
    for number, storey in enumerate(storeys):
        if not low <= number <= high:
            continue
        bottom = floors_m[number] if number else -math.inf
        top = floors_m[number + 1] if number + 1 < len(floors_m) else math.inf
        ends = []
        for z in (bottom, top):
            rise = end[2] - start[2]
            share = (z - start[2]) / rise if rise and math.isfinite(z) else (0.0 if z < start[2] else 1.0)
            ends.append(min(max(share, 0.0), 1.0))
        one, other = sorted(ends) if end[2] != start[2] else (0.0, 1.0)
        if end[2] < start[2] and not math.isfinite(top):
            one, other = 0.0, max(ends[0], 0.0)
        if end[2] < start[2] and not math.isfinite(bottom):
            one, other = min(ends[1], 1.0), 1.0
        points = [
            (start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]))
            for share in (one, other)
        ]
        if points[0] == points[1]:
            continue
        way = LineString(points)
        for wall in walls:
            if wall.storey == storey and way.crosses(LineString([wall.start, wall.end])):
                loss += wall.loss_db
    return loss


def over_db(disturbed: Link, disturber: Link, loss) -> tuple[float, float]:  # type: ignore[no-untyped-def]
    """Return how far the unwanted level lies above the tolerance, at the access point and the microphone.

    loss: from two positions to the loss between them.
    """
    up = [
        disturber.microphone_dbm + disturbed.access_point_gain_db
        - loss(disturber.microphone_at, disturbed.access_point_at)
    ]  # fmt: skip
    down = [
        disturber.access_point_dbm + disturbed.microphone_gain_db
        - loss(disturber.access_point_at, disturbed.microphone_at)
    ]  # fmt: skip
    if disturbed.group != disturber.group:
        up.append(
            disturber.access_point_dbm + disturbed.access_point_gain_db
            - loss(disturber.access_point_at, disturbed.access_point_at)
        )  # fmt: skip
        down.append(
            disturber.microphone_dbm + disturbed.microphone_gain_db
            - loss(disturber.microphone_at, disturbed.microphone_at)
        )  # fmt: skip
    return (
        max(up) - disturbed.up_dbm + disturbed.ratio_db,
        max(down) - disturbed.down_dbm + disturbed.ratio_db,
    )
