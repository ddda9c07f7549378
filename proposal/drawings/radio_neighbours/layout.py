"""The neighbours of a storey as SVG: the plan with lines between rooms that disturb each other."""

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from proposal.drawings.colours import BAND, INK, MUTED, PAPER, Stroke
from proposal.drawings.drawing import figure_kind
from proposal.drawings.figure import field, finished, settings
from proposal.drawings.figure.drawn_symbols import dashes, draw_symbol
from proposal.drawings.figure.placed_texts import draw_placed, field_box, field_in_points
from proposal.drawings.figure.scale_bar import scale_bar
from proposal.drawings.figure.to_scale import axes_to_scale, extent, scale_that_fits
from proposal.drawings.label_ground import Ground
from proposal.drawings.label_placement import Label, Placed, placed_labels
from proposal.drawings.legend import AreaSample, DrawnSample, Foot, LegendEntry, LineSample, symbol_entries
from proposal.drawings.lettering import plain, wrapped
from proposal.drawings.plan.field import SMALL, Scaled, scaled
from proposal.drawings.plan.marking import rule_walls, symbol_box
from proposal.drawings.radio_neighbours import NeighbourRoom, NeighboursSpec, Point, alternative, spec_of

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_AROUND_MM = 14.0
_LINE = "#0a5a9c"
_STRENGTHS: tuple[tuple[float, Stroke, str], ...] = (
    (20.0, Stroke(_LINE, "solid", 3.2, ""), "disturbs: 20 dB or more above the tolerance"),
    (10.0, Stroke(_LINE, "6 3", 2.0, ""), "disturbs: 10 dB to 20 dB above"),
    (0.0, Stroke(_LINE, "2 2", 1.4, ""), "disturbs: up to 10 dB above"),
)
_MOST_NAMED = 4
_FULL = "#ffe3a8"
_NAME_PT, _STUB_PT, _CODE_PT = 8.5, 14.0, 7.0
_BEND, _STROKES = 0.15, 24
_WALL_PT = 2.6


def style_of(over_db: float) -> Stroke:
    """Return how the line for a conflict of so many dB is drawn.

    over_db: by how much the disturber is too strong, dB.
    """
    return next(drawn for least, drawn, _ in _STRENGTHS if over_db >= least)


def scale_of(spec: NeighboursSpec) -> int:
    """Return the denominator of the largest round scale at which the storey fits the sheet."""
    return scale_that_fits(_extent(spec), spec.strip.paper, spec.units, _AROUND_MM)


def _extent(spec: NeighboursSpec) -> tuple[Point, Point]:
    return extent(point for room in spec.rooms for point in (*room.outline, *room.boxes))


def render(spec: NeighboursSpec, prefix: str) -> bytes:
    """Return the drawing as SVG, the same bytes for equal specs.

    prefix: makes its ids its own.
    """
    with settings():
        figure = field(spec.strip)
        scale = scale_of(spec)
        axes = axes_to_scale(figure, spec.strip.paper, _extent(spec), scale)
        for room in spec.rooms:
            _room(axes, room)
        at = {room.tag: centre(room) for room in spec.rooms}
        for one, other, over in spec.pairs:
            drawn = style_of(over)
            xs, ys = zip(*_way(at, one, other), strict=True)
            axes.plot(xs, ys, color=_LINE, linewidth=drawn.width, linestyle=dashes(drawn), zorder=4)
        for room in spec.rooms:
            if _meets(spec, room):
                _hub(axes, room)
        _names(field_in_points(figure, spec.strip), spec, scaled(_extent(spec), field_box(spec.strip), scale))
        title = f"Sheet {spec.strip.number}: {spec.strip.title}"
        return finished(figure, title, alternative(spec), prefix)


def centre(room: NeighbourRoom) -> Point:
    """Return where a room's lines meet: among its access points, else in the middle of its outline."""
    points = room.boxes or room.outline
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


def _way(hubs: dict[str, Point], one: str, other: str) -> list[Point]:
    """Return the line between two rooms, m: straight, or bent around a third room's hub."""
    start, end = hubs[one], hubs[other]
    if not any(_on_the_way(start, end, hub) for tag, hub in hubs.items() if tag not in (one, other)):
        return [start, end]
    dx, dy = end[0] - start[0], end[1] - start[1]
    bend = ((start[0] + end[0]) / 2 + _BEND * dy, (start[1] + end[1]) / 2 - _BEND * dx)
    shares = [n / _STROKES for n in range(_STROKES + 1)]
    return [
        (
            (1 - t) ** 2 * start[0] + 2 * t * (1 - t) * bend[0] + t**2 * end[0],
            (1 - t) ** 2 * start[1] + 2 * t * (1 - t) * bend[1] + t**2 * end[1],
        )
        for t in shares
    ]


def _on_the_way(start: Point, end: Point, hub: Point) -> bool:
    """Return whether a point lies between two others and close to their line."""
    way = math.dist(start, end)
    return way > 0 and math.dist(start, hub) + math.dist(hub, end) < way * 1.01


def _room(axes: "Axes", room: NeighbourRoom) -> None:
    from matplotlib.patches import Polygon

    axes.add_artist(
        Polygon(
            room.outline,
            closed=True,
            facecolor=_FULL if room.full else BAND,
            edgecolor=INK,
            linewidth=2.6 if room.full else 1.2,
            zorder=1,
        )
    )
    for x, y in room.boxes:
        draw_symbol(axes, "access point", (x, y), zorder=5)


