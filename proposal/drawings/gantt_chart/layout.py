"""A sheet of the Gantt chart as SVG: a row an activity, weeks along the top."""

import math
from typing import TYPE_CHECKING, Any

from proposal.drawings.colours import BAND, FRAME, INK, MUTED, PAPER, Stroke
from proposal.drawings.drawing import figure_kind
from proposal.drawings.figure import field, finished, id_part, settings, whole_field
from proposal.drawings.figure.drawn_symbols import draw_line, draw_symbol, line_style
from proposal.drawings.figure.time_axis import (
    SHADE,
    TEXT_PT,
    TimeAxis,
    days_off,
    draw_weeks,
    hatch_closed,
    shade,
    time_axis,
)
from proposal.drawings.gantt_chart import NO_WORK, Bar, GanttSpec, alternative, spec_of
from proposal.drawings.legend import AreaSample, Foot, LegendEntry, LineSample, MarkSample
from proposal.drawings.letter_widths import letters_pt
from proposal.drawings.lettering import plain, wrapped
from proposal.drawings.page_chart import is_narrow, is_page, paper_with_field
from proposal.drawings.sheet import MM_PT, SheetPaper
from proposal.drawings.symbol_table import SYMBOLS
from proposal.field_classes import dataclass
from proposal.quantities import formatting

if TYPE_CHECKING:
    from matplotlib.axes import Axes

LEFT_MM = 112.0
RIGHT_MM = 6.0
_HEAD_MM = 13.0
ROW_MM = 5.4
BAR_MM = 3.4
ROWS = 38
"""Rows for which the field of a sheet has the height, on any paper."""
_NAME_MM, _DAYS_MM, _FLOAT_MM = 6.0, 94.0, 109.0
_LINE_MM, _EDGE_MM, _SIGN_ROOM_MM = 3.9, 2.0, 3.6
_NAME_SIGNS = 46
_SIGN_MM = 0.62 * TEXT_PT * 25.4 / 72
_CRITICAL = SYMBOLS["critical"].colour
_SLACK = Stroke(MUTED, "2.5 1.5", 1.0, "")
_CHAIN = Stroke(_CRITICAL, "solid", 0.8, "")
# Told apart by pattern as well as by shade; every bar has its name beside it too.
STYLES: dict[str, tuple[str, str]] = {
    "design": ("#cfe0ef", "////"),
    "drafting": ("#cfe0ef", "\\\\\\\\"),
    "approval": ("#f4e3c1", "xxx"),
    "lead time": ("#ffffff", ""),
    "workshop": ("#d9d2e9", "+++"),
    "first fix": ("#d5e8d4", "----"),
    "second fix": ("#d5e8d4", "||||"),
    "network": ("#f6d5c8", "//"),
    "programming": ("#f6d5c8", "\\\\"),
    "commissioning": ("#f9e79f", "////"),
    "training": ("#f9e79f", ""),
    "documents": ("#cfe0ef", ""),
}
_OTHER = (BAND, "xx")


@dataclass(frozen=True, slots=True)
class _Form:
    """How rows lie on a paper: on a sheet words stand beside the bars, in a page in lines above them.

    left_mm, right_mm: what is left beside the time axis.  row_mm: height of a row.
    lines: of words above a bar; 0 beside it.
    """

    left_mm: float
    right_mm: float
    row_mm: float
    lines: int = 0


def _form(paper: SheetPaper) -> _Form:
    if not is_page(paper):
        return _Form(LEFT_MM, RIGHT_MM, ROW_MM)
    lines = 2 if is_narrow(paper) else 1
    return _Form(_EDGE_MM, _EDGE_MM, lines * _LINE_MM + BAR_MM + 2.4, lines)


def in_page(spec: GanttSpec, width_mm: float) -> float:
    """Return the height of the chart in a page, mm.

    width_mm: of the page.
    """
    return _HEAD_MM + len(spec.bars) * _form(paper_with_field(width_mm, 1.0)).row_mm


