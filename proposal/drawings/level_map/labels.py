"""Devices, contours and the weakest microphone on a level map: no text on a line, a mark or another text."""

import itertools
import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from proposal.drawings.colours import INK, MUTED
from proposal.drawings.figure.drawn_symbols import draw_symbol
from proposal.drawings.figure.placed_texts import draw_placed, field_box
from proposal.drawings.label_ground import Box, Ground, crosses
from proposal.drawings.label_placement import Label, Placed, placed_labels
from proposal.drawings.lettering import plain
from proposal.drawings.level_map import LevelMapSpec, Point, dbm, margin_words
from proposal.drawings.page_chart import is_narrow
from proposal.drawings.plan.field import SMALL, Scaled
from proposal.drawings.plan.marking import closed, labels_of, rule_walls, symbol_box, symbols_on_paper
from proposal.drawings.plan.plan_marks import PlanMark, natural, shortened
from proposal.drawings.plan.symbols import place_in_order, reach_of

if TYPE_CHECKING:
    from matplotlib.axes import Axes

MARKED = ("access point", "charger", "loudspeaker", "microphone")
SEAT_M = 0.25
_CONTOUR_PT = 7.5
_SHORTEST_PT, _STEP_PT = 60.0, 12.0
_ABOVE_PT = 11.0
_WALL_PT = 2.0


def draw_devices(
    axes: "Axes", spec: LevelMapSpec, scale: Scaled, contours: Sequence[tuple[str, list[Point]]]
) -> None:
    """Draw devices and the weakest microphone with their labels, and name the contours.

    axes: of the whole field in points.
    scale: of the plan.
    contours: name and points, m.
    """
    marks = _marks(spec, loudspeakers=False)
    speakers = _marks(spec, loudspeakers=True)
    for together in (*symbols_on_paper(speakers, scale), *symbols_on_paper(marks, scale, spec.outline)):
        for kind, at, _ in together:
            draw_symbol(axes, kind, at)
    worst_at = _place_of(spec, marks, scale)
    draw_symbol(axes, "weakest microphone", worst_at, zorder=9)
    boxes = [
        symbol_box(kind, at)
        for together in (*symbols_on_paper(speakers, scale), *symbols_on_paper(marks, scale, spec.outline))
        for kind, at, _ in together
    ]
    ground = _ground(spec, scale, boxes)
    worst = _worst(spec, scale, worst_at, boxes)
    ground.lead(*worst.leader)
    ground.fill(symbol_box("weakest microphone", worst_at))
    ground.write(worst.box)
    names, _ = placed_labels(list(_contour_labels(spec, scale, contours)), ground)
    for _, points in contours:
        ground.rule(scale.all_on_paper(points))
    named = [mark for mark in marks if mark.kind != "microphone"] if is_narrow(spec.strip.paper) else marks
    placed, left_out = placed_labels(labels_of(named, scale, spec.outline), ground)
    for one in (*names, *placed):
        draw_placed(axes, one)
    axes.plot(*zip(*worst.leader, strict=True), color=INK, linewidth=0.9, zorder=7)
    draw_placed(axes, Placed(worst.label, worst.box), edge=INK, zorder=10)
    if left_out:
        words = ", ".join(" ".join(label.lines) for label in left_out)
        left, _, _, bottom = ground.frame
        axes.text(left + 6, bottom - 6, plain(f"Too close to label: {words}."), fontsize=SMALL, color=MUTED)


def _marks(spec: LevelMapSpec, *, loudspeakers: bool) -> tuple[PlanMark, ...]:
    """Return the marks of the loudspeakers, or of all other devices that are shown; with their codes."""
    grouped: dict[tuple[str, Point], list[str]] = {}
    for kind, code, at in spec.marks:
        if kind in MARKED and (kind == "loudspeaker") == loudspeakers:
            grouped.setdefault((kind, at), []).append(code)
    return tuple(
        PlanMark(kind, at, codes := tuple(sorted(found, key=natural)), shortened(codes))
        for (kind, at), found in sorted(grouped.items(), key=lambda item: place_in_order(item[0][0]))
    )


