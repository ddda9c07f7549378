"""`issue` and `verify` as they are called: what they print and how they end."""

import shutil
from pathlib import Path

import pytest

from tests.calls import Call, caller
from tests.publish import interrupted
from tests.publish.interrupted import MINIMAL, contents

GOOD, REFUSED, WRONG = 0, 1, 2
CAUTION = "accidents are found, not forgery: who can write to the project can write its digests anew\n"


@pytest.fixture
def call(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Call:
    interrupted.make_quick(monkeypatch)
    return caller(monkeypatch, capsys)


@pytest.fixture
def project(tmp_path: Path) -> Path:
    return Path(shutil.copytree(MINIMAL, tmp_path / "project"))


def test_a_revision_is_issued_as_project_yaml_says_or_as_the_call_does(call: Call, project: Path) -> None:
    status, out, err = call("issue", project)
    assert (status, err) == (GOOD, "")
    warned, *rest = out.splitlines()
    assert warned.startswith("project.yaml: warning: client-can-compute: price: ")
    assert rest == [
        "0 errors, 1 warning, 0 notes, 0 accepted",
        f"Revision A is issued: {project}/issued/A",
        f"Open {project}/published/index.html",
    ]
    status, out, _ = call("issue", project, "--revision", "B", "--purpose", "for approval")
    assert status == GOOD
    assert f"Revision B is issued: {project}/issued/B\n" in out
    page = (project / "published/client/revisions.html").read_text("utf-8")
    assert "Revision B, 2031-03-03, for approval</a> (latest)" in page
    assert "Revision A, 2031-03-03, for comment</a> (superseded)" in page


def test_what_is_issued_is_not_issued_again(call: Call, project: Path) -> None:
    call("issue", project)
    before = contents(project, "issued", "published")
    status, out, err = call("issue", project)
    assert (status, out) == (WRONG, "")
    (line,) = err.splitlines()
    assert line.endswith("wanted a revision that is not issued yet; found A, issued already")
    assert contents(project, "issued", "published") == before


def test_errors_are_printed_and_refused_unless_a_reason_is_given(call: Call, project: Path) -> None:
    building = project / "building.yaml"
    building.write_text(building.read_text("utf-8").replace("12.0 m", "200.0 m"), "utf-8")
    status, out, err = call("issue", project)
    assert status == REFUSED
    assert ": error: " in out
    assert err == (
        "not issued: errors stand that nobody accepted; accept them in project.yaml, or give a reason with "
        "--with-errors\n"
    )
    assert not (project / "issued").exists()
    status, out, err = call("issue", project, "--with-errors", " ")
    assert (status, out) == (WRONG, "")
    assert "wanted a text; found an empty one" in " ".join(err.split())
    status, out, err = call("issue", project, "--with-errors", "The client asked for it")
    assert (status, err) == (GOOD, "")
    assert (project / "issued" / "A").is_dir()


def test_wrong_input_issues_nothing(call: Call, project: Path) -> None:
    (project / "rooms.csv").write_text("tag\nB001\n", "utf-8")
    status, out, err = call("issue", project)
    assert (status, out) == (WRONG, "")
    assert err.startswith("rooms.csv:")
    assert sorted(path.name for path in project.iterdir()) == sorted(path.name for path in MINIMAL.iterdir())


def test_verify_says_what_is_not_as_issued_and_repairs_what_can_be(call: Call, project: Path) -> None:
    assert call("verify", project) == (
        GOOD,
        "no revision is issued yet\n0 issued revisions, 0 files not as issued\n",
        "",
    )
    call("issue", project)
    assert call("verify", project) == (GOOD, f"1 issued revision, 0 files not as issued\n{CAUTION}", "")
    page = project / "published/client/A/index.html"
    page.write_text("changed", "utf-8")
    assert call("verify", project) == (
        REFUSED,
        f"changed: published/client/A/index.html\n1 issued revision, 1 file not as issued\n{CAUTION}",
        "",
    )
    assert call("verify", project, "--repair") == (
        GOOD,
        f"revision A: published again from its record\n1 issued revision, 0 files not as issued\n{CAUTION}",
        "",
    )
    (project / "issued/A/inputs/rooms.csv").write_text("tag\n", "utf-8")
    status, out, _ = call("verify", project, "A", "--repair")
    assert status == REFUSED
    assert out.splitlines()[0] == "changed: issued/A/inputs/rooms.csv"


def test_verify_of_a_clone_without_published_is_good(call: Call, project: Path) -> None:
    call("issue", project)
    shutil.rmtree(project / "published")
    assert call("verify", project) == (
        GOOD,
        "published/ is not here; --repair makes it from the records\n"
        f"1 issued revision, 0 files not as issued\n{CAUTION}",
        "",
    )


def test_verify_of_a_revision_that_is_not_there_is_wrong(call: Call, project: Path) -> None:
    call("issue", project)
    status, out, err = call("verify", project, "B")
    assert (status, out) == (WRONG, "")
    assert err.startswith("issued: wanted")
    assert "found B" in err
