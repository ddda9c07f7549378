"""The plan of an equipment room as SVG: drawn to a round scale, with the table of what is in it."""

from collections.abc import Callable, Iterator
from functools import lru_cache, partial

from proposal.drawings.canvas import Canvas
from proposal.drawings.colours import BAND, INK, MUTED, PAPER
from proposal.drawings.drawing import figure_kind
from proposal.drawings.equipment_room_plan import EquipmentRoomSpec, RoomRack, alternative, spec_of
from proposal.drawings.figure.to_scale import extent
from proposal.drawings.label_ground import Box, Ground
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
from proposal.drawings.plan.marking import closed, draw_doors, draw_label, rule_doors
from proposal.drawings.plan.storey_labels import PASSAGE_PT, RISER_PT
from proposal.drawings.plan.storey_marks import (
    around,
    draw_passage,
    draw_pathway,
    draw_riser,
    draw_room_wall,
)
from proposal.field_classes import dataclass
from proposal.quantities import formatting

Point = tuple[float, float]
Dimension = tuple[tuple[Point, ...], Point, str]
"""Line, where its text begins, and the text."""
USUAL_SCALE = {"metric": 25, "us_customary": 24}
HEADINGS = ("What", "Where", "More")
_MARK_PT, _ASIDE_PT = 4.5, 14.0
_SHARES = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8)
_WIDTHS = (96.0, 150.0, 190.0)
CLEAR = (
    "Keep 1 m (3 ft 3 in) free before racks and 0.6 m (2 ft) behind them at least, and more where codes ask."
)
PLACES = "E and N: so far east and north of the building's origin."


@dataclass(frozen=True, slots=True)
class _LaidOut:
    """The plan at its scale, with its labels where they stand, and those that fit nowhere."""

    scale: Scaled
    placed: tuple[Placed, ...]
    left_out: tuple[Label, ...]
    dimensions: tuple[Dimension, ...]


def render(spec: EquipmentRoomSpec, prefix: str) -> bytes:
    """Return the plan as SVG, the same bytes for equal specs.

    prefix: makes its ids its own.
    """
    laid_out = _laid_out(spec)
    scale = laid_out.scale
    canvas = empty_field()
    left, top, right, _ = FIELD
    canvas.text((left, top + 10), f"{spec.tag} {spec.name}", 10.5, bold=True)
    canvas.text((left, top + 23), f"Storey {spec.storey} · north up", 8, colour=MUTED)
    for n, words in enumerate(spec.short):
        canvas.text((left, top + 34 + 10 * n), words, 8, bold=True)
    canvas.polygon(scale.all_on_paper(spec.outline), PAPER, INK, 2.0)
    draw_doors(canvas, spec.doors, scale)
    for pathway in spec.pathways:
        if not pathway.way:
            draw_pathway(canvas, pathway.kind, scale.all_on_paper(pathway.points))
    for way in spec.ways:
        _draw_way(canvas, scale.all_on_paper(way))
    for pathway in spec.pathways:
        if pathway.way:
            draw_riser(canvas, pathway.way.partition(" ")[0], scale.on_paper(pathway.points[0]))
    for rack in spec.racks:
        _draw_rack(canvas, rack, scale)
    for one in spec.openings:
        draw_passage(canvas, scale.on_paper(one.at), upright=one.upright)
    for at, draw in _marks(spec):
        draw(canvas, scale.on_paper(at))
    for line, place, length in laid_out.dimensions:
        canvas.line(line, MUTED, 0.5)
        for x, y in line:
            canvas.line(((x - 2.5, y + 2.5), (x + 2.5, y - 2.5)), MUTED, 0.8)
        canvas.text(place, length, NORMAL)
    for placed in laid_out.placed:
        draw_label(canvas, placed)
    rows = _rows(spec)
    at = right - table_size(HEADINGS, rows)[0], top + 34
    _, _, _, bottom = table(canvas, at, HEADINGS, rows)
    if laid_out.left_out:
        words = ", ".join(" ".join(label.lines) for label in laid_out.left_out)
        for n, told in enumerate(wrapped(f"Too close to label: {words}.", right - at[0], 3, SMALL)):
            canvas.text((at[0], bottom + 12 + 9 * n), told, SMALL, colour=MUTED)
    return canvas.finished(f"Sheet {spec.strip.number}: {spec.strip.title}", alternative(spec), prefix)


