"""The timeline of the state of charge as SVG: a panel for each form of microphone."""

import math
from typing import TYPE_CHECKING

from proposal.drawings.charge_timeline import Line, TimelineSpec, alternative, clock, per_cent, spec_of
from proposal.drawings.colours import BAND, FRAME, INK, MUTED, PAPER, Stroke
from proposal.drawings.drawing import figure_kind
from proposal.drawings.figure import field, finished, settings
from proposal.drawings.figure.drawn_symbols import line_style
from proposal.drawings.legend import AreaSample, Foot, LegendEntry, LineSample
from proposal.drawings.lettering import plain

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_FRAME_MM = 8.0
_LEFT_MM, _GAP_MM, _TITLE_MM, _FOOT_MM = 16.0, 12.0, 8.0, 10.0
_ROWS = 6
_BEFORE_MIN = 30.0
_FEWEST_TICKS = 12
# Told apart by their style as well as by their colour.
_FRESH = Stroke("#0a5a9c", "solid", 1.4, "")
_AGED = Stroke("#a33d00", "9 4", 2.2, "")
_SLOTLESS = Stroke("#7b3f8c", "2 3", 2.0, "")
_RESERVE = Stroke(INK, "8 2 1 2", 1.0, "")


def render(spec: TimelineSpec, prefix: str) -> bytes:
    """Return the timeline as SVG, the same bytes for equal specs.

    prefix: makes its ids its own.
    """
    with settings():
        figure = field(spec.strip)
        columns = math.ceil(len(spec.lines) / _ROWS)
        rows = math.ceil(len(spec.lines) / columns)
        wide, high = spec.strip.paper.field_mm
        width = (wide - 2 * _FRAME_MM - columns * _LEFT_MM) / columns
        height = (high - 2 * _FRAME_MM - rows * (_TITLE_MM + _GAP_MM)) / rows
        for n, line in enumerate(spec.lines):
            column, row = divmod(n, rows)
            left = _FRAME_MM + _LEFT_MM + column * (width + _LEFT_MM)
            bottom = high - _FRAME_MM - (row + 1) * (height + _TITLE_MM + _GAP_MM) + _GAP_MM
            axes = figure.add_axes((left / wide, bottom / high, width / wide, height / high))
            _panel(axes, spec, line)
        title = f"Sheet {spec.strip.number}: {spec.strip.title}"
        return finished(figure, title, alternative(spec), prefix)


def _panel(axes: "Axes", spec: TimelineSpec, line: Line) -> None:
    start = spec.sessions[0][0] - _BEFORE_MIN
    for begins, ends in spec.sessions:
        axes.axvspan(begins, ends, facecolor=BAND, edgecolor=FRAME, linewidth=0.6, zorder=1)
        axes.text((begins + ends) / 2, 0.015, "session", fontsize=7, color=MUTED, ha="center", va="bottom")
    axes.axhline(spec.reserve, zorder=2, **line_style(_RESERVE))
    for points, style in ((line.fresh, _FRESH), (line.aged, _AGED), (line.slotless, _SLOTLESS)):
        axes.plot([at for at, _ in points], [level for _, level in points], zorder=4, **line_style(style))
    axes.plot(
        [line.lowest_at], [line.lowest], marker="o", markersize=6, markerfacecolor=PAPER,
        markeredgecolor=INK, linestyle="none", zorder=6,
    )  # fmt: skip
    # Under its point, where no other line runs; over it where the reserve or the axis is near.
    below = line.lowest > spec.reserve + 0.2
    axes.annotate(
        plain(f"lowest {per_cent(line.lowest, spec.locale)} at {clock(line.lowest_at, spec.locale)}"),
        (line.lowest_at, line.lowest),
        xytext=(0, -16 if below else 12),
        textcoords="offset points",
        ha="center",
        fontsize=8,
        weight="bold",
        zorder=7,
        bbox={"facecolor": PAPER, "edgecolor": "none", "pad": 1.0, "alpha": 0.85},
    )
    hours = _ticks(start, spec.until)
    levels = [0, 0.25, 0.5, 0.75, 1]
    axes.set(xlim=(start, spec.until), ylim=(0, 1.05))
    axes.set_xticks(hours, [clock(at, spec.locale) for at in hours], fontsize=7.5)
    axes.set_yticks(levels, [per_cent(level, spec.locale) for level in levels], fontsize=7.5)
    axes.grid(visible=True, color=FRAME, linewidth=0.4, zorder=0)
    axes.set_axisbelow(True)
    axes.set_ylabel("state of charge", fontsize=7.5)
    for side in ("top", "right"):
        axes.spines[side].set_visible(False)
    on_day = f"day {spec.day}: " if spec.day else ""
    axes.set_title(plain(f"{on_day}{line.title}"), fontsize=9.5, weight="bold", loc="left", pad=4)


def _ticks(start: float, end: float) -> list[int]:
    """Return full hours, minutes after midnight: every one, or every second or third of a long day."""
    every = next(hours for hours in (1, 2, 3) if (end - start) / 60 / hours <= _FEWEST_TICKS or hours == 3)
    first = math.ceil(start / 60)
    return [hour * 60 for hour in range(first, math.floor(end / 60) + 1) if (hour - first) % every == 0]


def _foot(spec: TimelineSpec) -> Foot:
    entries = [
        LegendEntry(LineSample(_FRESH), "new battery"),
        LegendEntry(LineSample(_AGED), "battery at the end of its life"),
        LegendEntry(LineSample(_RESERVE), "reserve"),
    ]
    if any(line.slotless for line in spec.lines):
        words = "at the end of its life and without a charge slot"
        entries.append(LegendEntry(LineSample(_SLOTLESS), words))
    entries.append(LegendEntry(AreaSample(BAND, FRAME), "session"))
    return Foot(entries=tuple(entries))


KIND = figure_kind(spec_of, alternative, render, _foot)
