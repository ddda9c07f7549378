"""Days, weeks and phases on site, counted by hand on a calendar."""

import datetime

import pytest

from proposal.estimate.programme.time_on_site import NO_TIME, TimeOnSite
from proposal.estimate.programme.work_calendar import WorkCalendar
from proposal.quantities.general_conditions import TimeCount


def day(text: str) -> int:
    return datetime.date.fromisoformat(text).toordinal()


# 2031-03-03 is a Monday; the site is closed on Wednesday the 12th.
SITE = WorkCalendar(frozenset(range(5)), ((day("2031-03-12"), day("2031-03-12")),))
TIME = TimeOnSite(
    {
        # Monday to Friday of the first week; another storey from Thursday to Tuesday.
        "first fix": ((day("2031-03-03"), day("2031-03-07")), (day("2031-03-06"), day("2031-03-11"))),
        # Thursday the 13th to Tuesday the 18th.
        "second fix": ((day("2031-03-13"), day("2031-03-18")),),
    },
    SITE,
)


@pytest.mark.pinned
@pytest.mark.parametrize(
    ("by", "phases", "count"),
    [
        # 3, 4, 5, 6, 7, 10 and 11 March, each once; 13, 14, 17 and 18 March.
        ("day on site", ("first fix",), 7),
        ("day on site", ("second fix",), 4),
        ("day on site", (), 11),
        # Nine calendar days are two weeks begun, six are one, sixteen are three.
        ("week on site", ("first fix",), 2),
        ("week on site", ("second fix",), 1),
        ("week on site", (), 3),
        ("phase on site", (), 2),
        ("phase on site", ("second fix", "training"), 1),
        ("day on site", ("training",), 0),
        ("week on site", ("training",), 0),
    ],
)
def test_time_is_counted(by: TimeCount, phases: tuple, count: int) -> None:  # type: ignore[type-arg]
    assert TIME.count(by, phases) == count


def test_a_whole_week_is_one_and_a_day_more_is_two() -> None:
    seven = TimeOnSite({"network": ((day("2031-03-03"), day("2031-03-09")),)}, SITE)
    eight = TimeOnSite({"network": ((day("2031-03-03"), day("2031-03-10")),)}, SITE)
    assert (seven.count("week on site"), eight.count("week on site")) == (1, 2)


def test_nobody_on_site_is_no_time() -> None:
    assert [NO_TIME.count(by) for by in ("day on site", "week on site", "phase on site")] == [0, 0, 0]
