"""What the program writes on a disk. No other module deletes, renames or replaces anything.

It does so at its own paths (`program_folders`), where no link is followed; and at outputs, which a user
names: new files, regular files to replace, or a new folder.
"""

import os
import shutil
import stat
import tempfile
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path

from proposal.errors import InputError, Place, Problem
from proposal.publish.program_folders import (
    AS_IT_IS,
    FILE,
    FOLDER,
    NOTHING,
    WITHOUT_WAITING,
    Level,
    OwnPath,
    kind_of,
)
from proposal.publish.stop_signals import uninterrupted
from proposal.quantities.messages import printable

_READABLE, _USABLE = 0o666, 0o777  # as far as the user's mask allows it


def make_folder(folder: OwnPath) -> None:
    """Make a folder with those above it, where they are not there."""
    with folder.opened(_make):
        pass


def _make(level: Level, name: str) -> None:
    with suppress(FileExistsError):
        os.mkdir(level.named(name), _USABLE, dir_fd=level.handle)


def write_new(file: OwnPath, content: bytes, mode: int | None = None) -> None:
    """Write a file that does not exist yet, with the folders above it.

    content: of the file.
    mode: its permissions; None for what the user's mask gives.
    """
    try:
        _write_new(file, content, mode)
    except FileNotFoundError:
        make_folder(file.above)
        _write_new(file, content, mode)


def _write_new(file: OwnPath, content: bytes, mode: int | None) -> None:
    with file.held() as (level, name):
        flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | AS_IT_IS
        with os.fdopen(os.open(level.named(name), flags, _READABLE, dir_fd=level.handle), "wb") as opened:
            if mode is not None and os.name == "posix":
                os.fchmod(opened.fileno(), mode)
            opened.write(content)


def write_all(folder: OwnPath, files: Mapping[str, bytes]) -> None:
    """Write files that do not exist yet below a folder, by their path within it."""
    for path, content in files.items():
        write_new(folder / path, content)


def replace(file: OwnPath, content: bytes, staged: OwnPath) -> None:
    """Write a file whole or not at all; what it replaces gives its permissions.

    content: of the file.
    staged: where it is written first, on the same disk; what lies there is deleted.
    """
    mode = _mode(file)
    remove(staged)
    try:
        write_new(staged, content, mode)
        make_folder(file.above)
        move(staged, file)
    except BaseException:
        with suppress(OSError, InputError):
            remove(staged)
        raise


def _mode(file: OwnPath) -> int | None:
    try:
        with file.held() as (level, name):
            found = level.found(name)
    except FileNotFoundError:
        return None
    return None if found is None else stat.S_IMODE(found.st_mode) & _USABLE


def remove(path: OwnPath) -> None:
    """Delete what lies at a path, if anything: a file, or a folder with all in it.

    Links inside the folder are deleted, and not followed.
    """
    try:
        with path.held() as (level, name):
            kind = level.kind(name)
            if kind == FOLDER:
                shutil.rmtree(level.named(name), dir_fd=level.handle)
            elif kind == FILE:
                os.unlink(level.named(name), dir_fd=level.handle)
            elif kind != NOTHING:
                raise path.refusal("a folder or a file", kind)
    except FileNotFoundError:
        pass


def remove_empty(folder: OwnPath) -> None:
    """Delete a folder where nothing is in it."""
    if folder.kind() == FOLDER and not folder.names():
        with folder.held() as (level, name):
            os.rmdir(level.named(name), dir_fd=level.handle)


def move(path: OwnPath, target: OwnPath) -> None:
    """Rename a folder to a free name, or a file to a free name or over another file."""
    with path.held() as (here, name), target.held() as (there, new):
        kind, found = here.kind(name), there.kind(new)
        if kind not in (FOLDER, FILE):
            raise path.refusal("a folder or a file", kind)
        if found != NOTHING and not kind == found == FILE:
            raise target.refusal("nothing" if kind == FOLDER else "a file or nothing", found)
        os.replace(here.named(name), there.named(new), src_dir_fd=here.handle, dst_dir_fd=there.handle)


def settle(folder: OwnPath) -> None:
    """Wait until the disk holds everything below a folder, as far as the system can say.

    Afterwards the folder can be renamed, and is whole whenever the power fails.
    """
    for place, _, names in os.walk(folder.path, topdown=False):
        for name in names:
            _settle(Path(place, name), os.O_RDWR)
        _settle_names(Path(place))


def settle_names(folder: OwnPath) -> None:
    """Wait until the disk holds the names in a folder."""
    _settle_names(folder.path)


def _settle_names(folder: Path) -> None:
    if os.name == "posix":  # other systems do not open folders
        _settle(folder, os.O_RDONLY)


def _settle(path: Path, access: int) -> None:
    handle = os.open(path, access | AS_IT_IS)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def open_kept(file: OwnPath) -> int:
    """Open a file that stays, such as a lock, for reading and writing; it is made where there is none."""
    make_folder(file.above)
    return _opened(file, os.O_RDWR | os.O_CREAT)


