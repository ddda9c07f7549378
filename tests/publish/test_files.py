"""One module deletes, renames, replaces and writes; it follows no link, whenever that was put there."""

import ast
import os
import shutil
import sys
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path
from types import FrameType
from typing import Any

import pytest

import proposal
from proposal.errors import InputError
from proposal.publish import program_folders
from proposal.publish.files import (
    make_folder,
    move,
    note,
    open_kept,
    open_kept_for_reading,
    remove,
    remove_empty,
    replace,
    settle,
    temporary_folder,
    write_all,
    write_new,
    write_new_folder,
    write_outputs,
)
from proposal.publish.program_folders import FILE, FOLDER, NOTHING, Level, OwnPath, own_folders
from tests.publish import interrupted

PACKAGE = Path(proposal.__file__).parent
FILES = "publish/files.py"

# No other module calls these


METHODS = frozenset(
    {"chmod", "hardlink_to", "lchmod", "mkdir", "rename", "rmdir", "symlink_to", "touch", "unlink"}
    | {"write_bytes", "write_text"}
)
OF_OS = frozenset(
    {
        "chmod",
        "chown",
        "copy_file_range",
        "fchmod",
        "ftruncate",
        "link",
        "makedirs",
        "mkdir",
        "mkfifo",
        "mknod",
    }
    | {"pwrite", "pwritev", "remove", "removedirs", "rename", "renames", "replace", "rmdir", "sendfile"}
    | {"symlink", "truncate", "unlink", "utime", "write", "writev"}
)
OF_SHUTIL_HARMLESS = frozenset({"which", "get_terminal_size", "disk_usage"})
# Takes whatever is written, and keeps nothing: for streams that are closed.
NOWHERE = "os.devnull"


def breaches(source: str, name: str) -> list[str]:
    """Return each place of a module that writes, as `name:line`.

    Whatever is imported from `os`, `shutil` or `tempfile` by name is a breach where the call would be one.
    """
    found: list[int] = []
    modules = {"os": "os", "shutil": "shutil", "tempfile": "tempfile"}
    tree = ast.parse(source)
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            modules |= {
                one.asname or one.name: one.name for one in node.names if one.name in modules.values()
            }
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and node.module in ("os", "shutil", "tempfile", "pathlib"):
            found += [node.lineno for one in node.names if writes(str(node.module), one.name)]
        elif isinstance(node, ast.Attribute):
            module = modules.get(node.value.id) if isinstance(node.value, ast.Name) else None
            if writes(module, node.attr) if module else node.attr in METHODS:
                found.append(node.lineno)
        if isinstance(node, ast.Call) and (opens_for_writing(node) or replaces(node, modules)):
            found.append(node.lineno)
    return [f"{name}:{line}" for line in sorted(set(found))]


def writes(module: str | None, name: str) -> bool:
    if module == "os":
        return name in OF_OS
    if module == "shutil":
        return name not in OF_SHUTIL_HARMLESS
    return module == "tempfile"


def opens_for_writing(call: ast.Call) -> bool:
    """Say whether a call opens a file for writing, or in a way that cannot be read here."""
    called = ast.unparse(call.func)
    if call.args and ast.unparse(call.args[0]) == NOWHERE:
        return False
    if called == "os.open":
        flags = ast.unparse(call.args[1]) if len(call.args) > 1 else ""
        return any(word in flags for word in ("WR", "CREAT", "TRUNC", "APPEND", "flags"))
    if called != "open" and not called.endswith(".open"):
        return False
    place = 1 if called in ("open", "io.open") else 0
    modes = [word.value for word in call.keywords if word.arg == "mode"] + call.args[place : place + 1]
    return any(not isinstance(mode, ast.Constant) or set("wax+") & set(str(mode.value)) for mode in modes)


def replaces(call: ast.Call, modules: dict[str, str]) -> bool:
    """Say whether a call is `path.replace(target)`: texts take two arguments, times and rows named ones."""
    function = call.func
    return (
        isinstance(function, ast.Attribute)
        and function.attr == "replace"
        and len(call.args) == 1
        and not call.keywords
        and not (isinstance(function.value, ast.Name) and function.value.id in modules)
    )


def sources() -> Iterator[tuple[str, str]]:
    for path in sorted(PACKAGE.rglob("*.py")):
        yield path.relative_to(PACKAGE).as_posix(), path.read_text("utf-8")


def test_one_module_writes() -> None:
    by_name = dict(sources())
    assert len(by_name) > 200
    assert breaches(by_name.pop(FILES), FILES)
    assert [one for name, source in by_name.items() for one in breaches(source, name)] == []