def _place_of(spec: LevelMapSpec, marks: Sequence[PlanMark], scale: Scaled) -> Point:
    """Return where the weakest microphone is drawn: beside what it would cover, if need be."""
    shown = next((mark for mark in marks if spec.worst in mark.codes), None)
    for together in symbols_on_paper(marks, scale, spec.outline):
        for kind, at, label in together:
            if shown is not None and (kind, label) == (shown.kind, shown.label):
                return at
    return scale.on_paper(spec.worst_at)


def _ground(spec: LevelMapSpec, scale: Scaled, boxes: Sequence[Box]) -> Ground:
    """Return what labels stand clear of, the contours left out."""
    ground = Ground(field_box(spec.strip))
    rule_walls(ground, scale.all_on_paper(spec.outline), _WALL_PT)
    for _, corners in spec.furniture:
        ground.rule(closed(scale.all_on_paper(corners)))
    reach = SEAT_M * scale.pt_a_metre
    turns = [math.tau * n / 12 for n in range(13)]
    for at in spec.seats:
        x, y = scale.on_paper(at)
        ground.rule([(x + reach * math.cos(turn), y + reach * math.sin(turn)) for turn in turns])
    for box in boxes:
        ground.fill(box)
    return ground


def _worst(spec: LevelMapSpec, scale: Scaled, at: Point, boxes: Sequence[Box]) -> Placed:
    """Return the label of the weakest microphone above or below the room, where it hides nothing."""
    words = (f"weakest: {spec.worst}, by {spec.served_by}", f"{dbm(spec.worst_dbm, 1)}, {margin_words(spec)}")
    narrow = is_narrow(spec.strip.paper)
    label = Label(words if narrow else (", ".join(words),), at, size=8.0 if narrow else 9.0, bold=True)
    width, height = label.extent
    _, _, wide, _ = field_box(spec.strip)
    ys = [y for _, y in scale.all_on_paper([*spec.outline, spec.worst_at])]
    middle = min(max(at[0], width / 2 + 4), wide - width / 2 - 4)
    reach = reach_of("weakest microphone") + 1
    found: list[tuple[int, int, Placed]] = []
    for order, top in enumerate((min(ys) - _ABOVE_PT - height, max(ys) + _ABOVE_PT)):
        box = (middle - width / 2, top, middle + width / 2, top + height)
        edge = box[3] if order == 0 else box[1]
        leader = ((at[0], at[1] + (-reach if order == 0 else reach)), (at[0], edge))
        hit = sum(crosses(*leader, one) for one in boxes)
        found.append((hit, order, Placed(label, box, leader)))
    return min(found, key=lambda one: one[:2])[2]


def _contour_labels(
    spec: LevelMapSpec, scale: Scaled, contours: Sequence[tuple[str, list[Point]]]
) -> Iterator[Label]:
    """Yield a label for each contour that is long enough, with the places on it that lie in the room."""
    from shapely.geometry import Polygon, box

    room = Polygon(scale.all_on_paper(spec.outline)).buffer(-2)
    for name, metres in contours:
        points = _along(scale.all_on_paper(metres))
        label = Label((name,), points[0], size=_CONTOUR_PT, led=0)
        width, height = label.extent
        places = [(x - width / 2, y - height / 2) for x, y in points]
        within = [(x, y) for x, y in places if room.contains(box(x, y, x + width, y + height))]
        if within and len(points) * _STEP_PT >= _SHORTEST_PT:
            third = len(within) // 3
            yield Label(
                label.lines, points[0], size=_CONTOUR_PT, led=0, where=(*within[third:], *within[:third])
            )


def _along(points: Sequence[Point]) -> list[Point]:
    """Return points along a line at even steps."""
    found, left = [points[0]], _STEP_PT
    for one, two in itertools.pairwise(points):
        way = math.dist(one, two)
        done = left
        while done <= way:
            share = done / way
            found.append((one[0] + (two[0] - one[0]) * share, one[1] + (two[1] - one[1]) * share))
            done += _STEP_PT
        left = done - way
    return found
