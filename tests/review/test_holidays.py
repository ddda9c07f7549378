"""Days that people set fall on days on which somebody works."""

from pathlib import Path

import pytest

from proposal.model.loading import load_project
from proposal.pipeline import compute
from tests.review.editing import edited, line_of

# By a printed calendar 2031-06-16 is a Monday and 2031-06-21 a Saturday.
HOLIDAY = "  holidays: {feast: {name: Feast Day, first: 2031-06-16}}\n"
CLOSED = "  closures: {sitting: {name: Last sitting, first: 2031-06-17, last: 2031-06-19}}\n"


def told(folder: Path) -> list[tuple[str, str, str]]:
    found = [one for one in compute(load_project(folder)).findings if one.rule == "day-off-work"]
    return [(one.severity, one.where, one.message) for one in found]


def of_programme(folder: Path, text: str) -> Path:
    return edited(folder, "minimal", {"project.yaml": [("*end*", f"programme:\n{text}")]})


@pytest.mark.parametrize(
    ("text", "messages"),
    [
        (
            f"{HOLIDAY}  order: 2031-06-16\n",
            [("order", "The order is set for 16 June 2031, which is Feast Day.")],
        ),
        (f"{HOLIDAY}  order: 2031-06-17\n", []),
        # The client's office may order while the site is closed.
        (f"{CLOSED}  order: 2031-06-17\n", []),
        (
            f"{CLOSED}  dates: {{open: {{name: Ceilings open, date: 2031-06-19, phases: [first fix]}}}}\n",
            [("open", "Ceilings open is set for 19 June 2031, which is Last sitting.")],
        ),
        (
            f"{CLOSED}  dates: {{open: {{name: Ceilings open, date: 2031-06-20, phases: [first fix]}}}}\n",
            [],
        ),
        # The second Monday of June 2031 is the 9th; the client's office may order then.
        (
            "  no_work: {council: {days: Mon, weeks: second}}\n  order: 2031-06-09\n"
            "  dates: {open: {name: Ceilings open, date: 2031-06-09, phases: [first fix]}}\n",
            [
                (
                    "open",
                    "Ceilings open is set for 9 June 2031, on which nobody may work on site "
                    "(programme.no_work).",
                )
            ],
        ),
        (
            "  no_work: {council: {days: Mon, weeks: second}}\n"
            "  dates: {open: {name: Ceilings open, date: 2031-06-16, phases: [first fix]}}\n",
            [],
        ),
        (
            "  order: 2031-06-21\n",
            [("order", "The order is set for 21 June 2031, a Saturday, on which nobody works.")],
        ),
    ],
)
def test_a_day_off_is_told(text: str, messages: list[tuple[str, str]], tmp_path: Path) -> None:
    assert told(of_programme(tmp_path / "p", text)) == [("warning", *one) for one in messages]


@pytest.mark.parametrize(
    ("text", "asked"),
    [("  order: 2031-06-16\n", True), ("  holidays: {}\n", False), (HOLIDAY, False)],
)
def test_holidays_that_nobody_stated_are_asked_for_and_not_assumed(
    text: str, asked: bool, tmp_path: Path
) -> None:
    project = load_project(of_programme(tmp_path / "p", text))
    found = [one for one in compute(project).findings if one.rule == "not-stated"]
    assert [(one.severity, one.where) for one in found] == [("note", "project.programme.holidays")] * asked
    assert [one.path[-1] for one in project.questions] == ["holidays"] * asked
    assert "holidays" not in {one.path[-1] for one in project.assumptions}


def test_the_line_of_the_day_is_named(tmp_path: Path) -> None:
    folder = of_programme(tmp_path / "p", f"{HOLIDAY}  order: 2031-06-16\n")
    (one,) = [one for one in compute(load_project(folder)).findings if one.rule == "day-off-work"]
    assert (one.place.file, one.place.line) == (
        "project.yaml",
        line_of(folder, "project.yaml", "order: 2031"),
    )
