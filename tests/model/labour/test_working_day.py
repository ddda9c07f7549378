"""How long a day is in a room, by hours of the clock written for it, counted by hand."""

from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest

from proposal.model.labour.labour import Phase
from proposal.model.labour.labour_choices import LabourChoices
from proposal.model.labour.working_day import working_day

EVENING: dict[str, Any] = {"start": "18:00", "end": "23:30"}
NIGHT: dict[str, Any] = {"start": "22:00", "end": "2:00", "phases": ["first fix"]}
MORNING: dict[str, Any] = {"start": "6:00", "end": "8:00"}
WHOLE_DAY: dict[str, Any] = {"start": "7:00", "end": "17:00"}
SATURDAY: dict[str, Any] = {"start": "9:00", "end": "12:15", "weekdays": "Sat"}
FRIDAY: dict[str, Any] = {"start": "14:00", "end": "18:00", "weekdays": "Fri"}


@pytest.mark.pinned
@pytest.mark.parametrize(
    ("hours", "tag", "phase", "wanted"),
    [
        ({}, "B101", "first fix", 8),
        ({"day": WHOLE_DAY}, "B101", "first fix", 8),
        ({"evening": EVENING}, "B101", "first fix", Fraction(11, 2)),
        ({"evening": EVENING}, "B101", "workshop", 8),
        ({"evening": {**EVENING, "rooms": ["B102"]}}, "B101", "first fix", 8),
        ({"evening": {**EVENING, "rooms": ["B102"]}}, "B102", "first fix", Fraction(11, 2)),
        ({"night": NIGHT}, "B101", "first fix", 4),
        ({"night": NIGHT}, "B101", "second fix", 8),
        ({"night": NIGHT, "evening": EVENING}, "B101", "first fix", 4),
        ({"night": NIGHT, "evening": EVENING}, "B101", "second fix", Fraction(11, 2)),
        ({"evening": EVENING, "morning": MORNING}, "B101", "second fix", Fraction(15, 2)),
        ({"evening": EVENING, "late": {"start": "20:00", "end": "0:30"}}, "", "training", Fraction(13, 2)),
        ({"friday": FRIDAY, "saturday": SATURDAY}, "", "training", Fraction(13, 4)),
    ],
)
def test_a_day_is_as_long_as_the_hours_of_its_place_leave_it(
    hours: dict[str, Any], tag: str, phase: Phase, wanted: Fraction
) -> None:
    choices = LabourChoices.model_validate({"work_hours": hours})
    assert working_day(tag, phase, choices, Decimal(8)) == wanted
