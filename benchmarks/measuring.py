"""Measure commands: processor time of the whole process tree, elapsed time, peak memory.

Processor time is what counts: other work on the machine hardly changes it. Linux alone tells all of it.
"""

import math
import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
CORES = 2

Command = Sequence[str | Path]


class BenchmarkError(Exception):
    """A command that was to be measured failed, or what was to be seen did not appear."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """What a run took.

    processor_s: of the process and all its children, in user and system mode [s].
    elapsed_s: by the clock [s].
    peak_mib: memory of the largest process of the tree [MiB].
    """

    processor_s: float
    elapsed_s: float
    peak_mib: float = 0.0

    def __add__(self, other: "Taken") -> "Taken":
        """Return what this and another run took one after the other."""
        return Taken(
            processor_s=self.processor_s + other.processor_s,
            elapsed_s=self.elapsed_s + other.elapsed_s,
            peak_mib=max(self.peak_mib, other.peak_mib),
        )


def program(name: str) -> Path:
    """Return the path of a program that is installed beside the interpreter."""
    return Path(sys.executable).with_name(name)


def environment() -> dict[str, str]:
    """Return the environment of measured commands: bytecode is kept, nothing of the user's own counts."""
    dropped = {"PYTHONDONTWRITEBYTECODE", "PROPOSAL_LIBRARY", "PROPOSAL_DOT"}
    kept = {name: value for name, value in os.environ.items() if name not in dropped}
    return kept | {"NO_MKDOCS_2_WARNING": "1", "PYTHONUNBUFFERED": "1"}


def on_two_cores() -> None:
    """Let this process and all that it starts use two processors and no more."""
    os.sched_setaffinity(0, sorted(os.sched_getaffinity(0))[:CORES])


def run(command: Command, statuses: Sequence[int] = (0,)) -> Taken:
    """Run a command to its end and return what it took.

    statuses: exit statuses that are no failure.  Raises BenchmarkError for any other.
    """
    with tempfile.TemporaryFile() as said:
        begun = time.perf_counter()
        process = subprocess.Popen(command, cwd=ROOT, env=environment(), stdout=said, stderr=said)  # noqa: S603 - our own commands
        _, status, used = os.wait4(process.pid, 0)
        elapsed_s = time.perf_counter() - begun
        process.returncode = os.waitstatus_to_exitcode(status)
        if process.returncode not in statuses:
            said.seek(0)
            text = said.read().decode("utf-8", "replace")
            shown = " ".join(str(part) for part in command)
            raise BenchmarkError(f"{shown} ended with status {process.returncode}:\n{text[-2000:]}")
    return Taken(
        processor_s=used.ru_utime + used.ru_stime, elapsed_s=elapsed_s, peak_mib=used.ru_maxrss / 1024
    )


def median(runs: Sequence[Taken]) -> Taken:
    """Return the medians of several runs, each figure by itself."""
    return Taken(
        processor_s=statistics.median(one.processor_s for one in runs),
        elapsed_s=statistics.median(one.elapsed_s for one in runs),
        peak_mib=statistics.median(one.peak_mib for one in runs),
    )


def in_turn(works: Mapping[str, Callable[[], Taken]], rounds: int) -> dict[str, Taken]:
    """Return the medians of several works that are done in turn, A B A B.

    works: by name, in order.  rounds: how often each is done.
    """
    runs: dict[str, list[Taken]] = {name: [] for name in works}
    for _ in range(rounds):
        for name, work in works.items():
            runs[name].append(work())
    return {name: median(taken) for name, taken in runs.items()}


def processor_s_of_tree(pid: int) -> float:
    """Return the processor time of a running process, its descendants and those that have ended [s]."""
    used: dict[int, int] = {}
    parents: dict[int, int] = {}
    for entry in Path("/proc").iterdir():
        if not entry.name.isdigit():
            continue
        try:
            # The name of the program, in brackets, may itself hold spaces and brackets.
            fields = (entry / "stat").read_text("utf-8", "replace").rpartition(")")[2].split()
        except OSError:  # ended meanwhile
            continue
        parents[int(entry.name)] = int(fields[1])
        # proc(5): user and system time of the process and of its children that were waited for.
        used[int(entry.name)] = sum(int(ticks) for ticks in fields[11:15])
    if pid not in used:
        raise BenchmarkError(f"process {pid} has ended")
    tree = {pid}
    while more := {child for child, parent in parents.items() if parent in tree} - tree:
        tree |= more
    return sum(used[member] for member in tree) / os.sysconf("SC_CLK_TCK")


def exponent(points: Sequence[tuple[float, float]]) -> float:
    """Return the slope of the line of least squares through the logarithms; not a number for one size.

    points: sizes and what was measured there, both above 0.
    """
    if len({size for size, _ in points}) < 2:
        return math.nan
    xs, ys = [math.log(size) for size, _ in points], [math.log(value) for _, value in points]
    mean_x, mean_y = statistics.fmean(xs), statistics.fmean(ys)
    rise = sum((x - mean_x) * (y - mean_y) for x, y in zip(xs, ys, strict=True))
    return rise / sum((x - mean_x) ** 2 for x in xs)
