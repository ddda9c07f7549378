"""Messages where the system refuses something, and the message and report where the program fails."""

import errno
import os
import shlex
import sys
import traceback

from proposal.errors import PartError, ProposalError, printable

LONGEST_REASON = 200
# What a system says where it, and not this program, is at fault, although it names no file.
_OF_THE_SYSTEM = frozenset(
    getattr(errno, name)
    for name in ("EAGAIN", "EDQUOT", "EFBIG", "EIO", "EMFILE", "ENFILE", "ENOMEM", "ENOSPC", "EROFS")
    if hasattr(errno, name)
)


def is_failure(error: BaseException) -> bool:
    """Return whether an error is a fault of this program, not of the input or the system."""
    if isinstance(error, OSError):
        return not (_named(error) or error.errno in _OF_THE_SYSTEM)
    return not isinstance(error, ProposalError)


def line_of(error: BaseException) -> str:
    """Return the message for an error: one line, or one for each problem of the input.

    Where the program itself has failed the details are kept in the system's temporary folder.
    Nothing is raised, whatever is full or forbidden.
    """
    if is_failure(error):
        return _failure_line(error)
    if not isinstance(error, OSError):
        return str(error)
    what = error.strerror or str(error)
    named = _named(error)
    return f"{named}: cannot be read or written: {what}" if named else what


def _named(error: OSError) -> str:
    """Return the file that the system says something of, empty where it says none."""
    where = error.filename if error.filename2 is None else error.filename2
    return "" if where is None or isinstance(where, int) else printable(os.fsdecode(where))


def _failure_line(error: BaseException) -> str:
    said = f"the program itself failed ({_reason(error)})"
    try:
        return f"{said}; please report it, with the details in {_kept(error)}"
    except Exception as obstacle:  # the second failure must not hide the first
        return f"{said}; please report it; its details could not be kept ({_reason(obstacle)})"


def _reason(error: BaseException) -> str:
    """Return the kind of an error and what it says, in one line that is not long."""
    try:
        said = str(error).strip()
    except Exception:  # an error that cannot even say what it is
        said = ""
    # A failure elsewhere says all of it; what it was stands last.
    line = printable(said.splitlines()[-1].strip()) if said else ""
    if len(line) > LONGEST_REASON:
        line = f"{line[:LONGEST_REASON]}…"
    if isinstance(error, PartError):
        return line
    return f"{type(error).__name__}: {line}" if line else type(error).__name__


def _kept(error: BaseException) -> str:
    """Write the details of a failure into a new file that this user alone can read; return its path."""
    from proposal.publish.files import write_temporary_file

    details = _details(error).encode("utf-8", "backslashreplace")
    return write_temporary_file("proposal-failure-", ".txt", details)


def _details(error: BaseException) -> str:
    import platform
    from importlib.metadata import distributions

    from proposal import __version__

    versions = sorted({f"{one.metadata['Name']} {one.version}" for one in distributions()}, key=str.casefold)
    lines = [
        f"command: {shlex.join(sys.argv)}",
        f"folder: {_here()}",
        f"proposal {__version__}, Python {platform.python_version()}, {platform.platform()}",
        "",
        "".join(traceback.format_exception(error)),
        "installed:",
        *versions,
    ]
    return "\n".join(lines) + "\n"


def _here() -> str:
    try:
        return os.getcwd()
    except OSError as error:  # the folder is gone
        return str(error)
