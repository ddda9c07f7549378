"""The way of a pathway between two nodes: straight, or level along x and y to where it changes its height."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from proposal.quantities.wall_openings import Point, right_angled


@dataclass(frozen=True, slots=True)
class LevelPart:
    """A part of a pathway: its points, m, and its height above the floor, m; None where that changes."""

    points: tuple[Point, ...]
    height_m: float | None


def level_way_m(start: Point, drops_at: Point, end: Point) -> float:
    """Return how far a conduit runs level, along x and y, by the place where it changes its height, m."""
    return sum(abs(a - b) + abs(c - d) for (a, c), (b, d) in ((start, drops_at), (drops_at, end)))


def level_parts(
    ends: tuple[Point, Point], heights_m: tuple[float, float], drops_at: Point | None
) -> tuple[LevelPart, ...]:
    """Return the parts of a pathway on a storey, from its first node on.

    ends: where its nodes are, m.  heights_m: theirs above the floor.
    drops_at: where it changes its height, m; None where that is not told, or where it has one height.
    """
    one, two = ends
    first_m, last_m = heights_m
    if drops_at is None:
        return (LevelPart(ends, first_m if first_m == last_m else None),)
    # As a run outside pathways it goes along x first, then along y.
    parts = ((right_angled(one, drops_at), first_m), (right_angled(drops_at, two), last_m))
    return tuple(
        LevelPart(kept, height_m) for points, height_m in parts if len(kept := _without_repeats(points)) > 1
    )


def _without_repeats(points: Sequence[Point]) -> tuple[Point, ...]:
    return (points[0], *(after for before, after in pairwise(points) if after != before))
