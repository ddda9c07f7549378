"""The Gantt chart: activities as bars, milestones as diamonds, floats, and the days on which nobody works."""

import datetime

from proposal.document.rows.programme import ActivityRow
from proposal.document.rows.sheets import SheetRow
from proposal.drawings.sheet import TitleBlock, strip_of
from proposal.editions import Edition
from proposal.field_classes import dataclass
from proposal.quantities import formatting

NO_WORK = "no work"
"""Kind of days that come again on which nobody may work on site, or in some rooms."""
WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """An activity or milestone.

    kind: phase, lead time, approval or milestone.
    days: days of its calendar, 0 for a milestone; calendar: working, site or calendar.
    start, finish, latest: first and last day, and the day on which it has to be over.
    slack: days of its calendar by which it may slip; critical: whether that is none.
    """

    key: str
    name: str
    kind: str
    days: int
    calendar: str
    start: datetime.date
    finish: datetime.date
    latest: datetime.date
    slack: int
    critical: bool


@dataclass(frozen=True, slots=True)
class Off:
    """Days off: holiday, site closure or days without work, what they are called, first and last."""

    kind: str
    name: str
    first: datetime.date
    last: datetime.date


@dataclass(frozen=True, slots=True, kw_only=True)
class GanttSpec:
    """All that a sheet of the Gantt chart shows.

    first, last: days that the time axis spans, the same on every sheet.
    weekend: days of the week on which nobody works, 0 for Monday.
    driving: keys of the chain that sets the day of acceptance, from first to last.
    """

    strip: TitleBlock
    locale: str
    first: datetime.date
    last: datetime.date
    weekend: tuple[int, ...]
    off: tuple[Off, ...]
    bars: tuple[Bar, ...]
    driving: tuple[str, ...]


def spec_of(edition: Edition, sheet: SheetRow) -> GanttSpec:
    """Return what a sheet of the Gantt chart shows.

    The sheet's members are keys of activities; without any it shows all.
    Raises ValueError where the edition holds no programme.
    """
    document = edition.document
    programme = document.programme
    if programme is None or not document.activities:
        raise ValueError("wanted an edition with a programme; found none")
    members = set(sheet.members)
    worked = (*programme.working_days, *programme.site_days)
    return GanttSpec(
        strip=strip_of(edition, sheet),
        locale=document.cover.locale,
        first=min(row.start for row in document.activities),
        last=max(max(row.finish, row.latest) for row in document.activities),
        weekend=tuple(n for n, day in enumerate(WEEKDAYS) if day not in worked),
        off=(
            *(Off(row.kind, row.name, row.first, row.last) for row in programme.days_off),
            *(
                Off(NO_WORK, row.words, day, day)
                for row in programme.no_work
                if row.takes_the_day
                for day in row.dates
            ),
        ),
        bars=tuple(_bar(row) for row in document.activities if not members or row.key in members),
        driving=programme.driving,
    )


def _bar(row: ActivityRow) -> Bar:
    return Bar(
        key=row.key,
        name=row.name,
        kind=row.kind,
        days=row.days,
        calendar=row.calendar,
        start=row.start,
        finish=row.finish,
        latest=row.latest,
        slack=row.total_float,
        critical=row.critical,
    )


def alternative(spec: GanttSpec) -> str:
    """Return what a sheet of the Gantt chart shows in sentences."""
    sentences = [
        f"Programme from {formatting.date(spec.first, spec.locale)} "
        f"to {formatting.date(spec.last, spec.locale)}."
    ]
    for bar in spec.bars:
        finish = formatting.date(bar.finish, spec.locale)
        if bar.kind == "milestone":
            when = f"milestone on {finish}"
        elif bar.start == bar.finish:
            when = f"{formatting.days_of(bar.days, bar.calendar)}, {finish}"
        else:
            start = formatting.date(bar.start, spec.locale)
            when = f"{formatting.days_of(bar.days, bar.calendar)}, {start} to {finish}"
        slack = "critical" if bar.critical else f"float {formatting.days_of(bar.slack, bar.calendar)}"
        sentences.append(f"{bar.name}: {when}, {slack}.")
    coming_again = dict.fromkeys(off.name for off in spec.off if off.kind == NO_WORK)
    sentences += [f"Nobody works on site: {name}." for name in coming_again]
    for off in spec.off:
        if off.kind == NO_WORK:
            continue
        first, last = formatting.date(off.first, spec.locale), formatting.date(off.last, spec.locale)
        span = first if off.first == off.last else f"{first} to {last}"
        sentences.append(f"{off.kind.capitalize()}, {off.name}: {span}.")
    return " ".join(sentences)
