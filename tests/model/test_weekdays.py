"""Days of the week in a short form."""

import pytest
from pydantic import ValidationError

from proposal.model.programme import Programme
from proposal.model.weekdays import WEEKDAYS


@pytest.mark.parametrize(
    ("written", "days"),
    [
        ("Sat", ("Saturday",)),
        ("saturday, Sun", ("Saturday", "Sunday")),
        ("Mon-Fri", WEEKDAYS[:5]),
        ("Monday to Wednesday", WEEKDAYS[:3]),
        ("Fri-Mon", ("Monday", "Friday", "Saturday", "Sunday")),
        (["Tuesday", "Thu"], ("Tuesday", "Thursday")),
    ],
)
def test_days_are_read_in_a_short_form(written: object, days: tuple[str, ...]) -> None:
    assert Programme.model_validate({"site_days": written}).days_on_site == days


def test_days_on_site_are_the_working_days_where_nobody_says_otherwise() -> None:
    assert Programme.model_validate({"working_days": "Mon-Thu"}).days_on_site == WEEKDAYS[:4]


@pytest.mark.parametrize("written", ["S", "Sa", "Funday", "Mon-", "T-F", ["Mon-Fri", "x"], ""])
def test_what_is_no_day_is_refused(written: object) -> None:
    with pytest.raises(ValidationError) as raised:
        Programme.model_validate({"site_days": written})
    assert "wanted days of the week, such as `Mon-Fri`" in str(raised.value)
