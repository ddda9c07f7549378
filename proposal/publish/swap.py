"""Put finished folders in the place of older ones, so that a reader sees all of one or all of the other.

A build is written into `.part` beside what it replaces. When it is complete `.part` is renamed `.next`:
that is the moment it counts. Then each of its entries takes the place of the older one. A run that finds
`.next` completes the swap that was interrupted; one that finds `.part` throws it away.
"""

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from proposal.errors import BuildError


@contextmanager
def exclusive(folder: Path) -> Iterator[None]:
    """Keep every other run out of a folder until the block ends.

    The lock is the system's and ends with the process, however it ends.
    Raises BuildError where another run holds it.
    """
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / ".proposal-lock"
    handle = os.open(path, os.O_RDWR | os.O_CREAT, 0o644)
    try:
        if not _locked(handle):
            holder = os.pread(handle, 20, 0).decode("ascii", "replace").strip() if os.name == "posix" else ""
            by = f" (process {holder})" if holder else ""
            raise BuildError(f"another run{by} is building in {folder}; wait until it has finished")
        if os.name == "posix":
            os.ftruncate(handle, 0)
            os.pwrite(handle, str(os.getpid()).encode("ascii"), 0)
        yield
    finally:
        os.close(handle)


def _locked(handle: int) -> bool:
    if os.name == "nt":  # pragma: no cover - tests run elsewhere
        import msvcrt

        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)  # type: ignore[attr-defined,unused-ignore] # there alone
        except OSError:
            return False
        return True
    import fcntl

    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True


@contextmanager
def replacing(folder: Path) -> Iterator[Path]:
    """Give a new, empty folder to fill, and swap its entries into `folder` when the block ends well.

    Entries of `folder` that the new one does not have stay. Where the block fails, nothing changes.
    """
    folder.mkdir(parents=True, exist_ok=True)
    complete_swap(folder)
    part = folder / ".part"
    shutil.rmtree(part, ignore_errors=True)
    part.mkdir()
    try:
        yield part
    except BaseException:
        shutil.rmtree(part, ignore_errors=True)
        raise
    part.rename(folder / ".next")
    complete_swap(folder)


def complete_swap(folder: Path) -> None:
    """Finish the swap that an earlier run began in a folder, if there is one."""
    following, former = folder / ".next", folder / ".former"
    if following.is_dir():
        for new in sorted(following.iterdir()):
            current = folder / new.name
            if current.exists():
                _remove(former / new.name)
                former.mkdir(exist_ok=True)
                current.rename(former / new.name)
            new.rename(current)
        following.rmdir()
    _remove(former)


def _remove(path: Path) -> None:
    if path.is_dir() and not path.is_symlink():
        shutil.rmtree(path)
    else:
        path.unlink(missing_ok=True)
