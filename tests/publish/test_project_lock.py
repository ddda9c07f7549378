"""One run writes at a time, and whoever only looks sees no half-written state, without writing anything."""

import os
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from proposal.errors import BuildError
from proposal.publish import project_lock
from proposal.publish.program_folders import OwnPath
from proposal.publish.project_lock import exclusive, undisturbed

HOLD = (
    "import sys, pathlib\nfrom proposal.publish.project_lock import exclusive\n"
    "from proposal.publish.program_folders import own_folders\n"
    "with exclusive(own_folders(pathlib.Path(sys.argv[1])).build):\n"
    "    print('held', flush=True)\n    sys.stdin.read()\n"
)


@contextmanager
def held_elsewhere(project: Path) -> Iterator[subprocess.Popen[str]]:
    """Hold the lock of a project in another process."""
    holder = subprocess.Popen(
        [sys.executable, "-c", HOLD, str(project)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    assert holder.stdout is not None
    assert holder.stdout.readline() == "held\n"
    try:
        yield holder
    finally:
        holder.kill()
        holder.communicate()


@pytest.fixture
def impatient(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(project_lock, "LONGEST_WAIT_S", 0.1)


def test_two_runs_do_not_build_in_one_place(build: OwnPath, impatient: None) -> None:
    with exclusive(build), pytest.raises(BuildError) as refused, exclusive(build):
        pass
    assert str(refused.value) == (
        f"another run (process {os.getpid()}) is at work in {build.path}; wait until it has finished"
    )
    with exclusive(build):
        pass


def test_a_lock_ends_with_its_process(tmp_path: Path, build: OwnPath, impatient: None) -> None:
    with held_elsewhere(tmp_path) as holder:
        with pytest.raises(BuildError, match=f"process {holder.pid}"), exclusive(build):
            pass
        with pytest.raises(BuildError, match=f"process {holder.pid}"), undisturbed(build):
            pass
    with exclusive(build), pytest.raises(BuildError, match=f"process {os.getpid()}"), exclusive(build):
        pass


def test_a_run_that_ends_soon_is_waited_for(build: OwnPath) -> None:
    began = threading.Event()

    def hold() -> None:
        with exclusive(build):
            began.set()
            time.sleep(0.4)

    for wait in (exclusive, undisturbed):
        began.clear()
        thread = threading.Thread(target=hold)
        thread.start()
        assert began.wait(10)
        with wait(build):
            pass
        thread.join()


def test_those_who_look_do_not_keep_each_other_waiting(build: OwnPath, impatient: None) -> None:
    with exclusive(build):
        pass
    with undisturbed(build), undisturbed(build), pytest.raises(BuildError) as refused, exclusive(build):
        pass
    # Whoever looks leaves no name: it writes nothing.
    assert str(refused.value) == f"another run is at work in {build.path}; wait until it has finished"


def test_who_looks_makes_no_lock_and_notices_a_run_that_began_meanwhile(build: OwnPath) -> None:
    with undisturbed(build):
        pass
    assert not build.path.exists()
    with pytest.raises(BuildError, match="another run began"), undisturbed(build), exclusive(build):
        pass
