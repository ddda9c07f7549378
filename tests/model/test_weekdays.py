"""Days of the week in a short form."""

import pytest
from pydantic import ValidationError

from proposal.model.programme import Programme
from proposal.model.states import State
from proposal.model.weekdays import WEEKDAYS, with_weekdays_alike


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


def test_which_of_the_month_is_written_beside_the_day() -> None:
    with pytest.raises(ValidationError) as raised:
        Programme.model_validate({"no_work": {"board": {"days": "second Monday"}}})
    assert "`days: Mon, weeks: second`; found second Monday" in str(raised.value)
    with pytest.raises(ValidationError) as raised:
        Programme.model_validate({"no_work": {"board": {"days": "Mon", "weeks": "fifth"}}})
    assert "wanted which of the month, `first` to `fourth` or `last`" in str(raised.value)


def test_rooms_that_are_joined_are_a_list_in_a_list() -> None:
    with pytest.raises(ValidationError) as raised:
        State.model_validate({"join": ["H1", "H2"]})
    assert "such as `[[A101, A102]]`; found H1" in str(raised.value)
    assert State.model_validate({"join": [["H1", "H2"]]}).join == (("H1", "H2"),)


@pytest.mark.parametrize("written", ["S", "Sa", "Funday", "Mon-", "T-F", ["Mon-Fri", "x"], ""])
def test_what_is_no_day_is_refused(written: object) -> None:
    with pytest.raises(ValidationError) as raised:
        Programme.model_validate({"site_days": written})
    assert "wanted days of the week, such as `Mon-Fri`" in str(raised.value)


@pytest.mark.parametrize(
    "text",
    ["Mon-Fri, 6:00", "Monday to Friday 6:00", "every Monday, Tuesday, Wednesday, Thursday and Friday, 6:00"],
)
def test_days_of_the_week_in_a_text_are_alike_however_they_are_written(text: str) -> None:
    assert with_weekdays_alike(text).split() == ["Monday/Tuesday/Wednesday/Thursday/Friday", "6:00"]


@pytest.mark.parametrize("text", ["monthly", "in the Sunroom", "near Sunset Hall", "Wednesbury"])
def test_what_is_no_day_of_the_week_stays(text: str) -> None:
    assert with_weekdays_alike(text) == text
