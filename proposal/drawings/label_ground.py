"""What labels of a plan stand clear of: a frame, boxes that are full, lines, walls, leaders."""

import itertools
import math
from collections.abc import Iterable, Iterator
from dataclasses import field

from proposal.drawings.canvas import Point
from proposal.field_classes import dataclass

Box = tuple[float, float, float, float]
"""Left, top, right, bottom; pt, y downwards."""
_CELL = 24.0
_CLEAR = 0.8
"""What is kept free around a text, pt."""
APART_PT = 2.4
"""What is kept free between two texts, pt, so that they do not read as one."""
_ALONG, _ON_IT = 9, 1.5
"""What a leader counts for that lies along a line, and how near to it that is, pt."""
_OFF = 6.0
"""So near two texts might read as one, pt."""
_BEGIN = 1.5
"""How far a leader goes before it counts as crossing a line, pt: it may begin on one."""


@dataclass(slots=True)
class Ground:
    """What labels stand clear of: a frame that they stay within, boxes that are full, lines."""

    frame: Box
    _boxes: dict[tuple[int, int], list[Box]] = field(default_factory=dict)
    _lines: dict[tuple[int, int], list[tuple[Point, Point]]] = field(default_factory=dict)
    _drawn: dict[tuple[int, int], list[tuple[Point, Point]]] = field(default_factory=dict)
    _walls: list[tuple[Point, Point]] = field(default_factory=list)
    _light: list[tuple[Point, Point]] = field(default_factory=list)
    _leaders: list[tuple[Point, Point]] = field(default_factory=list)
    _written: list[Box] = field(default_factory=list)

    def fill(self, box: Box) -> None:
        """Keep labels off a box."""
        for cell in cells_of(box):
            self._boxes.setdefault(cell, []).append(box)

    def write(self, box: Box) -> None:
        """Keep labels and every leader off the box of a text."""
        more = APART_PT - _CLEAR
        self.fill((box[0] - more, box[1] - more, box[2] + more, box[3] + more))
        self._written.append(box)

    def rule(self, points: Iterable[Point], width: float = 0.0) -> None:
        """Keep labels off a line through points.

        width: of the line, pt.
        """
        corners = list(points)
        self._enter(self._drawn, corners)
        aside = width / 2
        ways = ((1, 1), (-1, -1), (1, -1), (-1, 1)) if aside else ((0, 0),)
        for across, down in ways:
            self._enter(self._lines, [(x + across * aside, y + down * aside) for x, y in corners])

    @staticmethod
    def _enter(lines: dict[tuple[int, int], list[tuple[Point, Point]]], corners: list[Point]) -> None:
        for start, end in itertools.pairwise(corners):
            # A long line is entered piece by piece, so that it fills no cells that it does not pass.
            pieces = max(1, math.ceil(math.dist(start, end) / (2 * _CELL)))
            steps = [part_way(start, end, n / pieces) for n in range(pieces + 1)]
            for one, two in itertools.pairwise(steps):
                for cell in cells_of(_around(one, two)):
                    lines.setdefault(cell, []).append((one, two))

    def wall(self, points: Iterable[Point], width: float) -> None:
        """Keep labels off a wall, and on the side of it where what they name is.

        points: along its middle, pt.  width: of its line, pt.
        """
        corners = list(points)
        self.rule(corners, width + 2 * (APART_PT - _CLEAR))
        self._walls += itertools.pairwise(corners)

    def shade(self, points: Iterable[Point]) -> None:
        """Let labels stand across the edge of a shaded area only where no other place is free."""
        self._light += itertools.pairwise(points)

    def across_an_edge(self, box: Box) -> bool:
        """Return whether a box lies across the edge of a shaded area."""
        return any(crosses(*line, box) for line in self._light)

    def behind_a_wall(self, at: Point, reach: Point, box: Box) -> bool:
        """Return whether a wall stands between a label in a box and what it names.

        at, reach: middle of that, and half its width and height, pt.
        """
        end = nearest_in(at, box)
        start = edge_towards(at, reach, end)
        return any(_meet(start, end, *wall) for wall in self._walls)

    def lines_crossed(self, start: Point, end: Point) -> int:
        """Return how many lines a leader crosses; one that it lies along counts as many.

        At its very start it touches what it leads to.
        """
        far = math.dist(start, end)
        if far < 2 * _BEGIN:
            return 0
        begin = part_way(start, end, _BEGIN / far)
        lines = {line for cell in cells_of(_around(begin, end)) for line in self._drawn.get(cell, ())}
        samples = [part_way(begin, end, n / 8) for n in range(9)]
        on_lines = sum(any(_off(at, line) < _ON_IT for line in lines) for at in samples)
        along = _ALONG if on_lines > len(samples) // 2 else 0
        return along + sum(_meet(begin, end, *line) for line in lines)

    def free(self, box: Box) -> bool:
        """Return whether a label may fill a box."""
        left, top, right, bottom = box
        if left < self.frame[0] or top < self.frame[1] or right > self.frame[2] or bottom > self.frame[3]:
            return False
        wide = (left - _CLEAR, top - _CLEAR, right + _CLEAR, bottom + _CLEAR)
        cells = [*cells_of(wide)]
        # Asked most of all that is drawn: boxes first, which are soon compared, and written out here.
        west, north, east, south = wide
        for cell in cells:
            for other in self._boxes.get(cell, ()):
                if west < other[2] and other[0] < east and north < other[3] and other[1] < south:
                    return False
        for cell in cells:
            for one, two in self._lines.get(cell, ()):
                if crosses(one, two, wide):
                    return False
        return True

    def is_written_near(self, box: Box) -> bool:
        """Return whether a text stands so near to a box that both might read as one."""
        left, top, right, bottom = box
        return any(
            overlap((left - _OFF, top - _OFF, right + _OFF, bottom + _OFF), one) for one in self._written
        )

    def lead(self, start: Point, end: Point) -> None:
        """Keep labels and other leaders off a leader."""
        self.rule((start, end))
        self._leaders.append((start, end))

    def is_open(self, start: Point, end: Point, *, of: Point) -> bool:
        """Return whether a leader from a point to another crosses no full box and no other leader.

        of: what it leads to; boxes around that are no hindrance.
        """
        if any(_meet(start, end, *other) for other in self._leaders):
            return False
        if any(crosses(start, end, box) for box in self._written):
            return False
        for cell in cells_of(_around(start, end)):
            for box in self._boxes.get(cell, ()):
                around = box[0] <= of[0] <= box[2] and box[1] <= of[1] <= box[3]
                if not around and crosses(start, end, box):
                    return False
        return True


