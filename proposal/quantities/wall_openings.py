"""Where lines that carry cables pass walls: one opening for all that pass together."""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

Point = tuple[float, float]
TOGETHER_M = 0.3
"""What passes one wall at one height so near to one another passes through one opening, m."""
_SAME_M, _STRAIGHT_M = 1e-6, 1e-3
_OFF_THE_WALL_M = 0.05
"""How far from the middle of a wall a cable on its face lies, m."""


@dataclass(frozen=True, slots=True)
class Passing:
    """A line that carries cables: the name of what passes, its points, and its height above the floor, m.

    height_m: None where it is not known.
    led_m: so near to one another such lines are led to one opening, m.
    onward: how far it goes on beyond its last point in all, along x and y, m; so far it may be led aside in
        that direction with nothing added to its length.
    """

    name: str
    points: tuple[Point, ...]
    height_m: float | None
    led_m: float = TOGETHER_M
    onward: Point = (0.0, 0.0)


@dataclass(frozen=True, slots=True)
class WallOpening:
    """An opening in a wall.

    wall: tag of the room or of the wall that it is in.  number: along that wall, from 1.
    side: wall of the room: north, east, south or west; empty for others.
    at: its middle, m.  along_m: from the western or southern end of the room or of the wall, m.
    upright: whether the wall runs from south to north.
    height_m: above the floor, m.  names: of what passes.
    also: the other walls that this hole goes through, in words, such as `west wall of C102`.
    """

    wall: str
    number: int
    side: str
    at: Point
    along_m: float
    upright: bool
    height_m: float | None
    names: tuple[str, ...]
    also: tuple[str, ...] = ()

    @property
    def tag(self) -> str:
        """Its tag: the wall's, with a number; no device of a room is called so."""
        return f"{self.wall}-WO{self.number}"


def wall_openings(
    rooms: Mapping[str, Sequence[Point]], walls: Mapping[str, Sequence[Point]], lines: Iterable[Passing]
) -> tuple[WallOpening, ...]:
    """Return the openings that lines make in walls, in order of walls and along them.

    rooms: corners of each room of a storey, m.  walls: points of each wall that is given there, m.
    One hole through what stands side by side, walls of two rooms or a wall given where that of a room is, is
    the first one's, with all that passes.
    """
    listed = list(lines)
    found: list[WallOpening] = []
    for tag, corners in rooms.items():
        _join(
            found,
            [
                _opening(tag, _side(corners, group[0].at, upright=upright), group, upright=upright)
                for one, two in pairwise((*corners, corners[0]))
                for upright in (_upright(one, two),)
                for group in _groups(_passed(one, two, listed, min(at[upright] for at in corners)))
            ],
        )
    for tag, line in walls.items():
        first = {axis: min(at[axis] for at in line) for axis in (False, True)}
        _join(
            found,
            [
                _opening(tag, "", group, upright=upright)
                for one, two in pairwise(line)
                for upright in (_upright(one, two),)
                for group in _groups(_passed(one, two, listed, first[upright]))
            ],
        )
    counts: dict[str, int] = {}
    numbered = []
    for one in found:
        counts[one.wall] = counts.get(one.wall, 0) + 1
        numbered.append(replace(one, number=counts[one.wall]))
    return tuple(numbered)


def _join(found: list[WallOpening], openings: Iterable[WallOpening]) -> None:
    """Add the openings of a room or a wall to those found; one that is there already has more in it."""
    before = len(found)
    for one in openings:
        for n, other in enumerate(found[:before]):
            if math.dist(one.at, other.at) <= TOGETHER_M and one.height_m == other.height_m:
                words = f"{one.side} wall of {one.wall}" if one.side else one.wall
                names = tuple(dict.fromkeys((*other.names, *one.names)))
                found[n] = replace(other, names=names, also=tuple(dict.fromkeys((*other.also, words))))
                break
        else:
            found.append(one)


@dataclass(frozen=True, slots=True)
class _Hit:
    """Where a line passes a wall: how far along it, m, where, and what.

    slide_m: how far along the wall it goes on afterwards, m; below 0 towards its beginning.
    """

    along_m: float
    at: Point
    line: Passing
    slide_m: float


def _upright(one: Point, two: Point) -> bool:
    return abs(two[1] - one[1]) > abs(two[0] - one[0])


def _passed(one: Point, two: Point, lines: Iterable[Passing], first: float) -> list[_Hit]:
    """Return where lines pass a straight wall, height by height and along it.

    first: where the room or the wall begins, m.
    """
    upright = _upright(one, two)
    hits = [
        _Hit(
            round(at[upright] - first, 3),
            at,
            line,
            line.points[-1][upright] - at[upright] + line.onward[upright],
        )
        for line in lines
        for start, end in pairwise(line.points)
        if (at := _meeting(one, two, start, end)) is not None
    ]
    return sorted(hits, key=lambda hit: (_height(hit), hit.along_m, hit.line.name))


def _height(hit: _Hit) -> float:
    return -1.0 if hit.line.height_m is None else hit.line.height_m


def _groups(hits: Iterable[_Hit]) -> list[list[_Hit]]:
    """Return what passes together, from the end of the wall.

    Beyond what is near anyway only such are led to one opening as go by it on their way.
    """
    groups: list[list[_Hit]] = []
    for hit in hits:
        last = groups[-1] if groups else None
        far_m = min(one.line.led_m for one in (hit, *(last or ())))
        if last and _place_m([*last, hit]) is None:
            far_m = min(far_m, TOGETHER_M)
        if last and _height(hit) == _height(last[0]) and hit.along_m <= last[0].along_m + far_m + _SAME_M:
            last.append(hit)
        else:
            groups.append([hit])
    return groups


