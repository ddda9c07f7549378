"""A level map as the room lies in the building, north up, as the plan of the room shows it."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from proposal.drawings.level_map.spec import LevelMapSpec, Point

_NEAR_M = 1e-6
_AXES = frozenset({(1, 0), (-1, 0), (0, 1), (0, -1)})


def as_it_lies(spec: LevelMapSpec, built: Sequence[Point]) -> LevelMapSpec:
    """Return a level map whose points count from the room's west and south, as on its plan.

    spec: in the room's own coordinates.
    built: corners of the room in the building, in the order of the room's own [m], shape (corners, 2)
    A room that is turned by anything but quarter turns keeps its own coordinates.
    """
    axes = _axes(spec.outline, built)
    if axes is None:
        return spec
    (xx, xy), (yx, yy) = axes

    def turned(at: Point) -> Point:
        return xx * at[0] + yx * at[1], xy * at[0] + yy * at[1]

    corners = [turned(at) for at in spec.outline]
    west, south = min(x for x, _ in corners), min(y for _, y in corners)

    def placed(at: Point) -> Point:
        x, y = turned(at)
        return round(x - west, 6), round(y - south, 6)

    ends = placed(spec.low), placed(spec.high)
    rows = list(spec.levels_dbm)
    if xx == 0:
        rows = list(zip(*rows, strict=True))
    if (xx or yx) < 0:
        rows = [tuple(reversed(row)) for row in rows]
    if (yy or xy) < 0:
        rows.reverse()
    return replace(
        spec,
        as_on_plan=True,
        outline=tuple(placed(at) for at in spec.outline),
        furniture=tuple((name, tuple(placed(at) for at in corners)) for name, corners in spec.furniture),
        seats=tuple(placed(at) for at in spec.seats),
        marks=tuple((kind, code, placed(at)) for kind, code, at in spec.marks),
        low=(min(x for x, _ in ends), min(y for _, y in ends)),
        high=(max(x for x, _ in ends), max(y for _, y in ends)),
        levels_dbm=tuple(rows),
        worst_at=placed(spec.worst_at),
    )


def _axes(own: Sequence[Point], built: Sequence[Point]) -> tuple[Point, Point] | None:
    """Return where the room's own axes point in the building, None where not along the building's."""
    found: dict[bool, Point] = {}
    for before, after in zip(pairwise(own), pairwise(built), strict=True):
        (ax, ay), (bx, by) = before
        (cx, cy), (dx, dy) = after
        along = abs(by - ay) < _NEAR_M
        if along or abs(bx - ax) < _NEAR_M:
            length = (bx - ax) + (by - ay)
            found[along] = (dx - cx) / length, (dy - cy) / length
    if len(found) < 2:
        return None
    x, y = ((round(one[0], 6), round(one[1], 6)) for one in (found[True], found[False]))
    return (x, y) if {x, y} <= _AXES and x[0] * y[0] + x[1] * y[1] == 0 else None
