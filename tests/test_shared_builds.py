"""A shared folder is made by one process, whole, before any other reads it."""

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
SUITE = """\
import time
import pytest
from pathlib import Path
from tests.shared_builds import made_once

@pytest.fixture(scope="session")
def folder(tmp_path_factory):
    def make(folder):
        (folder / "half").touch()
        time.sleep(0.5)
        (folder / "whole").touch()
        with Path("made").open("a") as made:
            made.write("once\\n")
    return made_once(tmp_path_factory, "slow", make)

@pytest.mark.parametrize("number", range(8))
def test_it_is_whole(folder, number):
    time.sleep(0.1)
    assert (folder / "whole").exists()
"""


def test_processes_share_what_one_of_them_made(tmp_path: Path) -> None:
    (tmp_path / "test_suite.py").write_text(SUITE)
    done = subprocess.run(
        [
            *(sys.executable, "-m", "pytest", "-n", "3", "--dist", "load", "-p", "no:cacheprovider"),
            *("-c", "/dev/null", "--rootdir", ".", f"--basetemp={tmp_path / 'base'}", "test_suite.py"),
        ],
        cwd=tmp_path,
        env={"PATH": "", "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert "8 passed" in done.stdout, done.stdout + done.stderr
    assert (tmp_path / "made").read_text() == "once\n"