def _place_m(group: Sequence[_Hit]) -> float | None:
    """Return where along a wall all of a group go by on their way, m; None where that is nowhere.

    Of such places it is that which the first of them reach last.
    """
    ranges = [sorted((hit.along_m, hit.along_m + hit.slide_m)) for hit in group]
    low, high = max(one for one, _ in ranges), min(two for _, two in ranges)
    if low > high + _SAME_M:
        return None
    return round(low if sum(hit.slide_m for hit in group) >= 0 else high, 3)


def _opening(wall: str, side: str, group: Sequence[_Hit], *, upright: bool) -> WallOpening:
    one, two = group[0], group[-1]
    by_the_way = _place_m(group)
    along = round((one.along_m + two.along_m) / 2, 3) if by_the_way is None else by_the_way
    share = (along - one.along_m) / (two.along_m - one.along_m) if two.along_m > one.along_m else 0.0
    at = tuple(round(first + share * (last - first), 3) for first, last in zip(one.at, two.at, strict=True))
    names = tuple(dict.fromkeys(hit.line.name for hit in group))
    return WallOpening(wall, 0, side, (at[0], at[1]), along, upright, one.line.height_m, names)


def _side(room: Sequence[Point], at: Point, *, upright: bool) -> str:
    """Return which wall of a room a point is on."""
    axis = 0 if upright else 1
    values = [corner[axis] for corner in room]
    far = at[axis] > (min(values) + max(values)) / 2
    return ("east" if far else "west") if upright else ("north" if far else "south")


def _meeting(one: Point, two: Point, start: Point, end: Point) -> Point | None:
    """Return where a line passes through a wall; None where it only touches it, or lies along it."""
    wall = (two[0] - one[0], two[1] - one[1])
    way = (end[0] - start[0], end[1] - start[1])
    across = wall[0] * way[1] - wall[1] * way[0]
    if abs(across) < _SAME_M:
        return None
    from_wall = (start[0] - one[0], start[1] - one[1])
    on_wall = (from_wall[0] * way[1] - from_wall[1] * way[0]) / across
    on_way = (from_wall[0] * wall[1] - from_wall[1] * wall[0]) / across
    if not (0 <= on_wall < 1 and _SAME_M < on_way < 1 - _SAME_M):
        return None
    return start[0] + way[0] * on_way, start[1] + way[1] * on_way


@dataclass(frozen=True, slots=True, kw_only=True)
class CableWay:
    """The way of a cable from end to end, as far as openings in walls ask.

    ends: where its devices or racks are, m.  storeys: of its ends.
    at_walls: where it goes up from the one and comes down to the other at a wall; None where it does not.
    turns: where it enters the first and leaves the last pathway or shaft; empty where it takes none.
    heights_m: of its first and its last level run above the floor; None where it has no such run.
    onward: from where it enters its first pathway to where it leaves that, along x and y, m.
    led_m: so near to other cables it is led to one opening with them, m.
    """

    name: str
    ends: tuple[Point, Point]
    storeys: tuple[str, str]
    at_walls: tuple[Point | None, Point | None]
    turns: Sequence[Point]
    heights_m: tuple[float | None, float | None]
    onward: Point
    led_m: float

    def runs_on(self, storey: str) -> Iterator[Passing]:
        """Yield its level runs outside pathways on a storey."""
        start, end = (
            at if wall is None else _before_the_wall(wall, at)
            for wall, at in zip(self.at_walls, self.ends, strict=True)
        )
        first, last = self.heights_m
        if not self.turns:
            if self.storeys == (storey, storey) and first is not None:
                yield Passing(self.name, right_angled(start, end), first, led_m=self.led_m)
            return
        if self.storeys[0] == storey and first is not None:
            yield Passing(self.name, right_angled(start, self.turns[0]), first, self.led_m, self.onward)
        if self.storeys[1] == storey and last is not None:
            yield Passing(self.name, right_angled(self.turns[-1], end), last, led_m=self.led_m)


def onward_along(
    first: Sequence[str], second: Sequence[str], nodes: Mapping[str, Point], turns: Sequence[Point]
) -> Point:
    """Return how far a cable goes on in its first pathway along x and y, m.

    first, second: tags of the nodes that its first two pathways join; none where it takes fewer.
    nodes: where each is, m.  turns: where it enters the first and leaves the last pathway or shaft.
    Nothing where it takes none, or one that runs aslant: it cannot enter that elsewhere at no cost.
    """
    if not turns or not first:
        return 0.0, 0.0
    shared = [nodes[tag] for tag in first if tag in second and tag in nodes]
    leaves = shared[0] if shared else turns[-1]
    far = leaves[0] - turns[0][0], leaves[1] - turns[0][1]
    ends = [nodes[tag] for tag in first if tag in nodes]
    along = [abs(ends[0][axis] - ends[-1][axis]) > _STRAIGHT_M for axis in (0, 1)]
    return far[0] if along == [True, False] else 0.0, far[1] if along == [False, True] else 0.0


def _before_the_wall(at_wall: Point, device_at: Point) -> Point:
    """Return where a cable lies on the face of a wall, on the side of its device."""
    away_m = math.dist(at_wall, device_at)
    share = min(_OFF_THE_WALL_M / away_m, 1.0) if away_m else 0.0
    x, y = (wall + share * (own - wall) for wall, own in zip(at_wall, device_at, strict=True))
    return x, y


def right_angled(start: Point, end: Point) -> tuple[Point, ...]:
    """Return the way of a run outside pathways: along x first, then along y, as its length is counted."""
    return start, (end[0], start[1]), end
