"""A copy of the tree, and tests run in it with one change of its source at a time."""

import compileall
import os
import resource
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from tests.mutations.mutator import Mutation


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of a mutation.

    killed: whether a test saw it; seconds: of processor time; by: the test, or that time ran out.
    """

    killed: bool
    seconds: float
    by: str


@dataclass(frozen=True, slots=True)
class Ended:
    """How a command ended: its exit status, None where time ran out, and the processor time it took."""

    status: int | None
    seconds: float


def copied(root: Path, to: Path) -> Path:
    """Return a copy of the project at `to`, which must not exist: of all that git knows or would take."""
    listed = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=root,
        check=True,
        capture_output=True,
    )
    for name in filter(None, listed.stdout.decode().split("\0")):
        if (root / name).is_file():
            (to / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(root / name, to / name)
    (to / ".scratch").mkdir()
    compileall.compile_dir(to / "proposal", quiet=1)
    return to.resolve()


def environment(tree: Path) -> Mapping[str, str]:
    """Return the environment of processes that run in a copy: its own program, its own temporary folder."""
    scratch = str(tree / ".scratch")
    return {
        **os.environ,
        "PYTHONPATH": str(tree),
        "PYTHONHASHSEED": "0",
        "TMPDIR": scratch,
        "HOME": scratch,
        "PYTHONDONTWRITEBYTECODE": "1",
    }


def ran(command: Sequence[str], tree: Path, limit_s: float, log: Path | None = None) -> Ended:
    """Run a command in a copy, with its own group of processes.

    limit_s: of processor time, which other work on the machine does not shorten; a command that only waits is
    ended after ten times as long. log: what it prints.
    """

    def limited() -> None:
        resource.setrlimit(resource.RLIMIT_CPU, (int(limit_s) + 1, int(limit_s) + 5))

    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    with (log or Path(os.devnull)).open("wb") as out:
        process = subprocess.Popen(
            command,
            cwd=tree,
            env=environment(tree),
            start_new_session=True,
            preexec_fn=limited,
            stdout=out,
            stderr=subprocess.STDOUT,
        )
        status: int | None
        try:
            status = process.wait(timeout=10 * limit_s + 60)
        except subprocess.TimeoutExpired:
            status = None
        finally:
            with suppress(ProcessLookupError):
                os.killpg(process.pid, signal.SIGKILL)
            process.wait()
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    seconds = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    over = status in (None, -signal.SIGXCPU, -signal.SIGKILL)
    return Ended(None if over else status, round(seconds, 1))


@contextmanager
def mutated(tree: Path, mutation: Mutation) -> Iterator[None]:
    """Hold a copy with a mutation made, and the file as it was again after it."""
    file = tree / mutation.path
    kept, times = file.read_bytes(), file.stat()
    file.write_bytes(mutation.applied(kept.decode()).encode())
    # Compiled modules are known by time and size: the time is one that no other state of the file has.
    os.utime(file, (time.time(), time.time() + 10))
    try:
        yield
    finally:
        file.write_bytes(kept)
        os.utime(file, ns=(times.st_atime_ns, times.st_mtime_ns))


def tried(tree: Path, mutation: Mutation, files: Sequence[str], limit_s: float) -> Outcome:
    """Return whether the first failing test of some files sees a mutation.

    limit_s: of processor time, after which the tests are taken to hang, which is seen.
    """
    command = [sys.executable, "-m", "pytest", "-q", "-x", "--tb=no", "-p", "no:cacheprovider", *files]
    log = tree / ".scratch" / "log"
    with mutated(tree, mutation):
        found = ran(command, tree, limit_s, log)
    if found.status is None:
        return Outcome(True, found.seconds, "time ran out")
    lines = log.read_text("utf-8", errors="replace").splitlines()
    named = [line.split()[1] for line in lines if line.startswith(("FAILED ", "ERROR "))]
    by = named[0] if named else f"status {found.status}"
    return Outcome(found.status != 0, found.seconds, by if found.status else "")


def cleared(tree: Path) -> None:
    """Empty the copy's temporary folder."""
    shutil.rmtree(tree / ".scratch", ignore_errors=True)
    (tree / ".scratch").mkdir()
