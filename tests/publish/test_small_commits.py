"""A commit that issues a revision after a change of one line is looked through in minutes.

Under 40 files and 500 lines, whatever the change, and whatever moves with it: most prices do, as what is
spread over all lines moves with each of them.
"""

import re
import shutil
import subprocess
from pathlib import Path

import pytest

from tests.long_form import LONG
from tests.publish import interrupted
from tests.shared_builds import made_once

EXAMPLE = Path(__file__).resolve().parents[2] / "example_project"
WHO = ("-c", "user.name=A", "-c", "user.email=a@example.invalid", "-c", "commit.gpgsign=false")
MOST_FILES, MOST_LINES = 40, 500
ROOM = "A206,Meeting Room 6,meeting_room,L2,36.4,20.6,180,no\n"
CHANGES = {
    "a spare microphone more": (
        "room_types/committee_room.yaml",
        "spare_microphones: {gooseneck: 1}",
        "spare_microphones: {gooseneck: 2}",
        {"devices": "A101-MS2", "takeoff": "A101"},
    ),
    "a markup": (
        "project.yaml",
        "materials: {markup: 40 %}",
        "materials: {markup: 42 %}",
        {"price-lines": "0.42", "offer": "A101"},
    ),
    "a committee room more": (
        "rooms.csv",
        ROOM,
        f"{ROOM}A103,Committee Room 3,committee_room,L1,30.0,3.4,0,no\n",
        {"rooms": "Committee Room 3", "cables": "A103-AP1/N1/", "labour": "A103", "offer": "A103"},
    ),
}


@pytest.fixture(autouse=True)
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    interrupted.make_quick(monkeypatch)


def git(folder: Path, *arguments: str) -> str:
    return subprocess.run(
        ["git", *WHO, *arguments], cwd=folder, check=True, capture_output=True
    ).stdout.decode()


def issued_once(folder: Path) -> None:
    """Fill a folder with the example in git, its revision B issued; without alternates, which take long."""
    project = folder / "project"
    shutil.copytree(EXAMPLE, project, ignore=shutil.ignore_patterns("alternates", "build", "published"))
    brief = project / "project.yaml"
    text = re.sub(r"^accepted_alternates:.*\n", "", brief.read_text("utf-8"), flags=re.MULTILINE)
    brief.write_text(text, "utf-8")
    (project / ".gitignore").write_text("build/\n", "utf-8")
    interrupted.issue_revision(project, "B")
    git(project, "init", "-q")
    git(project, "add", "-A")
    git(project, "commit", "-qm", "Issue revision B")


@pytest.mark.parametrize("name", CHANGES if LONG else ["a markup", "a committee room more"])
def test_the_commit_that_issues_a_change_of_one_line_is_small(
    name: str, tmp_path: Path, tmp_path_factory: pytest.TempPathFactory
) -> None:
    once = made_once(tmp_path_factory, "small-commits", issued_once)
    project = Path(shutil.copytree(once / "project", tmp_path / "project"))
    file, before, after, shown = CHANGES[name]
    text = (project / file).read_text("utf-8")
    assert text.count(before) == 1
    (project / file).write_text(text.replace(before, after), "utf-8")
    git(project, "commit", "-qam", name)
    interrupted.issue_revision(project, "C")
    git(project, "add", "-A")
    stat = [line.split("\t") for line in git(project, "diff", "--cached", "--numstat").splitlines()]
    assert [path for *_, path in stat if not path.startswith("issued/")] == []
    lines = sum(int(count) for *counts, _ in stat for count in counts if count != "-")
    assert len(stat) < MOST_FILES
    # A room more brings rows of its own, which are no change of what was there.
    changed = git(project, "diff", "--cached", "-U0").splitlines()
    assert lines - sum(line.startswith("+") and "A103" in line for line in changed) < MOST_LINES
    # Small, and still it shows what changed.
    for schedule, text in shown.items():
        changed = git(project, "diff", "--cached", "-U0", "--", f"issued/latest/{schedule}.csv")
        assert any(text in line for line in changed.splitlines() if line.startswith("+")), schedule
