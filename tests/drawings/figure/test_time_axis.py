"""The time axis of charts: whole weeks, days off, and ids of what stands on it."""

import datetime
import re

from proposal.drawings.figure import id_part, time_axis


def test_weekends_and_holidays_are_off_and_closures_are_not() -> None:
    axis = time_axis.time_axis(datetime.date(2026, 3, 16), datetime.date(2026, 4, 1), 0.0, 210.0)
    assert (axis.first, axis.last) == (datetime.date(2026, 3, 16), datetime.date(2026, 4, 5))
    charter = datetime.date(2026, 3, 25)
    off = time_axis.days_off(axis, (5, 6), [(charter, charter)])
    assert [day.isoformat() for day in off] == [
        *("2026-03-21", "2026-03-22", "2026-03-25", "2026-03-28", "2026-03-29", "2026-04-04", "2026-04-05")
    ]
    assert list(time_axis.runs(off)) == [
        (datetime.date(2026, 3, 21), datetime.date(2026, 3, 22)),
        (charter, charter),
        (datetime.date(2026, 3, 28), datetime.date(2026, 3, 29)),
        (datetime.date(2026, 4, 4), datetime.date(2026, 4, 5)),
    ]


def test_different_keys_have_different_marks() -> None:
    keys = ["first fix L1", "first fixL1", "first.fix L1", "first_fix_L1", "first.20.fix L1", "ä"]
    found = [id_part(key) for key in keys]
    assert len(set(found)) == len(keys)
    assert all(re.fullmatch(r"[A-Za-z0-9.]+", one) for one in found)
