"""The plan of a room as SVG: drawn to a round scale, with the table of what hangs and stands where."""

from proposal.drawings.canvas import Canvas
from proposal.drawings.colours import BAND, FRAME, INK, MUTED, PAPER
from proposal.drawings.drawing import figure_kind
from proposal.drawings.label_placement import Box, Ground, Label, Placed, placed_labels
from proposal.drawings.letter_widths import letters_pt
from proposal.drawings.lettering import plain, wrapped
from proposal.drawings.plan.paper import (
    FIELD,
    NORMAL,
    SMALL,
    Scaled,
    foot,
    framed_sheet,
    scaled,
    scales_that_fit,
    symbol_box,
    table,
    table_width,
)
from proposal.drawings.plan.symbols import draw_symbol, reach_of
from proposal.drawings.room_plan import RoomPlanSpec, alternative, spec_of
from proposal.quantities import formatting

Point = tuple[float, float]
USUAL_SCALE = {"metric": 50, "us_customary": 48}
_AROUND = 46.0
_SEAT_M = 0.22
_CODES_PT = 78.0
_HEADINGS = ("Code", "What", "From west", "From south", "Height", "Fixed to", "Cables")


def scale_of(spec: RoomPlanSpec) -> int:
    """Return the denominator of the scale at which the room is drawn."""
    return _laid_out(spec)[0].scale


def render(spec: RoomPlanSpec, prefix: str) -> bytes:
    """Return the plan as SVG, the same bytes for equal specs.

    prefix: makes its ids its own.
    """
    scale, placed, left_out, ground = _laid_out(spec)
    canvas = framed_sheet(spec.strip)
    _heading(canvas, spec)
    canvas.polygon(scale.all_on_paper(spec.outline), PAPER, INK, 2.0)
    for _, corners in spec.furniture:
        canvas.polygon(scale.all_on_paper(corners), BAND, FRAME, 0.6)
    for tag, _, at in spec.seats:
        _seat(canvas, scale, tag, at)
    _dimensions(canvas, spec, scale)
    for kind, at, _ in _symbols(spec, scale):
        draw_symbol(canvas, kind, at)
    names, _ = placed_labels(_furniture_names(spec, scale), ground)
    for label in (*placed, *names):
        draw_label(canvas, label)
    _table(canvas, spec, left_out)
    foot(canvas, scale.scale, spec.units, spec.locale, [mark.kind for mark in spec.marks])
    return canvas.finished(f"Sheet {spec.strip.number}: {spec.strip.title}", alternative(spec), prefix)


def _laid_out(spec: RoomPlanSpec) -> tuple[Scaled, tuple[Placed, ...], tuple[Label, ...], Ground]:
    """Return the first scale at which every label finds a place, with the labels where they stand."""
    xs, ys = [x for x, _ in spec.outline], [y for _, y in spec.outline]
    corners = (min(xs), min(ys)), (max(xs), max(ys))
    left, top, right, bottom = FIELD
    right -= table_width(_HEADINGS, _rows(spec)) + 14
    field = (left + _AROUND, top + _AROUND + 20, max(right, left + 300) - _AROUND, bottom - _AROUND)
    usual = USUAL_SCALE["us_customary" if spec.units == "us_customary" else "metric"]
    tried = []
    for denominator in scales_that_fit(corners, field, spec.units, usual):
        scale = scaled(corners, field, denominator)
        ground = _ground(spec, scale, (left, top, right, bottom))
        placed, left_out = placed_labels(_labels(spec, scale), ground)
        tried.append((scale, placed, left_out, ground))
        if not left_out:
            break
    return min(tried, key=lambda one: len(one[2]))


def _symbols(spec: RoomPlanSpec, scale: Scaled) -> list[tuple[str, Point, str]]:
    """Return kind, place on paper and label of every mark; those at one place stand side by side."""
    found: list[tuple[str, Point, str]] = []
    held: dict[Point, float] = {}
    for mark in spec.marks:
        x, y = scale.on_paper(mark.at)
        shift = held.get(mark.at, 0.0)
        if shift:
            shift += reach_of(mark.kind) + 1.5
        held[mark.at] = shift + reach_of(mark.kind) + 1.5
        found.append((mark.kind, (x + shift, y), mark.label))
    return found


def _ground(spec: RoomPlanSpec, scale: Scaled, frame: Box) -> Ground:
    """Return what labels stand clear of."""
    ground = Ground(frame)
    ground.fill((frame[0], frame[1], frame[2], frame[1] + 46))
    ground.rule(_closed(scale.all_on_paper(spec.outline)))
    for _, corners in spec.furniture:
        ground.rule(_closed(scale.all_on_paper(corners)))
    reach = _SEAT_M * scale.pt_a_metre
    for _, _, at in spec.seats:
        x, y = scale.on_paper(at)
        ground.fill((x - reach, y - reach, x + reach, y + reach))
    for kind, at, _ in _symbols(spec, scale):
        ground.fill(symbol_box(kind, at))
    for line, box, _ in _dimension_lines(spec, scale):
        ground.rule(line)
        ground.fill(box)
    return ground