def render(spec: GanttSpec, prefix: str) -> bytes:
    """Return a sheet of the Gantt chart as SVG, the same bytes for equal specs.

    prefix: makes its ids its own.
    Raises ValueError where the activities are more than the sheet holds.
    """
    if len(spec.bars) > ROWS:
        raise ValueError(f"wanted at most {ROWS} activities on a sheet; found {len(spec.bars)}")
    with settings():
        import matplotlib as mpl

        mpl.rcParams["hatch.linewidth"] = 0.5
        figure = field(spec.strip)
        axes = whole_field(figure, spec.strip)
        width, height = spec.strip.paper.field_mm
        form = _form(spec.strip.paper)
        axis = time_axis(spec.first, spec.last, form.left_mm, width - form.left_mm - form.right_mm)
        top = height - _HEAD_MM
        _ground(axes, spec, axis, top, form)
        middle = (BAR_MM + 1.6) / 2 if form.lines else form.row_mm / 2
        rows = {bar.key: top - (n + 1) * form.row_mm + middle for n, bar in enumerate(spec.bars)}
        _driving(axes, spec, axis, rows)
        for n, bar in enumerate(spec.bars):
            if form.lines:
                _row_in_page(axes, spec, axis, bar, rows[bar.key], top - n * form.row_mm)
            else:
                _row(axes, spec, axis, bar, rows[bar.key])
        return finished(figure, f"Sheet {spec.strip.number}: {spec.strip.title}", alternative(spec), prefix)


def _ground(axes: "Axes", spec: GanttSpec, axis: TimeAxis, top: float, form: _Form) -> None:
    """Draw the heads of the columns, the weeks, and the days off."""
    bottom = top - len(spec.bars) * form.row_mm
    holidays = [(off.first, off.last) for off in spec.off if off.kind == "holiday"]
    shade(axes, axis, days_off(axis, spec.weekend, holidays), top, bottom)
    for off in spec.off:
        if off.kind != "holiday":
            hatch_closed(axes, axis, off.first, off.last, top, bottom)
    draw_weeks(axes, axis, top, bottom, spec.locale)
    if not form.lines:
        for x, words, side in (
            (_NAME_MM, "Activity", "left"),
            (_DAYS_MM, "Days", "right"),
            (_FLOAT_MM, "Float", "right"),
        ):
            axes.text(x, top + 2, words, fontsize=TEXT_PT, weight="bold", va="center", ha=side)
    begin, end = form.left_mm if form.lines else _NAME_MM, spec.strip.paper.field_mm[0] - form.right_mm
    for n in range(len(spec.bars) + 1):
        y = top - n * form.row_mm
        draw_line(axes, [(begin, y), (end, y)], color=FRAME, linewidth=0.3, zorder=1)


def _row(axes: "Axes", spec: GanttSpec, axis: TimeAxis, bar: Bar, y: float) -> None:
    name = plain(bar.name)
    if len(name) > _NAME_SIGNS:
        name = f"{name[: _NAME_SIGNS - 1]}…"
    weight = "bold" if bar.kind == "milestone" else "normal"
    axes.text(_NAME_MM, y, name, fontsize=TEXT_PT, va="center", weight=weight)
    if bar.days:
        axes.text(_DAYS_MM, y, _counted(bar.days, bar), fontsize=TEXT_PT, va="center", ha="right")
    axes.text(_FLOAT_MM, y, _counted(bar.slack, bar), fontsize=TEXT_PT, va="center", ha="right")
    finish = formatting.short_date(bar.finish, spec.locale)
    if bar.kind == "milestone":
        _diamond(axes, axis, bar, y)
        middle = _middle(axis, bar)
        start, end, words = middle - 2.0, middle + 2.0, finish
    else:
        _bar(axes, axis, bar, y)
        start, end = axis.at(bar.start), axis.after(bar.finish)
        begin = formatting.short_date(bar.start, spec.locale)
        words = finish if bar.start == bar.finish else f"{begin} – {finish}"
    if bar.latest > bar.finish:
        end = max(end, axis.after(bar.latest))
    _words(axes, words, start, end, y, right=axis.left_mm + axis.width_mm, critical=bar.critical)