@lru_cache(maxsize=8)
def _laid_out(spec: EquipmentRoomSpec) -> _LaidOut:
    corners = extent(_points(spec))
    left, top, right, bottom = FIELD
    edge = right - table_size(HEADINGS, _rows(spec))[0] - 20
    field = (left + 70, top + 60, edge - 40, bottom - 40)
    usual = USUAL_SCALE["us_customary" if spec.units == "us_customary" else "metric"]
    scale = scaled(corners, field, scales_that_fit(corners, field, spec.units, usual)[0])
    ground = Ground((left, top + 48, edge, bottom))
    ground.rule(closed(scale.all_on_paper(spec.outline)))
    rule_doors(ground, spec.doors, scale)
    labels = []
    for rack in spec.racks:
        west, south, east, north = rack.box
        (x, y), (far, high) = scale.on_paper((west, south)), scale.on_paper((east, north))
        ground.fill((x - 4, high - 4, far + 4, y + 4))
        middle, reach = ((x + far) / 2, (y + high) / 2), ((far - x) / 2 + 4, (y - high) / 2 + 4)
        labels.append(Label((plain(rack.tag),), middle, reach, bold=True))
    told: set[str] = set()
    for pathway in spec.pathways:
        points = scale.all_on_paper(pathway.points)
        if pathway.way:
            ground.fill(around(points[0], RISER_PT))
            labels.append(Label((pathway.tag, pathway.way), points[0], (RISER_PT, RISER_PT)))
            continue
        ground.rule(points)
        if pathway.tag not in told:
            middle = (points[0][0] + points[1][0]) / 2, (points[0][1] + points[1][1]) / 2
            labels.append(Label((f"{pathway.kind} {pathway.tag}",), middle, (3.0, 3.0)))
        told.add(pathway.tag)
    for way in spec.ways:
        ground.rule(scale.all_on_paper(way))
    for one in spec.openings:
        ground.fill(around(scale.on_paper(one.at), PASSAGE_PT))
        labels.append(Label((plain(one.tag),), scale.on_paper(one.at), (PASSAGE_PT, PASSAGE_PT)))
    for (mark, _), name in zip(_marks(spec), _names(spec), strict=True):
        ground.fill(around(scale.on_paper(mark), _MARK_PT))
        labels.append(Label((name,), scale.on_paper(mark), (_MARK_PT, _MARK_PT)))
    dimensions = tuple(_dimensions(spec, scale, ground))
    for line, at, words in dimensions:
        ground.rule(line)
        ground.write(_text_box(at, words))
    placed, left_out = placed_labels(labels, ground)
    return _LaidOut(scale, placed, tuple(left_out), dimensions)


def _points(spec: EquipmentRoomSpec) -> list[Point]:
    """Return all that is drawn to scale: a rack may be written where it is not in its room."""
    points = [*spec.outline, *(at for at, _ in _marks(spec)), *(one.at for one in spec.openings)]
    points += [point for rack in spec.racks for point in (rack.box[:2], rack.box[2:])]
    points += [point for pathway in spec.pathways for point in pathway.points]
    points += [point for way in spec.ways for point in way]
    points += [point for one, two, _ in spec.free for point in (one, two)]
    return points + [point for door in spec.doors for point in door.gap]


def _marks(spec: EquipmentRoomSpec) -> list[tuple[Point, Callable[[Canvas, Point], None]]]:
    marks: list[tuple[Point | None, Callable[[Canvas, Point], None]]] = [
        (spec.outlets_at, _draw_outlets),
        (spec.earthing_at, _draw_bar),
    ]
    return [(at, draw) for at, draw in marks if at is not None]


def _names(spec: EquipmentRoomSpec) -> list[str]:
    return [
        name
        for at, name in ((spec.outlets_at, "mains outlets"), (spec.earthing_at, "earthing bar"))
        if at is not None
    ]


def _text_box(at: Point, words: str) -> Box:
    """Return the box of the text of a dimension.

    at: where it begins, pt.
    """
    return at[0] - 1, at[1] - NORMAL, at[0] + letters_pt(words, NORMAL) + 1, at[1] + 2


def _dimensions(spec: EquipmentRoomSpec, scale: Scaled, ground: Ground) -> Iterator[Dimension]:
    """Yield dimensions: of the room outside it, and of what is free beside racks."""
    xs, ys = [x for x, _ in spec.outline], [y for _, y in spec.outline]
    west, south = scale.on_paper((min(xs), min(ys)))
    east, north = scale.on_paper((max(xs), max(ys)))
    width, depth = (
        formatting.short_quantity(round(max(one) - min(one), 4), "length", spec.units, spec.locale)
        for one in (xs, ys)
    )
    low, far = south + 26, west - 26
    middle = (west + east) / 2 - letters_pt(width, NORMAL) / 2
    yield ((west, low), (east, low)), (middle, low - 3), width
    yield (
        ((far, south), (far, north)),
        (far - 5 - letters_pt(depth, NORMAL), (south + north) / 2 + 2.6),
        depth,
    )
    for one, two, words in spec.free:
        (x, y), (x2, y2) = scale.on_paper(one), scale.on_paper(two)
        upright = abs(x - x2) < abs(y - y2)
        # Beside the middle of the racks, where cables may come to them.
        x, x2 = (x + _ASIDE_PT, x2 + _ASIDE_PT) if upright else (x, x2)
        half = letters_pt(words, NORMAL) / 2
        places = [
            (x + 4, y + (y2 - y) * share + 2.6) if upright else (x + (x2 - x) * share - half, y - 3)
            for share in _SHARES
        ]
        free = (place for place in places if ground.free(_text_box(place, words)))
        yield ((x, y), (x2, y2)), next(free, places[0]), words