def _closed(points: list[Point]) -> list[Point]:
    return [*points, points[0]]


def _labels(spec: RoomPlanSpec, scale: Scaled) -> list[Label]:
    """Return a label for the marks of each place; those that stand together share one."""
    together: dict[Point, list[tuple[str, Point, str]]] = {}
    labels: list[Label] = []
    for one, mark in zip(_symbols(spec, scale), spec.marks, strict=True):
        together.setdefault(mark.at, []).append(one)
    for marks in together.values():
        left = marks[0][1][0] - reach_of(marks[0][0])
        right = marks[-1][1][0] + reach_of(marks[-1][0])
        middle = ((left + right) / 2, marks[0][1][1])
        reach = (right - left) / 2, max(reach_of(kind) for kind, _, _ in marks)
        words = ", ".join(label for _, _, label in marks)
        labels.append(Label(wrapped(words, 130, 4, SMALL), middle, reach, SMALL))
    return labels


def _furniture_names(spec: RoomPlanSpec, scale: Scaled) -> list[Label]:
    """Return a label for each piece of furniture, somewhere on it; what fits nowhere is left out."""
    labels = []
    for name, corners in spec.furniture:
        if not name:
            continue
        points = scale.all_on_paper(corners)
        xs, ys = [x for x, _ in points], [y for _, y in points]
        label = Label((plain(name),), points[0], size=SMALL, led=False)
        width, height = label.extent
        across = [min(xs) + 2 + n * 6 for n in range(int(max(0, max(xs) - min(xs) - width - 4) // 6) + 1)]
        down = [min(ys) + 2 + n * 4 for n in range(int(max(0, max(ys) - min(ys) - height - 4) // 4) + 1)]
        if max(xs) - min(xs) >= width + 4 and max(ys) - min(ys) >= height + 4:
            where = tuple((x, y) for y in down for x in across)
            labels.append(Label(label.lines, points[0], size=SMALL, where=where, led=False))
    return labels


def draw_label(canvas: Canvas, placed: Placed) -> None:
    """Draw a label where it stands, with its leader."""
    label = placed.label
    if placed.leader:
        canvas.line(placed.leader, MUTED, 0.5, of="leader")
    left, top, right, _ = placed.box
    for n, words in enumerate(label.lines):
        base = top + (0.74 + n * 1.2) * label.size
        if len(label.lines) > 1:
            canvas.text((left, base), words, label.size, bold=label.bold)
        else:
            canvas.text(((left + right) / 2, base), words, label.size, anchor="middle", bold=label.bold)


def _seat(canvas: Canvas, scale: Scaled, tag: str, at: Point) -> None:
    """Draw a seat with its tag in it where that fits."""
    x, y = scale.on_paper(at)
    reach = _SEAT_M * scale.pt_a_metre
    canvas.circle((x, y), reach, PAPER, FRAME, 0.6)
    if letters_pt(tag, SMALL) ** 2 + SMALL**2 < (2 * reach - 1.5) ** 2:
        canvas.text((x, y + 0.36 * SMALL), tag, SMALL, anchor="middle", colour=MUTED)


def _heading(canvas: Canvas, spec: RoomPlanSpec) -> None:
    """Draw which rooms the plan is of, and how tags begin."""
    left, top, _, _ = FIELD
    names = ", ".join(f"{tag} {name}" for tag, name in spec.rooms)
    lines = wrapped(names, 590, 2, 11)
    for n, words in enumerate(lines):
        canvas.text((left, top + 10 + 13 * n), words, 10.5, bold=True)
    top += 13 * (len(lines) - 1)
    ceiling = _length(spec, spec.ceiling_height_m)
    begin = " or ".join(f"{tag}-" for tag, _ in spec.rooms[:2]) + (" …" if len(spec.rooms) > 2 else "")
    told = (
        f"{spec.title} · storey {', '.join(spec.storeys)} · ceiling of {spec.ceiling_kind} at {ceiling} · "
        f"tags begin with {begin}"
    )
    canvas.text((left, top + 23), wrapped(told, 590, 1, 8)[0], 8, colour=MUTED)


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
            [line.height],
            [line.fixed],
            [part for cable in line.cables for part in wrapped(cable, 130, 2, NORMAL)] or [""],
        ]
        for line in spec.lines
    ]


def _table(canvas: Canvas, spec: RoomPlanSpec, left_out: tuple[Label, ...]) -> None:
    """Draw the table of devices at the right, and what found no place on the plan below it."""
    rows = _rows(spec)
    _, top, right, _ = FIELD
    left = right - table_width(_HEADINGS, rows)
    _, _, _, bottom = table(canvas, (left, top), _HEADINGS, rows)
    lines = ["Heights are above the finished floor, to the middle of the device."]
    if left_out:
        words = ", ".join(" ".join(label.lines) for label in left_out)
        lines.append(f"Too close to label: {words}.")
    for n, words in enumerate(part for line in lines for part in wrapped(line, right - left, 4, SMALL)):
        canvas.text((left, bottom + 12 + n * 9), words, SMALL, colour=MUTED)


KIND = figure_kind(spec_of, alternative, render)
