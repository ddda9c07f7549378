"""A sheet of the cut plan as SVG: a bar for every reel, to scale, its cables listed below it."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from proposal.drawings.colours import BAND, FRAME, INK, MUTED, PAPER, Stroke
from proposal.drawings.cut_plan import (
    CutPlanCable,
    CutPlanCut,
    CutPlanReel,
    CutPlanSpec,
    alternative,
    groups_of,
    spec_of,
)
from proposal.drawings.drawing import figure_kind
from proposal.drawings.figure import field, finished, settings, whole_field
from proposal.drawings.figure.drawn_symbols import line_style
from proposal.drawings.legend import AreaSample, Foot, LegendEntry, LineSample
from proposal.drawings.lettering import plain
from proposal.quantities import formatting

if TYPE_CHECKING:
    from matplotlib.axes import Axes

LEFT_MM = 50.0
WIDTH_MM = 344.0
"""Width of the bars and lists, on any paper, mm."""
_ABOVE_MM = 6.0
HEAD_MM = 9.0
BAR_MM = 5.6
LINE_MM = 3.8
GAP_MM = 3.0
TEXT_PT = 7.0
# Identities are capitals, figures, strokes and dots, which together are narrower than this share of the size.
_SIGN_MM = 0.64 * TEXT_PT * 25.4 / 72
# Groups that follow one another on a reel are told apart by shade and by a heavy line between them.
_SHADES = (BAND, "#d9e0e8")
_NEXT = Stroke(INK, "solid", 2.2, "")


def render(spec: CutPlanSpec, prefix: str) -> bytes:
    """Return a sheet of the cut plan as SVG, the same bytes for equal specs.

    prefix: makes its ids its own.
    Raises ValueError where the reels are more than the sheet holds.
    """
    heights = [cable_height_mm(cable, spec) for cable in spec.cables]
    room = spec.strip.paper.field_mm[1] - 2 * _ABOVE_MM
    if sum(heights) > room:
        raise ValueError(f"the cut plan is {sum(heights):.0f} mm high; a sheet holds {room:.0f} mm")
    with settings():
        figure = field(spec.strip)
        axes = whole_field(figure, spec.strip)
        top = spec.strip.paper.field_mm[1] - _ABOVE_MM
        scale = WIDTH_MM / max((reel.length_m for cable in spec.cables for reel in cable.reels), default=1.0)
        for cable, height in zip(spec.cables, heights, strict=True):
            _cable(axes, spec, cable, top, scale)
            top -= height
        return finished(figure, f"Sheet {spec.strip.number}: {spec.strip.title}", alternative(spec), prefix)


def columns_of(cable: CutPlanCable, spec: CutPlanSpec) -> int:
    """Return how many cables stand on a line of a cable type's lists."""
    longest = max(
        (len(_said(number, cut, spec)) for reel in cable.reels for number, cut in enumerate(reel.cuts, 1)),
        default=1,
    )
    return max(1, int(WIDTH_MM / (longest * _SIGN_MM + 3.0)))


