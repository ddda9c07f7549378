"""A subject of which nothing is written is not said to be free of errors."""

from pathlib import Path

from proposal.model.requirements.answers import CheckAnswer
from proposal.review.requirements.reviewed_subjects import answered_by_check
from tests.whole_projects import whole_computed

TESTS = Path(__file__).resolve().parents[2]
CHARGING = CheckAnswer.model_validate({"check": "charging"})


def test_charging_is_not_reviewed_where_no_room_says_when_it_meets() -> None:
    computed = whole_computed(TESTS / "projects" / "minimal")
    assert not computed.design.days
    answered = answered_by_check(CHARGING, computed)
    assert answered.verdict == "open"
    assert "sessions" in answered.nothing


def test_charging_is_reviewed_where_one_does() -> None:
    answered = answered_by_check(CHARGING, whole_computed(TESTS.parent / "example_project"))
    assert (answered.verdict, answered.nothing) == ("met", "")
