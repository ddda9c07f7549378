"""The time axis of charts of the programme: days to scale, weeks with their dates, days off shaded."""

import datetime
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from proposal.drawings.colours import FRAME, INK, MUTED
from proposal.drawings.figure.drawn_symbols import draw_line
from proposal.field_classes import dataclass
from proposal.quantities import formatting

if TYPE_CHECKING:
    from matplotlib.axes import Axes

TEXT_PT = 8.0
SHADE = "#e4e8ed"
_WEEK = 7
_LABEL_MM = 14.0
_NARROWEST_MM = 0.7
_WEEKS = (1, 2, 4, 8, 13, 26, 52, 104, 260)


@dataclass(frozen=True, slots=True, kw_only=True)
class TimeAxis:
    """Days from left to right.

    first: day at the left edge.  days: how many are shown.  left_mm, width_mm: of the chart on the sheet.
    """

    first: datetime.date
    days: int
    left_mm: float
    width_mm: float

    @property
    def day_mm(self) -> float:
        """The width of a day, mm."""
        return self.width_mm / self.days

    def at(self, day: datetime.date) -> float:
        """Return where a day begins, mm from the left edge of the sheet."""
        return self.left_mm + (day - self.first).days * self.day_mm

    def after(self, day: datetime.date) -> float:
        """Return where a day ends, mm from the left edge of the sheet."""
        return self.at(day) + self.day_mm

    @property
    def last(self) -> datetime.date:
        """The last day shown."""
        return self.first + datetime.timedelta(days=self.days - 1)


def time_axis(first: datetime.date, last: datetime.date, left_mm: float, width_mm: float) -> TimeAxis:
    """Return an axis of whole weeks, from the Monday before the first day to the Sunday after the last.

    left_mm, width_mm: left end and width on the sheet, mm.
    """
    monday = first.toordinal() - first.weekday()
    weeks = -(-(last.toordinal() + 1 - monday) // _WEEK)
    return TimeAxis(
        first=datetime.date.fromordinal(max(1, monday)),
        days=weeks * _WEEK,
        left_mm=left_mm,
        width_mm=width_mm,
    )


def mondays(axis: TimeAxis) -> Iterator[datetime.date]:
    """Yield the Mondays that are labelled: as many as there is room for between their labels."""
    step = next(
        (weeks for weeks in _WEEKS if weeks * _WEEK * axis.day_mm >= _LABEL_MM), max(1, axis.days // _WEEK)
    )
    for day in range(0, axis.days, step * _WEEK):
        yield axis.first + datetime.timedelta(days=day)


def draw_weeks(axes: "Axes", axis: TimeAxis, top: float, bottom: float, locale: str) -> None:
    """Draw a line and a date for the weeks, the year where it begins; axes are in mm at full size.

    locale: of the project.
    top: where the dates stand; the lines go from there down to `bottom`.
    """
    shown_year = 0
    for monday in mondays(axis):
        x = axis.at(monday)
        draw_line(axes, [(x, top + 4.5), (x, bottom)], color=FRAME, linewidth=0.5, zorder=1)
        words = formatting.short_date(monday, locale)
        axes.text(x + 0.8, top + 2, words, fontsize=TEXT_PT, va="center", color=INK, zorder=6)
        if monday.year != shown_year:
            shown_year = monday.year
            axes.text(
                x + 0.8, top + 6.5, str(shown_year), fontsize=TEXT_PT, va="center", weight="bold", zorder=6
            )


def shade(axes: "Axes", axis: TimeAxis, days: Sequence[datetime.date], top: float, bottom: float) -> None:
    """Shade days off, those that follow one another as one.

    axes: in mm at full size.
    top, bottom: of the shade, mm.
    """
    from matplotlib.patches import Rectangle

    for first, last in runs(days):
        start, end = axis.at(first), axis.after(last)
        if end - start >= _NARROWEST_MM:
            axes.add_artist(
                Rectangle((start, bottom), end - start, top - bottom, facecolor=SHADE, linewidth=0, zorder=0)
            )


def hatch_closed(
    axes: "Axes", axis: TimeAxis, first: datetime.date, last: datetime.date, top: float, bottom: float
) -> None:
    """Hatch days on which the site is closed, as far as the axis shows them.

    axes: in mm at full size.
    first, last: first and last day closed.
    top, bottom: of the hatch, mm.
    """
    from matplotlib.patches import Rectangle

    start = axis.at(max(first, axis.first))
    end = axis.after(min(last, axis.last))
    if end > start:
        axes.add_artist(
            Rectangle(
                (start, bottom), end - start, top - bottom, facecolor="none", edgecolor=MUTED, linewidth=0.0,
                hatch="\\\\", zorder=0.5,
            )
        )  # fmt: skip


def days_off(
    axis: TimeAxis, weekend: Sequence[int], spans: Sequence[tuple[datetime.date, datetime.date]]
) -> list[datetime.date]:
    """Return the days of an axis on which nobody works.

    weekend: days of the week, 0 for Monday.  spans: first and last day of holidays.
    """
    every = (axis.first + datetime.timedelta(days=n) for n in range(axis.days))
    return [
        day for day in every if day.weekday() in weekend or any(first <= day <= last for first, last in spans)
    ]


def runs(days: Sequence[datetime.date]) -> Iterator[tuple[datetime.date, datetime.date]]:
    """Yield first and last of the days that follow one another; days: in order."""
    start = before = None
    for day in days:
        if start is None or before is None or (day - before).days != 1:
            if start is not None and before is not None:
                yield start, before
            start = day
        before = day
    if start is not None and before is not None:
        yield start, before
