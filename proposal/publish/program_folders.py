"""Paths of the program's own: below a project's `build/`, `issued/` and `published/`, or a folder of one run.

The folder at the top is resolved once. Below it each level is opened by its name in the level above it, so
that a link is refused and never followed, whenever it was put there. Here paths are looked at and read;
`files` writes.
"""

import os
import stat
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import NamedTuple

from proposal.errors import InputError, Place, Problem
from proposal.field_classes import dataclass
from proposal.quantities.messages import printable, shown

BUILD, ISSUED, PUBLISHED = "build", "issued", "published"
FOLDER, FILE, NOTHING = "a folder", "a file", "nothing"
_KINDS: Mapping[int, str] = {
    stat.S_IFDIR: FOLDER,
    stat.S_IFREG: FILE,
    stat.S_IFLNK: "a link",
    stat.S_IFIFO: "a pipe",
    stat.S_IFSOCK: "a socket",
    stat.S_IFCHR: "a device",
    stat.S_IFBLK: "a device",
}
# Elsewhere each level is looked at before its path is used.
_BY_HANDLE = os.name == "posix" and {os.open, os.stat} <= os.supports_dir_fd
# What a system lacks of these it does not need.
AS_IT_IS = getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_CLOEXEC", 0) | getattr(os, "O_BINARY", 0)
WITHOUT_WAITING = getattr(os, "O_NONBLOCK", 0)  # a pipe would wait for its other end
_NO_PART_OF_A_NAME = frozenset("\0\\:" if os.name == "nt" else "\0")
_AS_FOLDER = os.O_RDONLY | AS_IT_IS | getattr(os, "O_DIRECTORY", 0)


class Level(NamedTuple):
    """A folder that is held open.

    folder: its path.  handle: None on systems where no name can be looked up in an open folder.
    """

    folder: Path
    handle: int | None

    def named(self, name: str) -> str:
        """Return what stands for a name here in calls of the system that take the handle beside it."""
        return str(self.folder / name) if self.handle is None else name

    def found(self, name: str) -> os.stat_result | None:
        """Return what lies here under a name, a link as itself; None where there is nothing."""
        try:
            return os.stat(self.named(name), dir_fd=self.handle, follow_symlinks=False)
        except FileNotFoundError:
            return None

    def kind(self, name: str) -> str:
        """Return what lies here under a name, in words."""
        found = self.found(name)
        return NOTHING if found is None else kind_of(found)


def kind_of(found: os.stat_result) -> str:
    """Return in words what a status is of.

    found: status of a file, as the system gives it.
    """
    return _KINDS.get(stat.S_IFMT(found.st_mode), "something else")


Missing = Callable[[Level, str], None]


