"""A project folder as a git commit holds it, read without touching work tree, index or network."""

import os
import subprocess
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import IO, NamedTuple

from proposal.errors import InputError, Place, Problem, naming
from proposal.field_classes import dataclass
from proposal.model.folder import FOLDERS, READ_FOLDERS, TOP_FILES
from proposal.model.folder_files import LARGEST_IMAGE, MOST_FILES
from proposal.model.issued import MANIFEST, REGISTER
from proposal.model.loading import ISSUED, LARGEST_RECORD_FILE
from proposal.model.reading.text_files import LARGEST_FILE
from proposal.publish.files import make_folder, write_new
from proposal.publish.program_folders import BUILD, PUBLISHED, OwnPath
from proposal.quantities.messages import printable, shown

_FILES, _LINK = ("100644", "100755", "100664"), "120000"
# Of a whole state, so that a commit of many large files is refused before it is read.
_LARGEST_STATE = 500_000_000
_LARGEST_TREE = 20_000_000


@dataclass(frozen=True, slots=True)
class _Entry:
    """An entry of a tree of git: mode, kind, object, size in bytes (-1 for a tree) and name."""

    mode: str
    kind: str
    object_id: str
    size: int
    name: str


def commit_of(folder: Path, name: str) -> str | None:
    """Return the identity of the commit that a name stands for, None where it stands for none.

    folder: a folder of the repository.
    name: commit, tag or branch, as git takes it.
    """
    if not folder.is_dir() or name.startswith("-") or "\0" in name:
        return None
    found = _git(folder, "rev-parse", "--verify", "--quiet", "--end-of-options", f"{name}^{{commit}}")
    identity = (found or b"").decode("ascii", "replace").strip()
    return identity if len(identity) in (40, 64) and set(identity) <= set("0123456789abcdef") else None


def write_commit(folder: Path, commit: str, label: str, into: OwnPath) -> None:
    """Write the files of a project as a commit holds them, as far as a project is read.

    folder: the project folder, or where it lies in the repository.
    commit: identity of the commit.
    label: what messages call the commit.
    into: an empty folder.
    Raises InputError where the commit holds no such folder, or what no project folder may hold.
    """
    prefix = (_git(folder, "rev-parse", "--show-prefix") or b"").decode("utf-8", "replace").strip("\n")
    problems: list[Problem] = []
    wanted: list[tuple[str, _Entry]] = []
    top = _entries(folder, f"{commit}:{prefix}")
    if top is None:
        where = printable(prefix.rstrip("/")) or "the folder"
        said = complaint_of_git(folder, "ls-tree", f"{commit}:{prefix}")
        message = f"wanted a commit that holds {where}; found none in it" + (f" ({said})" if said else "")
        raise InputError([Problem(Place(label), "", message)])
    for entry in top:
        wanted += _wanted_at_top(folder, entry, problems)
    wanted += list(_wanted_of_records(folder, top))
    if len(wanted) > MOST_FILES:
        message = f"wanted at most {MOST_FILES} files in a project folder; found {len(wanted)}"
        problems.append(Problem(Place(label), "", message))
    if sum(max(entry.size, 0) for _, entry in wanted) > _LARGEST_STATE:
        message = f"wanted at most {_LARGEST_STATE // 1_000_000} MB in a project folder; found more"
        problems.append(Problem(Place(label), "", message))
    if problems:
        raise InputError(problems)
    try:
        _write(folder, wanted, into)
    except BrokenPipeError as error:
        message = "wanted the files of a commit; found git ended before it gave them"
        raise InputError([Problem(Place(label), "", message)]) from error


def _wanted_at_top(folder: Path, entry: _Entry, problems: list[Problem]) -> list[tuple[str, _Entry]]:
    """Return the files to read of one entry of the project folder, by their paths."""
    if entry.kind == "tree":
        if entry.name not in READ_FOLDERS:
            # Others are judged by their names alone.
            return [(f"{entry.name}/", entry)] if entry.name not in FOLDERS and _good(entry, problems) else []
        return list(_inside(folder, entry, f"{entry.name}/", problems))
    return [(entry.name, entry)] if _good(entry, problems) else []


def _inside(folder: Path, entry: _Entry, name: str, problems: list[Problem]) -> Iterator[tuple[str, _Entry]]:
    """Yield what a folder holds that is read, and what folders hold that are read inside it."""
    for one in _entries(folder, entry.object_id) or []:
        if not _good(one, problems, name):
            continue
        yield f"{name}{one.name}" + ("/" if one.kind == "tree" else ""), one
        if one.kind == "tree" and f"{name}{one.name}" in READ_FOLDERS:
            yield from _inside(folder, one, f"{name}{one.name}/", problems)


def _good(entry: _Entry, problems: list[Problem], folder: str = "") -> bool:
    """Say whether an entry may be written, adding what is wrong with it."""
    path = f"{folder}{entry.name}"
    if entry.name.startswith(".") or entry.name.endswith("~"):
        return False
    place = Place(printable(path))
    if "/" in entry.name or "\\" in entry.name or not entry.name.isprintable():
        problems.append(
            Problem(place, "", f"wanted a name of printable characters; found {shown(entry.name)}")
        )
        return False
    if entry.mode == _LINK or (entry.kind == "blob" and entry.mode not in _FILES):
        found = "a link" if entry.mode == _LINK else "something else"
        problems.append(Problem(place, "", f"wanted a file; found {found}"))
        return False
    if entry.kind not in ("blob", "tree"):
        return False
    read = bool(folder) or entry.name in TOP_FILES
    limit = LARGEST_IMAGE if folder == "images/" else LARGEST_FILE
    if entry.kind == "blob" and read and entry.size > limit:
        found = f"{entry.size / 1e6:.1f} MB"
        problems.append(Problem(place, "", f"wanted at most {limit // 1_000_000} MB; found {found}"))
        return False
    return True


