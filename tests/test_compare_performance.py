"""A comparison is quick: two issued revisions within twice a `check`, commits within three times."""

import shutil
import subprocess
from pathlib import Path

import pytest

from tests.commands.test_compare import WHO, issued
from tests.long_form import cases
from tests.test_performance import PROGRAM, ROOT, seconds

RECORDS, COMPUTED = 2.0, 3.0
ROUNDS = cases(2)


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The example with two records, in two commits."""
    folder = tmp_path_factory.mktemp("repository") / "job"
    shutil.copytree(ROOT / "example_project", folder, ignore=shutil.ignore_patterns("build", "issued"))
    for command in (("init", "-q"), ("add", "-A"), ("commit", "-qm", "one"), ("tag", "first")):
        subprocess.run(["git", *WHO, *command], cwd=folder.parent, check=True, capture_output=True)
    issued(folder, "R1", 1)
    schedule = folder / "rooms.csv"
    row = "A207,Meeting Room 7,meeting_room,L2,44.6,20.6,180,no\n"
    schedule.write_text(schedule.read_text("utf-8") + row, "utf-8")
    issued(folder, "R2", 2)
    shutil.copytree(folder / "issued", folder.parent / "kept")
    shutil.rmtree(folder / "issued")
    subprocess.run(["git", *WHO, "commit", "-qam", "two"], cwd=folder.parent, check=True, capture_output=True)
    shutil.move(folder.parent / "kept", folder / "issued")
    return folder


def quickest(command: list[str | Path], enough_s: float = 0.0) -> float:
    """Return the least time of a few runs, s; the first one reads the disk and writes bytecode.

    enough_s: a time below which one run is enough, as others only could take less.
    """
    taken: list[float] = []
    while len(taken) < ROUNDS and min(taken, default=enough_s) >= enough_s:
        taken.append(seconds(command))
    return min(taken)


@pytest.fixture(scope="module")
def check_s(job: Path) -> float:
    """Return the processor's time of a check, s."""
    return quickest([PROGRAM, "check", job])


@pytest.mark.parametrize(
    ("states", "most"),
    [(("R1", "R2"), RECORDS), (("git:first", "git:HEAD"), COMPUTED)],
    ids=["records", "commits"],
)
def test_a_comparison_is_within_a_few_checks(
    job: Path, check_s: float, states: tuple[str, str], most: float
) -> None:
    command: list[str | Path] = [PROGRAM, "compare", job, *states]
    ratio = quickest(command, most * check_s) / check_s
    assert ratio < most, f"compare takes {ratio:.2f} times as long as check"
