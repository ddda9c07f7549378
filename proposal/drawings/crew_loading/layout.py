"""A sheet of the crew loading as SVG: a panel a trade, on one time axis."""

import datetime
from dataclasses import replace

from proposal.drawings.colours import FRAME, INK, MUTED, Stroke
from proposal.drawings.crew_loading import CrewLoadingSpec, TradeLoad, alternative, headline, spec_of
from proposal.drawings.drawing import figure_kind
from proposal.drawings.figure import Figure, id_part
from proposal.drawings.figure.axes import Axes, Behind, Look
from proposal.drawings.figure.time_axis import TEXT_PT, TimeAxis, draw_weeks, time_axis
from proposal.drawings.legend import AreaSample, Foot, LegendEntry, LineSample, MarkSample
from proposal.drawings.lettering import wrapped
from proposal.drawings.page_chart import is_narrow, is_page, paper_with_field
from proposal.drawings.sheet import MM_PT
from proposal.quantities import formatting

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
    figure = Figure(spec.strip, prefix)
    axes = figure.in_mm()
    width, height = spec.strip.paper.field_mm
    left = _left_mm(spec)
    axis = time_axis(spec.first, spec.last, left, width - left - min(left, _RIGHT_MM))
    top, panel = height - _TOP_MM, panel_mm(spec)
    draw_weeks(axes, axis, top, top - len(spec.trades) * panel, spec.locale)
    for n, load in enumerate(spec.trades):
        _panel(axes, spec, axis, load, top - n * panel, f"{prefix}-load-{id_part(load.trade)}")
    return figure.finished(alternative(spec))


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


def _panel(axes: Axes, spec: CrewLoadingSpec, axis: TimeAxis, load: TradeLoad, top: float, name: str) -> None:
    """Draw a trade: its people day by day, and a line at the crew size.

    name: id of the area of its people.
    """
    base = top - panel_mm(spec) + 1.5
    narrow = is_narrow(spec.strip.paper)
    head = 2 * _HEAD_MM if narrow else _HEAD_MM
    height = panel_mm(spec) - head - 1.5
    most = max(float(load.most), float(load.crew))
    right = axis.left_mm + axis.width_mm
    left = axis.left_mm
    words = headline(load, spec.locale)
    room = (right - left) * MM_PT
    lines = wrapped(words, room * 0.9, 3, 8) if narrow else (words,)
    axes.text((left, top - head / 2), lines, 8, bold=True, layer=6, behind=Behind(1.0))
    axes.line([(left, base), (right, base)], INK, 0.6, layer=4)
    limit = base + height * load.crew / most
    axes.stroke([(left, limit), (right, limit)], _CREW, layer=4)
    axes.text((left - 2, limit), formatting.number(load.crew, spec.locale), TEXT_PT, anchor="end")
    axes.text((left - 2, base), "0", TEXT_PT, anchor="end", colour=MUTED)
    _people(axes, axis, axis.at(spec.first), load, base, height / most, name)
    for n in load.over:
        x = axis.at(spec.first + datetime.timedelta(days=n)) + axis.day_mm / 2
        axes.symbol("critical", (x, base + height), layer=6)


def _people(
    axes: Axes, axis: TimeAxis, start: float, load: TradeLoad, base: float, scale: float, name: str
) -> None:
    """Draw the people of all days as one stepped area.

    start: where the first day begins, mm.  scale: height of one, mm.  name: id of the area.
    """
    around = [(start, base)]
    for n, people in enumerate(load.people):
        high = base + float(people) * scale
        around += [(start + n * axis.day_mm, high), (start + (n + 1) * axis.day_mm, high)]
    around.append((start + len(load.people) * axis.day_mm, base))
    axes.area(around, Look(_BAR, FRAME, 0.5, hatch="///"), layer=3, name=name)


def _foot(spec: CrewLoadingSpec) -> Foot:
    entries = [
        LegendEntry(AreaSample(_BAR, FRAME, 0.5, "///"), "people of the trade at work on each day"),
        LegendEntry(LineSample(_CREW), "crew size of the trade"),
    ]
    if any(load.over for load in spec.trades):
        entries.append(LegendEntry(MarkSample("critical"), "day that needs more people than the crew has"))
    return Foot(entries=tuple(entries), notes=("Hours of an activity are spread evenly over its days.",))


KIND = figure_kind(spec_of, alternative, render, _foot, in_page)
