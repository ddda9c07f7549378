"""Where labels stand on a plan: beside what they name, off lines, symbols and one another, else on a leader.

The places that a label may take are a bounded, ordered list. What has the fewest free places chooses first;
a label in the way moves where it can; whatever fits nowhere beside its symbol is tried further away with a
leader. What fits nowhere at all is handed back, so that the sheet can list it.
"""

import itertools
import math
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import field

from proposal.drawings.canvas import ASCENT, DESCENT, LINE, Point
from proposal.drawings.colours import INK
from proposal.drawings.label_ground import (
    APART_PT,
    Box,
    Ground,
    cells_of,
    edge_towards,
    nearest_in,
    overlap,
    part_way,
)
from proposal.drawings.letter_widths import letters_pt
from proposal.field_classes import dataclass

_GAPS = (2.0, 4.5)
_SIDES = ((1, 0), (-1, 0), (0, -1), (0, 1), (1, -1), (1, 1), (-1, -1), (-1, 1))
_SHIFTS = (0.0, 0.35, -0.35)
_FAR_SHIFTS = (0.7, -0.7)
"""How far aside of the middle of its symbol a label stands, in its own width or height."""
_LEADERS = (10.0, 16.0, 24.0, 34.0, 46.0, 60.0, 78.0, 100.0, 130.0, 170.0)
_DIRECTIONS = tuple((math.cos(n * math.tau / 32), math.sin(n * math.tau / 32)) for n in range(32))
_NEARER = 1.5
"""How much nearer a text stands to what it names than to anything else that is named, pt."""
_CROSSED_PT = 30.0
"""By how much longer a leader may be for each line that it then does not cross, pt."""
_CLOSE_PT = 12.0
"""By how much longer a leader may be so that its text stands off others, pt."""
_OFF_PT = 5.0
"""So near a text on a leader reads as that of another thing, pt."""
_END_CLEAR = 1.6
"""From the end of a leader to its text, pt."""


