"""Nothing outside a project is deleted, replaced or written, whatever lies in its own folders.

Each test puts something into `build/`, `issued/` or `published/` that leads elsewhere, runs a command, and
compares everything outside those folders, byte by byte, with what was there before.
"""

import os
import shutil
import socket
import stat
from pathlib import Path

import pytest

from tests.calls import Call, caller
from tests.publish import interrupted
from tests.publish.interrupted import MINIMAL

GOOD, WRONG = 0, 2
OWN = ("build", "issued", "published")
COMMANDS = {
    "build": ("build", "PROJECT", "--edition", "client"),
    "issue": ("issue", "PROJECT", "--revision", "B"),
    "repair": ("verify", "PROJECT", "--repair"),
}
# Everything that a command would remove, rename or replace, did it come here by a link.
PRECIOUS = (
    "precious.txt",
    "A/precious.txt",
    "B/precious.txt",
    "client/A/precious.txt",
    "client/B/precious.txt",
    ".part/precious.txt",
    ".part/client/precious.txt",
    ".next/site/precious.txt",
    ".former/precious.txt",
    "cache/precious.txt",
    "latest/index.html",
    "markdown/precious.txt",
    "site/index.html",
    "index.html",
    "mkdocs.yml",
    "versions.js",
    ".placing",
    ".proposal-lock",
)


