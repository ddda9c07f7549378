"""Accidents to issued revisions are found, wherever they happen, and nothing else is taken for one.

At more moments of a run: `PROPOSAL_LONG_TESTS=10 python -m pytest tests/publish/test_verifying.py`.
"""

import json
import os
import shutil
import tempfile
from pathlib import Path
from typing import Any

import pytest

from proposal.errors import BuildError, InputError
from proposal.model.project import Revision
from proposal.publish import project_lock
from proposal.publish.manifest import digest_of
from proposal.publish.proposal_site import EDITION_TITLES
from proposal.publish.published_folder import PublishedRevision, surrounding_paths, surroundings
from proposal.publish.record import records_of
from proposal.publish.repairing import repair
from proposal.publish.revision_names import is_revision_name
from proposal.publish.verifying import verified
from tests.calls import Call, caller
from tests.long_form import cases
from tests.publish import interrupted, kills
from tests.publish.interrupted import MINIMAL, WATCH, altered

GOOD, ALTERED, WRONG = 0, 1, 2
MOMENTS = cases(3)
NOBODY = 65534


pytestmark = pytest.mark.usefixtures("quick")


@pytest.fixture(scope="module")
def issued_thrice(tmp_path_factory: pytest.TempPathFactory) -> Path:
    project = Path(shutil.copytree(MINIMAL, tmp_path_factory.mktemp("thrice") / "project"))
    with pytest.MonkeyPatch.context() as patch:
        interrupted.make_quick(patch)
        for revision in ("A", "B", "C"):
            interrupted.issue_revision(project, revision)
    return project


@pytest.fixture
def project(issued_thrice: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(issued_thrice, tmp_path / "project"))


