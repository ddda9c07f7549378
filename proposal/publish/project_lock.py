"""Keep runs on one project apart: one that writes from all others, those that only look from one that writes.

The lock is the system's, on a file that stays in `build/`. It ends with the process, however that ends.
"""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from time import monotonic, sleep

from proposal.errors import BuildError
from proposal.publish.files import note, open_kept, open_kept_for_reading
from proposal.publish.program_folders import NOTHING, OwnPath

LONGEST_WAIT_S = 3.0
_BETWEEN_TRIES_S = 0.05
_LOCK = ".proposal-lock"


@contextmanager
def exclusive(folder: OwnPath) -> Iterator[None]:
    """Keep every other run out of a folder until the block ends; wait a few seconds for one that is there.

    Raises BuildError where another run stays longer.
    """
    handle = open_kept(folder / _LOCK)
    try:
        _lock(handle, folder, "exclusive")
        try:
            _say_who(handle, str(os.getpid()))
            yield
        finally:
            _say_who(handle, "")
    finally:
        os.close(handle)


def _say_who(handle: int, process: str) -> None:
    if os.name == "posix":  # elsewhere nobody reads a file that is locked
        note(handle, process)


@contextmanager
def undisturbed(folder: OwnPath) -> Iterator[None]:
    """Keep runs that write out of a folder until the block ends, without writing anything.

    Raises BuildError where one that writes stays longer than a few seconds, or has begun meanwhile.
    """
    handle = open_kept_for_reading(folder / _LOCK)
    if handle is None:
        # Whoever writes makes the file first, and leaves it there.
        yield
        if (folder / _LOCK).kind() != NOTHING:
            raise BuildError(f"another run began in {folder.path} meanwhile; call again when it has finished")
        return
    try:
        _lock(handle, folder, "shared")
        yield
    finally:
        os.close(handle)


def _lock(handle: int, folder: OwnPath, how: str) -> None:
    until = monotonic() + LONGEST_WAIT_S
    while not _locked(handle, how):
        if monotonic() > until:
            holder = os.pread(handle, 20, 0).decode("ascii", "replace").strip() if os.name == "posix" else ""
            by = f" (process {holder})" if holder.isdecimal() else ""
            raise BuildError(f"another run{by} is at work in {folder.path}; wait until it has finished")
        sleep(_BETWEEN_TRIES_S)


def _locked(handle: int, how: str) -> bool:
    if os.name == "nt":  # pragma: no cover - tests run elsewhere
        import msvcrt

        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)  # type: ignore[attr-defined,unused-ignore] # there alone
        except OSError:
            return False
        return True
    import fcntl

    try:
        fcntl.flock(handle, (fcntl.LOCK_EX if how == "exclusive" else fcntl.LOCK_SH) | fcntl.LOCK_NB)
    except OSError:
        return False
    return True
