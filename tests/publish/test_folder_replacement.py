"""A reader finds all of the old or all of the new, whenever a run ends."""

import os
import signal
from typing import Any

import pytest

from proposal.errors import BuildError, Stopped
from proposal.publish.files import make_folder, write_all
from proposal.publish.folder_replacement import complete_swap, replacing, unfinished
from proposal.publish.program_folders import OwnPath
from proposal.publish.project_lock import exclusive
from proposal.publish.stop_signals import stoppable

NAMES = ("markdown", "mkdocs.yml", "site")


@pytest.fixture
def folder(build: OwnPath) -> OwnPath:
    return build / "client"


def fill(folder: OwnPath, word: str) -> None:
    write_all(folder, {path: word.encode() for path in ("markdown/page", "site/page", "mkdocs.yml")})


def words(folder: OwnPath) -> set[str]:
    assert folder.names() == list(NAMES)
    return {path.read_text() for path in folder.path.rglob("*") if path.is_file()}


def test_the_new_takes_the_place_of_the_old(folder: OwnPath) -> None:
    for word in ("old", "new"):
        with replacing(folder) as part:
            fill(part, word)
        assert words(folder) == {word}


def test_what_the_new_does_not_have_stays(folder: OwnPath) -> None:
    make_folder(folder / "cache")
    with replacing(folder) as part:
        fill(part, "new")
    assert (folder / "cache").path.is_dir()


def test_a_failed_build_changes_nothing(folder: OwnPath) -> None:
    with replacing(folder) as part:
        fill(part, "old")

    def fail() -> None:
        with replacing(folder) as part:
            fill(part, "new")
            raise BuildError("no")

    with pytest.raises(BuildError):
        fail()
    assert words(folder) == {"old"}


class Ended(BaseException):
    """The run ends here, as when the power goes."""


@pytest.mark.parametrize("step", range(1, 8))
def test_an_interrupted_swap_is_completed_by_the_next_run(
    folder: OwnPath, monkeypatch: pytest.MonkeyPatch, step: int
) -> None:
    with replacing(folder) as part:
        fill(part, "old")
    rename, renamed = os.replace, 0

    def rename_until(*arguments: Any, **named: Any) -> None:
        nonlocal renamed
        renamed += 1
        if renamed == step:
            raise Ended
        rename(*arguments, **named)

    def run() -> None:
        with replacing(folder) as part:
            fill(part, "new")

    with monkeypatch.context() as patched:
        patched.setattr(os, "replace", rename_until)
        with pytest.raises(Ended):
            run()
    committed = (folder / ".next").path.exists()
    assert committed == (step > 1)
    make_folder(folder / ".part")  # what a run leaves that could not clean up
    with exclusive(folder.above), replacing(folder) as part:
        assert {path.read_text() for path in (folder / "site").path.rglob("page")} == {
            "new" if committed else "old"
        }
        fill(part, "newest")
    assert words(folder) == {"newest"}


def test_completing_a_swap_is_harmless_where_there_is_none(folder: OwnPath) -> None:
    with replacing(folder) as part:
        fill(part, "old")
    complete_swap(folder)
    assert words(folder) == {"old"}


@pytest.mark.parametrize("step", range(1, 8))
def test_a_signal_waits_until_a_swap_is_whole(
    folder: OwnPath, monkeypatch: pytest.MonkeyPatch, step: int
) -> None:
    with replacing(folder) as part:
        fill(part, "old")
    rename, renamed = os.replace, 0

    def rename_told_to_stop(*arguments: Any, **named: Any) -> None:
        nonlocal renamed
        renamed += 1
        if renamed == step:
            os.kill(os.getpid(), signal.SIGTERM)
        rename(*arguments, **named)

    def run() -> None:
        with stoppable(), replacing(folder) as part:
            fill(part, "new")

    monkeypatch.setattr(os, "replace", rename_told_to_stop)
    with pytest.raises(Stopped):
        run()
    assert renamed == 7  # of the whole, then of each entry away and in
    assert words(folder) == {"new"}


def test_a_signal_before_a_swap_leaves_the_old(folder: OwnPath) -> None:
    with replacing(folder) as part:
        fill(part, "old")

    def run() -> None:
        with stoppable(), replacing(folder) as part:
            fill(part, "new")
            os.kill(os.getpid(), signal.SIGTERM)

    with pytest.raises(Stopped):
        run()
    assert words(folder) == {"old"}


def test_a_signal_while_the_new_folder_is_made_leaves_none(
    folder: OwnPath, monkeypatch: pytest.MonkeyPatch
) -> None:
    make, made = os.mkdir, []

    def make_told_to_stop(path: Any, *arguments: Any, **named: Any) -> None:
        make(path, *arguments, **named)
        made.append(str(path))
        if made[-1].endswith(".part"):
            os.kill(os.getpid(), signal.SIGTERM)

    def run() -> None:
        with stoppable(), replacing(folder):
            pytest.fail("told to stop before")

    monkeypatch.setattr(os, "mkdir", make_told_to_stop)
    with pytest.raises(Stopped):
        run()
    assert made[-1].endswith(".part")
    assert not unfinished(folder)