def reel_height_mm(reel: CutPlanReel, columns: int) -> float:
    """Return what a reel takes of a sheet's height.

    columns: of the list of its cuts.
    Returns mm on paper.
    """
    lines = sum(-(-len(numbered) // columns) for _, numbered in groups_of(reel))
    return BAR_MM + lines * LINE_MM + GAP_MM


def cable_height_mm(cable: CutPlanCable, spec: CutPlanSpec) -> float:
    """Return what the reels of a cable type take of a sheet's height."""
    columns = columns_of(cable, spec)
    return HEAD_MM + sum(reel_height_mm(reel, columns) for reel in cable.reels)


def _said(number: int, cut: CutPlanCut, spec: CutPlanSpec) -> str:
    return f"{number} · {plain(cut.identity)} · {_bare(cut.length_m, spec)}"


def _bare(length_m: float, spec: CutPlanSpec) -> str:
    """Return a length without its unit where that is one for all; feet and inches name theirs."""
    if spec.units == "us_customary":
        return formatting.cut_length(length_m, spec.units, spec.locale)
    return formatting.bare(length_m, "length", spec.units, spec.locale)


def _cable(axes: "Axes", spec: CutPlanSpec, cable: CutPlanCable, top: float, scale: float) -> None:
    axes.text(6, top - 3.5, plain(cable.cable), fontsize=9.5, weight="bold", va="center")
    axes.text(LEFT_MM + WIDTH_MM, top - 3.5, plain(cable.summary), fontsize=8, va="center", ha="right")
    columns = columns_of(cable, spec)
    top -= HEAD_MM
    for reel in cable.reels:
        _reel(axes, spec, reel, top, scale, columns)
        top -= reel_height_mm(reel, columns)


def _reel(axes: "Axes", spec: CutPlanSpec, reel: CutPlanReel, top: float, scale: float, columns: int) -> None:
    """Draw a bar with its cuts and, below it, a list for each pull group."""
    middle = top - BAR_MM / 2
    axes.text(6, middle, f"Reel {reel.number}", fontsize=8, weight="bold", va="center")
    axes.text(LEFT_MM - 3, middle, plain(reel.stock), fontsize=TEXT_PT, va="center", ha="right", color=MUTED)
    at = LEFT_MM
    line = top - BAR_MM - 0.6 - LINE_MM / 2
    for place, (group, numbered) in enumerate(groups_of(reel)):
        if place:
            axes.plot([at, at], [top + 1.2, top - BAR_MM], zorder=4, **line_style(_NEXT))
        for number, cut in numbered:
            width = cut.length_m * scale
            _segment(axes, at, middle, width, _SHADES[place % 2])
            both = f"{number} · {_bare(cut.length_m, spec)}"
            shown = next((text for text in (both, str(number)) if _width_mm(text) < width), "")
            axes.text(at + width / 2, middle, shown, fontsize=TEXT_PT, va="center", ha="center", zorder=5)
            at += width
        axes.text(LEFT_MM - 3, line, plain(group), fontsize=TEXT_PT, va="center", ha="right", color=MUTED)
        line -= _list(axes, [_said(number, cut, spec) for number, cut in numbered], line, columns)
    _remnant(axes, spec, reel, at, middle, scale)


def _remnant(
    axes: "Axes", spec: CutPlanSpec, reel: CutPlanReel, at: float, middle: float, scale: float
) -> None:
    width = reel.remnant_m * scale
    if width <= 0:
        return
    _segment(axes, at, middle, width, PAPER, hatch="////")
    left = f"{_bare(reel.remnant_m, spec)} left"
    if _width_mm(left) < width:
        axes.text(
            at + width / 2, middle, left, fontsize=TEXT_PT, va="center", ha="center", zorder=5,
            bbox={"facecolor": PAPER, "edgecolor": "none", "pad": 1.0},
        )  # fmt: skip


def _segment(axes: "Axes", at: float, middle: float, width: float, colour: str, hatch: str = "") -> None:
    from matplotlib.patches import Rectangle

    axes.add_artist(
        Rectangle(
            (at, middle - BAR_MM / 2), width, BAR_MM, facecolor=colour, edgecolor=FRAME, linewidth=0.7,
            hatch=hatch or None, zorder=3,
        )
    )  # fmt: skip


def _list(axes: "Axes", said: Sequence[str], line: float, columns: int) -> float:
    """Write cables in columns and return the height they take."""
    for place, text in enumerate(said):
        row, column = divmod(place, columns)
        axes.text(
            LEFT_MM + column * WIDTH_MM / columns, line - row * LINE_MM, text, fontsize=TEXT_PT, va="center"
        )
    return -(-len(said) // columns) * LINE_MM


def _width_mm(text: str) -> float:
    return len(text) * _SIGN_MM + 1.0


def _elsewhere(spec: CutPlanSpec) -> list[str]:
    """Return which types of cable are on which other sheets, as one note."""
    told = [f"{', '.join(types)} on {number}" for number, types in spec.elsewhere]
    return [f"Reels of {'; '.join(told)}."] if told else []


def _foot(spec: CutPlanSpec) -> Foot:
    """Return how the bars are read."""
    unit = "ft and in" if spec.units == "us_customary" else formatting.unit_of("length", spec.units)
    entries = [
        LegendEntry(AreaSample(_SHADES[0], FRAME, 0.7), "cables of a pull group, in the order of cutting"),
        LegendEntry(LineSample(_NEXT), "the next group begins"),
        LegendEntry(AreaSample(PAPER, FRAME, 0.7, "////"), "left on the reel"),
    ]
    return Foot(
        entries=tuple(entries),
        notes=(
            f"Lengths in {unit} as cut: the cable, its slack, tolerance, lead and tail. Before a cable "
            "stands its place on the bar.",
            "A reel is set up for the pull groups named beside its lists, in that order.",
            *_elsewhere(spec),
        ),
        scale="bars to one scale",
    )


KIND = figure_kind(spec_of, alternative, render, _foot)
