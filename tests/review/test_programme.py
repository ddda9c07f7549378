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


def delivered_in(folder: Path, days: int) -> Computed:
    """Return four rooms on two storeys, the switch so many days on its way, tested by 10 September."""
    text = LATE.format(date="2031-09-10", rule="done by")
    library = f"switches: {{BN-SW24-250: {{lead_time_days: {days}}}}}\n"
    edits = {"project.yaml": [("*end*", text)], "library/late.yaml": library}
    return compute(load_project(edited(folder, "us_customary", edits)))


def test_what_is_delivered_too_late_is_named_with_what_waits_for_it(tmp_path: Path) -> None:
    """In racks of one storey, it holds up no second fix on the other; a day sooner or later tells."""
    late = delivered_in(tmp_path / "late", 120)
    (found,) = (one for one in late.findings if one.rule == "delivered-too-late")
    assert (found.where, found.place.file) == ("BN-SW24-250", "library/late.yaml")
    starts = {task.key: task.start for task in late.programme.tasks}
    assert f"Workshop waits for it and begins {found.value:.0f} working days too late" in found.message
    in_time = datetime.datetime.strptime(
        " ".join(found.remedy.split("by ")[1].split(",")[:2]), "%B %d %Y"
    ).date()
    arrives = starts["workshop"] - datetime.timedelta(days=1)
    (apart,) = (key for key in starts if key.startswith("second fix ") and starts[key] < starts["workshop"])
    assert apart in {"second fix 1", "second fix 2"}
    days = 120 - (arrives - in_time).days
    kept, missed = (delivered_in(tmp_path / f"{more}", days + more) for more in (0, 1))
    assert not kept.programme.late
    assert missed.programme.late
    assert [one.where for one in missed.findings if one.rule == "delivered-too-late"] == ["BN-SW24-250"]
