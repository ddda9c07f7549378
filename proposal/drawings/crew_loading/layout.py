"""A sheet of the crew loading as SVG: a panel a trade, on one time axis."""

import datetime
from dataclasses import replace
from typing import TYPE_CHECKING

from proposal.drawings.colours import FRAME, INK, MUTED, PAPER, Stroke
from proposal.drawings.crew_loading import CrewLoadingSpec, TradeLoad, alternative, headline, spec_of
from proposal.drawings.drawing import figure_kind
from proposal.drawings.figure import field, finished, id_part, settings, whole_field
from proposal.drawings.figure.drawn_symbols import draw_symbol, line_style
from proposal.drawings.figure.time_axis import TEXT_PT, TimeAxis, draw_weeks, time_axis
from proposal.drawings.legend import AreaSample, Foot, LegendEntry, LineSample, MarkSample
from proposal.drawings.lettering import plain, wrapped
from proposal.drawings.page_chart import is_narrow, is_page, paper_with_field
from proposal.drawings.sheet import MM_PT
from proposal.quantities import formatting

if TYPE_CHECKING:
    from matplotlib.axes import Axes

LEFT_MM = 20.0
_RIGHT_MM, _TOP_MM, _BELOW_MM = 8.0, 14.0, 5.0
PANELS = 10
_LEFT_IN_PAGE_MM, _PANEL_MM = 7.0, 24.0
_HEAD_MM = 7.0
_BAR = "#9dbdd6"
_CREW = Stroke(INK, "6 3", 0.9, "")


def render(spec: CrewLoadingSpec, prefix: str) -> bytes:
    """Return a sheet of the crew loading as SVG, the same bytes for equal specs.

    prefix: makes its ids its own.
    Raises ValueError where the trades are more than the sheet holds.
    """
    if len(spec.trades) > PANELS:
        raise ValueError(f"wanted at most {PANELS} trades on a sheet; found {len(spec.trades)}")
    with settings():
        figure = field(spec.strip)
        axes = whole_field(figure, spec.strip)
        width, height = spec.strip.paper.field_mm
        left = _left_mm(spec)
        axis = time_axis(spec.first, spec.last, left, width - left - min(left, _RIGHT_MM))
        top, panel = height - _TOP_MM, panel_mm(spec)
        draw_weeks(axes, axis, top, top - len(spec.trades) * panel, spec.locale)
        for n, load in enumerate(spec.trades):
            _panel(axes, spec, axis, load, top - n * panel)
        return finished(figure, f"Sheet {spec.strip.number}: {spec.strip.title}", alternative(spec), prefix)


def _left_mm(spec: CrewLoadingSpec) -> float:
    """Return what is left for numbers beside the time axis, mm."""
    return _LEFT_IN_PAGE_MM if is_page(spec.strip.paper) else LEFT_MM


def panel_mm(spec: CrewLoadingSpec) -> float:
    """Return the height of a panel, mm."""
    if is_page(spec.strip.paper):
        return _PANEL_MM + (_HEAD_MM if is_narrow(spec.strip.paper) else 0.0)
    return (spec.strip.paper.field_mm[1] - _TOP_MM - _BELOW_MM) / PANELS


def in_page(spec: CrewLoadingSpec, width_mm: float) -> float:
    """Return the height of the chart in a page, mm.

    width_mm: of the page.
    """
    shown = replace(spec, strip=replace(spec.strip, paper=paper_with_field(width_mm, 1.0)))
    return _TOP_MM + _BELOW_MM + len(spec.trades) * panel_mm(shown)


def _panel(axes: "Axes", spec: CrewLoadingSpec, axis: TimeAxis, load: TradeLoad, top: float) -> None:
    """Draw a trade: its people day by day, and a line at the crew size."""
    base = top - panel_mm(spec) + 1.5
    narrow = is_narrow(spec.strip.paper)
    head = 2 * _HEAD_MM if narrow else _HEAD_MM
    height = panel_mm(spec) - head - 1.5
    most = max(float(load.most), float(load.crew))
    right = axis.left_mm + axis.width_mm
    left = axis.left_mm
    words = headline(load, spec.locale)
    room = (right - left) * MM_PT
    axes.text(
        left,
        top - head / 2,
        "\n".join(wrapped(words, room * 0.9, 3, 8)) if narrow else plain(words),
        fontsize=8,
        weight="bold",
        va="center",
        zorder=6,
        bbox={"facecolor": PAPER, "edgecolor": "none", "pad": 1.0},
    )
    axes.plot([left, right], [base, base], color=INK, linewidth=0.6, zorder=4)
    limit = base + height * load.crew / most
    axes.plot([left, right], [limit, limit], zorder=4, **line_style(_CREW))
    crew = formatting.number(load.crew, spec.locale)
    axes.text(left - 2, limit, crew, fontsize=TEXT_PT, va="center", ha="right", color=INK)
    axes.text(left - 2, base, "0", fontsize=TEXT_PT, va="center", ha="right", color=MUTED)
    _people(axes, spec, axis, load, base, height / most)
    for n in load.over:
        x = axis.at(spec.first + datetime.timedelta(days=n)) + axis.day_mm / 2
        draw_symbol(axes, "critical", (x, base + height), zorder=6)


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


def _foot(spec: CrewLoadingSpec) -> Foot:
    entries = [
        LegendEntry(AreaSample(_BAR, FRAME, 0.5, "///"), "people of the trade at work on each day"),
        LegendEntry(LineSample(_CREW), "crew size of the trade"),
    ]
    if any(load.over for load in spec.trades):
        entries.append(LegendEntry(MarkSample("critical"), "day that needs more people than the crew has"))
    return Foot(entries=tuple(entries), notes=("Hours of an activity are spread evenly over its days.",))


KIND = figure_kind(spec_of, alternative, render, _foot, in_page)
