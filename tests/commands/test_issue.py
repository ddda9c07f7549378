"""`proposal issue`: what is issued, what is refused, and what it prints."""

import io
import zipfile
from pathlib import Path

import pytest

from tests.calls import Call
from tests.commands.issued_records import digest_of_record
from tests.publish.interrupted import MINIMAL, contents

GOOD, REFUSED, WRONG = 0, 1, 2


def test_a_revision_is_issued_as_project_yaml_says_or_as_the_call_does(call: Call, project: Path) -> None:
    status, out, err = call("issue", project)
    assert (status, err) == (GOOD, "")
    warned, asked, *rest = out.splitlines()
    assert warned.startswith("project.yaml: warning: client-can-compute: price: ")
    assert asked.startswith("project.yaml:1:7: note: not-stated: project.programme.holidays: ")
    assert rest == [
        "0 errors, 1 warning, 1 note, 0 accepted",
        f"Revision A is issued: {project}/issued/A",
        f"Digest of the record: {digest_of_record(project, 'A')}",
        f"Open {project}/published/index.html",
    ]
    status, out, _ = call("issue", project, "--revision", "B", "--purpose", "for approval")
    assert status == GOOD
    assert f"Revision B is issued: {project}/issued/B\n" in out
    page = (project / "published/client/revisions.html").read_text("utf-8")
    assert "Revision B, 3 March 2031, for approval</a> (latest)" in page
    assert "Revision A, 3 March 2031, for comment</a> (superseded)" in page


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
    dearer = project / "alternates" / "dearer.yaml"
    dearer.parent.mkdir()
    allowance = "changes: {project: {price: {allowances: {signs: {name: Signs, price: 9.00 EUR}}}}}"
    dearer.write_text(f"name: Signs\ndescription: Signs.\ndeductive: true\n{allowance}\n", "utf-8")
    status, out, err = call("issue", project)
    assert status == REFUSED
    assert ": error: " in out
    assert "alternates/dearer.yaml: note: “Signs” is not offered to the client. It is meant to lower" in out
    dearer.unlink()
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