def _row_in_page(axes: "Axes", spec: GanttSpec, axis: TimeAxis, bar: Bar, y: float, top: float) -> None:
    """Draw a bar with its name and its days above it.

    y: middle of the bar.  top: of the row.
    """
    narrow = is_narrow(spec.strip.paper)
    left, right = axis.left_mm, axis.left_mm + axis.width_mm
    finish = formatting.short_date(bar.finish, spec.locale)
    words = [
        finish if bar.start == bar.finish else f"{formatting.short_date(bar.start, spec.locale)} – {finish}"
    ]
    words += [formatting.days_of(bar.days, bar.calendar)] if bar.days and not narrow else []
    # Float is counted in the days that stand before it; where none stand there, a sign says which.
    slack = f"{bar.slack}" if bar.days and not narrow else _counted(bar.slack, bar)
    words.append("critical" if bar.critical else f"float {slack}")
    said = ", ".join(words)
    line = top - 0.6 - _LINE_MM / 2
    begin = left
    if bar.critical:
        draw_symbol(axes, "critical", (left + 1.2, line), zorder=6)
        begin += _SIGN_ROOM_MM
    room = right - begin - (0.0 if narrow else len(said) * _SIGN_MM + 4.0)
    box = {"facecolor": PAPER, "edgecolor": "none", "pad": 0.3, "alpha": 0.85}
    named: dict[str, Any] = {"fontsize": TEXT_PT, "va": "center", "zorder": 6, "bbox": box}
    weight = "bold" if bar.kind == "milestone" else "normal"
    (name,) = wrapped(bar.name, room * MM_PT, 1, TEXT_PT)
    axes.text(begin, line, plain(name), weight=weight, **named)
    if narrow:
        axes.text(begin, line - _LINE_MM, said, color=MUTED, **named)
    else:
        axes.text(right, line, said, ha="right", color=MUTED, **named)
    (_diamond if bar.kind == "milestone" else _bar)(axes, axis, bar, y)


def _counted(days: int, bar: Bar) -> str:
    sign = {"calendar": " c", "site": " s"}.get(bar.calendar, "") if days else ""
    return f"{days}{sign}"


def _bar(axes: "Axes", axis: TimeAxis, bar: Bar, y: float) -> None:
    from matplotlib.patches import Rectangle

    colour, hatch = STYLES.get(bar.kind, _OTHER)
    start, end = axis.at(bar.start), axis.after(bar.finish)
    edge: dict[str, Any] = (
        {"edgecolor": _CRITICAL, "linewidth": 1.6} if bar.critical else {"edgecolor": MUTED, "linewidth": 0.6}
    )
    box: Any = Rectangle(
        (start, y - BAR_MM / 2), end - start, BAR_MM, facecolor=colour, hatch=hatch or None, zorder=4, **edge
    )
    box.set_gid(f"bar-{id_part(bar.key)}")
    axes.add_artist(box)
    if bar.latest > bar.finish:
        late = axis.after(bar.latest)
        draw_line(axes, [(end, y), (late, y)], zorder=3, **line_style(_SLACK))
        draw_line(axes, [(late, y - 1.2), (late, y + 1.2)], color=MUTED, linewidth=1.0, zorder=3)


def _diamond(axes: "Axes", axis: TimeAxis, bar: Bar, y: float) -> None:
    """Draw a milestone in the middle of its day."""
    colour = _CRITICAL if bar.critical else INK
    (found,) = axes.plot(
        [_middle(axis, bar)],
        [y],
        marker="D",
        # The library's diamond is larger by the root of two than it is told to be.
        markersize=SYMBOLS["milestone"].size_pt / math.sqrt(2),
        markerfacecolor=PAPER,
        markeredgecolor=colour,
        markeredgewidth=1.6,
        linestyle="none",
        zorder=5,
    )
    found.set_gid(f"milestone-{id_part(bar.key)}")
    if bar.latest > bar.finish:
        end, late = _middle(axis, bar), axis.after(bar.latest)
        draw_line(axes, [(end, y), (late, y)], zorder=3, **line_style(_SLACK))
        draw_line(axes, [(late, y - 1.2), (late, y + 1.2)], color=MUTED, linewidth=1.0, zorder=3)


