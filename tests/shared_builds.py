"""What takes long to make is made once a run, by whichever process needs it first, and only read by all."""

import fcntl
import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest


def made_once(temporary: pytest.TempPathFactory, name: str, make: Callable[[Path], object]) -> Path:
    """Return the folder of a name, made by this process or by another of the same run.

    make: fills the folder, which is there and empty. Others wait meanwhile.
    """
    run = temporary.getbasetemp()
    if "PYTEST_XDIST_WORKER" in os.environ:
        run = run.parent  # each process has a folder of its own in that of the run
    folder, done = run / name, run / f"{name}.done"
    with (run / f"{name}.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not done.exists():
            shutil.rmtree(folder, ignore_errors=True)
            folder.mkdir()
            make(folder)
            done.touch()
    return folder
