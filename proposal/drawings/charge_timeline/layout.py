"""The timeline of the state of charge as SVG: a panel for each form of microphone."""

import math

from proposal.drawings.charge_timeline import Line, TimelineSpec, alternative, clock, per_cent, spec_of
from proposal.drawings.colours import BAND, FRAME, INK, MUTED, PAPER, Stroke
from proposal.drawings.drawing import figure_kind
from proposal.drawings.figure import Figure
from proposal.drawings.figure.axes import ABOVE, BELOW, Axes, Behind, Look
from proposal.drawings.legend import AreaSample, Foot, LegendEntry, LineSample
from proposal.drawings.letter_widths import letters_pt
from proposal.drawings.lettering import wrapped
from proposal.drawings.page_chart import is_narrow, is_page, paper_with_field
from proposal.drawings.sheet import MM_PT

_FRAME_MM = 8.0
_LEFT_MM, _GAP_MM, _TITLE_MM, _FOOT_MM = 16.0, 12.0, 8.0, 10.0
_LEFT_NARROW_MM = 9.0
_ROWS = 6
_PANEL_MM, _TITLE_PT, _BETWEEN_PT = 42.0, 175.0, 7.0
_BEFORE_MIN = 30.0
_THIRD = 1 / 3
_FEWEST_TICKS = 12
_FULL = 1.05
"""Level at the upper edge of a panel."""
_LEVELS = (0, 0.25, 0.5, 0.75, 1)
_TICK_PT, _NUMBER_PT = 3.5, 7.5
"""Length of a tick and of what is free before its number; size of numbers, pt."""
# Told apart by their style as well as by their colour.
_FRESH = Stroke("#0a5a9c", "solid", 1.4, "")
_AGED = Stroke("#a33d00", "9 4", 2.2, "")
_SLOTLESS = Stroke("#7b3f8c", "2 3", 2.0, "")
_RESERVE = Stroke(INK, "8 2 1 2", 1.0, "")


def render(spec: TimelineSpec, prefix: str) -> bytes:
    """Return the timeline as SVG, the same bytes for equal specs.

    prefix: makes its ids its own.
    """
    figure = Figure(spec.strip, prefix)
    columns = 1 if is_page(spec.strip.paper) else math.ceil(len(spec.lines) / _ROWS)
    rows = math.ceil(len(spec.lines) / columns)
    wide, high = spec.strip.paper.field_mm
    beside = _LEFT_NARROW_MM if is_narrow(spec.strip.paper) else _LEFT_MM
    edge = _LEFT_NARROW_MM / 3 if is_narrow(spec.strip.paper) else _FRAME_MM
    width = (wide - 2 * edge - columns * beside) / columns
    height = (high - 2 * _FRAME_MM - rows * (_TITLE_MM + _GAP_MM)) / rows
    days = (spec.sessions[0][0] - _BEFORE_MIN, spec.until)
    for n, line in enumerate(spec.lines):
        column, row = divmod(n, rows)
        left = edge + beside + column * (width + beside)
        bottom = high - _FRAME_MM - (row + 1) * (height + _TITLE_MM + _GAP_MM) + _GAP_MM
        axes = figure.axes((left, bottom, left + width, bottom + height), days, (0.0, _FULL))
        _scales(axes, spec)
        _panel(axes, spec, line)
        _title(axes, spec, line)
    return figure.finished(alternative(spec))


def in_page(spec: TimelineSpec, width_mm: float) -> float:
    """Return the height of the timeline in a page, mm.

    width_mm: of the page.
    """
    panel = _PANEL_MM + _TITLE_MM + _GAP_MM + (_TITLE_MM if is_narrow(paper_with_field(width_mm, 1.0)) else 0)
    return 2 * _FRAME_MM + len(spec.lines) * panel


