"""A sheet of the crew loading as SVG on A3: a panel a trade, on one time axis."""

import datetime
from typing import TYPE_CHECKING

from proposal.drawings.colours import FRAME, INK, MUTED, PAPER
from proposal.drawings.crew_loading import CrewLoadingSpec, TradeLoad, alternative, headline, spec_of
from proposal.drawings.drawing import figure_kind
from proposal.drawings.figure import SHEET_MM, STRIP_MM, finished, id_part, settings, sheet
from proposal.drawings.figure.time_axis import TEXT_PT, TimeAxis, draw_weeks, time_axis
from proposal.drawings.lettering import plain
from proposal.quantities import formatting

if TYPE_CHECKING:
    from matplotlib.axes import Axes

LEFT_MM = 20.0
WIDTH_MM = SHEET_MM[0] - LEFT_MM - 8.0
TOP_MM = SHEET_MM[1] - 14.0
PANELS = 10
_BOTTOM_MM = STRIP_MM[1] + 8.0
PANEL_MM = (TOP_MM - _BOTTOM_MM) / PANELS
_HEAD_MM = 7.0
_BAR = "#9dbdd6"
_OVER = "#8f1d1d"


def render(spec: CrewLoadingSpec, prefix: str) -> bytes:
    """Return a sheet of the crew loading as SVG, the same bytes for equal specs.

    prefix: makes its ids its own.
    Raises ValueError where the trades are more than the sheet holds.
    """
    if len(spec.trades) > PANELS:
        raise ValueError(f"wanted at most {PANELS} trades on a sheet; found {len(spec.trades)}")
    with settings():
        figure = sheet(spec.strip)
        axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
        axes.set(xlim=(0, SHEET_MM[0]), ylim=(0, SHEET_MM[1]))
        axes.set_axis_off()
        axis = time_axis(spec.first, spec.last, LEFT_MM, WIDTH_MM)
        draw_weeks(axes, axis, TOP_MM, TOP_MM - len(spec.trades) * PANEL_MM, spec.locale)
        for n, load in enumerate(spec.trades):
            _panel(axes, spec, axis, load, TOP_MM - n * PANEL_MM)
        _foot(axes)
        return finished(figure, f"Sheet {spec.strip.number}: {spec.strip.title}", alternative(spec), prefix)


def _panel(axes: "Axes", spec: CrewLoadingSpec, axis: TimeAxis, load: TradeLoad, top: float) -> None:
    """Draw a trade: its people day by day, and a line at the crew size."""
    base = top - PANEL_MM + 1.5
    height = PANEL_MM - _HEAD_MM - 1.5
    most = max(float(load.most), float(load.crew))
    right = SHEET_MM[0] - 8
    axes.text(
        LEFT_MM,
        top - 3.5,
        plain(headline(load, spec.locale)),
        fontsize=8,
        weight="bold",
        va="center",
        zorder=6,
        bbox={"facecolor": PAPER, "edgecolor": "none", "pad": 1.0},
    )
    axes.plot([LEFT_MM, right], [base, base], color=INK, linewidth=0.6, zorder=4)
    limit = base + height * load.crew / most
    axes.plot([LEFT_MM, right], [limit, limit], color=INK, linestyle=(0, (6, 3)), linewidth=0.9, zorder=4)
    crew = formatting.number(load.crew, spec.locale)
    axes.text(LEFT_MM - 2, limit, crew, fontsize=TEXT_PT, va="center", ha="right", color=INK)
    axes.text(LEFT_MM - 2, base, "0", fontsize=TEXT_PT, va="center", ha="right", color=MUTED)
    _people(axes, spec, axis, load, base, height / most)
    for n in load.over:
        x = axis.at(spec.first + datetime.timedelta(days=n)) + axis.day_mm / 2
        axes.plot([x], [base + height], marker="^", markersize=4.5, color=_OVER, linestyle="none", zorder=6)


def _people(
    axes: "Axes", spec: CrewLoadingSpec, axis: TimeAxis, load: TradeLoad, base: float, scale: float
) -> None:
    """Draw the people of all days as one stepped area."""
    start = axis.at(spec.first)
    edges = [start + n * axis.day_mm for n in range(len(load.people) + 1)]
    found = axes.stairs(
        [base + float(people) * scale for people in load.people],
        edges,
        baseline=base,
        fill=True,
        facecolor=_BAR,
        edgecolor=FRAME,
        linewidth=0.5,
        hatch="///",
        zorder=3,
    )
    found.set_gid(f"load-{id_part(load.trade)}")


def _foot(axes: "Axes") -> None:
    """Say beside the title strip how the panels are read."""
    lines = (
        "Hatched: people of the trade at work on each day; hours of an activity are spread evenly over them.",
        "Dashed line: crew size of the trade, with the number at the left.",
        "A triangle marks a day that needs more people than the crew has.",
    )
    for place, text in enumerate(lines):
        axes.text(6, 21 - place * 6, text, fontsize=8, va="center", color=INK)


KIND = figure_kind(spec_of, alternative, render)