def edge_towards(at: Point, reach: Point, towards: Point) -> Point:
    """Return where a line from the middle of a symbol to a point leaves the symbol."""
    x, y = at
    dx, dy = towards[0] - x, towards[1] - y
    shares = [far / abs(way) for far, way in zip(reach, (dx, dy), strict=True) if abs(way) > 1e-9]
    share = min([*shares, 1.0])
    return x + dx * share, y + dy * share


def _around(one: Point, two: Point) -> Box:
    return min(one[0], two[0]), min(one[1], two[1]), max(one[0], two[0]), max(one[1], two[1])


def cells_of(box: Box) -> Iterator[tuple[int, int]]:
    """Yield the cells of the sheet that a box reaches into."""
    rows = range(math.floor(box[1] / _CELL), math.floor(box[3] / _CELL) + 1)
    for column in range(math.floor(box[0] / _CELL), math.floor(box[2] / _CELL) + 1):
        for row in rows:
            yield column, row


def overlap(one: Box, two: Box) -> bool:
    """Return whether two boxes share a part of the sheet."""
    return one[0] < two[2] and two[0] < one[2] and one[1] < two[3] and two[1] < one[3]


def crosses(start: Point, end: Point, box: Box) -> bool:
    """Return whether a line between two points passes through the inside of a box."""
    return _share_within(start, end, box) is not None


def _share_within(start: Point, end: Point, box: Box) -> tuple[float, float] | None:
    """Return from which share of a line to which it lies inside a box, None where it does not."""
    if max(start[0], end[0]) <= box[0] or min(start[0], end[0]) >= box[2]:
        return None
    if max(start[1], end[1]) <= box[1] or min(start[1], end[1]) >= box[3]:
        return None
    enters, leaves = 0.0, 1.0
    for low, high, begin, way in (
        (box[0], box[2], start[0], end[0] - start[0]),
        (box[1], box[3], start[1], end[1] - start[1]),
    ):
        if abs(way) < 1e-12:
            if not low < begin < high:
                return None
            continue
        first, last = sorted(((low - begin) / way, (high - begin) / way))
        enters, leaves = max(enters, first), min(leaves, last)
    return (enters, leaves) if enters < leaves else None


def broken_line(start: Point, end: Point, boxes: Iterable[Box]) -> list[tuple[Point, Point]]:
    """Return the pieces of a line that lie outside boxes.

    start, end: of the line, pt.
    """
    left = [(0.0, 1.0)]
    for box in boxes:
        if (cut := _share_within(start, end, box)) is None:
            continue
        left = [
            piece
            for low, high in left
            for piece in ((low, min(high, cut[0])), (max(low, cut[1]), high))
            if piece[0] < piece[1]
        ]
    return [(part_way(start, end, low), part_way(start, end, high)) for low, high in left]


def part_way(start: Point, end: Point, share: float) -> Point:
    """Return the point at a share of a line, from its start."""
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share


def _meet(one: Point, two: Point, three: Point, four: Point) -> bool:
    """Return whether two lines cross."""
    return (
        _turn(one, two, three) * _turn(one, two, four) < 0 > _turn(three, four, one) * _turn(three, four, two)
    )


def _off(at: Point, line: tuple[Point, Point]) -> float:
    """Return how far a point is off a line."""
    (x, y), (far_x, far_y) = line
    if not (length := math.dist(*line)):
        return math.dist(at, line[0])
    share = ((at[0] - x) * (far_x - x) + (at[1] - y) * (far_y - y)) / length**2
    return math.dist(at, part_way(*line, min(max(share, 0.0), 1.0)))


def _turn(one: Point, two: Point, three: Point) -> float:
    return (two[0] - one[0]) * (three[1] - one[1]) - (two[1] - one[1]) * (three[0] - one[0])


def nearest_in(at: Point, box: Box) -> Point:
    """Return the point of a box that is nearest to a point."""
    return min(max(at[0], box[0]), box[2]), min(max(at[1], box[1]), box[3])
