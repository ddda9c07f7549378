"""Commands are called in an empty folder, on a copy of a small project."""

import shutil
from pathlib import Path

import pytest

from tests.calls import Call, caller, caller_in
from tests.publish import interrupted

PROJECTS = Path(__file__).resolve().parent.parent / "projects"


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> Call:
    """Run a command as the shell would, in an empty folder, and return how it ended."""
    return caller_in(tmp_path / "here", monkeypatch, capsys)


@pytest.fixture
def minimal(tmp_path: Path) -> Path:
    """A copy of the smallest good project."""
    return Path(shutil.copytree(PROJECTS / "minimal", tmp_path / "minimal"))


@pytest.fixture
def call(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Call:
    """Run a command as the shell would, with small drawings in place of real ones."""
    interrupted.make_quick(monkeypatch)
    return caller(monkeypatch, capsys)


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """A copy of the project that tests of issuing share."""
    return Path(shutil.copytree(interrupted.MINIMAL, tmp_path / "project"))
