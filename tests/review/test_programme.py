"""Work that is over after a day that others set becomes a finding, and only then is the programme planned."""

import datetime
import re
from pathlib import Path

import pytest

from proposal.errors import Place
from proposal.model.loading import load_project
from proposal.pipeline import Computed, compute
from proposal.review.finding import Finding
from tests.review.editing import edited, line_of

LATE = (
    "\nprogramme:\n"
    "  dates:\n"
    "    opening: {{name: The opening, date: {date}, phases: [commissioning], rule: {rule}}}\n"
)


def computed_with(folder: Path, date: str, rule: str = "done by", more: str = "") -> Computed:
    """Return the meeting room of one storey with a day that others set; it is commissioned on 28 May 2031."""
    text = LATE.format(date=date, rule=rule) + more
    return compute(load_project(edited(folder, "minimal", {"project.yaml": [("*end*", text)]})))


def late_of(computed: Computed) -> list[Finding]:
    return [one for one in computed.findings if one.rule == "done-too-late"]


def test_late_work_is_a_warning_that_names_activity_day_and_place(tmp_path: Path) -> None:
    """From Friday 23 May to Wednesday 28 May 2031, a day before acceptance, are three working days."""
    computed = computed_with(tmp_path / "p", "2031-05-23")
    (found,) = late_of(computed)
    assert (found.severity, found.where) == ("warning", "commissioning L0")
    assert found.place == Place("project.yaml", line_of(tmp_path / "p", "project.yaml", "opening:"), 40)
    assert found.message.startswith("Commissioning, ")
    assert found.message.endswith("is over on 28 May 2031, 3 working days after The opening on 23 May 2031.")
    assert (found.value, found.limit, found.unit) == (3.0, 0.0, "working days")
    assert found.remedy.startswith("Agree with others on 28 May 2031 or later for The opening; or place ")


def test_what_is_said_of_late_work_brings_it_to_its_end_in_time(tmp_path: Path) -> None:
    """The later day, the earlier order and the larger crew, each carried out; less is not enough."""
    found = late_of(computed_with(tmp_path / "p", "2031-05-27"))[0]
    order = re.search(r"place the order by (\d+ \w+ \d{4}), 1 day earlier", found.remedy)
    crew = re.search(r"have (\d+) people of the trade ([\w ]+) at once instead", found.remedy)
    assert order
    assert crew
    day = datetime.datetime.strptime(order[1], "%d %B %Y").date()

    def late_with(name: str, more: str, date: str = "2031-05-27") -> bool:
        return bool(late_of(computed_with(tmp_path / name, date, more=more)))

    assert not late_with("day", "", "2031-05-28")
    assert not late_with("order", f"  order: {day}\n")
    assert late_with("later", f"  order: {day + datetime.timedelta(days=1)}\n")
    assert not late_with("crew", f"labour:\n  crews: {{{crew[2]}: {crew[1]}}}\n")
    assert late_with("fewer", f"labour:\n  crews: {{{crew[2]}: {int(crew[1]) - 1}}}\n")


@pytest.mark.parametrize(
    ("date", "rule"),
    [("2031-05-29", "done by"), ("2031-06-30", "done by"), ("2031-05-01", "begin not before")],
)
def test_work_in_time_is_none(tmp_path: Path, date: str, rule: str) -> None:
    assert late_of(computed_with(tmp_path / "p", date, rule)) == []


def test_late_work_can_be_accepted(tmp_path: Path) -> None:
    accepted = (
        "\naccepted_findings:\n"
        "  opening: {rule: done-too-late, where: commissioning L0, reason: The opening moves,"
        " accepted_by: A. Clerk, date: 2031-03-01}\n"
    )
    computed = computed_with(tmp_path / "p", "2031-05-23", more=accepted)
    (found,) = late_of(computed)
    assert found.accepted is not None
    assert not any(one.rule == "nothing-to-accept" for one in computed.findings)


def test_the_programme_is_planned_for_findings_only_where_days_are_to_be_kept(tmp_path: Path) -> None:
    kept = computed_with(tmp_path / "kept", "2031-05-23")
    other = computed_with(tmp_path / "other", "2031-05-01", "begin not before")
    assert kept.findings is not None
    assert other.findings is not None
    assert "programme" in kept.__dict__
    assert "programme" not in other.__dict__
