"""Marks and labels of devices on the paper of a plan."""

import math
from collections.abc import Sequence

from proposal.drawings.canvas import ASCENT, LINE, Canvas, Point
from proposal.drawings.colours import INK, MUTED, PAPER
from proposal.drawings.label_ground import Box, Ground
from proposal.drawings.label_placement import Label, Placed
from proposal.drawings.lettering import wrapped
from proposal.drawings.plan.field import SMALL, Scaled
from proposal.drawings.plan.openings import DoorLines
from proposal.drawings.plan.plan_marks import PlanMark
from proposal.drawings.plan.symbols import draw_symbol, reach_of

SIDE_BY_SIDE = "Marks that would cover one another stand side by side; tables have their places."
"""Note of a plan with such marks."""
ANCHOR = "breakout"
"""Kind of the devices that stay where they are among marks side by side."""


def symbols_on_paper(
    marks: Sequence[PlanMark], scale: Scaled, outline: Sequence[Point] = ()
) -> list[list[tuple[str, Point, str]]]:
    """Return kind, place on paper and label of the marks, those together that would cover one another.

    scale: of the plan.  outline: of their room, m.
    They stand side by side; the first is where it is, the others right of it, or left where a wall is near.
    A breakout stays where it is, as far as there is room: cables go up the wall beside it.
    """
    east = max((scale.on_paper(point)[0] for point in outline), default=math.inf)
    found: list[list[tuple[str, Point, str]]] = []
    for mark in marks:
        x, y = scale.on_paper(mark.at)
        reach = reach_of(mark.kind)
        # What stands at the very place comes first.
        for together in sorted(found, key=lambda one: one[0][1] != (x, y)):
            (kind, (last_x, last_y), _) = together[-1]
            near = reach + reach_of(kind)
            first_x = together[0][1][0]
            if first_x - near < x < last_x + near and abs(y - last_y) < near:
                together.append((mark.kind, (last_x + near + 1.5, last_y), mark.label))
                break
        else:
            found.append([(mark.kind, (x, y), mark.label)])
    return _anchored([_turned(together, east) for together in _apart(found)], marks, scale, outline)


def _anchored(
    groups: list[list[tuple[str, Point, str]]],
    marks: Sequence[PlanMark],
    scale: Scaled,
    outline: Sequence[Point],
) -> list[list[tuple[str, Point, str]]]:
    """Return marks that stand together, moved so that a breakout is where it is, where there is room.

    Where others or a wall are in the way, they stay.
    """
    true_x = {mark.label: scale.on_paper(mark.at)[0] for mark in marks if mark.kind == ANCHOR}
    xs = [scale.on_paper(point)[0] for point in outline]
    found = list(groups)
    for n, together in enumerate(groups):
        apart = [true_x[label] - x for kind, (x, _), label in together if kind == ANCHOR and label in true_x]
        if len(apart) != 1 or not apart[0] or not xs:
            continue
        moved = [(kind, (x + apart[0], y), label) for kind, (x, y), label in together]
        boxes = [symbol_box(kind, at) for kind, at, _ in moved]
        free = min(xs) + 1.5 < boxes[0][0] and boxes[-1][2] < max(xs) - 1.5
        others = [symbol_box(kind, at) for m, one in enumerate(found) if m != n for kind, at, _ in one]
        if free and not any(_overlap(one, other) for one in boxes for other in others):
            found[n] = moved
    return found


