"""What a user names is written where it harms nothing: not over inputs, records, links or devices."""

import os
import shutil
from pathlib import Path

import pytest

from proposal.errors import InputError
from proposal.publish.output_paths import write_user_files
from proposal.resources import resource
from tests.calls import Call, caller
from tests.publish import interrupted
from tests.publish.interrupted import MINIMAL

GOOD, WRONG = 0, 2


@pytest.fixture
def project(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return Path(shutil.copytree(MINIMAL, tmp_path / "project"))


@pytest.fixture
def call(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Call:
    return caller(monkeypatch, capsys)


def contents(folder: Path) -> dict[str, bytes | str]:
    """Return what a folder holds by its path, but what is kept for the next run."""
    return {
        str(path.relative_to(folder)): f"to {os.readlink(path)}" if path.is_symlink() else path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if (path.is_symlink() or path.is_file()) and path.relative_to(folder).parts[1:3] != ("build", "cache")
    }


def refused(path: Path, **named: object) -> str:
    """Return what is said of a place where nothing may be written; nothing is."""
    there = path.parent.exists()
    with pytest.raises(InputError) as error:
        write_user_files({path: b"new"}, **named)  # type: ignore[arg-type] # whatever a test names
    assert not path.exists() or path.is_dir() or path.read_bytes() != b"new"
    assert path.parent.exists() == there
    (line,) = str(error.value).splitlines()
    return line


@pytest.mark.parametrize(
    "name",
    [
        "project.yaml",
        "building.yaml",
        "rooms.csv",
        "fixed.yaml",
        "Project.YAML",
        "ROOMS.csv",
        "rooms/B001.yaml",
        "rooms/new/deeper.yaml",
        "room_types/meeting.yaml",
        "Room_Types/meeting.yaml",
        "alternates/new.yaml",
        "wording/scope.md",
        "images/logo.svg",
        "readings/new.csv",
        "library/new.yaml",
        "issued/A/manifest.json",
        "issued/note.txt",
        "ISSUED/note.txt",
        "published/client/index.html",
        "build/.proposal-lock",
        "build/client/site/index.html",
        "cables.csv",  # it would make the project a wrong one
        "room/page.txt",
    ],
)
def test_what_a_project_keeps_is_no_place_for_an_output(project: Path, name: str) -> None:
    before = contents(project)
    said = refused(project / name, projects=[project])
    assert said == f"{project / name}: wanted a place of its own; found {name} of the project project"
    # Wherever it is called from, and whichever project it is.
    assert refused(Path("project") / name).startswith(f"project/{name}: wanted a place of its own; found ")
    assert refused(project / "wording" / ".." / name).endswith(f"found {name} of the project project")
    assert contents(project) == before


def test_a_link_to_a_project_is_the_project(project: Path, tmp_path: Path) -> None:
    (tmp_path / "way").symlink_to(project, target_is_directory=True)
    assert refused(tmp_path / "way" / "rooms.csv").endswith("found rooms.csv of the project project")
    (tmp_path / "rooms").symlink_to(project / "room_types", target_is_directory=True)
    assert refused(tmp_path / "rooms" / "new.yaml").endswith(
        "found room_types/new.yaml of the project project"
    )


def test_a_record_is_no_place_for_an_output(project: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    interrupted.make_quick(monkeypatch)
    interrupted.issue_revision(project, "A")
    before = contents(project)
    for name in ("manifest.json", "inputs/rooms.csv", "inputs/other.txt"):
        assert refused(project / "issued" / "A" / name)
    assert contents(project) == before


@pytest.mark.parametrize(
    "name", ["offer.xlsx", "out/offer.json", "schema/document.schema.json", ".editorconfig"]
)
def test_other_places_in_a_project_folder_are_free(project: Path, name: str) -> None:
    write_user_files({project / name: b"new"}, projects=[project])
    assert (project / name).read_bytes() == b"new"


@pytest.mark.parametrize("name", [".git", ".git/config", ".git/refs/heads/main", ".GIT/config", "sub/.git/x"])
def test_what_git_keeps_is_no_place_for_an_output(tmp_path: Path, name: str) -> None:
    (tmp_path / ".git" / "refs").mkdir(parents=True)
    (tmp_path / ".git" / "config").write_text("[core]\n")
    before = contents(tmp_path)
    assert refused(tmp_path / name).endswith("found the folder in which git keeps a repository")
    assert contents(tmp_path) == before


def test_libraries_are_no_place_for_an_output(
    project: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    library = tmp_path / "ours"
    (library / "labour").mkdir(parents=True)
    (library / "ours.yaml").write_text("{}\n")
    for name in ("ours.yaml", "new.yaml", "labour/new.YAML"):
        assert refused(library / name, library=library).endswith("found a file of a library")
    monkeypatch.setenv("PROPOSAL_LIBRARY", str(library))
    assert refused(library / "ours.yaml").endswith("found a file of a library")
    shared = next((resource("shared") / "equipment").glob("*.yaml"))
    assert refused(shared).endswith("found a file of a library")
    write_user_files({library / "offer.xlsx": b"new"}, library=library)


def test_an_input_under_another_name_is_one(project: Path, tmp_path: Path) -> None:
    before = contents(project)
    (tmp_path / "second.csv").hardlink_to(project / "rooms.csv")
    assert refused(tmp_path / "second.csv", projects=[project]).endswith(
        "found an input of the project under another name"
    )
    # The other way round: the project's is the link.
    (project / "kept").mkdir()
    (project / "rooms.csv").rename(project / "kept" / "rooms.csv")
    (project / "rooms.csv").symlink_to("kept/rooms.csv")
    assert refused(project / "kept" / "rooms.csv").endswith(
        "found an input of the project under another name"
    )
    (project / "rooms.csv").unlink()
    (project / "kept" / "rooms.csv").rename(project / "rooms.csv")
    assert contents(project) == before


# As it is called


@pytest.mark.parametrize(
    ("name", "found"),
    [
        ("folder", "a folder"),
        ("link", "a link"),
        ("dangling", "a link"),
        ("pipe", "a pipe"),
        ("/dev/null", "a device"),
        ("/dev/full", "a device"),
        ("/dev/stdout", "a link"),
        (".", "a folder"),
        ("..", "a folder"),
    ],
)
@pytest.mark.parametrize("command", ["export", "compare"])
def test_an_output_is_a_new_or_a_regular_file(
    call: Call, project: Path, tmp_path: Path, command: str, name: str, found: str
) -> None:
    if not (os.path.lexists(name) or name in ("folder", "link", "dangling", "pipe")):
        pytest.skip(f"this system has no {name}")
    (tmp_path / "folder").mkdir()
    (tmp_path / "precious").write_text("precious")
    (tmp_path / "link").symlink_to("precious")
    (tmp_path / "dangling").symlink_to("nowhere")
    os.mkfifo(tmp_path / "pipe")
    before = contents(tmp_path)
    states = (".", ".") if command == "compare" else ()
    status, out, err = call(command, project, *states, "--output", name)
    assert (status, out) == (WRONG, "")
    assert err == f"{name}: wanted a new file, or a regular file to replace; found {found}\n"
    assert contents(tmp_path) == before


@pytest.mark.parametrize("command", ["export", "compare"])
def test_an_input_is_not_overwritten(call: Call, project: Path, tmp_path: Path, command: str) -> None:
    before = contents(tmp_path)
    states = (".", ".") if command == "compare" else ()
    for name in ("rooms.csv", "issued/A/manifest.json", "published/index.html", ".git/config"):
        status, out, err = call(command, project, *states, "--output", project / name)
        assert (status, out) == (WRONG, "")
        assert err.startswith(f"{project / name}: wanted a place of its own; found ")
    assert contents(tmp_path) == before


def test_schedules_are_not_exported_over_the_project(call: Call, project: Path, tmp_path: Path) -> None:
    before = contents(tmp_path)
    status, out, err = call("export", project, "--format", "csv", "--output", project)
    assert (status, out) == (WRONG, "")
    assert f"{project}/rooms.csv: wanted a place of its own; found rooms.csv of the project project" in err
    assert len(err.splitlines()) > 5
    assert contents(tmp_path) == before


def test_one_schedule_that_may_not_be_written_keeps_all_from_it(
    call: Call, project: Path, tmp_path: Path
) -> None:
    (tmp_path / "made").mkdir()
    (tmp_path / "precious").write_text("precious")
    (tmp_path / "made" / "rooms.csv").symlink_to(tmp_path / "precious")
    (tmp_path / "made" / "equipment.csv").hardlink_to(project / "rooms.csv")
    before = contents(tmp_path)
    status, out, err = call("export", project, "--format", "csv", "--output", "made")
    assert (status, out) == (WRONG, "")
    assert err.splitlines() == [
        "made/equipment.csv: wanted a place of its own; found an input of the project under another name",
        "made/rooms.csv: wanted a new file, or a regular file to replace; found a link",
    ]
    assert contents(tmp_path) == before


def test_a_second_name_is_left_to_what_it_stood_for(call: Call, project: Path, tmp_path: Path) -> None:
    (tmp_path / "precious").write_text("precious")
    (tmp_path / "out.json").hardlink_to(tmp_path / "precious")
    assert call("export", project, "--output", "out.json").status == GOOD
    assert (tmp_path / "precious").read_text() == "precious"
    assert (tmp_path / "out.json").read_text().startswith("{")


def test_a_folder_above_may_be_reached_by_a_link(call: Call, project: Path, tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    (tmp_path / "way").symlink_to("real", target_is_directory=True)
    assert call("export", project, "--output", "way/deep/out.json").status == GOOD
    assert (tmp_path / "real" / "deep" / "out.json").is_file()
    (tmp_path / "lost").symlink_to("nowhere", target_is_directory=True)
    status, _, err = call("export", project, "--output", "lost/out.json")
    assert status == WRONG
    assert err.startswith("lost/out.json: cannot be read or written: ")
    assert not (tmp_path / "nowhere").exists()


def test_a_name_with_a_lines_end_is_told_on_one_line(call: Call, project: Path, tmp_path: Path) -> None:
    for name in ("a\nb", "a\x1b[31mb"):
        (tmp_path / name).mkdir()
        status, _, err = call("export", project, "--output", name)
        assert status == WRONG
        assert len(err.splitlines()) == 1
        assert "\x1b" not in err
    (tmp_path / "file").write_text("")
    status, _, err = call("export", project, "--output", "file/a\nb")
    assert (status, len(err.splitlines())) == (WRONG, 1)


def test_schemas_replace_regular_files_alone(call: Call, project: Path, tmp_path: Path) -> None:
    (tmp_path / "precious").write_text("precious")
    (tmp_path / "made").mkdir()
    (tmp_path / "made" / "project.schema.json").symlink_to(tmp_path / "precious")
    (tmp_path / "made" / "room.schema.json").mkdir()
    status, out, err = call("schema", "--write", "made")
    assert (status, out) == (WRONG, "")
    assert err.splitlines() == [
        "made/project.schema.json: wanted a new file, or a regular file to replace; found a link",
        "made/room.schema.json: wanted a new file, or a regular file to replace; found a folder",
    ]
    assert sorted(os.listdir("made")) == ["project.schema.json", "room.schema.json"]
    assert (tmp_path / "precious").read_text() == "precious"
    for folder in ("issued/A", "rooms", ".git"):
        assert call("schema", "--write", project / folder).status == WRONG
        assert not (project / folder).exists() or folder == "rooms"
    assert call("schema", "--write", project / "schema").status == GOOD


@pytest.mark.parametrize(
    "name", ["issued/B", "published/client/B", "rooms/x", "build/x", ".git/x", "schema/../rooms/x"]
)
def test_a_new_project_is_not_written_into_what_another_keeps(
    call: Call, project: Path, tmp_path: Path, name: str
) -> None:
    (project / "schema").mkdir(exist_ok=True)
    before = contents(tmp_path)
    status, out, err = call("new", project / name)
    assert (status, out) == (WRONG, "")
    assert "wanted a place of its own; found " in err
    assert contents(tmp_path) == before


@pytest.mark.parametrize("kind", ["folder", "file", "link", "pipe"])
def test_a_new_project_takes_the_place_of_nothing(call: Call, tmp_path: Path, kind: str) -> None:
    place = tmp_path / "taken"
    {
        "folder": place.mkdir,
        "file": place.touch,
        "link": lambda: place.symlink_to("nowhere"),
        "pipe": lambda: os.mkfifo(place),
    }[kind]()
    status, out, err = call("new", place)
    assert (status, out) == (WRONG, "")
    instead = place / "proposal" if kind == "folder" else tmp_path / "proposal"
    wanted = f"wanted a folder that does not exist yet, such as {instead}"
    assert err == f"{place}: {wanted}; found a {kind}\n"
    assert os.listdir(tmp_path) == ["taken"]


def test_a_new_project_has_a_name_that_can_be_printed(call: Call, tmp_path: Path) -> None:
    status, out, err = call("new", tmp_path / "a\nb")
    assert (status, out) == (WRONG, "")
    assert err == f"{tmp_path}/a\\nb: wanted a name of printable characters; found others\n"
    assert os.listdir(tmp_path) == []
