"""`issue` and `verify` as they are called: what they print and how they end."""

import hashlib
import io
import shutil
import zipfile
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


def digest_of_record(project: Path, revision: str) -> str:
    """Return the digest as anybody can make it: of a list of the record's files, each with its own."""
    record = project / "issued" / revision
    with zipfile.ZipFile(record / "record.zip") as packed:
        files = {name: packed.read(name) for name in packed.namelist() if not name.startswith("kept/")}
    files["register.json"] = (record / "register.json").read_bytes()
    listed = "".join(f"{hashlib.sha256(files[name]).hexdigest()}  {name}\n" for name in sorted(files))
    return hashlib.sha256(listed.encode()).hexdigest()


def test_a_revision_is_issued_as_project_yaml_says_or_as_the_call_does(call: Call, project: Path) -> None:
    status, out, err = call("issue", project)
    assert (status, err) == (GOOD, "")
    warned, *rest = out.splitlines()
    assert warned.startswith("project.yaml: warning: client-can-compute: price: ")
    assert rest == [
        "0 errors, 1 warning, 0 notes, 0 accepted",
        f"Revision A is issued: {project}/issued/A",
        f"Digest of the record: {digest_of_record(project, 'A')}",
        f"Open {project}/published/index.html",
    ]
    status, out, _ = call("issue", project, "--revision", "B", "--purpose", "for approval")
    assert status == GOOD
    assert f"Revision B is issued: {project}/issued/B\n" in out
    page = (project / "published/client/revisions.html").read_text("utf-8")
    assert "Revision B, 2031-03-03, for approval</a> (latest)" in page
    assert "Revision A, 2031-03-03, for comment</a> (superseded)" in page


def test_what_a_client_could_work_out_is_checked_where_the_price_is_asked_for(
    call: Call, project: Path
) -> None:
    assert call("check", project) == (GOOD, "0 errors, 0 warnings, 0 notes, 0 accepted\n", "")
    status, out, _ = call("check", project, "--price")
    warned, counts = out.splitlines()
    assert status == GOOD
    assert warned.startswith("project.yaml: warning: client-can-compute: price: ")
    assert counts == "0 errors, 1 warning, 0 notes, 0 accepted"


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
    (project / "issued/A/record.zip").write_text("tag\n", "utf-8")
    status, out, _ = call("verify", project, "A", "--repair")
    assert status == REFUSED
    assert out.splitlines()[0] == "changed: issued/A/record.zip"


def test_verify_of_a_clone_without_published_is_good(call: Call, project: Path) -> None:
    call("issue", project)
    shutil.rmtree(project / "published")
    assert call("verify", project) == (
        GOOD,
        "published/ is not here; --repair makes it from the records\n"
        f"1 issued revision, 0 files not as issued\n{CAUTION}",
        "",
    )


def test_a_record_is_held_against_the_digest_of_its_cover(call: Call, project: Path) -> None:
    call("issue", project)
    call("issue", project, "--revision", "B")
    first, last = (digest_of_record(project, name) for name in "AB")
    assert first != last
    spaced = " ".join(last[at : at + 8] for at in range(0, 32, 8)).upper()
    for arguments in (("--expect", last), ("--expect", spaced), ("B", "--expect", last[:32])):
        status, out, err = call("verify", project, *arguments)
        assert (status, err) == (GOOD, "")
        assert out.splitlines()[-1].startswith(f"revision B: its record is the one of digest {last[:32]}")
        assert "accidents" not in out
    assert call("verify", project, "A", "--expect", first).status == GOOD
    status, out, _ = call("verify", project, "A", "--expect", last)
    assert status == REFUSED
    assert out.splitlines()[-1] == f"revision A: wanted a record of digest {last}; found {first}"


def test_a_record_that_was_forged_with_all_its_digests_is_told_by_the_cover_alone(
    call: Call, project: Path
) -> None:
    call("issue", project)
    honest = digest_of_record(project, "A")
    brief = project / "project.yaml"
    brief.write_text(brief.read_text("utf-8").replace("One meeting room", "Two meeting rooms"), "utf-8")
    for folder in ("issued", "published"):
        shutil.rmtree(project / folder)
    call("issue", project)
    assert call("verify", project).status == GOOD
    assert call("verify", project, "--expect", honest[:32]).status == REFUSED


@pytest.mark.parametrize("typed", ["", "abc", "x" * 64, "a" * 31, "a" * 65, "\u0661" * 64])
def test_what_is_no_digest_is_refused(call: Call, project: Path, typed: str) -> None:
    call("issue", project)
    status, out, err = call("verify", project, "--expect", typed)
    assert (status, out) == (WRONG, "")
    assert "wanted" in err


def test_nothing_issued_is_held_against_no_digest(call: Call, project: Path) -> None:
    status, out, err = call("verify", project, "--expect", "a" * 64)
    assert (status, out, err) == (WRONG, "", "issued: wanted an issued revision; found none\n")


def test_what_the_client_is_sent_is_kept_where_it_is_asked_for(call: Call, project: Path) -> None:
    call("issue", project)
    call("issue", project, "--revision", "B", "--keep")
    held = {}
    for revision in "AB":
        with zipfile.ZipFile(project / "issued" / revision / "record.zip") as packed:
            held[revision] = {name: packed.read(name) for name in packed.namelist() if "kept/" in name}
    assert held["A"] == {}
    assert list(held["B"]) == ["kept/client-B.zip"]
    with zipfile.ZipFile(io.BytesIO(held["B"]["kept/client-B.zip"])) as sent:
        files = {name: sent.read(name) for name in sent.namelist()}
    assert files == {
        path.removeprefix("published/client/B/"): content
        for path, content in contents(project, "published/client/B").items()
    }
    # It shows the digest of the record, and so cannot be part of it.
    assert call("verify", project, "B", "--expect", digest_of_record(project, "B")).status == GOOD


@pytest.mark.parametrize("damage", ["cut off", "led elsewhere", "a link", "a folder"])
def test_a_record_that_is_damaged_is_told_by_every_command_that_reads_it(
    call: Call, project: Path, damage: str
) -> None:
    call("issue", project)
    record = project / "issued" / "A" / "record.zip"
    content = record.read_bytes()
    record.unlink()
    if damage == "cut off":
        record.write_bytes(content[: len(content) // 2])
    elif damage == "led elsewhere":
        record.write_bytes(content.replace(b"inputs/rooms.csv", b"../../rooms.csv_"))
    elif damage == "a link":
        (project.parent / "kept.zip").write_bytes(content)
        record.symlink_to(project.parent / "kept.zip")
    else:
        record.mkdir()
    before = contents(project, "published")
    for arguments in (
        ("check", project, "--price"),
        ("issue", project, "--revision", "B"),
        ("compare", project, "A", "."),
        ("verify", project, "--expect", "a" * 64),
    ):
        status, _, err = call(*arguments)
        assert status == WRONG, arguments
        assert err.startswith("issued/A/record.zip: wanted "), arguments
    assert call("verify", project, "--repair").status in (REFUSED, WRONG)
    assert contents(project, "published") == before
    assert not (project / "issued" / "B").exists()


def test_verify_of_a_revision_that_is_not_there_is_wrong(call: Call, project: Path) -> None:
    call("issue", project)
    status, out, err = call("verify", project, "B")
    assert (status, out) == (WRONG, "")
    assert err.startswith("issued: wanted")
    assert "found B" in err
