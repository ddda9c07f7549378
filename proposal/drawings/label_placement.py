"""Where labels stand on a plan: beside what they name, off lines, symbols and one another, else on a leader.

The places that a label may take are a bounded, ordered list. What has the fewest free places chooses first;
a label in the way moves where it can; whatever fits nowhere beside its symbol is tried further away with a
leader. What fits nowhere at all is handed back, so that the sheet can list it.
"""

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import field

from proposal.drawings.canvas import ASCENT, DESCENT, LINE
from proposal.drawings.colours import INK
from proposal.drawings.letter_widths import letters_pt
from proposal.field_classes import dataclass

Point = tuple[float, float]
Box = tuple[float, float, float, float]
"""Left, top, right, bottom; pt, y downwards."""
_CELL = 24.0
_GAPS = (2.0, 4.5)
_SIDES = ((1, 0), (-1, 0), (0, -1), (0, 1), (1, -1), (1, 1), (-1, -1), (-1, 1))
_SHIFTS = (0.0, 0.35, -0.35)
_LEADERS = (10.0, 16.0, 24.0, 34.0, 46.0, 60.0, 78.0, 100.0, 130.0, 170.0)
_DIRECTIONS = tuple((math.cos(n * math.tau / 16), math.sin(n * math.tau / 16)) for n in range(16))
_CLEAR = 0.8
"""What is kept free around a text, pt."""
_APART = 2.4
"""What is kept free between two texts, pt, so that they do not read as one."""


@dataclass(frozen=True, slots=True)
class Label:
    """A text that belongs to a point.

    lines: of the text.  at: the point.  reach: half width and half height of the symbol there, pt.
    size: of the letters, pt.  bold: whether its first line is.  colour: of the letters.
    where: boxes it may fill in order, in place of those around its symbol: left and top of each.
    anchors: further points that a leader may come from, as of a line.
    led: how long a leader it may stand on, pt; 0 for none.
    """

    lines: tuple[str, ...]
    at: Point
    reach: Point = (0.0, 0.0)
    size: float = 7.0
    bold: bool = False
    colour: str = INK
    where: tuple[Point, ...] = ()
    led: float = 170.0
    anchors: tuple[Point, ...] = ()

    @property
    def extent(self) -> Point:
        """Width and height of its text, pt."""
        width = max(letters_pt(line, self.size, bold=self.bold) for line in self.lines)
        return width, ((len(self.lines) - 1) * LINE + ASCENT + DESCENT) * self.size


@dataclass(frozen=True, slots=True)
class Placed:
    """A label where it stands: its box, and its leader to what it names, empty where it is beside it."""

    label: Label
    box: Box
    leader: tuple[()] | tuple[Point, Point] = ()


@dataclass(slots=True)
class Ground:
    """What labels stand clear of: a frame that they stay within, boxes that are full, lines."""

    frame: Box
    _boxes: dict[tuple[int, int], list[Box]] = field(default_factory=dict)
    _lines: dict[tuple[int, int], list[tuple[Point, Point]]] = field(default_factory=dict)
    _leaders: list[tuple[Point, Point]] = field(default_factory=list)
    _written: list[Box] = field(default_factory=list)

    def fill(self, box: Box) -> None:
        """Keep labels off a box."""
        for cell in _cells(box):
            self._boxes.setdefault(cell, []).append(box)

    def write(self, box: Box) -> None:
        """Keep labels and every leader off the box of a text."""
        more = _APART - _CLEAR
        self.fill((box[0] - more, box[1] - more, box[2] + more, box[3] + more))
        self._written.append(box)

    def rule(self, points: Iterable[Point]) -> None:
        """Keep labels off a line through points."""
        corners = list(points)
        for start, end in itertools.pairwise(corners):
            # A long line is entered piece by piece, so that it fills no cells that it does not pass.
            pieces = max(1, math.ceil(math.dist(start, end) / (2 * _CELL)))
            steps = [
                (
                    start[0] + (end[0] - start[0]) * n / pieces,
                    start[1] + (end[1] - start[1]) * n / pieces,
                )
                for n in range(pieces + 1)
            ]
            for one, two in itertools.pairwise(steps):
                for cell in _cells(_around(one, two)):
                    self._lines.setdefault(cell, []).append((one, two))

    def free(self, box: Box) -> bool:
        """Return whether a label may fill a box."""
        left, top, right, bottom = box
        if left < self.frame[0] or top < self.frame[1] or right > self.frame[2] or bottom > self.frame[3]:
            return False
        wide = (left - _CLEAR, top - _CLEAR, right + _CLEAR, bottom + _CLEAR)
        cells = [*_cells(wide)]
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
        for cell in _cells(_around(start, end)):
            for box in self._boxes.get(cell, ()):
                around = box[0] <= of[0] <= box[2] and box[1] <= of[1] <= box[3]
                if not around and crosses(start, end, box):
                    return False
        return True


