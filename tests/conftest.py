"""What holds for every test."""

import fcntl
import gc
import os
import signal
from collections.abc import Iterator
from typing import IO

import pytest
from hypothesis import settings

from tests.shared_builds import keep_what_is_made, made_once, typeset_nothing, vary_little

# The same examples in every run, and no failure because a machine is busy.
settings.register_profile("steady", derandomize=True, deadline=None)
settings.load_profile("steady")

# What whoever runs the tests has chosen for own projects must not change what is tested.
for variable in ("PROPOSAL_LIBRARY", "PROPOSAL_DOT"):
    os.environ.pop(variable, None)

# A search for cycles goes through all documents that tests keep, and took a fifth of the time of the suite;
# commands of the program do without.
gc.set_threshold(100_000, 20, 100)

# Shells start what runs in the background with interrupts ignored, and so would what tests interrupt.
if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)


def pytest_xdist_auto_num_workers(config: pytest.Config) -> int | None:
    """Run files that are named in one process, which begins sooner, and the whole suite on all cores.

    One process more than there are cores: a part of the time, tests wait for browsers, for LibreOffice or for
    what another test makes for all.
    """
    if config.args_source is pytest.Config.ArgsSource.ARGS:
        return 0
    cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
    return cores + 1


@pytest.fixture(scope="session", autouse=True)
def bytecode(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Let processes that tests start keep their bytecode, as those of an installed program do.

    Where whoever runs the tests wants none beside the sources, it is kept in the folder of the run.
    """
    with pytest.MonkeyPatch.context() as patch:
        if os.environ.get("PYTHONDONTWRITEBYTECODE"):
            patch.delenv("PYTHONDONTWRITEBYTECODE")
            kept = made_once(tmp_path_factory, "bytecode", lambda _: None)
            patch.setenv("PYTHONPYCACHEPREFIX", str(kept))
        yield


@pytest.fixture(scope="session")
def turns(tmp_path_factory: pytest.TempPathFactory) -> Iterator[IO[bytes]]:
    """Open the file by whose locks the processes of a run take turns."""
    with (made_once(tmp_path_factory, "turns", lambda _: None) / "lock").open("ab") as lock:
        yield lock


@pytest.fixture(autouse=True)
def turn(request: pytest.FixtureRequest, turns: IO[bytes]) -> Iterator[None]:
    """Let a test that is marked so run alone: what measures time shares the machine with no other test."""
    alone = request.node.get_closest_marker("alone") is not None
    fcntl.flock(turns, fcntl.LOCK_EX if alone else fcntl.LOCK_SH)
    try:
        yield
    finally:
        fcntl.flock(turns, fcntl.LOCK_UN)


@pytest.fixture(scope="module")
def little_patience() -> Iterator[None]:
    """Let radio give up early where no plan of the air is found, as most searches of random buildings do.

    For files that look at all but whether there is a plan.
    """
    from proposal.design.radio import slot_plan, slot_plans_once

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(slot_plan, "PATIENCE", slot_plan.LITTLE_PATIENCE)
        slot_plans_once._plan.cache_clear()
        yield
    slot_plans_once._plan.cache_clear()


@pytest.fixture(scope="module")
def quick_builds(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Builds of a file of tests find drawings and figures that another build of the run has made alike.

    They vary a few assumptions only, and typeset nothing. Tests whose subject is how these are made or kept
    do without.
    """
    folder = made_once(tmp_path_factory, "made before", lambda _: None)
    with pytest.MonkeyPatch.context() as patch:
        keep_what_is_made(patch, folder)
        vary_little(patch)
        typeset_nothing(patch)
        yield
