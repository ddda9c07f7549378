"""`proposal compare`: revisions, folders and commits; totals, rows and their causes; wrong names."""

import json
import shutil
import subprocess
from pathlib import Path

import pytest

from proposal.differences import applied
from proposal.differences.difference_json import difference_of
from proposal.document.document import Document
from proposal.document.kept_document import stored
from proposal.document.making.document import document_of
from proposal.model.folder_files import read_folder
from proposal.model.issued import LAYOUT
from proposal.model.loading import load_project
from proposal.pipeline import compute
from proposal.publish.compared_states import present_library
from proposal.publish.record_file import packed, unpacked
from tests.calls import Call, caller

MINIMAL = Path(__file__).parent.parent / "projects" / "minimal"
WHO = ("-c", "user.name=A", "-c", "user.email=a@example.invalid", "-c", "commit.gpgsign=false")
TYPE = "room_types/meeting.yaml"


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Call:
    """Run a command as the shell would and return how it ended."""
    return caller(monkeypatch, capsys)


@pytest.fixture
def job(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A project folder in a repository of git, its first state tagged `first`."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("GIT_CEILING_DIRECTORIES", str(tmp_path.parent))
    folder = tmp_path / "job"
    shutil.copytree(MINIMAL, folder)
    for command in (("init", "-q", "-b", "trunk"), ("add", "-A"), ("commit", "-qm", "one"), ("tag", "first")):
        subprocess.run(["git", *WHO, *command], cwd=tmp_path, check=True, capture_output=True)
    return folder


def document(folder: Path) -> Document:
    return document_of(compute(load_project(folder)))


def issued(folder: Path, revision: str, sequence: int, kept_document: bytes | None = None) -> None:
    """Keep a record of a project as it stands, as far as a comparison reads it.

    kept_document: what stands in the place of its document; nothing where it is empty.
    """
    record = folder / "issued" / revision
    there = read_folder(folder, []) or {}
    library = {f"library/{path}": content for path, content in present_library(None).items()}
    inputs = {f"inputs/{path}": content for path, content in there.items()}
    base = stored(document(folder)) if kept_document is None else kept_document
    files = {**inputs, **library, **({"document.json": base} if base else {}), "proposal.json": b"{}\n"}
    order = {"layout": LAYOUT, "date": f"2031-01-{sequence:02}", "parents": {}}
    kept = {
        "manifest.json": json.dumps(order).encode(),
        "register.json": b"{}\n",
        "record.zip": packed(files),
    }
    for path, content in kept.items():
        (record / path).parent.mkdir(parents=True, exist_ok=True)
        (record / path).write_bytes(content)


def edited(folder: Path, file: str, old: str, new: str) -> None:
    text = (folder / file).read_text("utf-8")
    assert old in text
    (folder / file).write_text(text.replace(old, new, 1), "utf-8")


def second_room(folder: Path) -> None:
    """Add a room to the schedule."""
    with (folder / "rooms.csv").open("a", encoding="utf-8") as schedule:
        schedule.write("B002,Second Room,meeting,L0,12 m,1 m\n")


def test_equal_states_differ_in_nothing(run: Call, job: Path) -> None:
    ended = run("compare", job, "first")
    assert (ended.status, ended.err) == (0, "")
    assert "no total changed" in ended.out
    assert "Nothing differs." in ended.out


def test_a_room_more_is_told_in_totals_rows_and_causes(run: Call, job: Path) -> None:
    second_room(job)
    ended = run("compare", job, "first", ".")
    assert ended.status == 0
    lines = ended.out.splitlines()
    assert "Rooms: rooms" in ended.out
    assert "+ room B002 (Second Room) (from 1)" in [line.strip() for line in lines]
    assert "1. rooms.csv:3 rooms.B002 (added)" in [line.strip() for line in lines]
    subjects = [line for line in lines if line and not line.startswith(" ")]
    assert subjects[:3] == [lines[0], "Consequences", "What changed in the inputs"]
    assert "Rooms" in subjects
    assert subjects.index("Rooms") < subjects.index("Equipment") < subjects.index("Cables")


def test_work_tree_and_index_of_the_repository_stay(run: Call, job: Path) -> None:
    second_room(job)
    status = ["git", "status", "--porcelain", "--untracked-files=all"]
    before = subprocess.run(status, cwd=job, capture_output=True, check=True).stdout
    assert run("compare", job, "git:first", "git:trunk").status == 0
    assert subprocess.run(status, cwd=job, capture_output=True, check=True).stdout == before


def test_two_issued_revisions_are_compared_from_their_records_alone(
    run: Call, job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    issued(job, "A", 1)
    second_room(job)
    issued(job, "B", 2)
    for folder in ("room_types", "rooms.csv"):
        path = job / folder
        shutil.rmtree(path) if path.is_dir() else path.unlink()
    monkeypatch.setattr("proposal.pipeline.compute", None)
    ended = run("compare", job, "A", "B")
    assert ended.status == 0, ended.err
    assert ended.out.startswith("revision A (3 March 2031) and revision B (3 March 2031)")
    assert "+ room B002 (Second Room) (from 1)" in ended.out


def test_an_issued_revision_and_the_present_differ_in_nothing_where_nothing_changed(
    run: Call, job: Path
) -> None:
    issued(job, "A", 1)
    ended = run("compare", job, "A")
    assert "Nothing differs." in ended.out
    assert "other data" not in ended.out


def test_other_data_beside_the_project_is_told(run: Call, job: Path) -> None:
    issued(job, "A", 1)
    record = job / "issued" / "A" / "record.zip"
    held = unpacked(record.read_bytes(), "")
    kept = next(path for path in held if path.startswith("library/shared/equipment/"))
    record.write_bytes(packed({**held, kept: held[kept] + b"# once otherwise\n"}))
    said = f"other data beside the project: {kept.removeprefix('library/')}"
    assert said in run("compare", job, "A").out


def test_another_folder_is_named_by_its_path(run: Call, job: Path) -> None:
    shutil.copytree(job, job.parent / "other", ignore=shutil.ignore_patterns("issued"))
    second_room(job.parent / "other")
    ended = run("compare", job, ".", "other")
    assert "folder other (3 March 2031)" in ended.out
    assert "+ room B002" in ended.out
    assert run("compare", job, "folder:other", "folder:job").status == 0


def test_json_holds_the_whole_difference(run: Call, job: Path) -> None:
    before = document(job)
    second_room(job)
    ended = run("compare", job, "first", "--format", "json", "--edition", "estimator")
    told = json.loads(ended.out)
    assert applied(before, difference_of(told["difference"])) == document(job)
    assert told["reader"] == "estimator"
    assert told["inputs"] == [{"path": ["rooms", "B002"], "file": "rooms.csv", "line": 3, "kind": "added"}]
    room = next(one for one in told["difference"]["additions"] if one["path"][0] == "rooms")
    assert room["follows_from"] == [0]
    total = {"group": "Rooms", "name": "rooms", "quantity": "count", "before": 1, "after": 2}
    assert total in told["consequences"]
    assert told["format"] == 2


def test_markdown_escapes_what_people_wrote(run: Call, job: Path) -> None:
    second_room(job)
    edited(job, "rooms.csv", "Second Room", "<b>Second</b> *Room* | x")
    ended = run("compare", job, "first", "--format", "markdown", "--output", "what.md")
    assert (ended.status, ended.out) == (0, "")
    text = Path("what.md").read_text("utf-8")
    assert text.startswith("# What changed between commit first")
    assert "<b>" not in text
    assert "\\<b\\>Second\\</b\\> \\*Room\\* \\| x" in text
    assert "| Rooms: rooms | 1 | 2 | +1 |" in text


def test_an_edition_holds_nothing_that_is_not_its_readers(run: Call, job: Path) -> None:
    edited(job, "project.yaml", "site: Example Hall", "site: Example Hall\ninternal_note: qzx-secret")
    second_room(job)
    for reader in ("client", "installer", "reviewer"):
        for kind in ("text", "json", "markdown"):
            ended = run("compare", job, "first", "--edition", reader, "--format", kind)
            assert ended.status == 0
            assert "qzx-secret" not in ended.out
            assert "internal_note" not in ended.out
            assert ("rooms.csv" in ended.out) == (reader == "reviewer")
            if reader != "client":
                assert "€" not in ended.out
    assert "qzx-secret" in run("compare", job, "first", "--edition", "estimator").out


@pytest.mark.parametrize(
    ("name", "said"),
    [
        (
            "Z",
            "Z: wanted an issued revision, `.`, a project folder, or a commit, tag or branch of git",
        ),
        ("revision:Z", "revision:Z: wanted an issued revision; found none of this name"),
        ("folder:Z", "folder:Z: wanted a project folder; found none of this name"),
        ("git:Z", "git:Z: wanted a commit, tag or branch of git; found none of this name"),
        ("--", "wanted"),
        ("../..", "project.yaml"),
    ],
)
def test_a_name_that_stands_for_nothing_is_refused(run: Call, job: Path, name: str, said: str) -> None:
    arguments = ("compare", job, "--", name) if name.startswith("-") else ("compare", job, name)
    ended = run(*arguments)
    assert ended.status == 2
    assert ended.out == ""
    assert said in ended.err or name == "--"


def test_a_name_that_stands_for_several_states_is_refused(run: Call, job: Path) -> None:
    issued(job, "B", 1)
    subprocess.run(["git", *WHO, "branch", "B"], cwd=job, check=True, capture_output=True)
    ended = run("compare", job, "B")
    assert ended.status == 2
    assert "B: wanted a name that stands for one state; found revision:B and git:B" in ended.err
    assert run("compare", job, "revision:B").status == 0
    assert run("compare", job, "git:B").status == 0


def test_what_is_wrong_in_a_commit_is_said_with_its_name(run: Call, job: Path) -> None:
    edited(job, TYPE, "name:", "nmae:")
    subprocess.run(["git", *WHO, "commit", "-qam", "two"], cwd=job, check=True, capture_output=True)
    ended = run("compare", job, "first", "HEAD")
    assert ended.status == 2
    assert f"HEAD:{TYPE}:" in ended.err


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b'{"schema_version": 99}', "wanted a document of schema_version 4; found 99"),
        (b"{", "issued/A/document.json"),
        (b'{"schema_version": 4, "cover": 3}', "wanted a document; found a fault at"),
        (None, "wanted the document of an issued revision; found none"),
    ],
)
def test_a_record_that_cannot_be_read_is_refused(
    run: Call, job: Path, content: bytes | None, said: str
) -> None:
    issued(job, "A", 1, content or b"")
    ended = run("compare", job, "A", "first")
    assert ended.status == 2
    assert said in ended.err
    assert "Traceback" not in ended.err