@pytest.fixture
def call(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Call:
    return caller(monkeypatch, capsys)


# Records that are lost


@pytest.mark.parametrize("lost", [("A",), ("B",), ("C",), ("A", "B"), ("B", "C"), ("A", "B", "C")])
def test_a_record_that_the_published_folder_knows_of_is_missed(project: Path, lost: tuple[str, ...]) -> None:
    for revision in lost:
        shutil.rmtree(project / "issued" / revision)
    assert altered(project) == [f"lost: issued/{revision}/" for revision in lost]


def test_a_record_that_a_later_one_followed_is_missed(project: Path) -> None:
    shutil.rmtree(project / "published")
    shutil.rmtree(project / "issued" / "B")
    assert altered(project) == ["lost: issued/B/"]


def test_the_whole_folder_of_records_is_missed(project: Path) -> None:
    shutil.rmtree(project / "issued")
    assert altered(project) == ["lost: issued/A/", "lost: issued/B/", "lost: issued/C/"]


def test_a_lost_revision_can_be_asked_for(call: Call, project: Path) -> None:
    shutil.rmtree(project / "issued" / "C")
    assert call("verify", project, "A").status == GOOD
    status, out, _ = call("verify", project, "C")
    assert (status, out.splitlines()[0]) == (ALTERED, "lost: issued/C/")
    status, out, err = call("verify", project, "D")
    assert (status, out) == (WRONG, "")
    assert err.startswith("issued: wanted an issued revision: one of A, B, C; found D")


def test_a_repair_leaves_the_traces_of_a_lost_record(call: Call, project: Path) -> None:
    shutil.rmtree(project / "issued" / "C")
    (project / "published" / "client" / "A" / "index.html").unlink()
    before = (project / "published" / "client" / "versions.json").read_bytes()
    status, out, _ = call("verify", project, "--repair")
    assert status == ALTERED
    assert out.splitlines()[:2] == ["revision A: published again from its record", "lost: issued/C/"]
    assert (project / "published" / "client" / "versions.json").read_bytes() == before
    assert altered(project) == ["lost: issued/C/"]


@pytest.mark.parametrize(
    "text",
    ["", "{}", "[1, null, {}]", "not JSON", "[" * 100_000, '[{"version": "../x"}]', '[{"version": 1}]'],
)
def test_a_list_that_cannot_be_read_is_changed_and_knows_of_nothing(project: Path, text: str) -> None:
    (project / "published" / "client" / "versions.json").write_text(text)
    assert altered(project) == ["changed: published/client/versions.json"]


# What lies there besides


def test_strays_are_noticed(project: Path) -> None:
    for path in (
        "issued/notes.txt",
        "issued/.part/inputs/rooms.csv",
        "issued/latest/ours.csv",
        "issued/A copy/manifest.json",
        "published/notes.txt",
        "published/.placing",
        "published/.part/file",
        "published/board/index.html",
        "published/client/notes.txt",
        "published/client/D/index.html",
        "published/client/D/rooms/a.html",
        "published/client/latest/notes.txt",
        "published/client/A/notes.txt",
    ):
        (project / path).parent.mkdir(parents=True, exist_ok=True)
        (project / path).write_text("stray")
    assert altered(project) == [
        "added: issued/.part/",
        "added: issued/A copy/",
        "added: issued/latest/ours.csv",
        "added: issued/notes.txt",
        "added: published/.part/",
        "added: published/.placing",
        "added: published/board/",
        "added: published/client/A/notes.txt",
        "added: published/client/D/",
        "added: published/client/latest/notes.txt",
        "added: published/client/notes.txt",
        "added: published/notes.txt",
    ]
    assert [str(one) for one in verified(project, "B").alterations] == []
    assert [str(one) for one in verified(project, "A").alterations] == ["added: published/client/A/notes.txt"]


def test_a_name_with_a_lines_end_is_told_on_one_line(call: Call, project: Path) -> None:
    (project / "issued" / "a\nb").write_text("stray")
    (project / "published" / "client" / "A" / "a\x1b[2Jb").write_text("stray")
    status, out, _ = call("verify", project)
    assert status == ALTERED
    assert out.splitlines()[:2] == ["added: issued/a\\nb", "added: published/client/A/a\\x1b[2Jb"]


# Links, and things that are no files


def test_what_is_no_file_is_changed_and_not_read(project: Path, tmp_path: Path) -> None:
    elsewhere = Path(shutil.copytree(project / "issued" / "A", tmp_path / "elsewhere"))
    for path in ("issued/A/record.zip", "issued/B/register.json", "published/client/A/index.html"):
        (project / path).unlink()
    (project / "issued/A/record.zip").symlink_to(elsewhere / "record.zip")
    os.mkfifo(project / "issued/B/register.json")
    os.mkfifo(project / "published/client/A/index.html")
    assert altered(project) == [
        "changed: issued/A/record.zip",
        "changed: issued/B/register.json",
        "changed: published/client/A/index.html",
    ]


@pytest.mark.parametrize(
    "place",
    ["issued/B", "published", "published/client", "published/client/B", "published/client/latest"],
)
def test_a_folder_that_became_a_link_is_changed_and_not_read(
    project: Path, tmp_path: Path, place: str
) -> None:
    # Even where the same lies at its end: what a link leads to is not the project's.
    shutil.move(project / place, tmp_path / "elsewhere")
    (project / place).symlink_to(tmp_path / "elsewhere", target_is_directory=True)
    assert f"changed: {place}" in altered(project)
    assert not [one for one in altered(project) if f"{place}/" in one]
    with pytest.raises(InputError, match=f"^{place}: wanted a folder.*; found a link"):
        repair(project, None, lambda _: None)


def test_records_behind_a_link_are_none(project: Path, tmp_path: Path) -> None:
    shutil.move(project / "issued", tmp_path / "elsewhere")
    (project / "issued").symlink_to(tmp_path / "elsewhere", target_is_directory=True)
    assert "changed: issued" in altered(project)
    assert verified(project, None).records == ()


@pytest.mark.parametrize("kind", ["pipe", "folder"])
def test_a_manifest_that_is_no_file_is_no_obstacle(call: Call, project: Path, kind: str) -> None:
    manifest = project / "issued" / "B" / "manifest.json"
    manifest.unlink()
    os.mkfifo(manifest) if kind == "pipe" else manifest.mkdir()
    status, out, err = call("verify", project)
    assert (status, err) == (ALTERED, "")
    assert "changed: issued/B/manifest.json" in out.splitlines()


# Manifests that were written anew with a digest of their own


def a_fact_a_line(content: dict[str, Any]) -> str:
    lines = (f"{json.dumps(key)}: {json.dumps(value, ensure_ascii=False)}" for key, value in content.items())
    return "{\n " + ",\n ".join(lines) + "\n}\n"


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("layout", 1),
        ("layout", 5),
        ("layout", True),
        ("record", "all"),
        ("record", {"record.zip": None}),
        ("latest", []),
        ("latest", {"rooms.csv": ""}),
        ("digest", 3),
        ("drawings", {}),
        ("named", {"identity": ["B"]}),
        ("versions", None),
        ("parents", ["A"]),
        ("parents", {"A": 1}),
        ("revision", "../../outside"),
        ("revision", "B\n"),
        ("parents", {"../../outside": ""}),
        ("parents", None),
        ("purpose", None),
        ("project", {}),
        ("date", 7),
    ],
)
@pytest.mark.parametrize("command", ["verify", "issue"])
def test_a_manifest_of_another_form_is_no_manifest(
    call: Call, project: Path, command: str, field: str, value: object
) -> None:
    path = project / "issued" / "B" / "manifest.json"
    content: dict[str, Any] = json.loads(path.read_text("utf-8"))
    del content["sha256"]
    content[field] = value
    content["sha256"] = digest_of(a_fact_a_line(content).encode("utf-8"))
    path.write_text(a_fact_a_line(content), "utf-8")
    if command == "verify":
        status, out, err = call("verify", project)
        assert (status, err) == (ALTERED, "")
        assert "changed: issued/B/manifest.json" in out.splitlines()
    else:
        status, out, err = call("issue", project, "--revision", "D")
        assert (status, out) == (WRONG, "")
        assert all(line.startswith("issued/B/manifest.json: ") for line in err.splitlines())


# While others are at work


