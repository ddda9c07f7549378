"""The neighbours of a storey as SVG: the plan with lines between rooms that disturb each other."""

import math
from typing import TYPE_CHECKING

from proposal.drawings.colours import BAND, INK, MUTED, PAPER, Stroke
from proposal.drawings.drawing import figure_kind
from proposal.drawings.figure import field, finished, settings
from proposal.drawings.figure.drawn_symbols import dashes, draw_symbol
from proposal.drawings.figure.scale_bar import scale_bar
from proposal.drawings.figure.to_scale import axes_to_scale, extent, scale_that_fits
from proposal.drawings.legend import AreaSample, Foot, LegendEntry, LineSample, symbol_entries
from proposal.drawings.lettering import plain
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
            (x1, y1), (x2, y2) = at[one], at[other]
            # A line that would run over a third room's hub is bent around it.
            passes = any(
                _on_the_way(at[one], at[other], hub) for tag, hub in at.items() if tag not in (one, other)
            )
            axes.annotate(
                "", (x2, y2), (x1, y1), zorder=4,
                arrowprops={
                    "arrowstyle": "-", "linestyle": dashes(drawn), "linewidth": drawn.width, "color": _LINE,
                    "shrinkA": 0, "shrinkB": 0, "connectionstyle": f"arc3,rad={0.15 if passes else 0.0}",
                },
            )  # fmt: skip
        for room in spec.rooms:
            _hub(axes, spec, room)
        title = f"Sheet {spec.strip.number}: {spec.strip.title}"
        return finished(figure, title, alternative(spec), prefix)


def centre(room: NeighbourRoom) -> Point:
    """Return where a room's lines meet: among its access points, else in the middle of its outline."""
    points = room.boxes or room.outline
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


def _on_the_way(start: Point, end: Point, hub: Point) -> bool:
    """Return whether a point lies between two others and close to their line."""
    way = math.dist(start, end)
    return way > 0 and math.dist(start, hub) + math.dist(hub, end) < way * 1.01


def _room(axes: "Axes", room: NeighbourRoom) -> None:
    from matplotlib.patches import Polygon

    axes.add_patch(
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
    xs, ys = [x for x, _ in room.outline], [y for _, y in room.outline]
    links = f"{room.links} {'link' if room.links == 1 else 'links'}"
    axes.annotate(
        plain(f"{room.tag} · {links}"), (min(xs), max(ys)), xytext=(3, -3), textcoords="offset points",
        fontsize=8.5, weight="bold", va="top", zorder=7,
        bbox={"facecolor": PAPER, "edgecolor": "none", "pad": 1.0, "alpha": 0.85},
    )  # fmt: skip


def _hub(axes: "Axes", spec: NeighboursSpec, room: NeighbourRoom) -> None:
    """Draw where a room's lines meet, and a stub that names what it disturbs elsewhere, worst first."""
    x, y = centre(room)
    if len(room.boxes) != 1:
        axes.plot([x], [y], marker="o", markersize=6, color=_LINE, markerfacecolor=PAPER, zorder=6)
    away = sorted((-over, where) for one, where, over in spec.elsewhere if one == room.tag)
    if not away:
        return
    drawn = style_of(-away[0][0])
    named = [f"{where} ({-over:.0f} dB)" for over, where in away[:_MOST_NAMED]]
    if len(away) > _MOST_NAMED:
        named.append(f"and {len(away) - _MOST_NAMED} more")
    axes.annotate(
        "\n".join(plain(name) for name in named), (x, y), xytext=(16, -18), textcoords="offset points",
        fontsize=7, va="top", zorder=8,
        arrowprops={
            "arrowstyle": "-", "linestyle": dashes(drawn), "linewidth": drawn.width, "color": _LINE,
            "shrinkA": 0, "shrinkB": 3,
        },
        bbox={"facecolor": PAPER, "edgecolor": MUTED, "pad": 1.5, "linewidth": 0.5, "alpha": 0.9},
    )  # fmt: skip


def _foot(spec: NeighboursSpec) -> Foot:
    """Return scale bar, north and legend: only what the drawing shows."""
    scale = scale_of(spec)
    overs = [over for *_, over in (*spec.pairs, *spec.elsewhere)]
    shown = {style_of(over) for over in overs}
    entries = [LegendEntry(LineSample(drawn), words) for _, drawn, words in _STRENGTHS if drawn in shown]
    entries += symbol_entries("access point") if any(room.boxes for room in spec.rooms) else ()
    if any(room.full for room in spec.rooms):
        entries.append(LegendEntry(AreaSample(_FULL, INK, 2.0), "in the fullest neighbourhood"))
    return Foot(
        entries=tuple(entries),
        notes=(spec.fullest,) if spec.fullest else (),
        scale=f"1:{scale}",
        bar=scale_bar(scale, spec.units, spec.locale),
        pointing="north",
    )


KIND = figure_kind(spec_of, alternative, render, _foot)