def _scales(axes: Axes, spec: TimelineSpec) -> None:
    """Draw hours and levels, each with a line across the panel, and the two edges that they stand at."""
    start, end = axes.xs
    left, _, _, bottom = axes.box
    top = axes.ys[1]
    narrow = is_narrow(spec.strip.paper)
    numbers = [per_cent(level, spec.locale) for level in _LEVELS]
    for at in _ticks(start, spec.until, _most_ticks(spec) if narrow else _FEWEST_TICKS):
        axes.line([(at, 0.0), (at, top)], FRAME, 0.4, layer=0.5)
        axes.tick((at, 0.0), (0.0, _TICK_PT), INK)
        down = 2 * _TICK_PT + ABOVE * _NUMBER_PT
        axes.text((at, 0.0), clock(at, spec.locale), _NUMBER_PT, anchor="middle", level="base", down_pt=down)
    for level, number in zip(_LEVELS, numbers, strict=True):
        axes.line([(start, level), (end, level)], FRAME, 0.4, layer=0.5)
        axes.tick((start, level), (-_TICK_PT, 0.0), INK)
        axes.text((start, level), number, _NUMBER_PT, anchor="end", right_pt=-2 * _TICK_PT, down_pt=0.9)
    for points in ([(start, 0.0), (end, 0.0)], [(start, 0.0), (start, top)]):
        axes.line(points, MUTED, 0.8, layer=2.5)
    if not narrow:
        widest = max(letters_pt(number, _NUMBER_PT) for number in numbers)
        x = left - 2 * _TICK_PT - widest - 4.0 - BELOW * _NUMBER_PT
        axes.turned((x, (axes.box[1] + bottom) / 2), "state of charge", _NUMBER_PT)


def _panel(axes: Axes, spec: TimelineSpec, line: Line) -> None:
    """Draw sessions, reserve and levels, and name the lowest one."""
    start, end = axes.xs
    top = axes.ys[1]
    narrow = is_narrow(spec.strip.paper)
    axes.clip_to([(start, 0.0), (end, 0.0), (end, top), (start, top)])
    for begins, ends in spec.sessions:
        axes.rectangle((begins, 0.0), (ends - begins, top), Look(BAND, FRAME, 0.6))
        if not narrow:
            at = ((begins + ends) / 2, 0.015)
            axes.text(at, "session", 7, anchor="middle", level="foot", colour=MUTED)
    axes.stroke([(start, spec.reserve), (end, spec.reserve)], _RESERVE)
    for points, style in ((line.fresh, _FRESH), (line.aged, _AGED), (line.slotless, _SLOTLESS)):
        if points:
            axes.stroke(points, style, layer=4, clipped=True)
    lowest = (line.lowest_at, line.lowest)
    axes.dot(lowest, 3.0, Look(PAPER, INK, 1.0), layer=6)
    # Under its point, where no other line runs; over it where the reserve or the axis is near.
    below = line.lowest > spec.reserve + 0.2
    axes.text(
        lowest,
        f"lowest {per_cent(line.lowest, spec.locale)} at {clock(line.lowest_at, spec.locale)}",
        8,
        anchor=_side(spec, line.lowest_at) if narrow else "middle",
        level="base",
        bold=True,
        layer=7,
        behind=Behind(1.0, opacity=0.85),
        down_pt=16 if below else -12,
    )


def _title(axes: Axes, spec: TimelineSpec, line: Line) -> None:
    """Write above a panel whose charge it shows."""
    narrow = is_narrow(spec.strip.paper)
    words = f"day {spec.day}: {line.title}" if spec.day else line.title
    size = 8.0 if narrow else 9.5
    lines = wrapped(words, _TITLE_PT, 3, size) if narrow else (words,)
    start, end = axes.xs
    at = (start - 0.13 * (end - start) if narrow else start, axes.ys[1])
    axes.text(at, lines, size, level="base", bold=True, down_pt=-4.0)


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
    return "start" if share < _THIRD else "end" if share > 1 - _THIRD else "middle"


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