@pytest.fixture
def call(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Call:
    interrupted.make_quick(monkeypatch)
    return caller(monkeypatch, capsys)


@pytest.fixture(scope="module")
def issued_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A project whose revision A is issued and of which a site is built."""
    project = Path(shutil.copytree(MINIMAL, tmp_path_factory.mktemp("once") / "project"))
    with pytest.MonkeyPatch.context() as patch:
        interrupted.make_quick(patch)
        interrupted.issue_revision(project, "A")
        interrupted.build_draft(project)
    return project


@pytest.fixture
def project(issued_once: Path, tmp_path: Path) -> Path:
    victim = tmp_path / "victim"
    for path in PRECIOUS:
        (victim / path).parent.mkdir(parents=True, exist_ok=True)
        (victim / path).write_text(f"precious {path}", "utf-8")
    return Path(shutil.copytree(issued_once, tmp_path / "jobs" / "project"))


def everything(folder: Path, without: tuple[str, ...] = ()) -> dict[str, str]:
    """Return what lies below a folder: kind, and content or target, by path; links are not followed."""
    found: dict[str, str] = {}
    for place, folders, files in os.walk(folder):
        here = Path(place)
        if here == folder:
            folders[:] = [name for name in folders if name not in without]
        for name in (*folders, *files):
            path = here / name
            mode = path.lstat().st_mode
            if stat.S_ISLNK(mode):
                said = f"link to {os.readlink(path)}"
            elif stat.S_ISREG(mode):
                said = f"file {path.read_bytes()!r}"
            else:
                said = oct(stat.S_IFMT(mode))
            if path.parent != folder or name not in without:
                found[str(path.relative_to(folder))] = said
    return found


class Outside:
    """Everything in a folder but the own folders of the project in it."""

    def __init__(self, top: Path, project: Path) -> None:
        self._top, self._project = top, project
        self._before = self._now()

    def _now(self) -> dict[str, str]:
        own = tuple(str((self._project / name).relative_to(self._top)) for name in OWN)
        return {
            path: said
            for path, said in everything(self._top).items()
            if path not in own and not path.startswith(tuple(f"{one}/" for one in own))
        }

    def check(self) -> None:
        """Assert that nothing was changed, added or lost."""
        assert self._now() == self._before


@pytest.fixture
def outside(project: Path, tmp_path: Path) -> Outside:
    return Outside(tmp_path, project)


def run(call: Call, command: str, project: Path) -> tuple[int, str]:
    """Run a command, and return how it ended and what it said of what is wrong; never a traceback."""
    status, _, err = call(*(project if one == "PROJECT" else one for one in COMMANDS[command]))
    assert "Traceback" not in err
    return status, err


# A name that an ended run left


@pytest.mark.parametrize("command", ["issue", "repair"])
@pytest.mark.parametrize(
    "name",
    [
        "../../../../victim",
        "../../../../../{top}/victim",
        "{top}/victim",
        "..",
        "../..",
        ".",
        "",
        "./A",
        "A/../../../../../victim",
        "A\n",
        "B\n../../../../victim",
        "latest",
        "versions.js",
        "B" * 100_000,
        "\0",
    ],
)
def test_a_name_that_is_no_revisions_removes_nothing(
    call: Call, project: Path, outside: Outside, tmp_path: Path, command: str, name: str
) -> None:
    placing = project / "published" / ".placing"
    placing.write_text(name.format(top=tmp_path), "utf-8")
    before = everything(project)
    status, err = run(call, command, project)
    assert status == WRONG
    assert len(err.splitlines()) == 1
    assert err.startswith("published/.placing: wanted the name of a revision; found ")
    outside.check()
    left = everything(project)
    assert {path: left.get(path) for path in before if "cache" not in path} == {
        path: said for path, said in before.items() if "cache" not in path
    }


@pytest.mark.parametrize("command", ["issue", "repair"])
def test_a_name_that_is_no_text_removes_nothing(
    call: Call, project: Path, outside: Outside, command: str
) -> None:
    (project / "published" / ".placing").write_bytes(b"\xff\xfe")
    status, err = run(call, command, project)
    assert status == WRONG
    assert err.startswith("published/.placing: wanted the name of a revision; found ")
    outside.check()


def test_what_an_ended_run_had_begun_to_place_is_still_taken_away(call: Call, project: Path) -> None:
    (project / "published" / ".placing").write_text("B", "utf-8")
    (project / "published" / "client" / "B").mkdir()
    (project / "published" / "client" / "B" / "index.html").write_text("half", "utf-8")
    assert run(call, "repair", project)[0] == GOOD
    assert not (project / "published" / "client" / "B").exists()
    assert not (project / "published" / ".placing").exists()


# Links


LINKS = [
    ("build", "build"),
    ("build", "build/client"),
    ("build", "build/client/site"),
    ("build", "build/client/markdown"),
    ("build", "build/client/.part"),
    ("build", "build/client/.next"),
    ("build", "build/client/.former"),
    ("build", "build/cache"),
    ("issue", "build"),
    ("issue", "build/cache"),
    ("issue", "published"),
    ("issue", "published/client"),
    ("issue", "published/installer"),
    ("issue", "published/client/A"),
    ("issue", "published/client/B"),
    ("issue", "published/client/latest"),
    ("issue", "published/.part"),
    ("issue", "issued"),
    ("issue", "issued/.part"),
    ("issue", "issued/A"),
    ("repair", "build"),
    ("repair", "build/cache"),
    ("repair", "published"),
    ("repair", "published/client"),
    ("repair", "published/client/A"),
    ("repair", "published/client/latest"),
    ("repair", "published/.part"),
    ("repair", "issued"),
    ("repair", "issued/.part"),
    ("repair", "issued/A"),
]


@pytest.mark.parametrize("target", ["victim", "jobs/project/room_types"])
@pytest.mark.parametrize(("command", "place"), LINKS)
def test_a_link_to_a_folder_is_refused(
    call: Call, project: Path, outside: Outside, tmp_path: Path, command: str, place: str, target: str
) -> None:
    link = project / place
    if link.is_dir():
        shutil.rmtree(link)
    # What a run would find amiss, so that it has something to do.
    shutil.rmtree(project / "published" / "reviewer" / "A", ignore_errors=True)
    link.symlink_to(tmp_path / target, target_is_directory=True)
    status, err = run(call, command, project)
    assert status == WRONG
    assert [line.partition(": ")[0] for line in err.splitlines()] == [place], err
    assert "found a link" in err
    assert link.is_symlink()
    outside.check()


@pytest.mark.parametrize(
    ("command", "place"),
    [
        ("build", "build/.proposal-lock"),
        ("build", "build/index.html"),
        ("build", "build/client/mkdocs.yml"),
        ("issue", "build/.proposal-lock"),
        ("issue", "published/.placing"),
        ("issue", "published/index.html"),
        ("issue", "published/client/versions.js"),
        ("repair", "build/.proposal-lock"),
        ("repair", "published/.placing"),
        ("repair", "published/client/versions.js"),
    ],
)
def test_a_link_to_a_file_is_refused(
    call: Call, project: Path, outside: Outside, tmp_path: Path, command: str, place: str
) -> None:
    link = project / place
    link.unlink(missing_ok=True)
    link.symlink_to(tmp_path / "victim" / "precious.txt")
    status, err = run(call, command, project)
    assert status == WRONG
    assert [line.partition(": ")[0] for line in err.splitlines()] == [place], err
    assert "found a link" in err
    assert link.is_symlink()
    outside.check()


def test_every_link_is_told_at_once(call: Call, project: Path, outside: Outside, tmp_path: Path) -> None:
    places = ["issued/A", "published/client", "published/installer/latest"]
    for place in places:
        shutil.rmtree(project / place)
        (project / place).symlink_to(tmp_path / "victim")
    status, err = run(call, "repair", project)
    assert status == WRONG
    assert [line.partition(": ")[0] for line in err.splitlines()] == places
    outside.check()


@pytest.mark.parametrize("command", ["build", "issue", "repair"])
def test_links_inside_what_is_taken_away_are_not_followed(
    call: Call, project: Path, outside: Outside, tmp_path: Path, command: str
) -> None:
    for place in ("build/client/site", "build/client/.part", "published/client/A", "published/.part"):
        deep = project / place / "deeper"
        deep.mkdir(parents=True)
        (deep / "link").symlink_to(tmp_path / "victim", target_is_directory=True)
        (deep / "file").symlink_to(tmp_path / "victim" / "precious.txt")
    assert run(call, command, project)[0] == GOOD
    outside.check()


def test_a_project_that_is_reached_by_a_link_is_one(call: Call, project: Path, tmp_path: Path) -> None:
    (tmp_path / "way").symlink_to(project.parent, target_is_directory=True)
    assert run(call, "issue", tmp_path / "way" / "project") == (GOOD, "")
    assert (project / "issued" / "B" / "manifest.json").is_file()


# Other names for a file outside


@pytest.mark.parametrize("command", ["build", "issue", "repair"])
@pytest.mark.parametrize("place", ["build/.proposal-lock", "build/index.html", "published/index.html"])
def test_a_second_name_for_a_file_outside_changes_nothing_of_it(
    call: Call, project: Path, outside: Outside, tmp_path: Path, command: str, place: str
) -> None:
    (project / place).unlink()
    (project / place).hardlink_to(tmp_path / "victim" / "precious.txt")
    assert run(call, command, project) == (GOOD, "")
    outside.check()


@pytest.mark.parametrize("command", ["build", "issue", "repair"])
def test_a_second_name_for_an_input_changes_nothing_of_it(
    call: Call, project: Path, outside: Outside, command: str
) -> None:
    for place in ("build/.proposal-lock", "build/index.html", "published/client/versions.js"):
        (project / place).unlink()
        (project / place).hardlink_to(project / "project.yaml")
    assert run(call, command, project) == (GOOD, "")
    outside.check()


# Things of another kind


@pytest.mark.parametrize("kind", ["file", "pipe", "socket"])
@pytest.mark.parametrize(
    ("command", "place"),
    [
        ("build", "build"),
        ("build", "build/client"),
        ("build", "build/client/.next"),
        ("issue", "build"),
        ("issue", "published"),
        ("issue", "published/client"),
        ("issue", "issued"),
        ("repair", "build"),
        ("repair", "published"),
        ("repair", "published/client"),
    ],
)
def test_what_is_no_folder_is_told_and_stays(
    call: Call, project: Path, outside: Outside, command: str, place: str, kind: str
) -> None:
    shutil.rmtree(project / place, ignore_errors=True)
    make(project / place, kind)
    before = (project / place).lstat()
    status, err = run(call, command, project)
    assert status == WRONG
    assert [line.partition(": ")[0] for line in err.splitlines()] == [place], err
    assert os.path.samestat((project / place).lstat(), before)
    outside.check()


def make(place: Path, kind: str) -> None:
    if kind == "file":
        place.write_text("in the way", "utf-8")
    elif kind == "pipe":
        os.mkfifo(place)
    else:
        here = os.getcwd()
        os.chdir(place.parent)  # a socket's path may be no longer than about a hundred characters
        try:
            with socket.socket(socket.AF_UNIX) as made:
                made.bind(place.name)
        finally:
            os.chdir(here)


@pytest.mark.parametrize("command", ["build", "issue", "repair"])
@pytest.mark.parametrize("kind", ["pipe", "socket", "folder"])
def test_a_lock_that_is_no_file_is_told(call: Call, project: Path, command: str, kind: str) -> None:
    lock = project / "build" / ".proposal-lock"
    lock.unlink()
    lock.mkdir() if kind == "folder" else make(lock, kind)
    status, err = run(call, command, project)
    assert status == WRONG
    (line,) = err.splitlines()
    assert line.startswith("build/.proposal-lock: wanted a ")
    assert line.endswith(f"; found a {kind}")


@pytest.mark.parametrize("name", ["A\nB", "Latest", "-rf", "a b", "C:"])
def test_a_record_whose_name_is_no_revisions_is_told_and_stays(
    call: Call, project: Path, outside: Outside, name: str
) -> None:
    shutil.copytree(project / "issued" / "A", project / "issued" / name)
    before = everything(project / "issued")
    status, err = run(call, "issue", project)
    assert status == WRONG
    assert all(line.startswith("issued/") for line in err.splitlines()), err
    assert everything(project / "issued") == before
    outside.check()
