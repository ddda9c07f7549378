"""Where two branches of git issued revisions of one name, or schedules conflict, it is told what to do."""

import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

from proposal.model.git_conflicts import conflict_in
from proposal.publish.issuing import IssueRequest, issue
from proposal.publish.record import records_of
from tests.calls import Call, caller
from tests.publish import interrupted
from tests.publish.interrupted import MINIMAL, altered, contents

GOOD, WRONG = 0, 2
WHO = ("-c", "user.name=A", "-c", "user.email=a@example.invalid", "-c", "commit.gpgsign=false")


def git(folder: Path, *arguments: str) -> "subprocess.CompletedProcess[bytes]":
    return subprocess.run(["git", *WHO, *arguments], cwd=folder, check=False, capture_output=True)


def issue_named(folder: Path, revision: str, purpose: str, name: str) -> None:
    """Issue and commit a revision after the room was given another name."""
    rooms = folder / "rooms.csv"
    rooms.write_text(rooms.read_text("utf-8").replace("Meeting Room", name), "utf-8")
    request = IssueRequest(named={"identity": revision, "purpose": purpose})
    issue(folder, request, lambda _: None, lambda *_: None)
    assert git(folder, "add", "-A", ".").returncode == 0
    assert git(folder, "commit", "-qm", revision).returncode == 0


@pytest.fixture(scope="module")
def merging(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A project in the middle of a merge: two branches both issued B after A."""
    folder = Path(shutil.copytree(MINIMAL, tmp_path_factory.mktemp("conflict") / "project"))
    (folder / ".gitignore").write_text("build/\n")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("GIT_CEILING_DIRECTORIES", str(folder.parent))
        interrupted.make_quick(patch)
        git(folder, "init", "-q", "-b", "trunk")
        issue_named(folder, "A", "for comment", "Meeting Room")
        git(folder, "checkout", "-qb", "other")
        issue_named(folder, "B", "for tender", "Garden Room")
        git(folder, "checkout", "-q", "trunk")
        shutil.rmtree(folder / "published")
        issue_named(folder, "B", "for approval", "Board Room")
        assert git(folder, "merge", "-q", "other").returncode == 1
        git(folder, "checkout", "-q", "--ours", "rooms.csv")
    return folder


@pytest.fixture
def project(merging: Path, tmp_path: Path) -> Iterator[Path]:
    with pytest.MonkeyPatch.context() as patch:
        interrupted.make_quick(patch)
        yield Path(shutil.copytree(merging, tmp_path / "project", symlinks=True))


@pytest.fixture
def call(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Call:
    return caller(monkeypatch, capsys)


def test_a_name_issued_on_two_branches_is_told_by_every_command_with_both_sides(
    call: Call, project: Path
) -> None:
    before = contents(project, "issued", "published")
    for arguments in (
        ("check", project),
        ("build", project),
        ("issue", project, "--revision", "C"),
        ("compare", project, "A", "."),
        ("compare", project, "A", "B"),
        ("export", project),
        ("verify", project),
        ("verify", project, "B"),
        ("verify", project, "--repair"),
        ("verify", project, "--expect", "a" * 64),
    ):
        status, _, err = call(*arguments)
        assert status == WRONG, arguments
        first = err.splitlines()[0]
        assert first.startswith("issued/B/manifest.json:"), (arguments, err)
        assert "two branches issued a revision B" in first
        assert "HEAD: 2031-03-03, for approval, digest " in first
        assert "other: 2031-03-03, for tender, digest " in first
        assert "git checkout --ours issued/B" in first
    assert contents(project, "issued", "published") == before


@pytest.mark.parametrize(
    ("side", "purpose", "other"), [("--ours", "for approval", "Garden"), ("--theirs", "for tender", "Board")]
)
def test_one_side_is_kept_and_the_other_issued_again(
    call: Call, project: Path, side: str, purpose: str, other: str
) -> None:
    """As the message says: one record whole, the schedules repaired, the other under a free name."""
    assert git(project, "checkout", side, "issued/B").returncode == 0
    git(project, "add", "issued/B")
    told = call("verify", project)
    assert told.status == WRONG
    assert {line.partition(":")[0] for line in told.err.splitlines()} >= {"issued/latest/rooms.csv"}
    assert all("proposal verify PROJECT --repair writes it again" in line for line in told.err.splitlines())
    assert call("verify", project, "--repair").status == GOOD
    assert altered(project) == []
    assert [one.manifest.purpose for one in records_of(project)] == ["for comment", purpose]
    rooms = (project / "rooms.csv").read_text("utf-8")
    (project / "rooms.csv").write_text(rooms.replace("Board Room", f"{other} Room"), "utf-8")
    assert call("issue", project, "--revision", "C").status == GOOD
    assert altered(project) == []
    git(project, "add", "-A", ".")
    assert git(project, "commit", "-qm", "merged").returncode == 0


def test_schedules_with_marks_of_a_conflict_are_told_and_repaired_from_the_last_record(
    call: Call, project: Path
) -> None:
    git(project, "checkout", "--ours", "issued/B")
    wrong = (project / "issued/latest/rooms.csv").read_text("utf-8")
    assert "<<<<<<< HEAD" in wrong
    assert call("check", project).status == GOOD  # it reads none of them
    ended = call("verify", project, "--repair")
    assert (ended.status, ended.err) == (GOOD, "")
    assert "issued/latest: written again from revision B" in ended.out
    assert "Board Room" in (project / "issued/latest/rooms.csv").read_text("utf-8")
    assert "<<<<<<<" not in "".join(path.read_text("utf-8") for path in (project / "issued/latest").iterdir())


@pytest.mark.parametrize("file", ["manifest.json", "register.json"])
@pytest.mark.parametrize(
    "text",
    [
        "<<<<<<< HEAD\n{}\n",
        "<<<<<<<\n{\n=======\n[1\n>>>>>>>\n",
        "<<<<<<< a\n||||||| b\n=======\n>>>>>>> c\n",
    ],
)
def test_half_a_conflict_is_told_too(call: Call, project: Path, file: str, text: str) -> None:
    git(project, "checkout", "--ours", "issued/B")
    shutil.rmtree(project / "issued/latest")
    (project / "issued/B" / file).write_text(text, "utf-8")
    for arguments in (("check", project), ("verify", project), ("verify", project, "--repair")):
        status, _, err = call(*arguments)
        assert status == WRONG, arguments
        assert err.startswith(f"issued/B/{file}:1:1: wanted one record; found a conflict of git"), err


def test_both_sides_are_read_with_what_is_common_and_without_what_was_before() -> None:
    text = "{\n<<<<<<< HEAD\nours\n||||||| base\nwas\n=======\ntheirs\nmore\n>>>>>>> other\n}"
    found = conflict_in(text)
    assert found is not None
    assert found.line == 2
    assert found.sides == (("HEAD", "{\nours\n}"), ("other", "{\ntheirs\nmore\n}"))
    assert conflict_in("a\n======= \n") is None