def _overlap(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _apart(found: Sequence[list[tuple[str, Point, str]]]) -> list[list[tuple[str, Point, str]]]:
    """Return marks that stand together, those joined that would cover others once they stand side by side."""
    joined: list[list[tuple[str, Point, str]]] = []
    for together in sorted(found, key=lambda one: (one[0][1][0], one[0][1][1])):
        kind, (x, y), _ = together[0]
        before = next((one for one in joined if _covers(one[-1], kind, (x, y))), None)
        if before is None:
            joined.append(list(together))
            continue
        for kind, _, label in together:
            last_kind, (last_x, last_y), _ = before[-1]
            before.append((kind, (last_x + reach_of(last_kind) + reach_of(kind) + 1.5, last_y), label))
    return sorted(joined, key=lambda one: found.index(next(group for group in found if group[0] == one[0])))


def _covers(last: tuple[str, Point, str], kind: str, at: Point) -> bool:
    """Return whether the last of marks side by side reaches to a mark east of their first, or beyond it."""
    near = reach_of(last[0]) + reach_of(kind)
    return at[0] < last[1][0] + near and abs(at[1] - last[1][1]) < near


def side_by_side(marks: Sequence[PlanMark], scale: Scaled) -> bool:
    """Return whether some marks would cover others, and stand beside them.

    scale: of the plan.
    """
    return any(len(together) > 1 for together in symbols_on_paper(marks, scale))


def _turned(together: list[tuple[str, Point, str]], east: float) -> list[tuple[str, Point, str]]:
    """Return marks that stand together, from west to east, with none on the wall east of them.

    east: where that wall is on paper.
    """
    (_, (first, _), _), (last_kind, (last, _), _) = together[0], together[-1]
    if len(together) == 1 or last + reach_of(last_kind) + 1.5 < east:
        return together
    return [(kind, (2 * first - x, y), label) for kind, (x, y), label in reversed(together)]


def labels_of(marks: Sequence[PlanMark], scale: Scaled, outline: Sequence[Point] = ()) -> list[Label]:
    """Return a label for the marks of each place; those that stand together share one.

    scale: of the plan.  outline: of their room, m.
    """
    labels = []
    for together in symbols_on_paper(marks, scale, outline):
        left = together[0][1][0] - reach_of(together[0][0])
        right = together[-1][1][0] + reach_of(together[-1][0])
        middle = ((left + right) / 2, together[0][1][1])
        reach = (right - left) / 2, max(reach_of(kind) for kind, _, _ in together)
        words = ", ".join(label for _, _, label in together if label)
        kind, first, _ = next((one for one in together if one[2]), together[0])
        lead = first, (reach_of(kind), reach_of(kind))
        labels.append(Label(wrapped(words, 130, 4, SMALL), middle, reach, SMALL, lead=lead))
    return labels


def draw_label(canvas: Canvas, placed: Placed) -> None:
    """Draw a label where it stands, with its leader; of a bold one the first line is bold."""
    label = placed.label
    if placed.leader:
        canvas.line(placed.leader, MUTED, 0.5, of="leader")
    left, top, right, _ = placed.box
    alone = len(label.lines) == 1
    at_x, anchor = ((left + right) / 2, "middle") if alone else (left, "start")
    for n, words in enumerate(label.lines):
        at = (at_x, top + (ASCENT + n * LINE) * label.size)
        canvas.text(at, words, label.size, anchor=anchor, bold=label.bold and n == 0, colour=label.colour)


def draw_marks(canvas: Canvas, marks: Sequence[PlanMark], scale: Scaled, outline: Sequence[Point]) -> None:
    """Draw marks where they stand.

    scale: of the plan.  outline: of their room, m.
    """
    for together in symbols_on_paper(marks, scale, outline):
        for kind, at, _ in together:
            draw_symbol(canvas, kind, at)


def fill_marks(ground: Ground, marks: Sequence[PlanMark], scale: Scaled, outline: Sequence[Point]) -> None:
    """Keep labels off marks.

    scale: of the plan.  outline: of their room, m.
    """
    for together in symbols_on_paper(marks, scale, outline):
        for kind, at, _ in together:
            ground.fill(symbol_box(kind, at))


def symbol_box(kind: str, at: Point) -> Box:
    """Return the box of the mark of a device of a kind, pt."""
    reach = reach_of(kind)
    return at[0] - reach, at[1] - reach, at[0] + reach, at[1] + reach


def draw_doors(canvas: Canvas, doors: Sequence[DoorLines], scale: Scaled) -> None:
    """Draw doors over the walls that they stand in.

    scale: of the plan.
    """
    for door in doors:
        canvas.line(scale.all_on_paper(door.gap), PAPER, 2.6)
        canvas.line(scale.all_on_paper(door.leaf), INK, 1.0)
        canvas.line(scale.all_on_paper(door.swing), MUTED, 0.4)


def rule_doors(ground: Ground, doors: Sequence[DoorLines], scale: Scaled) -> None:
    """Keep labels off doors.

    scale: of the plan.
    """
    for door in doors:
        for line in (door.leaf, door.swing):
            ground.rule(scale.all_on_paper(line))


def rule_walls(ground: Ground, points: Sequence[Point], width: float) -> None:
    """Keep labels off walls that are drawn with a heavy line around a room.

    points: corners of the room on paper.  width: of the line, pt.
    """
    ground.rule(closed(points), width + 1.2)


def closed(points: Sequence[Point]) -> list[Point]:
    """Return the points of a line around a shape."""
    return [*points, points[0]]
