"""A build whose every input is as it was, and whose sites lie as it placed them, is not done again."""

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from proposal.errors import BuildError, InputError
from proposal.publish import build_inputs, program_version
from proposal.publish.build_results import Ending, KnownBuild
from proposal.publish.files import write_all
from proposal.publish.program_folders import own_folders
from proposal.publish.project_lock import exclusive

ENDED = Ending(("rooms.csv:2:1: warning: something", "0 errors, 1 warning"), 1)
INPUTS = (
    *("project.yaml", "building.yaml", "rooms.csv", "fixed.yaml", "requirements.yaml"),
    *("room_types/hall.yaml", "rooms/A1.yaml", "alternates/more.yaml", "wording/cover.md"),
    *("images/logo.svg", "readings/A.csv", "library/own.yaml"),
    *("issued/A/manifest.json", "issued/A/register.json", "issued/A/record.zip", "issued/A/inputs/.kept"),
)
COMPANY = ("own.yaml", "labour/rates.yaml")
SHIPPED = ("shared/equipment/a.yaml", "shared/wording/words.yaml", "templates/page.jinja", "mkdocs.yml")
PLACED = {
    "client/mkdocs.yml": b"site_name: A",
    "client/markdown/index.md": b"# A",
    "client/site/index.html": b"<h1>A</h1>",
    "client/site/rooms/hall.html": b"<h1>Hall</h1>",
    "index.html": b"<a>client</a>",
}