@dataclass(frozen=True, slots=True)
class OwnPath:
    """A path of the program's own.

    root: the folder at the top, as it really lies.  parts: the names below it.
    A link, or another kind of thing than wanted, at any level, is an InputError that names the path below the
    root; what the system refuses is an OSError that names the whole path.
    """

    root: Path
    parts: tuple[str, ...] = ()

    def __truediv__(self, below: str) -> "OwnPath":
        """Return a path below this one; raises InputError where a name in it would lead elsewhere."""
        names = tuple(below.split("/"))
        for name in names:
            if name in ("", ".", "..") or not _NO_PART_OF_A_NAME.isdisjoint(name):
                raise self.refusal("names of files and folders", shown(below))
        return OwnPath(self.root, (*self.parts, *names))

    def __str__(self) -> str:
        """Return the path below the root, as messages name it."""
        return printable("/".join(self.parts) or str(self.root))

    @property
    def path(self) -> Path:
        """The whole path, for what reads, and for libraries."""
        return self.root.joinpath(*self.parts)

    @property
    def above(self) -> "OwnPath":
        """The path of the folder that this lies in."""
        return OwnPath(self.root, self.parts[:-1])

    def kind(self) -> str:
        """Return FOLDER, FILE or NOTHING; raises InputError for anything else."""
        if not self.parts:
            return FOLDER
        try:
            with self.held() as (level, name):
                found = level.kind(name)
        except FileNotFoundError:
            return NOTHING
        if found not in (FOLDER, FILE, NOTHING):
            raise self.refusal("a folder or a file", found)
        return found

    def names(self) -> list[str]:
        """Return the names of what lies in this folder, in order; none where there is no folder."""
        try:
            with self.opened(_none) as level:
                return sorted(os.listdir(level.folder if level.handle is None else level.handle))
        except FileNotFoundError:
            return []
        except OSError as error:
            error.filename = error.filename if isinstance(error.filename, str) else str(self)
            raise

    def sizes(self) -> dict[str, int]:
        """Return the size of each file in this folder, in bytes, by name in order."""
        try:
            with self.opened(_none) as level:
                names = sorted(os.listdir(level.folder if level.handle is None else level.handle))
                found = {name: level.found(name) for name in names}
        except FileNotFoundError:
            return {}
        return {name: one.st_size for name, one in found.items() if one and kind_of(one) == FILE}

    def read(self) -> bytes | None:
        """Return what this file holds, None where there is none."""
        try:
            with self.held() as (level, name):
                if (found := level.kind(name)) not in (FILE, NOTHING):
                    raise self.refusal("a file", found)
                return regular_content(level.named(name), level.handle)
        except FileNotFoundError:
            return None

    def refusal(self, wanted: str, found: str) -> InputError:
        """Return the error that says what was wanted here, and found."""
        return InputError([Problem(Place(str(self)), "", f"wanted {wanted}; found {found}")])

    @contextmanager
    def held(self) -> Iterator[tuple[Level, str]]:
        """Hold the folder above open, and yield it with the last name.

        Raises FileNotFoundError where there is no folder above.
        """
        with self.above.opened(_none) as level, self._naming():
            yield level, self.parts[-1]

    @contextmanager
    def opened(self, missing: Missing) -> Iterator[Level]:
        """Hold this folder open, each level opened in the one above it.

        missing: called with a level and a name where the folder of that name is not there.
        """
        with ExitStack() as kept:
            with self._naming():
                level = self._descended(kept, missing)
            yield level

    def _descended(self, kept: ExitStack, missing: Missing) -> Level:
        level = Level(self.root, os.open(self.root, _AS_FOLDER) if _BY_HANDLE else None)
        for length, name in enumerate(self.parts, 1):
            _keep(kept, level)
            kind = level.kind(name)
            if kind == NOTHING:
                missing(level, name)
            elif kind != FOLDER:
                raise OwnPath(self.root, self.parts[:length]).refusal("a folder", kind)
            handle = os.open(name, _AS_FOLDER, dir_fd=level.handle) if _BY_HANDLE else None
            level = Level(level.folder / name, handle)
        _keep(kept, level)
        return level

    @contextmanager
    def _naming(self) -> Iterator[None]:
        """Let what the system refuses name the whole path: it knows the last part of it, or none."""
        try:
            yield
        except OSError as error:
            raise OSError(error.errno, error.strerror or str(error), str(self.path)) from error


def _keep(kept: ExitStack, level: Level) -> None:
    if level.handle is not None:
        kept.callback(os.close, level.handle)


def _none(level: Level, name: str) -> None:
    raise FileNotFoundError(2, "No such file or directory", str(level.folder / name))


class OwnFolders(NamedTuple):
    """The three folders of a project that are the program's own."""

    build: OwnPath
    issued: OwnPath
    published: OwnPath


def own_folders(project: Path) -> OwnFolders:
    """Return a project's own folders; the project folder is resolved here, and has to exist."""
    root = OwnPath(Path(os.path.realpath(project, strict=True)))
    return OwnFolders(root / BUILD, root / ISSUED, root / PUBLISHED)


def refuse_in_the_way(folders: Iterable[OwnPath]) -> None:
    """Raise InputError with every link, and everything else that is neither file nor folder, in some folders.

    Each of the folders is a folder or not there; what lies in it is a folder or a file.
    """
    problems: dict[Place, Problem] = {}
    for folder in folders:
        # Of a folder that is none, what is said of it as a folder counts.
        problems |= {problem.place: problem for problem in _in_the_way(folder)}
    if problems:
        raise InputError(problems.values())


def _in_the_way(folder: OwnPath) -> Iterator[Problem]:
    try:
        for name in folder.names():
            try:
                (folder / name).kind()
            except InputError as error:
                yield from error.problems
    except InputError as error:
        yield from error.problems


def regular_content(name: str | Path, folder: int | None = None) -> bytes | None:
    """Return what a regular file holds, None where a link or something of another kind lies there.

    name: of the file in an open folder, or its path.  folder: handle of that folder.
    Raises FileNotFoundError where there is nothing.
    """
    if kind_of(os.stat(name, dir_fd=folder, follow_symlinks=False)) != FILE:
        return None
    with os.fdopen(os.open(name, os.O_RDONLY | AS_IT_IS | WITHOUT_WAITING, dir_fd=folder), "rb") as file:
        return file.read() if kind_of(os.fstat(file.fileno())) == FILE else None