@pytest.mark.parametrize(
    "line",
    [
        "path.unlink()",
        "gone = path.unlink",
        "path.rename(other)",
        "path.replace(other)",
        "path.rmdir()",
        "path.mkdir()",
        "path.touch()",
        "path.write_text('x')",
        "path.write_bytes(b'x')",
        "path.symlink_to(other)",
        "import os; os.remove(path)",
        "import os; os.replace(path, other)",
        "import os as system; system.unlink(path)",
        "import os; os.open(path, os.O_RDWR | os.O_CREAT)",
        "import os; os.open(path, flags)",
        "from os import rename",
        "from shutil import rmtree",
        "import shutil; shutil.copytree(path, other)",
        "import tempfile; tempfile.mkdtemp()",
        "from tempfile import TemporaryDirectory",
        "open(path, 'w')",
        "open(path, mode='ab')",
        "open(path, mode)",
        "path.open('r+')",
    ],
)
def test_a_module_that_writes_would_be_seen(line: str) -> None:
    assert breaches(line, "pages/cover.py") == ["pages/cover.py:1"]


@pytest.mark.parametrize(
    "line",
    [
        "text.replace('a', 'b')",
        "replace(row, name='b')",
        "row.replace(name='b')",
        "import os; os.path.realpath(path)",
        "import os; os.open(path, os.O_RDONLY)",
        "import shutil; shutil.which('git')",
        "open(path)",
        "open(path, 'rb')",
        "path.open()",
        "path.read_bytes()",
        "names.remove(name)",
    ],
)
def test_a_module_that_reads_is_none(line: str) -> None:
    assert breaches(line, "pages/cover.py") == []


def test_whatever_a_run_writes_in_a_project_the_one_module_writes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    interrupted.make_quick(monkeypatch)
    project = Path(shutil.copytree(interrupted.MINIMAL, tmp_path / "project"))
    writers: dict[str, int] = {}

    def writer() -> None:
        frame: FrameType | None = sys._getframe(2)
        while frame is not None and not frame.f_code.co_filename.startswith(str(PACKAGE)):
            # The site builder writes into a folder that the one module has made for it.
            if frame.f_code is interrupted.quick_site.__code__:
                return
            frame = frame.f_back
        name = Path(frame.f_code.co_filename).relative_to(PACKAGE).as_posix() if frame else "elsewhere"
        writers[name] = writers.get(name, 0) + 1

    with interrupted.WATCH.each(project, writer):
        interrupted.issue_revision(project, "A")
        interrupted.build_draft(project)
        shutil.rmtree(project / "published" / "client" / "A")
        writers.pop("elsewhere")  # the removal above
        interrupted.repair(project, None, lambda _: None)
    assert set(writers) == {FILES}
    assert writers[FILES] > 300


# Own paths


@pytest.fixture
def victim(tmp_path: Path) -> Path:
    folder = tmp_path / "victim"
    (folder / "below").mkdir(parents=True)
    (folder / "below" / "precious").write_text("precious")
    (folder / "precious").write_text("precious")
    return folder


def is_whole(victim: Path) -> bool:
    found = {str(path.relative_to(victim)) for path in victim.rglob("*")}
    return found == {"below", "below/precious", "precious"} and all(
        path.read_text() == "precious" for path in victim.rglob("precious")
    )


@pytest.mark.parametrize(
    "below", ["..", "a/../../..", "", "/", "/etc", "a//b", ".", "a/.", "a/\0", "../victim", "a/b/"]
)
def test_a_path_that_leads_elsewhere_is_none(build: OwnPath, below: str) -> None:
    with pytest.raises(InputError, match=r"^build: wanted names of files and folders; found "):
        build / below


def test_a_path_knows_where_it_lies(tmp_path: Path, build: OwnPath) -> None:
    path = build / "client" / "site/index.html"
    assert str(path) == "build/client/site/index.html"
    assert path.path == tmp_path / "build" / "client" / "site" / "index.html"
    assert str(path.above) == "build/client/site"
    assert str(build / "a\nb") == "build/a\\nb"


def test_the_project_folder_is_resolved_once(tmp_path: Path, victim: Path) -> None:
    (tmp_path / "real").mkdir()
    (tmp_path / "way").symlink_to("real")
    own = own_folders(tmp_path / "way")
    (tmp_path / "way").unlink()
    (tmp_path / "way").symlink_to(victim)
    write_new(own.build / "client/below/precious", b"new")
    assert (tmp_path / "real" / "build" / "client" / "below" / "precious").read_bytes() == b"new"
    assert is_whole(victim)


