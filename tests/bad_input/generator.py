"""Random edits of good projects by the thousand, each taken the whole way.

    python -m tests.bad_input.generator --inputs 20000 --seed 0 --results results.jsonl
    python -m tests.bad_input.generator --again 1234
    python -m tests.bad_input.generator --each-field

Every input is made from its own number. What came of it is a line of the results, so that a run that was
stopped goes on where it was, and a number that failed can be tried again.
"""

import argparse
import json
import os
import re
import resource
import signal
import subprocess
import sys
import time
import traceback
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from dataclasses import asdict, dataclass
from pathlib import Path
from tempfile import TemporaryDirectory, mkdtemp
from types import FrameType

from proposal.document.readers import READERS, Reader
from proposal.errors import InputError, ProposalError
from tests.bad_input import each_field
from tests.bad_input.bases import write
from tests.bad_input.deep_edits import Folder, edited
from tests.bad_input.whole_way import whole_way

LONGEST_S = 10.0
"""Processor's time that no input may take."""
HANGING_S = 60
"""Processor's time after which a process is ended that cannot be stopped, since a library works."""
LEAST_SHARE_SHOWN = 1 / 3
BY_NUMBER: tuple[Reader, ...] = ("client", "estimator", "reviewer", "estimator", "installer")
"""Whose exports and pages an input makes: every edition in turn, that with most fields twice."""
_MESSAGE = re.compile(r"wanted .+; found .+")


class TooLong(BaseException):
    """An input has taken too long; no `except Exception` of the program may catch it."""


@dataclass(frozen=True)
class Outcome:
    """What came of one input.

    seed: its number.  made: the good project, and the edits.
    pages: how many were made; none where it was refused.
    seconds: of the processor.
    failure: what went wrong, empty where it was refused rightly or shown; traceback: where.
    """

    seed: int
    made: tuple[str, ...]
    pages: int
    seconds: float
    failure: str = ""
    traceback: str = ""


def outcome(
    seed: int, folder: Path, made: tuple[Folder, list[str]], readers: Sequence[Reader] = ()
) -> Outcome:
    """Return what comes of one input.

    seed: its number.
    folder: an empty one, for its files.
    made: the input, and how it was made.
    readers: whose exports and pages are made; left out, those of one reader, as the number says.
    """
    files, names = made[0].files, made[1]
    for part in ("project", "company"):
        is_company = part == "company"
        held = {path: data for path, data in files.items() if path.startswith("company/") == is_company}
        write(folder / part, {path.removeprefix("company/"): data for path, data in held.items()})
    pages, failure, where = 0, "", ""
    begun = time.process_time()
    with _stopped_after(LONGEST_S):
        try:
            shown = readers or (BY_NUMBER[seed % len(BY_NUMBER)],)
            pages = whole_way(folder / "project", folder / "company", shown)
        except InputError as error:
            failure = _unclear(error)
        except ProposalError as error:
            failure = "" if str(error).isprintable() else f"not printable: {error!r}"
        except (Exception, TooLong) as error:
            failure, where = f"{type(error).__name__}: {error}"[:300], traceback.format_exc()
    took = time.process_time() - begun
    if not failure and took > LONGEST_S:
        failure = f"TooLong: {took:.1f} s"
    return Outcome(seed, tuple(names), pages, round(took, 2), failure, where)


def _unclear(error: InputError) -> str:
    """Return the first message that does not say what was wanted and found."""
    lines = [str(problem) for problem in error.problems]
    return next(
        (f"unclear: {line}" for line in lines if not (line.isprintable() and _MESSAGE.search(line))), ""
    )


class _stopped_after:  # noqa: N801 - it reads as a word where it is used
    """Raises TooLong inside the block once the processor has worked so long."""

    def __init__(self, seconds: float) -> None:
        self.seconds = seconds

    def __enter__(self) -> None:
        def stop(number: int, frame: FrameType | None) -> None:
            raise TooLong(f"more than {self.seconds:g} s")

        self.before = signal.signal(signal.SIGPROF, stop)
        signal.setitimer(signal.ITIMER_PROF, self.seconds)

    def __exit__(self, *raised: object) -> None:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, self.before)


Maker = Callable[[int], tuple[Folder, list[str]]]
"""Makes an input of its number, the same one each time."""


def _work(seeds: Sequence[int], make: Maker) -> None:
    """Print a line before and after each input; what a process of its own does."""
    most = resource.getrlimit(resource.RLIMIT_CPU)[1]
    for seed in seeds:
        resource.setrlimit(resource.RLIMIT_CPU, (int(time.process_time()) + HANGING_S, most))
        print(json.dumps({"begun": seed}), flush=True)
        with TemporaryDirectory() as folder:
            print(json.dumps(asdict(outcome(seed, Path(folder), make(seed)))), flush=True)


def _taken(results: Path) -> dict[int, Outcome]:
    """Return what came of the inputs of a run before."""
    lines = results.read_text("utf-8").splitlines() if results.exists() else []
    read = [json.loads(line) for line in lines]
    return {one["seed"]: Outcome(**{**one, "made": tuple(one["made"])}) for one in read}


