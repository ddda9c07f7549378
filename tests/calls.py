"""Commands called in this process: how they end and what they print."""

import sys
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import pytest

from proposal import cli


class Called(NamedTuple):
    """How a command ended and what it printed."""

    status: int
    out: str
    err: str


Call = Callable[..., Called]


def caller(patch: pytest.MonkeyPatch, printed: pytest.CaptureFixture[str]) -> Call:
    """Return a function that runs a command with its arguments."""

    def call(*arguments: object) -> Called:
        patch.setattr(sys, "argv", ["proposal", *map(str, arguments)])
        printed.readouterr()
        status: object = 0
        try:
            cli.main()
        except SystemExit as ended:
            status = ended.code or 0
        assert isinstance(status, int)
        out, err = printed.readouterr()
        assert "Traceback" not in err
        return Called(status, out, err)

    return call


def caller_in(folder: Path, patch: pytest.MonkeyPatch, printed: pytest.CaptureFixture[str]) -> Call:
    """Return a function that runs a command as a shell would in a new, empty folder."""
    folder.mkdir()
    patch.chdir(folder)
    patch.setenv("COLUMNS", "100")
    return caller(patch, printed)


def files_under(folder: Path) -> list[str]:
    return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*"))
