"""`proposal verify`: what is not as issued, its repair, and the digest on the cover."""

import shutil
from pathlib import Path

import pytest

from tests.calls import Call
from tests.commands.issued_records import digest_of_record

GOOD, REFUSED, WRONG = 0, 1, 2
REPAIR = "published/ and issued/latest/ are made again from the records by --repair\n"
CAUTION = "accidents are found, not forgery: who can write to the project can write its digests anew\n"


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
        f"changed: published/client/A/index.html\n{REPAIR}1 issued revision, 1 file not as issued\n{CAUTION}",
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


def test_verify_of_a_revision_that_is_not_there_is_wrong(call: Call, project: Path) -> None:
    call("issue", project)
    status, out, err = call("verify", project, "B")
    assert (status, out) == (WRONG, "")
    assert err.startswith("issued: wanted")
    assert "found B" in err


def test_verify_says_what_to_do_about_what_it_finds(call: Call, project: Path) -> None:
    call("issue", project)
    for lost in ("issued/A/record.zip", "published/client/A/index.html"):
        (project / lost).unlink()
    (project / "issued/notes.txt").write_text("ours", "utf-8")
    assert call("verify", project).out.splitlines()[:6] == [
        "lost: issued/A/record.zip",
        "added: issued/notes.txt",
        "lost: published/client/A/index.html",
        "a record is never written again: take it from git, or from a copy of the project",
        REPAIR.strip(),
        "what was added nothing issued: move it elsewhere",
    ]
    told = call("verify", project, "--expect", "a" * 64)
    assert told.err == "issued/A/record.zip: wanted the archive of an issued record; found none\n"


def test_a_record_whose_folder_was_renamed_is_told_by_its_own_name(call: Call, project: Path) -> None:
    call("issue", project)
    (project / "issued/A").rename(project / "issued/Z")
    told = call("verify", project).out.splitlines()
    assert "changed: issued/Z/ (wanted the folder A, as it was issued; found Z)" in told
    assert "lost: issued/A/" in told


def test_a_list_of_what_is_published_that_was_altered_is_told_alone(call: Call, project: Path) -> None:
    call("issue", project)
    (project / "published/published.json").write_text("{}", "utf-8")
    assert call("verify", project).out.splitlines()[:3] == [
        "changed: published/published.json",
        REPAIR.strip(),
        "1 issued revision, 1 file not as issued",
    ]
    assert call("verify", project, "--repair").status == GOOD
