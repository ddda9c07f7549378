"""Commands called in this process: how they end and what they print."""

import sys
from collections.abc import Callable
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
        status: object = 0
        try:
            cli.main()
        except SystemExit as ended:
            status = ended.code or 0
        assert isinstance(status, int)
        return Called(status, *printed.readouterr())

    return call
