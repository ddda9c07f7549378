"""A sheet of the Gantt chart as SVG on A3: a row an activity, weeks along the top."""

from typing import TYPE_CHECKING, Any

from proposal.drawings.colours import BAND, FRAME, INK, MUTED, PAPER
from proposal.drawings.drawing import figure_kind
from proposal.drawings.figure import SHEET_MM, STRIP_MM, finished, id_part, settings, sheet
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
from proposal.drawings.gantt_chart import Bar, GanttSpec, alternative, spec_of
from proposal.drawings.lettering import plain
from proposal.quantities import formatting

if TYPE_CHECKING:
    from matplotlib.axes import Axes

LEFT_MM = 112.0
WIDTH_MM = SHEET_MM[0] - LEFT_MM - 6.0
TOP_MM = SHEET_MM[1] - 14.0
ROW_MM = 5.8
BAR_MM = 3.6
_BOTTOM_MM = STRIP_MM[1] + 16.0
ROWS = int((TOP_MM - _BOTTOM_MM) / ROW_MM)
_NAME_MM, _DAYS_MM, _FLOAT_MM = 6.0, 97.0, 110.0
_NAME_SIGNS = 52
_SIGN_MM = 0.62 * TEXT_PT * 25.4 / 72
_CRITICAL = "#8f1d1d"
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
        figure = sheet(spec.strip)
        axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
        axes.set(xlim=(0, SHEET_MM[0]), ylim=(0, SHEET_MM[1]))
        axes.set_axis_off()
        axis = time_axis(spec.first, spec.last, LEFT_MM, WIDTH_MM)
        bottom = TOP_MM - len(spec.bars) * ROW_MM
        _ground(axes, spec, axis, bottom)
        rows = {bar.key: TOP_MM - (n + 0.5) * ROW_MM for n, bar in enumerate(spec.bars)}
        _driving(axes, spec, axis, rows)
        for bar in spec.bars:
            _row(axes, spec, axis, bar, rows[bar.key])
        _legend(axes, spec)
        return finished(figure, f"Sheet {spec.strip.number}: {spec.strip.title}", alternative(spec), prefix)


def _ground(axes: "Axes", spec: GanttSpec, axis: TimeAxis, bottom: float) -> None:
    """Draw the heads of the columns, the weeks, and the days off."""
    holidays = [(off.first, off.last) for off in spec.off if off.kind == "holiday"]
    shade(axes, axis, days_off(axis, spec.weekend, holidays), TOP_MM, bottom)
    for off in spec.off:
        if off.kind != "holiday":
            hatch_closed(axes, axis, off.first, off.last, TOP_MM, bottom)
    draw_weeks(axes, axis, TOP_MM, bottom, spec.locale)
    for x, words, side in (
        (_NAME_MM, "Activity", "left"),
        (_DAYS_MM, "Days", "right"),
        (_FLOAT_MM, "Float", "right"),
    ):
        axes.text(x, TOP_MM + 2, words, fontsize=TEXT_PT, weight="bold", va="center", ha=side)
    for n in range(len(spec.bars) + 1):
        y = TOP_MM - n * ROW_MM
        axes.plot([_NAME_MM, SHEET_MM[0] - 6], [y, y], color=FRAME, linewidth=0.3, zorder=1)


def _row(axes: "Axes", spec: GanttSpec, axis: TimeAxis, bar: Bar, y: float) -> None:
    name = plain(bar.name)
    if len(name) > _NAME_SIGNS:
        name = f"{name[: _NAME_SIGNS - 1]}…"
    weight = "bold" if bar.kind == "milestone" else "normal"
    axes.text(_NAME_MM, y, name, fontsize=TEXT_PT, va="center", weight=weight)
    if bar.days:
        sign = {"calendar": "c", "site": "s"}.get(bar.calendar, "")
        axes.text(_DAYS_MM, y, f"{bar.days} {sign}".rstrip(), fontsize=TEXT_PT, va="center", ha="right")
    axes.text(_FLOAT_MM, y, str(bar.slack), fontsize=TEXT_PT, va="center", ha="right")
    finish = formatting.short_date(bar.finish, spec.locale)
    if bar.kind == "milestone":
        _diamond(axes, axis, bar, y)
        start, end, words = axis.at(bar.finish) - 1.5, axis.after(bar.finish) + 1.5, finish
    else:
        _bar(axes, axis, bar, y)
        start, end = axis.at(bar.start), axis.after(bar.finish)
        begin = formatting.short_date(bar.start, spec.locale)
        words = finish if bar.start == bar.finish else f"{begin} – {finish}"
    if bar.latest > bar.finish:
        end = max(end, axis.after(bar.latest))
    _words(axes, words, start, end, y, critical=bar.critical)


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
    axes.add_patch(box)
    if bar.latest > bar.finish:
        late = axis.after(bar.latest)
        axes.plot([end, late], [y, y], color=MUTED, linewidth=1.0, linestyle=(0, (2, 1.5)), zorder=3)
        axes.plot([late, late], [y - 1.2, y + 1.2], color=MUTED, linewidth=1.0, zorder=3)