@pytest.fixture
def shipped(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """What ships with the program, small."""
    folder = tmp_path / "shipped"
    for file in (
        "shared/equipment/a.yaml",
        "shared/wording/words.yaml",
        "templates/page.jinja",
        "mkdocs.yml",
    ):
        (folder / file).parent.mkdir(parents=True, exist_ok=True)
        (folder / file).write_text(file)
    monkeypatch.setattr(build_inputs, "resource", lambda name: folder / name)
    return folder


@pytest.fixture
def folder(tmp_path: Path, shipped: Path) -> Path:
    """A project that was built, with a company's library beside it."""
    project = tmp_path / "project"
    for file in (*(project / name for name in INPUTS), *(tmp_path / "company" / name for name in COMPANY)):
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(file.name)
    built(project)
    return project


def call(project: Path, readers: tuple[str, ...] = ("client",), revision: str | None = None) -> KnownBuild:
    return KnownBuild(project, project.parent / "company", readers, revision)


def built(project: Path, during: Callable[[], object] = lambda: None) -> None:
    known = call(project)
    assert known.ending() is None
    write_all(own_folders(project).build, PLACED)
    known.placed()
    during()
    known.keep(ENDED)


def test_a_build_ends_as_before_where_nothing_changed(folder: Path) -> None:
    assert call(folder).ending() == ENDED
    os.utime(folder / "project.yaml")  # written, with the same in it
    assert call(folder).ending() == ENDED
    (folder / ".git").mkdir()
    (folder / "rooms" / ".A1.yaml.swp").touch()  # nobody reads it
    assert call(folder).ending() == ENDED


@pytest.mark.parametrize("file", INPUTS)
@pytest.mark.parametrize("change", ["edited", "deleted", "renamed", "beside"])
def test_a_change_of_any_input_is_built(file: str, change: str, folder: Path) -> None:
    path = folder / file
    if change == "edited":
        path.write_text(path.read_text().swapcase())
    elif change == "deleted":
        path.unlink()
    elif change == "renamed":
        path.rename(path.with_name(f"other{path.suffix}" if path.suffix else ".other"))
    else:
        path.with_name(f"another-{path.name.lstrip('.')}").touch()
    assert call(folder).ending() is None


@pytest.mark.parametrize("file", COMPANY)
@pytest.mark.parametrize("change", ["edited", "deleted", "beside"])
def test_a_change_of_the_companys_library_is_built(file: str, change: str, folder: Path) -> None:
    path = folder.parent / "company" / file
    if change == "edited":
        path.write_text("else")
    elif change == "deleted":
        path.unlink()
    else:
        path.with_name("another.yaml").touch()
    assert call(folder).ending() is None


def test_another_library_is_built(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert KnownBuild(folder, None, ("client",), None).ending() is None
    monkeypatch.setenv("PROPOSAL_LIBRARY", str(folder.parent / "company"))
    found = KnownBuild(folder, None, ("client",), None)
    # The variable names the folder that the call named before; that a variable is set counts all the same.
    assert found.ending() is None


@pytest.mark.parametrize("file", SHIPPED)
def test_a_change_of_what_ships_with_the_program_is_built(file: str, folder: Path, shipped: Path) -> None:
    (shipped / file).write_text("else")
    assert call(folder).ending() is None
    (shipped / file).write_text(file)
    assert call(folder).ending() == ENDED
    if file != "mkdocs.yml":
        (shipped / file).with_name("another").touch()
        assert call(folder).ending() is None


def test_other_options_are_built(folder: Path) -> None:
    assert call(folder, revision="B").ending() is None
    assert call(folder, ("client", "installer")).ending() is None
    assert call(folder, ()).ending() is None


@pytest.mark.parametrize("name", ["PROPOSAL_LIBRARY", "LC_ALL", "PYTHONPATH", "SOURCE_DATE_EPOCH", "TZ"])
def test_another_environment_is_built(name: str, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(name, "1")
    assert call(folder).ending() is None


def test_another_program_is_built(folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with monkeypatch.context() as patch:
        patch.setattr(build_inputs, "code", lambda: "another")
        assert call(folder).ending() is None
    assert call(folder).ending() == ENDED
    (tmp_path / "packages" / "markdown-99.0.dist-info").mkdir(parents=True)
    # The place where packages are looked for is the same; what is in it changes.
    monkeypatch.syspath_prepend(str(tmp_path / "packages"))
    with_package = build_inputs.build_inputs(folder, None, [])
    (tmp_path / "packages" / "markdown-99.0.dist-info").rename(
        tmp_path / "packages" / "markdown-99.1.dist-info"
    )
    assert build_inputs.build_inputs(folder, None, []) != with_package


def test_the_program_is_known_by_the_bytes_of_all_its_modules(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    package = tmp_path / "package"
    for module in ("cli.py", "design/radio.py", "publish/program_version.py"):
        (package / module).parent.mkdir(parents=True, exist_ok=True)
        (package / module).write_text(module)
    monkeypatch.setattr(program_version, "__file__", str(package / "publish" / "program_version.py"))
    told = {program_version.code()}
    (package / "design/radio.py").write_text("else")
    told.add(program_version.code())
    (package / "design/power.py").touch()
    told.add(program_version.code())
    assert len(told) == 3


@pytest.mark.parametrize("file", PLACED)
@pytest.mark.parametrize("change", ["edited", "deleted"])
def test_sites_that_do_not_lie_as_they_were_placed_are_built(file: str, change: str, folder: Path) -> None:
    path = folder / "build" / file
    if change == "edited":
        path.write_bytes(path.read_bytes()[:-1])
    else:
        path.unlink()
    assert call(folder).ending() is None


@pytest.mark.parametrize(
    "file", ["client/site/more.html", "client/.next/site", ".part", "client/markdown/x/y.md"]
)
def test_sites_with_something_more_in_them_are_built(file: str, folder: Path) -> None:
    (folder / "build" / file).parent.mkdir(parents=True, exist_ok=True)
    (folder / "build" / file).touch()
    assert call(folder).ending() is None


@pytest.mark.parametrize("damage", [b"", b"nonsense", None])
def test_an_ending_that_is_damaged_is_not_trusted(damage: bytes | None, folder: Path) -> None:
    (kept,) = (path for path in (folder / "build" / "cache").rglob("*") if path.is_file())
    kept.write_bytes(kept.read_bytes().replace(b'"status": 1', b'"status": 0') if damage is None else damage)
    assert call(folder).ending() is None


@pytest.mark.parametrize("unusual", ["a link", "a linked folder", "a pipe", "another graph program"])
def test_what_is_unusual_is_always_built(
    unusual: str, folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    wording = folder / "wording" / "cover.md"
    if unusual == "a link":
        wording.rename(tmp_path / "cover.md")
        wording.symlink_to(tmp_path / "cover.md")
    elif unusual == "a linked folder":
        wording.parent.rename(tmp_path / "wording")
        wording.parent.symlink_to(tmp_path / "wording")
    elif unusual == "a pipe":
        os.mkfifo(folder / "wording" / "pipe.md")
    else:
        monkeypatch.setenv("PROPOSAL_DOT", "dot")
    for _ in range(2):
        known = call(folder)
        assert known.ending() is None
        known.placed()
        known.keep(ENDED)


def test_what_was_written_during_the_build_is_built_again(tmp_path: Path, shipped: Path) -> None:
    (tmp_path / "company").mkdir()
    for name in ("first", "second"):
        file = tmp_path / name / "project.yaml"
        file.parent.mkdir()
        file.write_text("a")

    def there_and_back() -> None:
        file.write_text("b")
        os.utime(file, ns=(1, 1))
        file.write_text("a")

    built(tmp_path / "first")
    built(tmp_path / "second", there_and_back)
    assert call(tmp_path / "first").ending() == ENDED
    assert call(tmp_path / "second").ending() is None


def test_a_link_in_the_way_is_told_as_by_a_build(folder: Path) -> None:
    (folder / "build" / "elsewhere").symlink_to(folder)
    with pytest.raises(InputError, match="build/elsewhere"):
        call(folder).ending()


def test_another_run_at_work_is_told_as_by_a_build(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("proposal.publish.project_lock.LONGEST_WAIT_S", 0.0)
    with exclusive(own_folders(folder).build), pytest.raises(BuildError, match="another run"):
        call(folder).ending()


def test_a_project_that_is_not_there_is_left_to_the_build(tmp_path: Path) -> None:
    assert KnownBuild(tmp_path / "none", None, ("client",), None).ending() is None