def test_at_no_moment_of_an_issue_or_a_build_is_anything_taken_for_altered(
    project: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(project_lock, "LONGEST_WAIT_S", 0.0)
    for name, run in (
        ("issue", lambda one: interrupted.issue_revision(one, "D")),
        ("build", interrupted.build_draft),
    ):
        counted = Path(shutil.copytree(project, tmp_path / f"counted {name}"))
        with WATCH.over(counted, 0, interrupted.fail):
            run(counted)
        waited = 0
        for at in kills.spread(WATCH.seen, MOMENTS):
            trial = Path(shutil.copytree(project, tmp_path / f"{name} {at}"))
            said: list[str] = []

            def look(trial: Path = trial, said: list[str] = said) -> None:
                WATCH.below = None
                try:
                    said += altered(trial)
                except BuildError as error:
                    said.append(str(error))

            with WATCH.over(trial, at, look):
                run(trial)
            (waiting,) = said or ["nothing altered"]
            assert waiting == "nothing altered" or waiting.startswith("another run "), (name, at)
            waited += waiting.startswith("another run ")
            shutil.rmtree(trial)
        assert waited >= 2 * MOMENTS // 3, name


def test_another_run_is_told_and_never_an_alteration(
    call: Call, project: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from proposal.publish.program_folders import own_folders

    monkeypatch.setattr(project_lock, "LONGEST_WAIT_S", 0.1)
    (project / "published" / "client" / "A" / "index.html").unlink()
    with project_lock.exclusive(own_folders(project).build):
        for arguments in ((), ("A",), ("--repair",)):
            status, out, err = call("verify", project, *arguments)
            assert (status, out) == (WRONG, "")
            assert err == (
                f"another run (process {os.getpid()}) is at work in {project}/build; "
                "wait until it has finished\n"
            )
    assert call("verify", project).status == ALTERED


# Folders that may only be read


def test_nothing_is_written(project: Path) -> None:
    for folder in ("", "build"):
        if folder:
            shutil.rmtree(project / folder)
        with WATCH.over(project, 0, interrupted.fail):
            assert altered(project) == []
        assert WATCH.operations == []
    assert not (project / "build").exists()


@pytest.mark.parametrize("lock", ["as issued", "no lock", "no build"])
def test_a_project_that_may_only_be_read_is_verified(project: Path, lock: str) -> None:
    """Where the tests may do everything, a child that may not looks at the project."""
    if lock == "no lock":
        (project / "build" / ".proposal-lock").unlink()
    elif lock == "no build":
        shutil.rmtree(project / "build")
    assert altered(project) == []  # what is imported at first use is imported
    with tempfile.TemporaryDirectory() as place:
        os.chmod(place, 0o755)
        there = Path(shutil.copytree(project, Path(place) / "project"))
        (there / "published" / "client" / "A" / "index.html").write_text("changed")
        for folder, _, names in os.walk(there):
            os.chmod(folder, 0o555)
            for name in names:
                os.chmod(Path(folder) / name, 0o444)

        def look() -> None:
            if os.geteuid() == 0:
                os.setgroups([])
                os.setgid(NOBODY)
                os.setuid(NOBODY)
            with pytest.raises(PermissionError):
                (there / "written").write_text("")
            assert altered(there) == ["changed: published/client/A/index.html"]
            with pytest.raises(PermissionError):
                repair(there, None, lambda _: None)

        try:
            assert kills.in_child(look) == 0
        finally:
            for folder, _, _ in os.walk(there):
                os.chmod(folder, 0o755)


# What is said of it


def test_it_is_said_that_accidents_are_found_and_not_forgery(call: Call, project: Path) -> None:
    _, out, _ = call("verify", project)
    assert out.splitlines()[-1].startswith("accidents are found, not forgery: ")
    assert "This finds accidents, not forgery" in " ".join(call("verify", "--help").out.split())
    root = Path(__file__).resolve().parents[2]
    for path in ("README.md", "docs/reviewing.md", "CHANGELOG.md"):
        said = " ".join((root / path).read_text("utf-8").split())
        assert "accidents, not forgery" in said, path
        assert "prove" not in said.partition("`proposal verify`")[2][:60], path


# Names


def test_the_files_between_revisions_are_known_by_name(project: Path) -> None:
    revisions = [PublishedRevision(one.manifest, ()) for one in records_of(project)]
    assert surroundings(revisions, EDITION_TITLES).keys() == surrounding_paths()


def test_a_revision_name_is_one_that_a_project_takes() -> None:
    (pattern,) = (
        one.pattern for one in Revision.model_fields["identity"].metadata if hasattr(one, "pattern")
    )
    assert pattern == r"^[A-Za-z0-9][A-Za-z0-9._-]{0,15}$"
    good = ("A", "0", "P1.2_x-y", "x" * 16)
    bad = ("", "x" * 17, "A\n", "\nA", ".A", "-A", "_A", "A/B", "A\\B", "Ä", "A B", "A.", "latest", "LATEST")
    assert [name for name in good if not is_revision_name(name)] == []
    assert [
        name for name in (*bad, "con", "Lpt1.x", "index.html", "A:B", "..") if is_revision_name(name)
    ] == []