ACTIONS: dict[str, Callable[[OwnPath], object]] = {
    "make": make_folder,
    "write": lambda path: write_new(path, b"new"),
    "replace": lambda path: replace(path, b"new", path.above / "staged"),
    "remove": remove,
    "remove empty": remove_empty,
    "move away": lambda path: move(path, path.above / "moved"),
    "move here": lambda path: move(path.above / "other", path),
    "keep": open_kept,
    "look": open_kept_for_reading,
    "kind": OwnPath.kind,
    "names": OwnPath.names,
    "read": OwnPath.read,
}


@pytest.mark.parametrize("action", ACTIONS)
@pytest.mark.parametrize(
    ("link", "path"),
    [
        ("build", "client/precious"),
        ("build/client", "client/precious"),
        ("build/client", "client/below/precious"),
        ("build/client/link", "client/link/precious"),
    ],
)
def test_a_link_on_the_way_is_refused(
    tmp_path: Path, build: OwnPath, victim: Path, action: str, link: str, path: str
) -> None:
    place = tmp_path / link
    place.parent.mkdir(parents=True, exist_ok=True)
    place.symlink_to(victim)
    with pytest.raises(InputError) as refused:
        ACTIONS[action](build / path)
    assert str(refused.value) == f"{link}: wanted a folder; found a link"
    assert is_whole(victim)


@pytest.mark.parametrize("action", sorted({*ACTIONS} - {"make", "names"}))
@pytest.mark.parametrize("target", ["victim", "victim/precious", "nowhere"])
def test_a_link_in_the_place_itself_is_refused(
    tmp_path: Path, build: OwnPath, victim: Path, action: str, target: str
) -> None:
    write_all(build / "client", {"other": b"other"})
    (build / "client/link").path.symlink_to(tmp_path / target)
    with pytest.raises((InputError, FileExistsError)) as refused:
        ACTIONS[action](build / "client/link")
    assert "build/client/link" in str(refused.value)
    assert is_whole(victim)
    assert os.readlink(tmp_path / "build" / "client" / "link") == str(tmp_path / target)
    assert not (tmp_path / "nowhere").exists()


KIND = Level.kind