class _Worker:
    """A process that works on some seeds in turn; the system ends it where one of them hangs."""

    def __init__(self, seeds: Sequence[int], options: Sequence[str]) -> None:
        self.seeds = list(seeds)
        self.seed = seeds[0]
        command = [
            sys.executable,
            "-m",
            "tests.bad_input.generator",
            "--work",
            ",".join(map(str, seeds)),
            *options,
        ]
        self.process = subprocess.Popen(command, stdout=subprocess.PIPE)
        assert self.process.stdout is not None
        self.pipe = self.process.stdout.fileno()
        os.set_blocking(self.pipe, False)
        self.unread = b""

    def outcomes(self) -> Iterator[Outcome]:
        """Yield what has come since it was asked last."""
        ended = self.process.poll() is not None
        with suppress(BlockingIOError):
            while part := os.read(self.pipe, 1 << 16):
                self.unread += part
        *lines, self.unread = self.unread.split(b"\n")
        for line in lines:
            told = json.loads(line)
            if "begun" in told:
                self.seed = told["begun"]
            else:
                self.seeds.remove(told["seed"])
                yield Outcome(**{**told, "made": tuple(told["made"])})
        if ended and self.seed in self.seeds:
            self.seeds.remove(self.seed)
            yield Outcome(self.seed, (), 0, HANGING_S, f"the process ended, {self.process.returncode}")

    @property
    def idle(self) -> bool:
        """Say whether its process has ended."""
        return self.process.poll() is not None


def run(seeds: Sequence[int], processes: int, results: Path, options: Sequence[str] = ()) -> list[Outcome]:
    """Return what comes of inputs, those of a run before taken from its results.

    processes: how many work at once.
    options: that every process is given.
    """
    taken = _taken(results)
    left = [seed for seed in seeds if seed not in taken]
    chunks = [left[n : n + 50] for n in range(0, len(left), 50)][::-1]
    workers: list[_Worker] = []
    with results.open("a", encoding="utf-8") as file:
        while chunks or workers:
            while chunks and len(workers) < processes:
                workers.append(_Worker(chunks.pop(), options))
            for worker in list(workers):
                for one in worker.outcomes():
                    taken[one.seed] = one
                    file.write(json.dumps(asdict(one)) + "\n")
                    file.flush()
                    if one.failure:
                        print(
                            f"{one.seed}: {one.failure} ({', '.join(one.made)}, {one.seconds} s)", flush=True
                        )
                if worker.idle:
                    workers.remove(worker)
                    if worker.seeds:
                        chunks.append(worker.seeds)
            time.sleep(0.2)
    return [taken[seed] for seed in seeds]


def summary(found: Sequence[Outcome]) -> str:
    """Return how many inputs were shown, refused and failed, and what failed most."""
    shown = sum(one.pages > 0 for one in found)
    failed = [one for one in found if one.failure]
    kinds = Counter(_last_place(one) or one.failure.partition(":")[0] for one in failed)
    slowest = max(found, key=lambda one: one.seconds)
    lines = [
        f"{len(found)} inputs, {shown} ({shown / len(found):.0%}) reached the pages, "
        f"{len(found) - shown - len(failed)} were refused with messages, {len(failed)} failed",
        f"slowest: {slowest.seed}, {slowest.seconds} s; in all {sum(one.seconds for one in found):.0f} s",
    ]
    return "\n".join([*lines, *(f"{count} times {kind}" for kind, count in kinds.most_common())])


def _last_place(one: Outcome) -> str:
    """Return the last line of our own code in a traceback."""
    places = re.findall(r'proposal/(\S+\.py)", line ([0-9]+), in (\S+)', one.traceback)
    return f"{one.failure[:80]} in {' '.join(places[-1])}" if places else ""


def main() -> int:
    """Run the inputs that the command names; 1 where one failed or too few reached the pages."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--inputs", type=int, default=20_000, help="how many")
    parser.add_argument("--seed", type=int, default=0, help="number of the first")
    parser.add_argument("--processes", type=int, default=os.cpu_count() or 1, help="how many at once")
    parser.add_argument("--results", type=Path, default=None, help="file of what came of each, to go on with")
    parser.add_argument("--again", type=int, help="number of one input to try again, with its files kept")
    parser.add_argument("--each-field", action="store_true", help="every field in turn, not at random")
    parser.add_argument("--work", help=argparse.SUPPRESS)
    given = parser.parse_args()
    make: Maker = each_field.edited if given.each_field else edited
    if given.work:
        _work([int(seed) for seed in given.work.split(",")], make)
        return 0
    if given.again is not None:
        folder = Path(mkdtemp())
        one = outcome(given.again, folder, make(given.again), READERS)
        print(one.traceback, f"{folder}\n{', '.join(one.made)}\n{one.pages} pages in {one.seconds} s")
        return bool(one.failure)
    with TemporaryDirectory() as folder:
        results = given.results or Path(folder) / "results.jsonl"
        most = len(each_field.cases()) if given.each_field else sys.maxsize
        seeds = range(given.seed, min(given.seed + given.inputs, most))
        found = run(seeds, given.processes, results, ["--each-field"] if given.each_field else [])
    print(summary(found))
    shown = sum(one.pages > 0 for one in found) / len(found)
    return int(any(one.failure for one in found) or shown < LEAST_SHARE_SHOWN)


if __name__ == "__main__":
    sys.exit(main())
