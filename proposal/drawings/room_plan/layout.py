"""The plan of a room as SVG: drawn to a round scale, with the table of what hangs and stands where."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import lru_cache

from proposal.drawings.canvas import Canvas
from proposal.drawings.colours import FRAME, FURNITURE, INK, MUTED, PAPER
from proposal.drawings.drawing import figure_kind
from proposal.drawings.label_ground import Box, Ground, broken_line, overlap
from proposal.drawings.label_placement import Label, Placed, placed_labels
from proposal.drawings.legend import Foot
from proposal.drawings.letter_widths import letters_pt
from proposal.drawings.lettering import plain, wrapped
from proposal.drawings.plan.field import (
    FIELD,
    NORMAL,
    SMALL,
    Scaled,
    empty_field,
    foot,
    scaled,
    scales_that_fit,
    table,
    table_size,
)
from proposal.drawings.plan.marking import (
    SIDE_BY_SIDE,
    closed,
    draw_doors,
    draw_label,
    draw_marks,
    fill_marks,
    labels_of,
    rule_doors,
    side_by_side,
    symbol_box,
    symbols_on_paper,
)
from proposal.drawings.plan.place_of_a_set import draw_site, parts_of
from proposal.drawings.plan.plan_marks import natural, shortened
from proposal.drawings.room_plan import RoomPlanSpec, alternative, spec_of
from proposal.field_classes import dataclass
from proposal.quantities import formatting

Point = tuple[float, float]
USUAL_SCALE = {"metric": 50, "us_customary": 48}
_SEAT_M = 0.25
_WALL_PT = 2.0
_NAME_LED_PT = 60.0
"""Longest leader of the name of a piece of furniture, pt."""
_CODES_PT = 78.0
_BETWEEN = 5.0
TILE_ORDER = "What hangs in a tile hangs in its middle: distances from the west and the south wall."
_HEADINGS = ("Code", "What", "From west", "From south", "Tile middle", "Height", "Tap", "Where", "Cables")


def scale_of(spec: RoomPlanSpec) -> int:
    """Return the denominator of the scale at which the room is drawn."""
    return _laid_out(spec).scale.scale


def render(spec: RoomPlanSpec, prefix: str) -> bytes:
    """Return the plan as SVG, the same bytes for equal specs.

    prefix: makes its ids its own.
    """
    laid_out = _laid_out(spec)
    scale = laid_out.scale
    canvas = empty_field()
    _heading(canvas, spec, laid_out.table_at[0])
    canvas.polygon(scale.all_on_paper(spec.outline), PAPER, INK, _WALL_PT)
    full = [*(_widened(one.box) for one in laid_out.placed), *_mark_boxes(spec, scale)]
    for line in spec.grid:
        for piece in broken_line(scale.on_paper(line[0]), scale.on_paper(line[1]), full):
            _thin(canvas, piece)
    draw_doors(canvas, spec.doors, scale)
    for _, corners in spec.levels:
        canvas.line(closed(scale.all_on_paper(corners)), MUTED, 0.8, "6 2")
    for _, corners in spec.furniture:
        canvas.polygon(scale.all_on_paper(corners), FURNITURE, FRAME, 0.6)
    for _, _, at in spec.seats:
        canvas.circle(scale.on_paper(at), _SEAT_M * scale.pt_a_metre, PAPER, FRAME, 0.6)
    _dimensions(canvas, spec, scale)
    draw_marks(canvas, spec.marks, scale, spec.outline)
    for tag, (x, y) in laid_out.seated:
        canvas.text((x, y + 0.36 * SMALL), tag, SMALL, anchor="middle", colour=MUTED)
    for label in laid_out.placed:
        draw_label(canvas, label)
    _table(canvas, spec, laid_out)
    return canvas.finished(f"Sheet {spec.strip.number}: {spec.strip.title}", alternative(spec), prefix)


@dataclass(frozen=True, slots=True)
class _LaidOut:
    """A plan at a scale: its labels where they stand, those that fit nowhere, and where its table is."""

    scale: Scaled
    placed: tuple[Placed, ...]
    left_out: tuple[Label, ...]
    seated: tuple[tuple[str, Point], ...]
    table_at: Point


@lru_cache(maxsize=8)
def _laid_out(spec: RoomPlanSpec) -> _LaidOut:
    """Return the plan with its table beside or below it, as gives the larger scale with all labels on it."""
    xs, ys = [x for x, _ in spec.outline], [y for _, y in spec.outline]
    corners = (min(xs), min(ys)), (max(xs), max(ys))
    left, top, right, bottom = FIELD
    wide, high = table_size(_HEADINGS, _rows(spec))
    if spec.site:
        wide = max(wide, *(part[0] for part in parts_of(spec.site)))
    if spec.places:
        also = table_size(*_place_table(spec))
        wide, high = max(wide, also[0]), high + also[1] + _BETWEEN
    beside = max(right - wide - 14, left + 300)
    below = max(bottom - high - 40, top + 250)
    usual = USUAL_SCALE["us_customary" if spec.units == "us_customary" else "metric"]
    tried: list[tuple[int, int, int, _LaidOut]] = []
    frames: list[tuple[int, Box, Point]] = [
        (0, (left, top, beside, bottom), (right - wide, top)),
        (1, (left, top, right, below), (left, bottom - high - 26)),
    ]
    # What stands below the table of a place needs the column beside the plan.
    for order, frame, table_at in frames[:1] if spec.site else frames:
        field = (frame[0] + 62, frame[1] + 58, frame[2] - 16, frame[3] - 36)
        for denominator in scales_that_fit(corners, field, spec.units, usual):
            scale = scaled(corners, field, denominator)
            ground = _ground(spec, scale, frame)
            placed, left_out = placed_labels(labels_of(spec.marks, scale, spec.outline), ground)
            seated, beside_seats = _seat_tags(spec, scale)
            # Names of furniture come last, and are left out where they fit nowhere.
            more, _ = placed_labels((*beside_seats, *_furniture_names(spec, scale)), ground)
            one = _LaidOut(scale, (*placed, *more), left_out, seated, table_at)
            tried.append((len(left_out), denominator, order, one))
            if not left_out:
                break
        if tried[-1][:2] <= (0, usual):
            break
    return min(tried, key=lambda one: one[:3])[3]


def _ground(spec: RoomPlanSpec, scale: Scaled, frame: Box) -> Ground:
    """Return what labels stand clear of."""
    ground = Ground(frame)
    ground.fill((frame[0], frame[1], frame[2], frame[1] + 46))
    ground.wall(closed(scale.all_on_paper(spec.outline)), _WALL_PT)
    rule_doors(ground, spec.doors, scale)
    for _, corners in spec.levels:
        ground.rule(closed(scale.all_on_paper(corners)))
    for _, corners in spec.furniture:
        ground.rule(closed(scale.all_on_paper(corners)))
    reach = _SEAT_M * scale.pt_a_metre
    for _, _, at in spec.seats:
        x, y = scale.on_paper(at)
        ground.fill((x - reach, y - reach, x + reach, y + reach))
    fill_marks(ground, spec.marks, scale, spec.outline)
    for line, box, _ in _dimension_lines(spec, scale):
        ground.rule(line)
        ground.fill(box)
    return ground


def _furniture_names(spec: RoomPlanSpec, scale: Scaled) -> list[Label]:
    """Return a label for each level and each piece of furniture: on it, else beside it on a leader.

    Of pieces that are called the same the one in the south-west is named.
    """
    labels = []
    named: set[str] = set()
    for name, corners in (*spec.levels, *spec.furniture):
        if not name or name in named:
            continue
        named.add(name)
        points = scale.all_on_paper(corners)
        xs, ys = [x for x, _ in points], [y for _, y in points]
        middle = (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
        reach = (max(xs) - min(xs)) / 2, (max(ys) - min(ys)) / 2
        label = Label((plain(name),), middle, reach, SMALL, led=_NAME_LED_PT, colour=MUTED)
        width, height = label.extent
        across = [min(xs) + 2 + n * 6 for n in range(int(max(0, max(xs) - min(xs) - width - 4) // 6) + 1)]
        down = [min(ys) + 2 + n * 4 for n in range(int(max(0, max(ys) - min(ys) - height - 4) // 4) + 1)]
        where = tuple((x, y) for y in down for x in across)
        fits = max(xs) - min(xs) >= width + 4 and max(ys) - min(ys) >= height + 4
        labels.append(replace(label, where=where if fits else ()))
    return labels


def _seat_tags(spec: RoomPlanSpec, scale: Scaled) -> tuple[tuple[tuple[str, Point], ...], list[Label]]:
    """Return the tags that stand in their seats, with the middle of each, and those that a mark drives out.

    Where some are too wide for their seats, none are shown.
    """
    reach = _SEAT_M * scale.pt_a_metre
    if any(
        letters_pt(tag, SMALL) ** 2 + (0.8 * SMALL) ** 2 > (2 * reach - 0.6) ** 2 for tag, _, _ in spec.seats
    ):
        return (), []
    marks = _mark_boxes(spec, scale)
    seated: list[tuple[str, Point]] = []
    beside: list[Label] = []
    for tag, _, at in spec.seats:
        x, y = scale.on_paper(at)
        half = letters_pt(tag, SMALL) / 2 + 1
        box = (x - half, y - 0.6 * SMALL, x + half, y + 0.6 * SMALL)
        if any(overlap(box, mark) for mark in marks):
            beside.append(Label((plain(tag),), (x, y), (reach, reach), SMALL, led=0, colour=MUTED))
        else:
            seated.append((tag, (x, y)))
    return tuple(seated), beside


def _heading(canvas: Canvas, spec: RoomPlanSpec, table_left: float) -> None:
    """Draw which rooms the plan is of, and how tags begin.

    table_left: where the table of devices begins, pt; the heading stands left of it, or above it.
    """
    left, top, _, _ = FIELD
    wide = min(590.0, table_left - left - 20) if table_left > left + 200 else 590.0
    names = ", ".join(f"{tag} {name}" for tag, name in spec.rooms)
    lines = wrapped(names, wide, 2, 11)
    for n, words in enumerate(lines):
        canvas.text((left, top + 10 + 13 * n), words, 10.5, bold=True)
    top += 13 * (len(lines) - 1)
    ceiling = _length(spec, spec.ceiling_height_m)
    begin = f"{spec.rooms[0][0]}-" if spec.rooms else ""
    begin = f"the room's, as {begin}" if len(spec.rooms) > 1 else begin
    tiles = f", tiles {spec.tile}," if spec.tile else ""
    told = (
        f"{spec.title} · storey {', '.join(spec.storeys)} · "
        f"ceiling of {spec.ceiling_kind}{tiles} at {ceiling} · tags begin with {begin}"
    )
    told = spec.site.told if spec.site else told
    canvas.text((left, top + 23), wrapped(told, wide, 1, 8)[0], 8, colour=MUTED)
    held = [line for words in spec.holds for line in wrapped(words, wide - 30, 3, 8)]
    for n, words in enumerate(held[:4]):
        canvas.text((left, top + 34 + 10 * n), words, 8, bold=True)


def _length(spec: RoomPlanSpec, value_m: float) -> str:
    return formatting.short_quantity(value_m, "length", spec.units, spec.locale)


def _dimension_lines(spec: RoomPlanSpec, scale: Scaled) -> list[tuple[list[Point], Box, str]]:
    """Return the lines of dimensions below and left of the room, the box of each text, and the text."""
    xs, ys = [x for x, _ in spec.outline], [y for _, y in spec.outline]
    west, south = scale.on_paper((min(xs), min(ys)))
    east, north = scale.on_paper((max(xs), max(ys)))
    found = []
    width = _length(spec, max(xs) - min(xs))
    depth = _length(spec, max(ys) - min(ys))
    low, far = south + 26, west - 14
    middle = (west + east) / 2
    half = letters_pt(width, NORMAL) / 2
    box = (middle - half, low - 3 - NORMAL, middle + half, low - 1.5)
    found.append(([(west, low), (east, low)], box, width))
    reach = letters_pt(depth, NORMAL)
    upright = (far - 4 - reach, (south + north) / 2 - 4, far - 4, (south + north) / 2 + 4)
    found.append(([(far, south), (far, north)], upright, depth))
    return found


def _dimensions(canvas: Canvas, spec: RoomPlanSpec, scale: Scaled) -> None:
    for line, box, words in _dimension_lines(spec, scale):
        canvas.line(line, MUTED, 0.5)
        for x, y in line:
            canvas.line(((x - 3, y + 3), (x + 3, y - 3)), MUTED, 0.8)
        canvas.text((box[0], box[3] - 1.2), words, NORMAL)


def _rows(spec: RoomPlanSpec) -> list[list[list[str]]]:
    return [
        [
            list(wrapped(line.codes, _CODES_PT, 12, NORMAL)),
            list(wrapped(line.what, 96, 3, NORMAL)),
            [line.west],
            [line.south],
            [line.tile],
            [line.height],
            [line.tap.partition(" on ")[0]],
            [line.fixed],
            [part for cable in line.cables for part in wrapped(cable, 130, 2, NORMAL)] or [""],
        ]
        for line in spec.lines
    ]


def _place_table(spec: RoomPlanSpec) -> tuple[list[str], list[list[list[str]]]]:
    """Return headings and the one row of the table of where each microphone stands, in columns."""
    across = min(4, -(-len(spec.places) // 4))
    high = -(-len(spec.places) // across)
    cells = [
        [place[n] for place in spec.places[start : start + high]]
        for start in range(0, len(spec.places), high)
        for n in range(3)
    ]
    return ["Code", "West", "South"] * (len(cells) // 3), [cells]


def _thin(canvas: Canvas, points: Sequence[Point]) -> None:
    canvas.line(points, FRAME, 0.25)


def _widened(box: Box) -> Box:
    return box[0] - 1, box[1] - 1, box[2] + 1, box[3] + 1


def _mark_boxes(spec: RoomPlanSpec, scale: Scaled) -> list[Box]:
    return [
        symbol_box(kind, at)
        for together in symbols_on_paper(spec.marks, scale, spec.outline)
        for kind, at, _ in together
    ]


def _table(canvas: Canvas, spec: RoomPlanSpec, laid_out: _LaidOut) -> None:
    """Draw the table of devices, and what found no place on the plan below it."""
    left, _, right, bottom = table(canvas, laid_out.table_at, _HEADINGS, _rows(spec))
    if spec.places:
        bottom = table(canvas, (left, bottom + _BETWEEN), *_place_table(spec))[3]
    lines = ["Heights are above the ground there." if spec.site else "Heights are above the finished floor."]
    if spec.grid:
        upright = [one[0] for one, two in spec.grid if abs(one[0] - two[0]) < abs(one[1] - two[1])]
        level = [one[1] for one, two in spec.grid if abs(one[0] - two[0]) >= abs(one[1] - two[1])]
        ways = zip((upright, level), ("west", "south"), strict=True)
        first = " and ".join(f"{_length(spec, min(at))} from the {way}" for at, way in ways if at)
        lines[0] += f" The first lines of the ceiling's grid are {first}. {TILE_ORDER}"
    if voltages := sorted({volts for line in spec.lines if (volts := line.tap.partition(" on ")[2])}):
        lines[0] += f" Taps are those on lines of {' and '.join(voltages)}."
    if laid_out.left_out:
        words = ", ".join(" ".join(label.lines) for label in laid_out.left_out)
        lines.append(f"Too close to label: {words}.")
    told = [part for line in lines for part in wrapped(line, right - left, 4, SMALL)]
    for n, words in enumerate(told):
        canvas.text((left, bottom + 12 + n * 9), words, SMALL, colour=MUTED)
    if spec.site:
        draw_site(canvas, spec.site, (left, bottom + 24 + 9 * len(told), FIELD[2], FIELD[3]))


def plan_foot(spec: RoomPlanSpec) -> Foot:
    """Return what stands at the foot of the plan: scale, legend of what is on it, notes."""
    others: list[tuple[str, Callable[[Canvas, Point], None]]] = []
    if spec.furniture:
        others.append(("furniture", lambda canvas, at: canvas.polygon(_oblong(at), FURNITURE, FRAME, 0.6)))
    if spec.seats:
        others.append((_seat_words(spec), lambda canvas, at: canvas.circle(at, 5.0, PAPER, FRAME, 0.6)))
    if spec.grid:
        others.append(("grid of the ceiling", lambda canvas, at: _thin(canvas, _oblong(at)[:2])))
    if spec.levels:
        others.append(("edge of a level", lambda canvas, at: canvas.line(_oblong(at)[:2], MUTED, 0.8, "6 2")))
    scale = _laid_out(spec).scale
    notes = [SIDE_BY_SIDE] if side_by_side(spec.marks, scale) else []
    notes += [f"Each room's cables and ports: {spec.schedules}."] if spec.schedules else []
    kinds = [mark.kind for mark in spec.marks]
    return foot(scale.scale, spec.units, spec.locale, kinds, others, notes)


def _seat_words(spec: RoomPlanSpec) -> str:
    """Return what the legend says of seats: which codes stand for whom, where codes are shown."""
    if not _laid_out(spec).seated:
        return "seat"
    named: dict[str, list[str]] = {}
    for tag, name, _ in spec.seats:
        named.setdefault(name, []).append(tag)
    told = [f"{shortened(sorted(tags, key=natural))}: {name}" for name, tags in named.items() if name]
    return f"seat with its code ({'; '.join(told)})" if told else "seat with its code"


def _oblong(at: Point) -> tuple[Point, ...]:
    x, y = at
    return (x - 9, y - 3), (x + 9, y - 3), (x + 9, y + 3), (x - 9, y + 3)


KIND = figure_kind(spec_of, alternative, render, plan_foot)
