"""A programme of two weeks, planned by hand on a calendar of March 2026, for the sample document.

The order comes on Monday 16 March; the drawings take three working days, their approval two; boxes come ten
calendar days later, on Monday 30 March; 25 March is a holiday, and the site is closed on 31 March.
"""

import datetime
from decimal import Decimal

from proposal.document.rows.programme import (
    ActivityRow,
    CrewLoadRow,
    DaysOffRow,
    EventRow,
    LateRow,
    ProgrammeSummary,
    SetDayRow,
)


def day(number: int, month: int = 3) -> datetime.date:
    return datetime.date(2026, month, number)


def activity(
    key: str,
    name: str,
    kind: str,
    days: int,
    start: datetime.date,
    finish: datetime.date,
    after: tuple[str, ...],
    *,
    calendar: str = "working",
    storey: str = "",
    total_float: int = 0,
    free_float: int = 0,
    latest: datetime.date | None = None,
    crew: tuple[tuple[str, int, Decimal], ...] = (),
) -> ActivityRow:
    return ActivityRow(
        key=key,
        name=name,
        kind=kind,
        storey=storey,
        days=days,
        calendar=calendar,
        start=start,
        finish=finish,
        latest=latest or finish,
        total_float=total_float,
        free_float=free_float,
        critical=total_float == 0,
        driving=total_float == 0,
        after=after,
        crew=crew,
    )


def sample_activities() -> tuple[ActivityRow, ...]:
    return (
        activity("order", "Order", "milestone", 0, day(16), day(16), ()),
        activity(
            "design",
            "Design <b>and</b> drawings",
            "design",
            3,
            day(16),
            day(18),
            ("order",),
            crew=(("Design engineer", 2, Decimal("36.50")),),
        ),
        activity("approval", "Client approves drawings", "approval", 2, day(19), day(20), ("design",)),
        activity("drawings approved", "Drawings approved", "milestone", 0, day(20), day(20), ("approval",)),
        activity(
            "lead time charger",
            "Lead time: charger",
            "lead time",
            10,
            day(21),
            day(30),
            ("drawings approved",),
            calendar="calendar",
        ),
        activity(
            "first fix L0",
            "First fix, ground floor",
            "first fix",
            2,
            day(23),
            day(24),
            ("drawings approved",),
            calendar="site",
            storey="L0",
            total_float=3,
            free_float=0,
            latest=day(30),
            crew=(("Cable installer", 3, Decimal("40.00")),),
        ),
        activity(
            "first fix complete",
            "First fix complete",
            "milestone",
            0,
            day(24),
            day(24),
            ("first fix L0",),
            total_float=4,
            free_float=4,
            latest=day(31),
        ),
        activity(
            "delivery",
            "Equipment delivered",
            "milestone",
            0,
            day(30),
            day(30),
            ("lead time charger",),
        ),
        activity(
            "second fix L0",
            "Second fix, ground floor",
            "second fix",
            1,
            day(1, 4),
            day(1, 4),
            ("delivery", "first fix L0"),
            calendar="site",
            storey="L0",
            crew=(("Cable installer", 3, Decimal("5.25")), ("Installer", 2, Decimal("12.00"))),
        ),
        activity(
            "second fix complete",
            "Second fix complete",
            "milestone",
            0,
            day(1, 4),
            day(1, 4),
            ("second fix L0", "first fix complete"),
        ),
        activity("accepted", "Accepted", "milestone", 0, day(1, 4), day(1, 4), ("second fix complete",)),
    )


def sample_programme() -> ProgrammeSummary:
    milestones = [row for row in sample_activities() if row.kind == "milestone"]
    return ProgrammeSummary(
        start=day(16),
        finish=day(1, 4),
        order_assumed=True,
        working_days=("Monday", "Tuesday", "Wednesday", "Thursday", "Friday"),
        hours_a_day=Decimal(8),
        approval_days=2,
        events=tuple(EventRow(key=row.key, name=row.name, date=row.finish) for row in milestones),
        driving=tuple(row.key for row in sample_activities() if row.driving),
        days_off=(
            DaysOffRow(
                key="charter", name="Charter Day | invented", kind="holiday", first=day(25), last=day(25)
            ),
            DaysOffRow(key="count", name="Count of votes", kind="site closure", first=day(31), last=day(31)),
        ),
        days_set=(
            SetDayRow(
                key="ceilings",
                name="Ceilings open",
                date=day(23),
                rule="begin not before",
                phases=("first fix",),
                storeys=("L0",),
                late=(),
            ),
            SetDayRow(
                key="sitting",
                name="First sitting *again*",
                date=day(30),
                rule="done by",
                phases=("second fix",),
                storeys=(),
                late=(
                    LateRow(
                        activity="second fix L0",
                        name="Second fix, ground floor",
                        finish=day(1, 4),
                        days=2,
                    ),
                ),
            ),
        ),
        assumptions=("A1",),
    )


def _by_day(*hours: tuple[int, str]) -> tuple[Decimal, ...]:
    """Return hours of the 17 days from 16 March to 1 April: zero but on the days named, counted from 0."""
    given = dict(hours)
    return tuple(Decimal(given.get(n, "0")) for n in range(17))


def sample_crew_loads() -> tuple[CrewLoadRow, ...]:
    loads = (
        ("Design engineer", 2, _by_day((0, "12.17"), (1, "12.17"), (2, "12.16"))),
        ("Cable installer", 3, _by_day((7, "20.00"), (8, "20.00"), (16, "5.25"))),
        # More than one can do in a day of eight hours, and only one can come.
        ("Installer", 1, _by_day((16, "12.00"))),
    )
    return tuple(
        CrewLoadRow(
            trade=trade,
            crew=crew,
            hours=hours,
            people=tuple((one / 8).quantize(Decimal("0.01")) for one in hours),
        )
        for trade, crew, hours in loads
    )
