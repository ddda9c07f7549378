"""The floor plan or the ceiling plan of a storey as SVG, drawn to a round scale."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise

from proposal.drawings.canvas import Canvas, Point
from proposal.drawings.colours import INK, MUTED, PAPER, stroke
from proposal.drawings.figure.to_scale import extent
from proposal.drawings.label_ground import Box, Ground, broken_line
from proposal.drawings.label_placement import Label, Placed
from proposal.drawings.legend import Foot
from proposal.drawings.lettering import wrapped
from proposal.drawings.plan.coordinates import (
    ASIDE_PT,
    ORIGIN_PT,
    draw_origin,
    draw_ticks,
    note_on_ticks,
    origin_on_paper,
    ticks,
)
from proposal.drawings.plan.field import FIELD, SMALL, Scaled, empty_field, foot, scaled, scales_that_fit
from proposal.drawings.plan.marking import (
    SIDE_BY_SIDE,
    closed,
    draw_doors,
    draw_label,
    draw_marks,
    fill_marks,
    rule_doors,
    side_by_side,
    symbol_box,
    symbols_on_paper,
)
from proposal.drawings.plan.match_lines import draw_key_plan, draw_match_line, match_lines
from proposal.drawings.plan.outer_walls import BREAK_PT, break_labels, walls_on_sheet
from proposal.drawings.plan.run_routes import Route, arrow_along, joined, legs_through, routes
from proposal.drawings.plan.storey_labels import (
    AROUND,
    END_PT,
    NODE_PT,
    PASSAGE_PT,
    RISER_PT,
    labels_on_storey,
    rack_box,
    rising_on_paper,
)
from proposal.drawings.plan.storey_legend import LOUDSPEAKER_LINE, legend_entries
from proposal.drawings.plan.storey_marks import (
    OUTER_WALL_PT,
    ROOM_WALL_PT,
    WALL_PT,
    around,
    draw_box,
    draw_break,
    draw_cables,
    draw_edge,
    draw_furniture,
    draw_grid_line,
    draw_outer_wall,
    draw_passage,
    draw_pathway,
    draw_rack,
    draw_ring,
    draw_riser,
    draw_wall,
    pathway_width,
)
from proposal.drawings.plan.storey_plan import storey_words
from proposal.drawings.plan.storey_spec import PlanRoom, PlanRun, StoreyPlanSpec
from proposal.field_classes import dataclass

SMALLEST_SCALE = {"metric": 250, "us_customary": 240}
"""Denominators beyond which rooms show what is in them on their own plans alone."""
USUAL_SCALE = {"metric": 50, "us_customary": 48}
_HEAD = 58.0
_SEEN_PT = 5.0
"""What is seen of a run between marks and walls is longer than this, pt."""
# Within the field, with much room for labels around the plan, with some, and with hardly any.
_FIELDS = tuple(
    (
        FIELD[0] + max(across, ASIDE_PT[0]),
        FIELD[1] + _HEAD + down,
        FIELD[2] - across,
        FIELD[3] - max(down, ASIDE_PT[1]),
    )
    for across, down in ((64, 40), (36, 24), (8, 8))
)
OPENINGS = (
    "Openings WO, W and F in rated walls and floors: close each with a firestop system listed for its "
    "rating, by those licensed for it."
)
"""Note of a plan whose pathways pass rated walls or floors."""


def scale_of(spec: StoreyPlanSpec) -> int:
    """Return the denominator of the scale at which the storey is drawn."""
    return _laid_out(spec).scale.scale


def draw_storey(spec: StoreyPlanSpec, prefix: str) -> bytes:
    """Return the plan as SVG, the same bytes for equal specs.

    prefix: makes its ids its own.
    """
    laid_out = _laid_out(spec)
    scale, placed = laid_out.scale, laid_out.placed
    words = storey_words(spec)
    spec, far = _as_far_as_legible(spec, scale.scale)
    canvas = empty_field()
    _heading(canvas, spec, laid_out.left_out, far=far)
    walls = walls_on_sheet(spec, scale, _HEAD)
    for side in walls.shown:
        draw_outer_wall(canvas, side)
    for cut in walls.breaks:
        draw_break(canvas, cut.at, upright=cut.upright)
    for _, _, points in spec.walls:
        draw_wall(canvas, scale.all_on_paper(points))
    full = [*(_widened(one.box) for one in placed), *_mark_boxes(spec.rooms, scale)]
    for room in spec.rooms:
        canvas.polygon(scale.all_on_paper(room.outline), PAPER, INK, ROOM_WALL_PT)
        for corners in room.furniture:
            draw_furniture(canvas, scale.all_on_paper(corners))
        for corners in room.levels:
            draw_edge(canvas, closed(scale.all_on_paper(corners)))
        for line in room.grid:
            for piece in broken_line(scale.on_paper(line[0]), scale.on_paper(line[1]), full):
                draw_grid_line(canvas, piece)
        draw_doors(canvas, room.doors, scale)
    ways = _ways(spec, scale)
    for run, way in zip(spec.runs, ways, strict=True):
        _run(canvas, run, way)
    for pathway in spec.pathways:
        draw_pathway(canvas, pathway.kind, scale.all_on_paper(pathway.points))
        if pathway.drop:
            draw_ring(canvas, scale.on_paper(pathway.drop))
    for pathway, at in rising_on_paper(spec.pathways, scale):
        draw_riser(canvas, pathway.way, at)
    for _, at_wall, upright in spec.passages:
        draw_passage(canvas, scale.on_paper(at_wall), upright=upright)
    for edge, _ in match_lines(spec):
        draw_match_line(canvas, scale.all_on_paper(edge))
    draw_ticks(canvas, ticks(scale, spec.units, spec.locale))
    if at_origin := origin_on_paper(scale):
        draw_origin(canvas, at_origin)
    for node in spec.nodes:
        draw_box(canvas, scale.on_paper(node.at))
    for place in spec.places:
        draw_rack(canvas, place, scale)
    for room in spec.rooms:
        draw_marks(canvas, room.marks, scale, room.outline)
    for run, way in zip(spec.runs, ways, strict=True):
        if run.goes_on:
            draw_ring(canvas, way[-1])
    for one in placed:
        draw_label(canvas, one)
    return canvas.finished(f"Sheet {spec.strip.number}: {spec.strip.title}", words, prefix)


def _as_far_as_legible(spec: StoreyPlanSpec, scale: int) -> tuple[StoreyPlanSpec, bool]:
    """Return what of a plan is legible at its scale, and whether that is less than all.

    scale: denominator.  On a small scale rooms show on their own plans alone what is in them.
    """
    smallest = SMALLEST_SCALE["us_customary" if spec.units == "us_customary" else "metric"]
    if scale <= smallest or not any(room.enlarged for room in spec.rooms):
        return spec, False
    rooms = tuple(
        replace(room, furniture=(), doors=(), levels=(), grid=(), marks=()) if room.enlarged else room
        for room in spec.rooms
    )
    return replace(spec, rooms=rooms, runs=(), passages=()), True


@dataclass(frozen=True, slots=True)
class _LaidOut:
    """A plan at a scale: its labels where they stand, and those that fit nowhere."""

    scale: Scaled
    placed: tuple[Placed, ...]
    left_out: tuple[Label, ...]


@lru_cache(maxsize=16)
def _laid_out(spec: StoreyPlanSpec) -> _LaidOut:
    """Return the plan at the largest scale at which its labels stand on it.

    Where they do not at a scale that fills the field, the plan leaves room around itself for them.
    """
    corners = extent(_points(spec) or [(0.0, 0.0), (1.0, 1.0)])
    usual = USUAL_SCALE["us_customary" if spec.units == "us_customary" else "metric"]
    roomy, *closer = [
        scaled(corners, field, scales_that_fit(corners, field, spec.units, usual)[0]) for field in _FIELDS
    ]
    kept = _labelled(spec, roomy)
    for scale in reversed(closer):
        if scale.scale < roomy.scale:
            tried = _labelled(spec, scale)
            if not tried.left_out and len(tried.placed) >= len(kept.placed):
                return tried
    return kept


def _labelled(spec: StoreyPlanSpec, scale: Scaled) -> _LaidOut:
    spec, far = _as_far_as_legible(spec, scale.scale)
    ways = _ways(spec, scale)
    others = break_labels(spec, scale, walls_on_sheet(spec, scale, _HEAD).breaks)
    placed, left_out = labels_on_storey(
        spec, scale, ways, lambda: _ground(spec, scale, ways), brief=far, others=others
    )
    return _LaidOut(scale, placed, tuple(left_out))


def _ways(spec: StoreyPlanSpec, scale: Scaled) -> tuple[Route, ...]:
    """Return the way of each run of a plan on paper, clear of the symbols on it."""
    symbols = _mark_boxes(spec.rooms, scale)
    symbols += [rack_box(place, scale) for place in spec.places]
    symbols += [around(at, RISER_PT) for _, at in rising_on_paper(spec.pathways, scale)]
    edges = [tuple(scale.all_on_paper(edge)) for edge, _ in match_lines(spec)]
    walls = [tuple(scale.all_on_paper((*room.outline, room.outline[0]))) for room in spec.rooms]
    openings = [(at, upright) for _, at, upright in spec.passages]
    legs = [legs_through(run.ends, openings, spec.shared_opening_m) for run in spec.runs]
    ends = [(scale.on_paper(one), scale.on_paper(two)) for through in legs for one, two in through]
    parts = [len(through) > 1 for through in legs for _ in through]
    found = iter(routes(ends, symbols, edges, {n for n, part in enumerate(parts) if part}, walls))
    return tuple(joined([next(found) for _ in through]) for through in legs)


def _points(spec: StoreyPlanSpec) -> list[Point]:
    points = [point for room in spec.rooms for point in room.outline]
    points += [mark.at for room in spec.rooms for mark in room.marks]
    points += [place.at for place in spec.places] + [node.at for node in spec.nodes]
    points += [point for pathway in spec.pathways for point in pathway.points]
    points += [point for run in spec.runs for point in run.ends]
    points += [point for _, _, wall in spec.walls for point in wall]
    shown = spec.pieces if spec.here < 0 else (spec.pieces[spec.here],)
    points += [corner for piece in shown for corner in (piece.box[:2], piece.box[2:])]
    return points


def _ground(spec: StoreyPlanSpec, scale: Scaled, ways: Sequence[Route]) -> Ground:
    """Return what labels stand clear of.

    ways: of its runs, on paper.
    """
    left, top, right, bottom = FIELD
    ground = Ground((left, top + _HEAD, right, bottom))
    walls = walls_on_sheet(spec, scale, _HEAD)
    for side in walls.shown:
        ground.wall(side, OUTER_WALL_PT)
    for cut in walls.breaks:
        ground.fill(around(cut.at, BREAK_PT))
    for _, _, points_of_wall in spec.walls:
        ground.wall(scale.all_on_paper(points_of_wall), WALL_PT)
    for room in spec.rooms:
        ground.wall(closed(scale.all_on_paper(room.outline)), ROOM_WALL_PT)
        for corners in room.furniture:
            ground.shade(closed(scale.all_on_paper(corners)))
        rule_doors(ground, room.doors, scale)
        for corners in room.levels:
            ground.rule(closed(scale.all_on_paper(corners)))
        fill_marks(ground, room.marks, scale, room.outline)
    for edge, _ in match_lines(spec):
        ground.rule(scale.all_on_paper(edge))
    for run, points in zip(spec.runs, ways, strict=True):
        for n, (signal, _) in enumerate(run.signals):
            ground.rule(_beside(points, n))
            if signal == LOUDSPEAKER_LINE and (head := arrow_along(_beside(points, n)[::-1])):
                ground.rule(closed(head))
        if run.goes_on:
            ground.fill(around(points[-1], END_PT))
    for pathway in spec.pathways:
        ground.rule(scale.all_on_paper(pathway.points), pathway_width(pathway.kind))
        if pathway.drop:
            ground.fill(around(scale.on_paper(pathway.drop), END_PT))
    for _, at in rising_on_paper(spec.pathways, scale):
        ground.fill(around(at, RISER_PT))
    for _, at_wall, _ in spec.passages:
        ground.fill(around(scale.on_paper(at_wall), PASSAGE_PT))
    for one in ticks(scale, spec.units, spec.locale):
        ground.write(one.box)
    if at_origin := origin_on_paper(scale):
        ground.fill(around(at_origin, ORIGIN_PT))
    for node in spec.nodes:
        ground.fill(around(scale.on_paper(node.at), NODE_PT))
    for place in spec.places:
        ground.fill(rack_box(place, scale))
    return ground


def _mark_boxes(rooms: Iterable[PlanRoom], scale: Scaled) -> list[Box]:
    return [
        symbol_box(kind, at)
        for room in rooms
        for together in symbols_on_paper(room.marks, scale, room.outline)
        for kind, at, _ in together
    ]


def _widened(box: Box) -> Box:
    return box[0] - 1, box[1] - 1, box[2] + 1, box[3] + 1


def _heading(canvas: Canvas, spec: StoreyPlanSpec, left_out: Sequence[Label], *, far: bool) -> None:
    """Draw what the plan is of, how tags are made of codes, and what is labelled elsewhere."""
    left, top, right, _ = FIELD
    canvas.text((left, top + 10), f"{spec.storey} {spec.name}: {spec.level} plan", 10.5, bold=True)
    told = "Codes follow the tag of their room: AP1 in room X is X-AP1. "
    if wall := next((tag for tag, _, points in spec.walls if len(points) < AROUND), ""):
        told += f"The tag of a wall stands beside it, as {wall}. "
    told += (
        "What hangs overhead and what lies overhead; heights are above the finished floor. Lines go round "
        "symbols, and pass walls at the marks of openings; arrows lead away from the amplifier."
        if spec.level == "ceiling"
        else "What stands on floors, tables and walls, and what lies in or on the floor."
    )
    if far:
        told = "Devices and what lies within rooms stand on the plans of the rooms, named below their tags."
    if spec.pieces and spec.here < 0:
        told = "The storey is shown in pieces, a sheet each; on this one are their match lines."
    first, *more = wrapped(f"{told} {note_on_ticks(spec.origin)}", right - left, 2, 7.5)
    canvas.text((left, top + 23), first, 7.5, colour=MUTED)
    below = 32
    for words in more:
        canvas.text((left, top + below), words, 7.5, colour=MUTED)
        below += 9
    for words in spec.holds:
        canvas.text((left, top + below + 1), wrapped(words, right - left, 1, 8)[0], 8, bold=True)
        below += 10
    below += 3
    if spec.pieces:
        draw_key_plan(canvas, spec, (right, top))
    if left_out:
        words = "; ".join(", ".join(label.lines) for label in left_out)
        for n, line in enumerate(wrapped(f"Too close to label here: {words}.", right - left, 3, SMALL)):
            canvas.text((left, top + below + 9 * n), line, SMALL, colour=MUTED)


def _run(canvas: Canvas, run: PlanRun, points: Sequence[Point]) -> None:
    """Draw a run, a line for each signal side by side."""
    for n, (signal, _) in enumerate(run.signals):
        draw_cables(canvas, signal, _beside(points, n))
        # Cables of loudspeakers begin at the loudspeaker, and are fed from their other end.
        if signal == LOUDSPEAKER_LINE and (head := arrow_along(_beside(points, n)[::-1])):
            canvas.polygon(head, stroke(signal).colour)


def _beside(points: Sequence[Point], number: int) -> Route:
    return tuple((x + 1.7 * number, y + 1.7 * number) for x, y in points)


def storey_foot(spec: StoreyPlanSpec) -> Foot:
    """Return north, the scale bar and the legend of the plan."""
    scaled = _laid_out(spec).scale
    scale = scaled.scale
    spec, _ = _as_far_as_legible(spec, scale)
    marks = _mark_boxes(spec.rooms, scaled)
    seen = {
        signal
        for run, way in zip(spec.runs, _ways(spec, scaled), strict=True)
        if sum(math.dist(*part) for leg in pairwise(way) for part in broken_line(*leg, marks)) > _SEEN_PT
        for signal, _ in run.signals
    }
    kinds = {mark.kind for room in spec.rooms for mark in room.marks} | ({"rack"} if spec.places else set())
    notes = [SIDE_BY_SIDE] if any(side_by_side(room.marks, scaled) for room in spec.rooms) else []
    notes += [OPENINGS] if spec.openings else []
    notes += [f"Devices, cables and where they end: {spec.schedules}."] if spec.schedules else []
    return foot(scale, spec.units, spec.locale, kinds, legend_entries(spec, seen), notes)