def placed_labels(labels: Sequence[Label], ground: Ground) -> tuple[tuple[Placed, ...], tuple[Label, ...]]:
    """Return the labels where they stand, in their order, and those that fit nowhere.

    ground: what they stand clear of; it holds the symbols already, and holds the labels afterwards.
    """
    sizes = [label.extent for label in labels]
    free = [
        [box for box in _beside(label, size) if ground.free(box)]
        for label, size in zip(labels, sizes, strict=True)
    ]
    order = sorted(range(len(labels)), key=lambda n: (bool(labels[n].led), len(free[n]), n))
    taken = _Taken()
    waiting = [n for n in order if not _takes_one(n, free, taken)]
    found = {n: Placed(labels[n], box) for n, box in taken.boxes.items()}
    for box in taken.boxes.values():
        ground.write(box)
    left: list[Label] = []
    for n in sorted(waiting):
        one = _led(labels[n], sizes[n], ground) if labels[n].led else None
        if one is None:
            left.append(labels[n])
            continue
        found[n] = one
        ground.write(one.box)
        if one.leader:
            ground.lead(*one.leader)
    return tuple(found[n] for n in sorted(found)), tuple(left)


@dataclass(slots=True)
class _Taken:
    """Boxes that labels have taken so far, by the number of the label."""

    boxes: dict[int, Box] = field(default_factory=dict)
    _cells: dict[tuple[int, int], list[int]] = field(default_factory=dict)

    def take(self, n: int, box: Box) -> None:
        """Give a label a box, in place of the one that it has."""
        if n in self.boxes:
            for cell in _cells(self.boxes[n]):
                self._cells[cell].remove(n)
        self.boxes[n] = box
        for cell in _cells(box):
            self._cells.setdefault(cell, []).append(n)

    def blocking(self, box: Box) -> set[int]:
        """Return the labels that stand too near to a box."""
        wide = _widely(box)
        return {n for cell in _cells(wide) for n in self._cells.get(cell, ()) if overlap(wide, self.boxes[n])}


def _takes_one(n: int, free: Sequence[Sequence[Box]], taken: _Taken) -> bool:
    """Give a label the first of its places that no other has, moving one other label where that helps."""
    blocked = []
    for box in free[n]:
        if not (blocking := taken.blocking(box)):
            taken.take(n, box)
            return True
        blocked.append((box, blocking))
    for box, blocking in blocked:
        if len(blocking) != 1:
            continue
        (other,) = blocking
        for elsewhere in free[other]:
            if taken.blocking(elsewhere) <= {other} and not overlap(_widely(elsewhere), box):
                taken.take(other, elsewhere)
                taken.take(n, box)
                return True
    return False


def _widely(box: Box) -> Box:
    return box[0] - _APART, box[1] - _APART, box[2] + _APART, box[3] + _APART


def _beside(label: Label, size: Point) -> Iterator[Box]:
    """Yield the boxes that a label may fill without a leader, best first."""
    width, height = size
    if label.where:
        yield from ((x, y, x + width, y + height) for x, y in label.where)
        return
    x, y = label.at
    for gap in _GAPS:
        for across, down in _SIDES:
            for shift in _SHIFTS if 0 in (across, down) else (0.0,):
                middle_x = x + across * (label.reach[0] + gap + width / 2)
                middle_y = y + down * (label.reach[1] + gap + height / 2)
                if across == 0:
                    middle_x += shift * width
                if down == 0:
                    middle_y += shift * height
                yield _box(middle_x, middle_y, size)


def _led(label: Label, size: Point, ground: Ground) -> Placed | None:
    """Return a label on the shortest leader that crosses nothing, None where there is none."""
    for away in _LEADERS:
        if away > label.led:
            break
        for x, y in (label.at, *label.anchors):
            for across, down in _DIRECTIONS:
                middle = (
                    x + across * (label.reach[0] + away + size[0] / 2),
                    y + down * (label.reach[1] + away + size[1] / 2),
                )
                box = _box(*middle, size)
                if not ground.free(box):
                    continue
                end = (min(max(x, box[0]), box[2]), min(max(y, box[1]), box[3]))
                start = _edge((x, y), label.reach, end)
                if ground.is_open(start, end, of=(x, y)):
                    return Placed(label, box, (start, end))
    return None


def _edge(at: Point, reach: Point, towards: Point) -> Point:
    """Return where a line from the middle of a symbol to a point leaves the symbol."""
    x, y = at
    dx, dy = towards[0] - x, towards[1] - y
    shares = [far / abs(way) for far, way in zip(reach, (dx, dy), strict=True) if abs(way) > 1e-9]
    share = min([*shares, 1.0])
    return x + dx * share, y + dy * share


def _box(x: float, y: float, size: Point) -> Box:
    return x - size[0] / 2, y - size[1] / 2, x + size[0] / 2, y + size[1] / 2


def _around(one: Point, two: Point) -> Box:
    return min(one[0], two[0]), min(one[1], two[1]), max(one[0], two[0]), max(one[1], two[1])


def _cells(box: Box) -> Iterator[tuple[int, int]]:
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
    return [(_part(start, end, low), _part(start, end, high)) for low, high in left]


def _part(start: Point, end: Point, share: float) -> Point:
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share


def _meet(one: Point, two: Point, three: Point, four: Point) -> bool:
    """Return whether two lines cross."""
    return (
        _turn(one, two, three) * _turn(one, two, four) < 0 > _turn(three, four, one) * _turn(three, four, two)
    )


def _turn(one: Point, two: Point, three: Point) -> float:
    return (two[0] - one[0]) * (three[1] - one[1]) - (two[1] - one[1]) * (three[0] - one[0])
