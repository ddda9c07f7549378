"""The neighbours of a storey as SVG: the plan with lines between rooms that disturb each other, on A3."""

import math
from typing import TYPE_CHECKING, Any

from proposal.drawings.colours import BAND, INK, MUTED, PAPER
from proposal.drawings.drawing import figure_kind
from proposal.drawings.figure import SHEET_MM, STRIP_MM, finished, settings, sheet
from proposal.drawings.figure.scale_bar import scale_bar
from proposal.drawings.figure.to_scale import axes_to_scale, extent, scale_that_fits
from proposal.drawings.lettering import plain
from proposal.drawings.radio_neighbours import NeighbourRoom, NeighboursSpec, Point, alternative, spec_of

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_AROUND_MM = 14.0
_LINE = "#0a5a9c"
_STRENGTHS: tuple[tuple[float, str, float, str], ...] = (
    (20.0, "-", 3.2, "20 dB or more above the tolerance"),
    (10.0, "--", 2.0, "10 dB to 20 dB above"),
    (0.0, ":", 1.4, "up to 10 dB above"),
)
_MOST_NAMED = 4
_FULL = "#ffe3a8"


def style_of(over_db: float) -> tuple[str, float]:
    """Return style and weight, pt, of the line for a conflict of so many dB.

    over_db: by how much the disturber is too strong, dB.
    """
    return next((style, weight) for least, style, weight, _ in _STRENGTHS if over_db >= least)


def scale_of(spec: NeighboursSpec) -> int:
    """Return the denominator of the largest round scale at which the storey fits the sheet."""
    return scale_that_fits(_extent(spec), spec.units, _AROUND_MM)


def _extent(spec: NeighboursSpec) -> tuple[Point, Point]:
    return extent(point for room in spec.rooms for point in (*room.outline, *room.boxes))


def render(spec: NeighboursSpec, prefix: str) -> bytes:
    """Return the drawing as SVG, the same bytes for equal specs.

    prefix: makes its ids its own.
    """
    with settings():
        figure = sheet(spec.strip)
        scale = scale_of(spec)
        axes = axes_to_scale(figure, _extent(spec), scale)
        for room in spec.rooms:
            _room(axes, room)
        at = {room.tag: centre(room) for room in spec.rooms}
        for one, other, over in spec.pairs:
            style, weight = style_of(over)
            (x1, y1), (x2, y2) = at[one], at[other]
            # A line that would run over a third room's hub is bent around it.
            passes = any(
                _on_the_way(at[one], at[other], hub) for tag, hub in at.items() if tag not in (one, other)
            )
            axes.annotate(
                "", (x2, y2), (x1, y1), zorder=4,
                arrowprops={
                    "arrowstyle": "-", "linestyle": style, "linewidth": weight, "color": _LINE,
                    "shrinkA": 0, "shrinkB": 0, "connectionstyle": f"arc3,rad={0.15 if passes else 0.0}",
                },
            )  # fmt: skip
        for room in spec.rooms:
            _hub(axes, spec, room)
        _foot(figure, spec, scale)
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
        axes.plot([x], [y], marker="^", markersize=7, color="#00694f", linestyle="none", zorder=5)
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
    style, weight = style_of(-away[0][0])
    named = [f"{where} ({-over:.0f} dB)" for over, where in away[:_MOST_NAMED]]
    if len(away) > _MOST_NAMED:
        named.append(f"and {len(away) - _MOST_NAMED} more")
    axes.annotate(
        "\n".join(plain(name) for name in named), (x, y), xytext=(16, -18), textcoords="offset points",
        fontsize=7, va="top", zorder=8,
        arrowprops={
            "arrowstyle": "-", "linestyle": style, "linewidth": weight, "color": _LINE,
            "shrinkA": 0, "shrinkB": 3,
        },
        bbox={"facecolor": PAPER, "edgecolor": MUTED, "pad": 1.5, "linewidth": 0.5, "alpha": 0.9},
    )  # fmt: skip


def _foot(figure: Any, spec: NeighboursSpec, scale: int) -> None:
    """Draw scale bar, north and legend beside the title strip, all at full size."""
    from matplotlib.patches import Rectangle

    width = SHEET_MM[0] - STRIP_MM[0] - 12
    axes = figure.add_axes((4 / SHEET_MM[0], 2 / SHEET_MM[1], width / SHEET_MM[0], STRIP_MM[1] / SHEET_MM[1]))
    axes.set(xlim=(0, width), ylim=(0, STRIP_MM[1]))
    axes.set_axis_off()
    axes.annotate("", (6, 24), (6, 10), arrowprops={"arrowstyle": "-|>", "color": INK, "linewidth": 1.2})
    axes.text(6, 6, "N", fontsize=9, weight="bold", ha="center", va="center")
    scale_bar(axes, 18, 19, scale, spec.units, spec.locale)
    for n, (_, style, weight, words) in enumerate(_STRENGTHS):
        y = 22 - n * 7
        axes.plot([88, 100], [y, y], linestyle=style, linewidth=weight, color=_LINE)
        axes.text(103, y, words, fontsize=8, va="center")
    axes.plot([170], [22], marker="^", markersize=7, color="#00694f", linestyle="none")
    axes.text(174, 22, "access point", fontsize=8, va="center")
    if spec.fullest:
        axes.add_patch(Rectangle((167, 13), 6, 4, facecolor=_FULL, edgecolor=INK, linewidth=2.0))
        axes.text(176, 15, "in the fullest neighbourhood", fontsize=8, va="center")
        axes.text(88, 1.5, plain(spec.fullest), fontsize=8, va="center")


KIND = figure_kind(spec_of, alternative, render)