def _diamond(axes: "Axes", axis: TimeAxis, bar: Bar, y: float) -> None:
    """Draw a milestone at the end of its day."""
    colour = _CRITICAL if bar.critical else INK
    (found,) = axes.plot(
        [axis.after(bar.finish)],
        [y],
        marker="D",
        markersize=6.0,
        markerfacecolor=PAPER,
        markeredgecolor=colour,
        markeredgewidth=1.6,
        linestyle="none",
        zorder=5,
    )
    found.set_gid(f"milestone-{id_part(bar.key)}")
    if bar.latest > bar.finish:
        end, late = axis.after(bar.finish), axis.after(bar.latest)
        axes.plot([end, late], [y, y], color=MUTED, linewidth=1.0, linestyle=(0, (2, 1.5)), zorder=3)
        axes.plot([late, late], [y - 1.2, y + 1.2], color=MUTED, linewidth=1.0, zorder=3)


def _words(axes: "Axes", words: str, start: float, end: float, y: float, *, critical: bool) -> None:
    """Write the days of a row behind its bar, or before it where the sheet ends; a sign where critical."""
    sign = 4.0 if critical else 0.0
    said = f"{words}, critical" if critical else words
    width = len(said) * _SIGN_MM + sign + 2.0
    before = end + width > SHEET_MM[0] - 3.0
    x = start - width if before else end + 1.5
    if critical:
        axes.plot([x + 1.2], [y], marker="^", markersize=4.5, color=_CRITICAL, linestyle="none", zorder=6)
    box = {"facecolor": PAPER, "edgecolor": "none", "pad": 0.4, "alpha": 0.8}
    axes.text(x + sign, y, said, fontsize=TEXT_PT, va="center", zorder=6, bbox=box)


def _driving(axes: "Axes", spec: GanttSpec, axis: TimeAxis, rows: dict[str, float]) -> None:
    """Join the activities that set the day of acceptance, those that stand on this sheet."""
    by_key = {bar.key: bar for bar in spec.bars}
    for before, after in zip(spec.driving, spec.driving[1:], strict=False):
        if before in rows and after in rows:
            one, next_one = by_key[before], by_key[after]
            x = axis.after(one.finish)
            to = axis.after(next_one.finish) if next_one.kind == "milestone" else axis.at(next_one.start)
            axes.plot(
                [x, x, to], [rows[before], rows[after], rows[after]], color=_CRITICAL, linewidth=0.8, zorder=2
            )


def _legend(axes: "Axes", spec: GanttSpec) -> None:
    """Say beside the title strip what the patterns and signs mean."""
    from matplotlib.patches import Rectangle

    kinds = [kind for kind in STYLES if any(bar.kind == kind for bar in spec.bars)]
    for n, kind in enumerate(kinds):
        column, row = divmod(n, 4)
        x, y = 6 + column * 35, STRIP_MM[1] - 3 - row * 5.5
        colour, hatch = STYLES[kind]
        axes.add_patch(
            Rectangle(
                (x, y - 1.6), 8, 3.2, facecolor=colour, edgecolor=MUTED, linewidth=0.6, hatch=hatch or None
            )
        )
        axes.text(x + 9.5, y, kind, fontsize=TEXT_PT, va="center")
    x = 6 + 35 * 3
    top = STRIP_MM[1] - 3
    axes.plot(
        [x + 4],
        [top],
        marker="D",
        markersize=6,
        markerfacecolor=PAPER,
        markeredgecolor=INK,
        markeredgewidth=1.6,
    )
    axes.text(x + 9.5, top, "milestone, reached at the end of its day", fontsize=TEXT_PT, va="center")
    axes.plot([x + 4], [top - 5.5], marker="^", markersize=4.5, color=_CRITICAL, linestyle="none")
    axes.text(x + 9.5, top - 5.5, "critical: heavy outline, sign and word", fontsize=TEXT_PT, va="center")
    axes.plot([x, x + 8], [top - 11, top - 11], color=MUTED, linewidth=1.0, linestyle=(0, (2, 1.5)))
    axes.text(x + 9.5, top - 11, "float: may slip until its end", fontsize=TEXT_PT, va="center")
    axes.plot([x, x + 8], [top - 16.5, top - 16.5], color=_CRITICAL, linewidth=0.8)
    axes.text(x + 9.5, top - 16.5, "sets the day of acceptance", fontsize=TEXT_PT, va="center")
    axes.add_patch(Rectangle((x + 62, top - 1.6), 8, 3.2, facecolor=SHADE, edgecolor=FRAME, linewidth=0.4))
    axes.text(x + 71.5, top, "nobody works", fontsize=TEXT_PT, va="center")
    if any(off.kind != "holiday" for off in spec.off):
        axes.add_patch(
            Rectangle(
                (x + 62, top - 7.1), 8, 3.2, facecolor=PAPER, edgecolor=MUTED, linewidth=0.4, hatch="\\\\"
            )
        )
        axes.text(x + 71.5, top - 5.5, "site closed", fontsize=TEXT_PT, va="center")
    axes.text(x + 62, top - 11, "Days: s on site, c calendar;", fontsize=TEXT_PT, va="center")
    axes.text(x + 62, top - 15, "others working days", fontsize=TEXT_PT, va="center")


KIND = figure_kind(spec_of, alternative, render)
