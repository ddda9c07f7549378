"""The timeline of the state of charge as SVG: a panel for each form of microphone."""

import math
from typing import TYPE_CHECKING

from proposal.drawings.charge_timeline import Line, TimelineSpec, alternative, clock, per_cent, spec_of
from proposal.drawings.colours import BAND, FRAME, INK, MUTED, PAPER, Stroke
from proposal.drawings.drawing import figure_kind
from proposal.drawings.figure import field, finished, settings
from proposal.drawings.figure.drawn_symbols import line_style
from proposal.drawings.legend import AreaSample, Foot, LegendEntry, LineSample
from proposal.drawings.letter_widths import letters_pt
from proposal.drawings.lettering import plain, wrapped
from proposal.drawings.page_chart import is_narrow, is_page, paper_with_field
from proposal.drawings.sheet import MM_PT

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_FRAME_MM = 8.0
_LEFT_MM, _GAP_MM, _TITLE_MM, _FOOT_MM = 16.0, 12.0, 8.0, 10.0
_LEFT_NARROW_MM = 9.0
_ROWS = 6
_PANEL_MM, _TITLE_PT, _BETWEEN_PT = 42.0, 175.0, 7.0
_BEFORE_MIN = 30.0
_THIRD = 1 / 3
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
        columns = 1 if is_page(spec.strip.paper) else math.ceil(len(spec.lines) / _ROWS)
        rows = math.ceil(len(spec.lines) / columns)
        wide, high = spec.strip.paper.field_mm
        beside = _LEFT_NARROW_MM if is_narrow(spec.strip.paper) else _LEFT_MM
        edge = _LEFT_NARROW_MM / 3 if is_narrow(spec.strip.paper) else _FRAME_MM
        width = (wide - 2 * edge - columns * beside) / columns
        height = (high - 2 * _FRAME_MM - rows * (_TITLE_MM + _GAP_MM)) / rows
        for n, line in enumerate(spec.lines):
            column, row = divmod(n, rows)
            left = edge + beside + column * (width + beside)
            bottom = high - _FRAME_MM - (row + 1) * (height + _TITLE_MM + _GAP_MM) + _GAP_MM
            axes = figure.add_axes((left / wide, bottom / high, width / wide, height / high))
            _panel(axes, spec, line)
        title = f"Sheet {spec.strip.number}: {spec.strip.title}"
        return finished(figure, title, alternative(spec), prefix)


def in_page(spec: TimelineSpec, width_mm: float) -> float:
    """Return the height of the timeline in a page, mm.

    width_mm: of the page.
    """
    panel = _PANEL_MM + _TITLE_MM + _GAP_MM + (_TITLE_MM if is_narrow(paper_with_field(width_mm, 1.0)) else 0)
    return 2 * _FRAME_MM + len(spec.lines) * panel


def _panel(axes: "Axes", spec: TimelineSpec, line: Line) -> None:
    start = spec.sessions[0][0] - _BEFORE_MIN
    narrow = is_narrow(spec.strip.paper)
    for begins, ends in spec.sessions:
        axes.axvspan(begins, ends, facecolor=BAND, edgecolor=FRAME, linewidth=0.6, zorder=1)
        if not narrow:
            axes.text(
                (begins + ends) / 2, 0.015, "session", fontsize=7, color=MUTED, ha="center", va="bottom"
            )
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
        ha=_side(spec, line.lowest_at) if narrow else "center",
        fontsize=8,
        weight="bold",
        zorder=7,
        bbox={"facecolor": PAPER, "edgecolor": "none", "pad": 1.0, "alpha": 0.85},
    )
    hours = _ticks(start, spec.until, _most_ticks(spec) if narrow else _FEWEST_TICKS)
    levels = [0, 0.25, 0.5, 0.75, 1]
    axes.set(xlim=(start, spec.until), ylim=(0, 1.05))
    axes.set_xticks(hours, [clock(at, spec.locale) for at in hours], fontsize=7.5)
    axes.set_yticks(levels, [per_cent(level, spec.locale) for level in levels], fontsize=7.5)
    axes.grid(visible=True, color=FRAME, linewidth=0.4, zorder=0)
    axes.set_axisbelow(True)
    if not narrow:
        axes.set_ylabel("state of charge", fontsize=7.5)
    for side in ("top", "right"):
        axes.spines[side].set_visible(False)
    on_day = f"day {spec.day}: " if spec.day else ""
    size = 8.0 if narrow else 9.5
    lines = (
        wrapped(f"{on_day}{line.title}", _TITLE_PT, 3, size) if narrow else [plain(f"{on_day}{line.title}")]
    )
    axes.set_title(
        "\n".join(lines), fontsize=size, weight="bold", loc="left", pad=4, x=-0.13 if narrow else 0.0
    )


def _most_ticks(spec: TimelineSpec) -> int:
    """Return how many hours there is room to write in a narrow panel."""
    widest = max(letters_pt(clock(hour * 60, spec.locale), 7.5) for hour in range(24))
    wide = spec.strip.paper.field_mm[0] - 1.4 * _LEFT_NARROW_MM
    return max(1, int(wide * MM_PT / (widest + _BETWEEN_PT)))


def _side(spec: TimelineSpec, at: float) -> str:
    """Return to which side of a point its text stands in a narrow panel.

    at: minutes after midnight.
    """
    start = spec.sessions[0][0] - _BEFORE_MIN
    share = (at - start) / (spec.until - start)
    return "left" if share < _THIRD else "right" if share > 1 - _THIRD else "center"


def _ticks(start: float, end: float, most: int) -> list[int]:
    """Return full hours, minutes after midnight: every one, or some of a long day.

    start, end: of the day, minutes after midnight.  most: as many as there is room for.
    """
    steps = (1, 2, 3, 4, 6)
    every = next(hours for hours in steps if (end - start) / 60 / hours <= most or hours == steps[-1])
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


KIND = figure_kind(spec_of, alternative, render, _foot, in_page)