@dataclass(frozen=True, slots=True)
class Label:
    """A text that belongs to a point.

    lines: of the text.  at: the point.  reach: half width and half height of the symbol there, pt.
    size: of the letters, pt.  bold: whether its first line is.  colour: of the letters.
    where: boxes it may fill in order, in place of those around its symbol: left and top of each.
    anchors: further points that a leader may come from, as of a line.
    lead: middle and reach of what its leader comes from, where that is not the whole at the point.
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
    lead: tuple[()] | tuple[Point, Point] = ()

    @property
    def around(self) -> Box:
        """The box around what it names, pt."""
        return (
            self.at[0] - self.reach[0], self.at[1] - self.reach[1],
            self.at[0] + self.reach[0], self.at[1] + self.reach[1],
        )  # fmt: skip

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


def placed_labels(
    labels: Sequence[Label], ground: Ground, foremost: Collection[Label] = ()
) -> tuple[tuple[Placed, ...], tuple[Label, ...]]:
    """Return the labels where they stand, in their order, and those that fit nowhere.

    ground: what they stand clear of; it holds the symbols already, and holds the labels afterwards.
    foremost: those that are led before others, since they found no place after them.
    """
    sizes = [label.extent for label in labels]
    marked = [(n, label.around) for n, label in enumerate(labels) if max(label.reach) > _NEARER]
    free: list[list[Box]] = []
    shared: list[list[Box]] = []
    beside: list[list[Box]] = []
    for n, (label, size) in enumerate(zip(labels, sizes, strict=True)):
        reached = 2 * max(size) + 4 * _NEARER
        others = [
            around
            for m, around in marked
            if m != n and not _holds(around, label.at) and _gap(label.around, around) < reached
        ]
        beside.append(others)
        found = [box for box in _beside(label, size) if ground.free(box)]
        own = [box for box in found if label.where or _is_its_own(label, box, others, ground)]
        free.append(sorted(own, key=ground.across_an_edge) if len(label.lines) > 1 else own)
        shared.append([box for box in found if box not in own])
    order = sorted(range(len(labels)), key=lambda n: (bool(labels[n].led), len(free[n]), n))
    taken = _Taken()
    waiting = [n for n in order if not _takes_one(n, free, taken)]
    standing = {n: Placed(labels[n], box) for n, box in taken.boxes.items()}
    for box in taken.boxes.values():
        ground.write(box)
    left: list[Label] = []
    # What is large finds a place on a leader before what fits many.
    for n in sorted(waiting, key=lambda n: (labels[n] not in foremost, -len(labels[n].lines), n)):
        one = _led(labels[n], sizes[n], ground, beside[n]) if labels[n].led else None
        if one is None:
            one = next((Placed(labels[n], box) for box in shared[n] if ground.free(box)), None)
        if one is None:
            left.append(labels[n])
            continue
        standing[n] = one
        ground.write(one.box)
        if one.leader:
            ground.lead(*one.leader)
    return tuple(standing[n] for n in sorted(standing)), tuple(left)


def _is_its_own(label: Label, box: Box, others: Iterable[Box], ground: Ground) -> bool:
    """Return whether a label in a box reads as that of what it names, and of nothing else.

    others: boxes around what other labels name.
    """
    if ground.behind_a_wall(label.at, label.reach, box):
        return False
    far = _gap(label.around, box) + _NEARER
    return all(_gap(around, box) >= far for around in others)


def _holds(box: Box, at: Point) -> bool:
    return box[0] <= at[0] <= box[2] and box[1] <= at[1] <= box[3]


def _gap(one: Box, other: Box) -> float:
    """Return how far two boxes are apart, pt."""
    across = max(one[0] - other[2], other[0] - one[2], 0.0)
    down = max(one[1] - other[3], other[1] - one[3], 0.0)
    return math.hypot(across, down)


@dataclass(slots=True)
class _Taken:
    """Boxes that labels have taken so far, by the number of the label."""

    boxes: dict[int, Box] = field(default_factory=dict)
    _cells: dict[tuple[int, int], list[int]] = field(default_factory=dict)

    def take(self, n: int, box: Box) -> None:
        """Give a label a box, in place of the one that it has."""
        if n in self.boxes:
            for cell in cells_of(self.boxes[n]):
                self._cells[cell].remove(n)
        self.boxes[n] = box
        for cell in cells_of(box):
            self._cells.setdefault(cell, []).append(n)

    def blocking(self, box: Box) -> set[int]:
        """Return the labels that stand too near to a box."""
        wide = _widely(box)
        return {
            n for cell in cells_of(wide) for n in self._cells.get(cell, ()) if overlap(wide, self.boxes[n])
        }


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
    return box[0] - APART_PT, box[1] - APART_PT, box[2] + APART_PT, box[3] + APART_PT


def _beside(label: Label, size: Point) -> Iterator[Box]:
    """Yield the boxes that a label may fill without a leader, best first."""
    width, height = size
    if label.where:
        yield from ((x, y, x + width, y + height) for x, y in label.where)
        return
    x, y = label.at
    for gap, shifts in itertools.product(_GAPS, (_SHIFTS, _FAR_SHIFTS)):
        for across, down in _SIDES:
            for shift in shifts if 0 in (across, down) else (0.0,):
                middle_x = x + across * (label.reach[0] + gap + width / 2)
                middle_y = y + down * (label.reach[1] + gap + height / 2)
                if across == 0:
                    middle_x += shift * width
                if down == 0:
                    middle_y += shift * height
                yield _box(middle_x, middle_y, size)


def _led(label: Label, size: Point, ground: Ground, others: Sequence[Box]) -> Placed | None:
    """Return a label on the best leader, None where there is none: it is short, and crosses few lines.

    others: boxes around what other labels name, which it stands off.
    """
    best: tuple[float, Placed] | None = None
    for away in _LEADERS:
        if away > label.led or (best and away > best[0]):
            break
        for one in _on_leaders(label, size, away, ground):
            cost = away + _CROSSED_PT * (ground.lines_crossed(*one.leader) if one.leader else 0)
            cost += _CLOSE_PT if ground.is_written_near(one.box) else 0
            cost += 4 * _CLOSE_PT if any(_gap(around, one.box) < _OFF_PT for around in others) else 0
            if best is None or cost < best[0]:
                best = cost, one
            if best[0] <= away:
                return best[1]
    return best[1] if best else None


def _on_leaders(label: Label, size: Point, away: float, ground: Ground) -> Iterator[Placed]:
    """Yield a label where it is free, on leaders that cross no mark and no other leader.

    away: length of the leaders, pt.
    """
    (first, reach) = label.lead or (label.at, label.reach)
    for x, y in (first, *label.anchors):
        for across, down in _DIRECTIONS:
            middle = (
                x + across * (reach[0] + away + size[0] / 2),
                y + down * (reach[1] + away + size[1] / 2),
            )
            box = _box(*middle, size)
            if not ground.free(box):
                continue
            start = edge_towards((x, y), reach, nearest_in((x, y), box))
            ends = (nearest_in(start, line) for line in _boxes_of_lines(label, box))
            end = min(ends, key=lambda at: math.dist(start, at))
            far = math.dist(start, end)
            end = part_way(start, end, max(0.0, 1 - _END_CLEAR / far)) if far else end
            if ground.is_open(start, end, of=(x, y)):
                yield Placed(label, box, (start, end))


def _boxes_of_lines(label: Label, box: Box) -> Iterator[Box]:
    """Yield the box of each line of a label that stands in a box, from its left edge on."""
    left, top, _, _ = box
    for n, line in enumerate(label.lines):
        wide = letters_pt(line, label.size, bold=label.bold and n == 0)
        high = top + n * LINE * label.size
        yield left, high, left + wide, high + (ASCENT + DESCENT) * label.size


def _box(x: float, y: float, size: Point) -> Box:
    return x - size[0] / 2, y - size[1] / 2, x + size[0] / 2, y + size[1] / 2
