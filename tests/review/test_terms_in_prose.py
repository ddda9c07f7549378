"""What the author writes of payment, validity, warranty and retention is what project.yaml has."""

import pytest

from proposal.review.terms_in_prose import terms_said_otherwise
from tests.review.editing import PROJECTS
from tests.whole_projects import whole_computed

SAME = {
    "terms": "Each invoice is paid within 30 days.\n\nOur offer holds for ninety days.",
    "warranty": "We warrant the system for two years from acceptance; a fault is answered in 2 days.",
    "retention": "Of each payment 5 % is kept back.",
}
OTHERWISE = {
    "Intro.\n\nEach invoice is paid\nwithin 14 days.": ("“14 days”", "30 days", 4),
    "Payments are due in twenty-one days.": ("“twenty-one days”", "30 days", 1),
    "Our offer holds for 60 days.": ("“60 days”", "90 days", 1),
    "The warranty lasts three years.": ("“three years”", "24 months", 1),
    "The warranty is for 18 months.": ("“18 months”", "24 months", 1),
    "The retention is 10 percent.": ("“10 percent”", "5 %", 1),
}


def found_in(wording: dict[str, str]) -> list[tuple[str, int]]:
    made = whole_computed(PROJECTS / "municipal")
    project = made.project.model_copy(update={"wording": wording})
    return [(one.message, one.place.line) for one in terms_said_otherwise(project, made.design)]


def test_what_is_the_same_in_both_places_is_no_finding() -> None:
    assert found_in(SAME) == []


@pytest.mark.parametrize(("prose", "told"), OTHERWISE.items())
def test_a_figure_that_project_yaml_has_otherwise_is_told_at_its_line(
    prose: str, told: tuple[str, str, int]
) -> None:
    said, held, line = told
    ((message, at),) = found_in({"terms": prose})
    assert said in message
    assert held in message
    assert at == line


def test_days_that_are_of_something_else_are_no_term() -> None:
    assert found_in({"scope": "Training takes 3 days. Deliveries come 14 days before first fix."}) == []
