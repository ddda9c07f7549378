"""End runs of `issue` and `build` by SIGKILL at moments spread over all their file operations.

`python -m tests.publish.kills 200` ends 200 of them and says what came of it; the tests end 20.
"""

import os
import shutil
import signal
import sys
import tempfile
import time
import traceback
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.publish import interrupted


def in_child(work: Callable[[], None]) -> int:
    """Do something in a copy of this process; return how it ended, as `os.waitstatus_to_exitcode` says it."""
    child = os.fork()
    if child == 0:
        status = 1
        try:
            work()
            status = 0
        except BaseException:
            traceback.print_exc()
        finally:
            os._exit(status)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def kill() -> None:
    os.kill(os.getpid(), signal.SIGKILL)
    time.sleep(60)  # the signal is on its way


def killed(project: Path, at: int, run: Callable[[Path], None]) -> bool:
    """End a run at one of its file operations, and say whether it came so far."""

    def ended() -> None:
        with interrupted.WATCH.over(project, at, kill):
            run(project)

    return in_child(ended) == -signal.SIGKILL


def operations(project: Path, run: Callable[[Path], None]) -> int:
    """Return how many file operations a run takes."""
    told = project.parent / "operations"

    def counted() -> None:
        with interrupted.WATCH.over(project, 0, interrupted.fail):
            run(project)
        told.write_text(str(interrupted.WATCH.seen))

    assert in_child(counted) == 0
    return int(told.read_text())


def spread(most: int, count: int) -> list[int]:
    """Return that many numbers from 1 to `most`, evenly spread, both ends among them."""
    return [1 + (most - 1) * n // max(count - 1, 1) for n in range(count)]


def issue_b(project: Path) -> None:
    interrupted.issue_revision(project, "B")


def kill_issues(folder: Path, count: int) -> list[int]:
    """Kill issues of a second revision and return the operations at which they ended.

    folder: an empty one to work in.
    Raises AssertionError where something was damaged, or the next run did not succeed.
    """
    first = _issued_once(folder)
    before = interrupted.contents(first, "issued", "published")
    trial = Path(shutil.copytree(first, folder / "counted"))
    ends = []
    for at in spread(operations(trial, issue_b), count):
        trial = Path(shutil.copytree(first, folder / f"killed {at}"))
        assert killed(trial, at, issue_b), f"not ended at operation {at}"
        interrupted.check_ended(trial, before)
        assert in_child(lambda trial=trial: interrupted.check_next_run(trial)) == 0, f"after operation {at}"
        shutil.rmtree(trial)
        ends.append(at)
    return ends


def _issued_once(folder: Path) -> Path:
    """Return a project whose revision A is issued and of which a site is built."""
    project = Path(shutil.copytree(interrupted.MINIMAL, folder / "project"))

    def prepare() -> None:
        interrupted.issue_revision(project, "A")
        interrupted.build_draft(project)

    assert in_child(prepare) == 0
    return project


def kill_builds(folder: Path, count: int) -> list[int]:
    """Kill builds and return the operations at which they ended; the site is the old or the new one."""
    first = _issued_once(folder)
    old = site_of(first)
    project_file = first / "project.yaml"
    project_file.write_text(
        project_file.read_text("utf-8").replace("One meeting room", "Another meeting room"), "utf-8"
    )
    trial = Path(shutil.copytree(first, folder / "counted"))
    most = operations(trial, interrupted.build_draft)
    new = site_of(trial)
    assert old != new
    issued = interrupted.contents(first, "issued", "published")
    ends = []
    for at in spread(most, count):
        trial = Path(shutil.copytree(first, folder / f"killed {at}"))
        assert killed(trial, at, interrupted.build_draft), f"not ended at operation {at}"
        waiting = (trial / "build" / "client" / ".next").exists()
        assert waiting or site_of(trial) in (old, new), f"after operation {at}"
        assert in_child(lambda trial=trial: interrupted.build_draft(trial)) == 0, f"after operation {at}"
        assert site_of(trial) == new
        assert interrupted.contents(trial, "issued", "published") == issued
        shutil.rmtree(trial)
        ends.append(at)
    return ends


def site_of(project: Path) -> dict[str, bytes]:
    return interrupted.contents(project, "build/client/site")


def main(count: int) -> None:
    with pytest.MonkeyPatch.context() as patch, tempfile.TemporaryDirectory() as folder:
        interrupted.make_quick(patch)
        for name, kills, share in (("issue", kill_issues, 0.7), ("build", kill_builds, 0.3)):
            began = time.monotonic()
            work = Path(folder) / name
            work.mkdir()
            ends = kills(work, round(count * share))
            print(
                f"{name}: {len(ends)} runs killed at file operations {ends[0]} to {ends[-1]}, "
                f"nothing damaged, every next run succeeded; {time.monotonic() - began:.0f} s",
                flush=True,
            )


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 20)