def _middle(axis: TimeAxis, bar: Bar) -> float:
    return axis.at(bar.finish) + axis.day_mm / 2


def _words(
    axes: "Axes", words: str, start: float, end: float, y: float, *, right: float, critical: bool
) -> None:
    """Write the days of a row behind its bar, or before it where the sheet ends; a sign where critical."""
    from matplotlib.patches import Rectangle

    sign = 4.0 if critical else 0.0
    said = f"{words}, critical" if critical else words
    width = len(said) * _SIGN_MM + sign + 2.0
    before = end + width > right + 3.0
    # Before its bar, the text ends beside it.
    x = start - 1.5 - sign - letters_pt(said, TEXT_PT) * 25.4 / 72 if before else end + 1.5
    if critical:
        draw_symbol(axes, "critical", (x + 1.2, y), zorder=6)
    # A ground as wide as the letters are: the library's is as wide as those of another font, and would hide
    # where the bar beside it begins.
    wide, high = letters_pt(said, TEXT_PT) * 25.4 / 72, TEXT_PT * 25.4 / 72
    at = (x + sign - 0.2, y - high / 2)
    axes.add_artist(Rectangle(at, wide + 0.4, high, facecolor=PAPER, alpha=0.8, linewidth=0, zorder=5.5))
    axes.text(x + sign, y, said, fontsize=TEXT_PT, va="center", zorder=6)


def _driving(axes: "Axes", spec: GanttSpec, axis: TimeAxis, rows: dict[str, float]) -> None:
    """Join the activities that set the day of acceptance, those that stand on this sheet."""
    by_key = {bar.key: bar for bar in spec.bars}
    for before, after in zip(spec.driving, spec.driving[1:], strict=False):
        if before in rows and after in rows:
            one, next_one = by_key[before], by_key[after]
            x = _middle(axis, one) if one.kind == "milestone" else axis.after(one.finish)
            to = _middle(axis, next_one) if next_one.kind == "milestone" else axis.at(next_one.start)
            way = [(x, rows[before]), (x, rows[after]), (to, rows[after])]
            draw_line(axes, way, zorder=2, **line_style(_CHAIN))


def _foot(spec: GanttSpec) -> Foot:
    """Return what the patterns and signs mean: only those of this sheet."""
    shown = {bar.kind for bar in spec.bars}
    entries = [
        LegendEntry(AreaSample(colour, MUTED, 0.6, hatch), kind)
        for kind, (colour, hatch) in STYLES.items()
        if kind in shown
    ]
    if "milestone" in shown:
        entries.append(LegendEntry(MarkSample("milestone"), "milestone, on its day"))
    if any(bar.critical for bar in spec.bars):
        entries.append(LegendEntry(MarkSample("critical"), "critical: heavy outline, sign and word"))
    if any(bar.latest > bar.finish for bar in spec.bars):
        entries.append(LegendEntry(LineSample(_SLACK), "float: may slip until its end"))
    if any(one in {bar.key for bar in spec.bars} for one in spec.driving):
        entries.append(LegendEntry(LineSample(_CHAIN), "sets the day of acceptance"))
    if spec.weekend or any(off.kind == "holiday" for off in spec.off):
        entries.append(LegendEntry(AreaSample(SHADE, FRAME, 0.4), "nobody works"))
    kinds = {off.kind for off in spec.off} - {"holiday"}
    if kinds:
        closed = "site, or some rooms, closed" if NO_WORK in kinds else "site closed"
        entries.append(LegendEntry(AreaSample(PAPER, MUTED, 0.4, "\\\\"), closed))
    return Foot(
        entries=tuple(entries),
        notes=(
            "Days and float: s on site, c calendar days, others working days. A milestone has the float of "
            "the work that its day is set by.",
        ),
    )


KIND = figure_kind(spec_of, alternative, render, _foot, in_page)
