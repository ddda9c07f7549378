"""What is said of errors, and what is kept where the program itself has failed."""

import errno
import os
import re
import stat
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from proposal import __version__
from proposal.errors import BuildError, InputError, PartError, Place, Problem
from proposal.publish.failures import is_failure, line_of


@pytest.fixture
def temporary(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """The system's temporary folder, empty."""
    folder = tmp_path / "temporary"
    folder.mkdir()
    monkeypatch.setattr("tempfile.tempdir", str(folder))
    return folder


def raised(work: Callable[[], object]) -> BaseException:
    try:
        work()
    except BaseException as error:
        return error
    raise AssertionError("nothing was raised")


def divided() -> float:
    return 1 / 0


def endless() -> object:
    return endless()


def test_the_line_names_a_file_that_holds_the_details(
    temporary: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "argv", ["proposal", "check", "my project", os.fsdecode(b"\xff")])
    line = line_of(raised(divided))
    (kept,) = temporary.iterdir()
    assert line == (
        "the program itself failed (ZeroDivisionError: division by zero); please report it, with the details "
        f"in {kept}"
    )
    details = kept.read_text("utf-8")
    assert "command: proposal check 'my project' '\\udcff'\n" in details
    assert f"proposal {__version__}, Python {sys.version_info[0]}.{sys.version_info[1]}." in details
    assert "in divided\n    return 1 / 0\n" in details
    assert re.search(r"^pydantic \d", details, re.M)
    if os.name == "posix":
        assert stat.S_IMODE(kept.stat().st_mode) == 0o600


def test_two_failures_are_kept_side_by_side(temporary: Path) -> None:
    assert line_of(raised(divided)) != line_of(raised(divided))
    assert len(list(temporary.iterdir())) == 2


@pytest.mark.parametrize(
    ("error", "reason"),
    [
        (MemoryError(), "MemoryError"),
        (raised(endless), "RecursionError: maximum recursion depth exceeded"),
        (KeyError("a\nb\x1b[2J"), "KeyError: 'a\\nb\\x1b[2J'"),
        (ValueError("first\nlast\x1b[2J"), "ValueError: last\\x1b[2J"),
        (ValueError("x" * 900), f"ValueError: {'x' * 200}…"),
        (PartError("Traceback …\n  File …\nZeroDivisionError: by zero\n"), "ZeroDivisionError: by zero"),
        (FileNotFoundError("mkdocs.yml is missing"), "FileNotFoundError: mkdocs.yml is missing"),
        (BrokenPipeError(errno.EPIPE, "Broken pipe"), "BrokenPipeError: [Errno 32] Broken pipe"),
    ],
    ids=lambda value: type(value).__name__ if isinstance(value, BaseException) else "",
)
def test_a_failure_is_one_line_whatever_it_is(error: BaseException, reason: str, temporary: Path) -> None:
    assert is_failure(error)
    line = line_of(error)
    (kept,) = temporary.iterdir()
    assert line == f"the program itself failed ({reason}); please report it, with the details in {kept}"
    assert type(error).__name__ in kept.read_text("utf-8")


def test_an_error_that_cannot_say_what_it_is_is_a_line_too(temporary: Path) -> None:
    class MuteError(Exception):
        def __str__(self) -> str:
            raise ValueError

    assert line_of(MuteError()).startswith("the program itself failed (MuteError); ")


def test_details_that_cannot_be_kept_are_no_second_failure(
    temporary: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(temporary / "gone"))
    assert line_of(raised(divided)).startswith(
        "the program itself failed (ZeroDivisionError: division by zero); please report it; its details "
        "could not be kept (FileNotFoundError: [Errno 2] No such file or directory: "
    )


def test_a_full_disk_keeps_no_part_of_the_details(temporary: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object, **__: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr("proposal.publish.failures._details", full)
    assert line_of(raised(divided)).endswith(
        "; its details could not be kept (OSError: [Errno 28] No space left on device)"
    )
    assert list(temporary.iterdir()) == []


@pytest.mark.parametrize(
    ("error", "line"),
    [
        (
            OSError(errno.EACCES, "Permission denied", "a/b"),
            "a/b: cannot be read or written: Permission denied",
        ),
        (OSError(errno.ENOENT, "Gone", b"a\xff"), "a\\udcff: cannot be read or written: Gone"),
        (OSError(errno.ENOENT, "Gone", "a\nb"), "a\\nb: cannot be read or written: Gone"),
        (OSError(errno.EROFS, "Read-only", "from", None, "to"), "to: cannot be read or written: Read-only"),
        (OSError(errno.ENOSPC, "No space left"), "No space left"),
        (OSError(errno.EMFILE, "Too many open files"), "Too many open files"),
        (BuildError("the site could not be made"), "the site could not be made"),
        (
            InputError([Problem(Place("a", n, 1), "", "wanted") for n in (1, 2)]),
            "a:1:1: wanted\na:2:1: wanted",
        ),
    ],
    ids=str,
)
def test_what_is_not_the_programs_fault_is_said_alone(error: Exception, line: str, temporary: Path) -> None:
    assert not is_failure(error)
    assert line_of(error) == line
    assert list(temporary.iterdir()) == []