def _rows(spec: EquipmentRoomSpec) -> list[list[list[str]]]:
    return [
        [
            list(wrapped(words, wide, 4, NORMAL)) if words else []
            for words, wide in zip(row, _WIDTHS, strict=True)
        ]
        for row in spec.table
    ]


def _draw_rack(canvas: Canvas, rack: RoomRack, scale: Scaled) -> None:
    """Draw a rack as large as it is, with a bar before its front."""
    west, south, east, north = rack.box
    corners = ((west, south), (east, south), (east, north), (west, north))
    canvas.polygon(scale.all_on_paper(corners), BAND, INK, 1.0)
    fronts = {
        "south": ((west, south), (east, south), (0.0, 2.6)),
        "north": ((west, north), (east, north), (0.0, -2.6)),
        "west": ((west, south), (west, north), (-2.6, 0.0)),
        "east": ((east, south), (east, north), (2.6, 0.0)),
    }
    if rack.faces:
        one, two, (x, y) = fronts[rack.faces]
        canvas.line([(a + x, b + y) for a, b in scale.all_on_paper((one, two))], INK, 1.6)


def _draw_way(canvas: Canvas, points: list[Point]) -> None:
    canvas.line(points, MUTED, 1.0, "2 1.5")


def _draw_outlets(canvas: Canvas, at: Point) -> None:
    canvas.circle(at, 3.4, PAPER, INK, 0.9)
    canvas.line(((at[0] - 3.4, at[1]), (at[0] + 3.4, at[1])), INK, 0.9)


def _draw_bar(canvas: Canvas, at: Point) -> None:
    left, top, right, bottom = around(at, 3.4)
    canvas.polygon(((left, top), (right, top), (right, bottom), (left, bottom)), PAPER, INK, 0.9)
    canvas.line(((left + 1.5, at[1]), (right - 1.5, at[1])), INK, 0.9)
    canvas.line(((at[0], top + 1.2), (at[0], at[1])), INK, 0.9)


def _front_sample(canvas: Canvas, at: Point) -> None:
    x, y = at
    canvas.polygon(((x - 5, y - 4), (x + 5, y - 4), (x + 5, y + 2), (x - 5, y + 2)), BAND, INK, 1.0)
    canvas.line(((x - 5, y + 4.4), (x + 5, y + 4.4)), INK, 1.6)


def _foot(spec: EquipmentRoomSpec) -> Foot:
    """Return north, the scale bar and the legend of the plan."""
    others: list[tuple[str, Callable[[Canvas, Point], None]]] = []
    if spec.doors:
        others.append(("wall of the room, door", draw_room_wall))
    if spec.racks:
        others.append(("rack, bar before its front", _front_sample))
    for kind in sorted({one.kind for one in spec.pathways if not one.way}):
        others.append((kind, partial(_pathway_sample, kind)))
    for way in sorted({one.way.partition(" ")[0] for one in spec.pathways if one.way}):
        others.append((f"leaves the storey {way}wards", partial(_riser_sample, way)))
    if spec.ways:
        others.append(("cables to the rack", _way_sample))
    if spec.openings:
        others.append(("opening in a wall", partial(draw_passage, upright=False)))
    others += [(name, draw) for (_, draw), name in zip(_marks(spec), _names(spec), strict=True)]
    scale = _laid_out(spec).scale.scale
    return foot(scale, spec.units, spec.locale, (), others, (CLEAR, PLACES))


def _way_sample(canvas: Canvas, at: Point) -> None:
    _draw_way(canvas, [(at[0] - 9, at[1]), (at[0] + 9, at[1])])


def _pathway_sample(kind: str, canvas: Canvas, at: Point) -> None:
    draw_pathway(canvas, kind, ((at[0] - 9, at[1]), (at[0] + 9, at[1])))


def _riser_sample(way: str, canvas: Canvas, at: Point) -> None:
    draw_riser(canvas, way, at)


KIND = figure_kind(spec_of, alternative, render, _foot)