def _meets(spec: NeighboursSpec, room: NeighbourRoom) -> bool:
    """Return whether lines of a room meet elsewhere than at its one access point."""
    joined = {tag for one, other, _ in spec.pairs for tag in (one, other)}
    return len(room.boxes) != 1 and room.tag in joined | {tag for tag, *_ in spec.elsewhere}


def _hub(axes: "Axes", room: NeighbourRoom) -> None:
    """Draw where a room's lines meet."""
    axes.plot(
        *[[part] for part in centre(room)], marker="o", markersize=6, color=_LINE, markerfacecolor=PAPER,
        zorder=6,
    )  # fmt: skip


def _names(axes: "Axes", spec: NeighboursSpec, scale: Scaled) -> None:
    """Write rooms, access points and, on a stub, what a room disturbs elsewhere, off all lines and marks.

    axes: of the whole field in points.  scale: of the plan.
    """
    ground = Ground(field_box(spec.strip))
    for room in spec.rooms:
        rule_walls(ground, scale.all_on_paper(room.outline), _WALL_PT)
        for at in room.boxes:
            ground.fill(symbol_box("access point", scale.on_paper(at)))
        ground.fill(symbol_box("microphone", scale.on_paper(centre(room))))
    hubs = {room.tag: centre(room) for room in spec.rooms}
    for one, other, _ in spec.pairs:
        ground.rule(scale.all_on_paper(_way(hubs, one, other)))
    labels = [_room_label(room, scale) for room in spec.rooms]
    stubs = [
        Label(lines, scale.on_paper(hubs[room.tag]), (_STUB_PT, _STUB_PT), SMALL)
        for room in spec.rooms
        if (lines := _elsewhere(spec, room))
    ]
    codes = [
        Label((plain(code),), scale.on_paper(at), (_CODE_PT, _CODE_PT), SMALL)
        for room in spec.rooms
        for code, at in zip(room.codes, room.boxes, strict=True)
    ]
    placed, left_out = placed_labels([*labels, *stubs, *codes], ground)
    for one_placed in placed:
        label, box = one_placed.label, one_placed.box
        if label.bold or label in codes:
            draw_placed(axes, one_placed)
            continue
        x, y = label.at
        drawn = style_of(
            max(over for tag, _, over in spec.elsewhere if scale.on_paper(hubs[tag]) == label.at)
        )
        to = (min(max(x, box[0]), box[2]), min(max(y, box[1]), box[3]))
        axes.plot(
            [x, to[0]], [y, to[1]], color=_LINE, linewidth=drawn.width, linestyle=dashes(drawn), zorder=4
        )
        draw_placed(axes, Placed(label, box), edge=MUTED)
    if left_out:
        words = "; ".join(", ".join(label.lines) for label in left_out)
        left, _, right, bottom = ground.frame
        for n, line in enumerate(reversed(wrapped(f"Too close to label: {words}.", right - 12, 3, SMALL))):
            axes.text(left + 6, bottom - 6 - n * 9, line, fontsize=SMALL, color=MUTED)


def _room_label(room: NeighbourRoom, scale: Scaled) -> Label:
    """Return the name of a room with its links: in one of its corners where it fits, else on a leader."""
    links = f"{room.links} {'link' if room.links == 1 else 'links'}"
    words = plain(f"{room.tag} · {links}")
    points = scale.all_on_paper(room.outline)
    left, right = min(x for x, _ in points), max(x for x, _ in points)
    top, bottom = min(y for _, y in points), max(y for _, y in points)
    label = Label((words,), (left + 6, top + 6), size=_NAME_PT, bold=True)
    width, height = label.extent
    across = [left + 5 + n * (right - left - width - 10) / 8 for n in range(9)]
    inside = [
        (x, y)
        for y in (top + 5, bottom - 5 - height, top + 20, bottom - 20 - height)
        for x in across
        if left < x and x + width < right and top < y and y + height < bottom
    ]
    return replace(label, where=tuple(inside))


def _elsewhere(spec: NeighboursSpec, room: NeighbourRoom) -> tuple[str, ...]:
    """Return what a room disturbs elsewhere, worst first."""
    away = sorted((-over, where) for one, where, over in spec.elsewhere if one == room.tag)
    named = [f"{where} ({-over:.0f} dB)" for over, where in away[:_MOST_NAMED]]
    if len(away) > _MOST_NAMED:
        named.append(f"and {len(away) - _MOST_NAMED} more")
    return tuple(plain(name) for name in named)


def _foot(spec: NeighboursSpec) -> Foot:
    """Return scale bar, north and legend: only what the drawing shows."""
    scale = scale_of(spec)
    overs = [over for *_, over in (*spec.pairs, *spec.elsewhere)]
    shown = {style_of(over) for over in overs}
    entries = [LegendEntry(LineSample(drawn), words) for _, drawn, words in _STRENGTHS if drawn in shown]
    entries += symbol_entries("access point") if any(room.boxes for room in spec.rooms) else ()
    if any(_meets(spec, room) for room in spec.rooms):
        hub = f'<circle cx="0" cy="0" r="3" fill="{PAPER}" stroke="{_LINE}" stroke-width="1"/>'
        entries.append(LegendEntry(DrawnSample(hub), "where the lines of a room meet"))
    if any(room.full for room in spec.rooms):
        entries.append(LegendEntry(AreaSample(_FULL, INK, 2.0), "in the fullest neighbourhood"))
    return Foot(
        entries=tuple(entries),
        notes=tuple(one for one in (spec.fullest, *spec.states) if one),
        scale=f"1:{scale}",
        bar=scale_bar(scale, spec.units, spec.locale),
        pointing="north",
    )


KIND = figure_kind(spec_of, alternative, render, _foot)