def open_kept_for_reading(file: OwnPath) -> int | None:
    """Open a file that stays for reading only; None where there is none."""
    try:
        return _opened(file, os.O_RDONLY)
    except FileNotFoundError:
        return None


def _opened(file: OwnPath, flags: int) -> int:
    with file.held() as (level, name):
        if (kind := level.kind(name)) not in (FILE, NOTHING):
            raise file.refusal("a file", kind)
        handle = os.open(
            level.named(name), flags | AS_IT_IS | WITHOUT_WAITING, _READABLE, dir_fd=level.handle
        )
    if (kind := kind_of(os.fstat(handle))) != FILE:
        os.close(handle)
        raise file.refusal("a file", kind)
    return handle


def note(handle: int, text: str) -> None:
    """Replace the content of a file that stays by a short text.

    handle: of the open file.
    text: in ASCII.
    Nothing is written where the file has a second name: under that it may be anything.
    """
    if os.fstat(handle).st_nlink == 1:
        os.ftruncate(handle, 0)
        os.pwrite(handle, text.encode("ascii"), 0)


@contextmanager
def temporary_folder() -> Iterator[OwnPath]:
    """Give a new folder that nobody else can open, and delete it when the block ends."""
    made: list[tempfile.TemporaryDirectory[str]] = []
    try:
        with uninterrupted():  # a folder that is there and known to nobody would stay
            made.append(tempfile.TemporaryDirectory(prefix="proposal-"))
        yield OwnPath(Path(os.path.realpath(made[0].name)))
    finally:
        with uninterrupted():
            for one in made:
                one.cleanup()


def write_temporary_file(beginning: str, ending: str, content: bytes) -> str:
    """Write a new file into the system's temporary folder, which this user alone can read; return its path.

    content: of the file.
    beginning, ending: of its name.
    """
    handle, path = tempfile.mkstemp(prefix=beginning, suffix=ending)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
    except BaseException:
        os.unlink(path)
        raise
    return path


def write_outputs(files: Mapping[Path, bytes]) -> None:
    """Write files that a user names, with the folders above them: all of them or none.

    Each is new, or replaces a regular file and keeps its permissions. Raises InputError with every one that
    is something else, and OSError, which names the file, where one cannot be written.
    """
    problems = unfit_outputs(files)
    if problems:
        raise InputError(problems)
    staged: dict[Path, tuple[OwnPath, OwnPath]] = {}
    try:
        for path, content in files.items():
            with _naming(path):
                target = _named_by_user(path)
                staged[path] = (target.above / _hidden(), target)
                write_new(staged[path][0], content, _mode(target))
        with uninterrupted():
            for path, (beside, target) in staged.items():
                with _naming(path):
                    move(beside, target)
    except BaseException:
        for beside, _ in reversed(staged.values()):
            _take_back(beside)
        raise


def unfit_outputs(paths: Iterable[Path]) -> list[Problem]:
    """Return a problem for each path under which there is something that is no regular file."""
    return [problem for path in paths for problem in _unfit(path)]


def _unfit(path: Path) -> Iterator[Problem]:
    try:
        kind = kind_of(os.lstat(path))
    except (FileNotFoundError, NotADirectoryError):
        return
    if kind != FILE:
        wanted = "wanted a new file, or a regular file to replace"
        yield Problem(Place(printable(str(path))), "", f"{wanted}; found {kind}")


def write_new_folder(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write a folder that a user names and that does not exist yet, whole or not at all.

    Raises OSError, which names the folder, where it cannot be written.
    """
    with _naming(folder):
        target = _named_by_user(folder)
        beside = target.above / _hidden()
        try:
            write_all(beside, files)
            move(beside, target)
        except BaseException:
            _take_back(beside)
            raise


def _named_by_user(path: Path) -> OwnPath:
    """Return a path that a user names, as one below the nearest folder above it that exists.

    Links may lead to that folder; below it there is nothing yet.
    """
    there = path.parent
    while not os.path.lexists(there):
        there = there.parent
    return OwnPath(Path(os.path.realpath(there, strict=True))) / path.relative_to(there).as_posix()


def _hidden() -> str:
    return f".proposal-{os.urandom(8).hex()}"


def _take_back(beside: OwnPath) -> None:
    """Delete what was written beside its place, and the folders that were made for it."""
    with suppress(OSError, InputError):
        remove(beside)
        for length in range(len(beside.parts) - 1, 0, -1):
            remove_empty(OwnPath(beside.root, beside.parts[:length]))


@contextmanager
def _naming(path: Path) -> Iterator[None]:
    """Let what the system refuses name a path as the user does."""
    try:
        yield
    except OSError as error:
        raise OSError(error.errno, error.strerror or str(error), str(path)) from error