@pytest.mark.skipif(not program_folders._BY_HANDLE, reason="this system opens no name in an open folder")
@pytest.mark.parametrize("action", ["write", "replace", "remove", "move away", "move here", "keep"])
def test_a_link_that_is_put_there_meanwhile_is_not_followed(
    tmp_path: Path, build: OwnPath, victim: Path, action: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A folder is exchanged for a link after it was looked at, and again after it was opened."""
    for exchanged_at in range(1, 12):
        if build.path.exists():
            shutil.rmtree(build.path)
        write_all(build / "client", {"precious": b"own", "other": b"own"})
        looked = 0

        def exchanged(level: Level, name: str, at: int = exchanged_at) -> str:
            nonlocal looked
            found = KIND(level, name)
            looked += 1
            if looked == at:
                shutil.move(build.path / "client", tmp_path / f"taken-{action}-{at}")
                (build.path / "client").symlink_to(victim)
            return found

        with monkeypatch.context() as patched:
            patched.setattr(Level, "kind", exchanged)
            with suppress(InputError, OSError):
                ACTIONS[action](build / "client/precious")
        assert is_whole(victim), exchanged_at


def test_a_folder_is_removed_with_the_links_in_it_and_not_with_what_they_lead_to(
    build: OwnPath, victim: Path
) -> None:
    write_all(build / "client", {"a/b/c": b""})
    (build / "client/a/link").path.symlink_to(victim)
    (build / "client/a/b/file").path.symlink_to(victim / "precious")
    remove(build / "client")
    assert (build / "client").kind() == NOTHING
    assert is_whole(victim)


def test_a_file_is_written_once_and_replaced_whole(build: OwnPath) -> None:
    file, staged = build / "client/page", build / ".part/file"
    write_new(file, b"one")
    with pytest.raises(FileExistsError, match="build/client/page"):
        write_new(file, b"two")
    write_new(staged, b"what an ended run left")
    replace(file, b"three", staged)
    assert (file.read(), staged.kind(), file.kind()) == (b"three", NOTHING, FILE)


def test_what_is_replaced_gives_its_permissions(build: OwnPath) -> None:
    file = build / "page"
    write_new(file, b"one")
    file.path.chmod(0o600)
    replace(file, b"two", build / "staged")
    assert file.path.stat().st_mode & 0o777 == 0o600


def test_a_replacement_that_fails_leaves_what_was_there(build: OwnPath) -> None:
    make_folder(build / "page/below")
    with pytest.raises(InputError, match="build/page: wanted a file or nothing; found a folder"):
        replace(build / "page", b"new", build / "staged")
    assert build.names() == ["page"]
    assert (build / "page/below").kind() == FOLDER


def test_folders_are_renamed_to_free_names_alone(build: OwnPath) -> None:
    write_all(build, {"new/page": b"new", "old/page": b"old", "file": b"file"})
    for taken in ("old", "file"):
        with pytest.raises(InputError, match=f"build/{taken}: wanted nothing; found a "):
            move(build / "new", build / taken)
    with pytest.raises(InputError, match="build/gone: wanted a folder or a file; found nothing"):
        move(build / "gone", build / "free")
    move(build / "new", build / "free")
    assert build.names() == ["file", "free", "old"]


def test_what_is_not_there_is_nothing(build: OwnPath) -> None:
    gone = build / "a/b/c"
    assert (gone.kind(), gone.names(), gone.read(), open_kept_for_reading(gone)) == (NOTHING, [], None, None)
    remove(gone)
    remove_empty(gone)
    assert not build.path.exists()


def test_nothing_is_noted_in_a_file_with_a_second_name(build: OwnPath, victim: Path) -> None:
    make_folder(build)
    handle = open_kept(build / "lock")
    note(handle, "12345")
    note(handle, "67")
    os.close(handle)
    assert (build / "lock").read() == b"67"
    remove(build / "lock")
    (build / "lock").path.hardlink_to(victim / "precious")
    handle = open_kept(build / "lock")
    note(handle, "89")
    os.close(handle)
    assert is_whole(victim)


def test_a_folder_settles_with_whatever_lies_in_it(build: OwnPath) -> None:
    write_all(build / "part", {"a/b/c": b"content", "d": b""})
    settle(build / "part")
    assert (build / "part/a/b/c").read() == b"content"


def test_a_temporary_folder_ends_with_its_block() -> None:
    with temporary_folder() as folder:
        write_new(folder / "a/b", b"content")
        place = folder.path
        assert place.stat().st_mode & 0o777 == 0o700
    assert not place.exists()


# What a user names


def test_an_output_is_new_or_replaces_a_file(tmp_path: Path) -> None:
    one, two = tmp_path / "one", tmp_path / "made" / "here" / "two"
    one.write_text("old")
    one.chmod(0o640)
    write_outputs({one: b"new", two: b"new"})
    assert one.read_bytes() == two.read_bytes() == b"new"
    assert one.stat().st_mode & 0o777 == 0o640
    assert sorted(os.listdir(tmp_path)) == ["made", "one"]


def test_none_counts_where_one_may_not_be_written(tmp_path: Path, victim: Path) -> None:
    (tmp_path / "link").symlink_to(victim / "precious")
    os.mkfifo(tmp_path / "pipe")
    names = ("a", "link", "pipe", "victim")
    with pytest.raises(InputError) as refused:
        write_outputs({tmp_path / name: b"new" for name in names})
    assert str(refused.value).splitlines() == [
        f"{tmp_path}/link: wanted a new file, or a regular file to replace; found a link",
        f"{tmp_path}/pipe: wanted a new file, or a regular file to replace; found a pipe",
        f"{tmp_path}/victim: wanted a new file, or a regular file to replace; found a folder",
    ]
    assert is_whole(victim)
    assert sorted(os.listdir(tmp_path)) == ["link", "pipe", "victim"]


def test_an_output_that_cannot_be_written_leaves_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "first").write_text("old")

    def full(*_: Any, **__: Any) -> None:
        raise OSError(28, "No space left on device", "somewhere")

    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(OSError, match="No space left") as refused:
        write_outputs({tmp_path / "first": b"new", tmp_path / "made" / "here" / "second": b"new"})
    assert refused.value.filename == str(tmp_path / "first")
    assert os.listdir(tmp_path) == ["first"]
    assert (tmp_path / "first").read_text() == "old"


def test_a_new_folder_is_written_whole_or_not_at_all(tmp_path: Path) -> None:
    write_new_folder(tmp_path / "jobs" / "one", {"a": b"a", "b/c": b"c"})
    assert {str(path.relative_to(tmp_path)) for path in tmp_path.rglob("*")} == {
        "jobs",
        "jobs/one",
        "jobs/one/a",
        "jobs/one/b",
        "jobs/one/b/c",
    }
    with pytest.raises(InputError, match="wanted names of files and folders"):
        write_new_folder(tmp_path / "jobs" / "two", {"a": b"a", "../c": b"c"})
    assert os.listdir(tmp_path / "jobs") == ["one"]


def test_a_folder_in_the_place_of_a_file_is_said_to_be_one(tmp_path: Path) -> None:
    place = own_folders(tmp_path).build / "list.json"
    (tmp_path / "build" / "list.json").mkdir(parents=True)
    with pytest.raises(InputError, match="wanted a file; found a folder"):
        place.read()