def _wanted_of_records(folder: Path, top: Sequence[_Entry]) -> Iterator[tuple[str, _Entry]]:
    """Yield of every issued record the two files that a project reads."""
    for issued in top:
        if issued.name != ISSUED or issued.kind != "tree":
            continue
        for record in _entries(folder, issued.object_id) or []:
            if record.kind != "tree" or not _good(record, []):
                continue
            for one in _entries(folder, record.object_id, MANIFEST, REGISTER) or []:
                if one.kind == "blob" and one.mode in _FILES and one.size <= LARGEST_RECORD_FILE:
                    yield f"{ISSUED}/{record.name}/{one.name}", one


def _write(folder: Path, wanted: Sequence[tuple[str, _Entry]], into: OwnPath) -> None:
    """Write the files, those that nobody reads empty."""
    read = [
        (path, entry) for path, entry in wanted if entry.kind == "blob" and ("/" in path or path in TOP_FILES)
    ]
    for path, entry in wanted:
        if entry.kind == "tree":
            make_folder(into / path.rstrip("/"))
        elif "/" not in path and path not in TOP_FILES:
            write_new(into / path, b"")
    with _process(folder, "cat-file", "--batch") as running:
        assert running.stdin is not None
        assert running.stdout is not None
        for path, entry in read:
            running.stdin.write(f"{entry.object_id}\n".encode("ascii"))
            running.stdin.flush()
            write_new(into / path, _object(running.stdout, entry))
        running.stdin.close()


def _object(stream: IO[bytes], entry: _Entry) -> bytes:
    """Return the next object that git prints: a line about it, its content, and a line's end."""
    head = stream.readline().split()
    if len(head) != 3 or head[1] != b"blob" or int(head[2]) != entry.size:
        raise InputError([Problem(Place(entry.name), "", "wanted an object of git; found it missing")])
    content = stream.read(entry.size)
    stream.read(1)
    return content


def _entries(folder: Path, tree: str, *names: str) -> list[_Entry] | None:
    """Return what a tree holds, None where there is none; of some names only where any are given."""
    listed = _git(folder, "ls-tree", "-z", "-l", "--full-tree", tree, "--", *names)
    if listed is None or len(listed) > _LARGEST_TREE:
        return None
    found = []
    for line in listed.split(b"\0"):
        about, _, name = line.partition(b"\t")
        parts = about.decode("ascii", "replace").split()
        if len(parts) == 4:
            size = int(parts[3]) if parts[3].isdecimal() else -1
            found.append(_Entry(parts[0], parts[1], parts[2], size, name.decode("utf-8", "replace")))
    return found


class Commit(NamedTuple):
    """The commit that a work tree stands at.

    name: its identity, empty where there is none.
    clean: whether the project's files are as in it; None where there is none.
    """

    name: str
    clean: bool | None


def commit_at(folder: Path) -> Commit:
    """Return the commit that a project folder stands at; what a run makes itself is no difference.

    folder: the project folder.
    """
    commit = commit_of(folder, "HEAD")
    if commit is None:
        return Commit("", None)
    own = (f":(exclude){name}" for name in (BUILD, ISSUED, PUBLISHED))
    changed = _git(folder, "status", "--porcelain", "-z", "--", ".", *own)
    return Commit(commit, None if changed is None else not changed)


def complaint_of_git(folder: Path, *arguments: str) -> str:
    """Return why git cannot do something in a folder, in its own words; empty where it can.

    arguments: what it is to do; left out, to find the repository that the folder lies in.
    """
    try:
        with _process(folder, *(arguments or ("rev-parse", "--git-dir")), stderr=subprocess.PIPE) as running:
            said = running.communicate()[1]
    except FileNotFoundError:
        return "git is not installed"
    except OSError as error:
        return f"git cannot be run: {error.strerror}"
    if running.returncode == 0:
        return ""
    first = printable(said.decode("utf-8", "replace").strip().partition("\n")[0])
    return f"git says: {first.removeprefix('fatal: ')}" if first else f"git ended with {running.returncode}"


def _git(folder: Path, *arguments: str) -> bytes | None:
    """Return what git prints, None where it fails or is not there."""
    try:
        with _process(folder, *arguments) as running:
            assert running.stdin is not None
            running.stdin.close()
            assert running.stdout is not None
            printed = running.stdout.read(_LARGEST_TREE + 1)
            if len(printed) > _LARGEST_TREE:
                running.kill()
    except OSError:
        return None
    return printed if running.returncode == 0 else None


def _process(folder: Path, *arguments: str, stderr: int = subprocess.DEVNULL) -> "subprocess.Popen[bytes]":
    """Start git in a folder: nothing is locked, fetched or asked, and no program of the repository runs."""
    # What a hook of git sets is meant for another folder.
    hooked = ("GIT_DIR", "GIT_WORK_TREE", "GIT_INDEX_FILE", "GIT_PREFIX")
    environment = {
        **{name: value for name, value in os.environ.items() if name not in hooked},
        "GIT_OPTIONAL_LOCKS": "0",
        "GIT_NO_LAZY_FETCH": "1",
        "GIT_TERMINAL_PROMPT": "0",
        "GIT_NO_REPLACE_OBJECTS": "1",
        "LC_ALL": "C",
    }
    settings = ("-c", "core.fsmonitor=false", "-c", "protocol.allow=never", "--no-pager")
    with naming("git"):
        return subprocess.Popen(  # noqa: S603 - no shell; names of commits are checked before
            ["git", *settings, *arguments],  # noqa: S607 - wherever the user has it
            cwd=folder,
            env=environment,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=stderr,
        )
