"""A command that is told to stop, or killed, takes everything with it that it started.

Builds are told so by each signal, and at each moment, once in the suite, and killed while most processes
are at work; SIGTERM and killing at every moment come with
`PROPOSAL_LONG_TESTS=2 python -m pytest tests/test_stopped_runs.py`.
"""

import os
import shutil
import signal
import subprocess
import sys
import time
import uuid
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from proposal.publish.program_folders import own_folders
from proposal.publish.project_lock import exclusive
from tests.long_form import LONG

MINIMAL = Path(__file__).parent / "projects" / "minimal"
MARK = "RUN_OF_A_TEST"
WHO = ("-c", "user.name=A", "-c", "user.email=a@example.invalid", "-c", "commit.gpgsign=false")
LONGEST_S = 180.0
LONGEST_ENDING_S = 30.0

pytestmark = pytest.mark.skipif(
    not Path("/proc/self/environ").exists(), reason="processes are found by their environment in /proc"
)

# On a small project one process is faster, so two further ones are asked for.
IN_TWO_PROCESSES = """
from proposal.publish import compute_proposal
compute_proposal.LONGEST_ALONE_S, compute_proposal.FEWEST_TIMED = -1.0, 1
compute_proposal.processors = lambda: 3
from proposal.__main__ import main
main()
"""
# What is looked at comes after the prices.
WITH_FEW_PRICES = """
from proposal.publish import compute_proposal
cases_of = compute_proposal.cases_of
compute_proposal.cases_of = lambda project: cases_of(project)[:1]
from proposal.__main__ import main
main()
"""
AS_INSTALLED = """
from proposal.__main__ import main
main()
"""


class Started:
    """A command that runs, and every process that comes of it."""

    def __init__(self, program: str, folder: Path, *arguments: object) -> None:
        """Start a command on a project folder, with a temporary folder of its own beside it."""
        self.project = folder
        self.temporary = folder.parent / "temporary"
        self.temporary.mkdir(exist_ok=True)
        self._mark = uuid.uuid4().hex
        self.process = subprocess.Popen(
            [sys.executable, "-c", program, *map(str, arguments)],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            # Tests that were started to outlive their terminal ignore SIGHUP, and so would this.
            preexec_fn=lambda: signal.signal(signal.SIGHUP, signal.SIG_DFL),
            text=True,
            env={**os.environ, MARK: self._mark, "TMPDIR": str(self.temporary)},
        )

    def living(self) -> list[int]:
        """Return the processes that came of the command and have not ended."""
        wanted = f"{MARK}={self._mark}".encode()
        found = []
        for entry in Path("/proc").iterdir():
            if entry.name.isdecimal():
                try:
                    mine = wanted in (entry / "environ").read_bytes().split(b"\0")
                except OSError:  # ended meanwhile, or somebody else's
                    continue
                if mine:
                    found.append(int(entry.name))
        return sorted(found)

    def wait_until(self, reached: Callable[["Started"], bool]) -> None:
        end = time.monotonic() + LONGEST_S
        while not reached(self):
            assert self.process.poll() is None, f"ended too early: {self.process.communicate()}"
            assert time.monotonic() < end, "never came so far"
            time.sleep(0.01)

    def ended(self) -> tuple[int, str, str]:
        """Return exit status, output and complaints; fails where a process or a pipe outlives the command."""
        end = time.monotonic() + LONGEST_ENDING_S
        out, err = self.process.communicate(timeout=LONGEST_ENDING_S)
        while self.living():
            assert time.monotonic() < end, f"still there: {self.living()}"
            time.sleep(0.05)
        return self.process.returncode, out, err

    def kill(self) -> None:
        for process in self.living():
            os.kill(process, signal.SIGKILL)
        self.process.communicate()


Start = Callable[..., Started]


@pytest.fixture
def start(tmp_path: Path) -> Iterator[Start]:
    started: list[Started] = []

    def begin(program: str, command: str, *options: object) -> Started:
        project = tmp_path / "minimal"
        if not project.exists():
            shutil.copytree(MINIMAL, project)
        started.append(Started(program, project, command, project, *options))
        return started[-1]

    yield begin
    for one in started:
        one.kill()


def with_pricers(run: Started) -> bool:
    return len(run.living()) >= 3


def with_pricers_at_work(run: Started) -> bool:
    """Say whether two further processes have computed for a while: copies, which load nothing first."""
    found = [one for one in run.living() if one != run.process.pid]
    return len([one for one in found if processor_time(one) > 0.05]) >= 2


def writing_the_site(run: Started) -> bool:
    return (run.project / "build" / "estimator" / ".part").is_dir()


def processor_time(process: int) -> float:
    try:
        fields = Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()
    except OSError:
        return 0.0
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


Moment = tuple[str, Callable[[Started], bool]]
MOMENTS: dict[str, Moment] = {
    "pricers start": (IN_TWO_PROCESSES, with_pricers),
    "pricers compute": (IN_TWO_PROCESSES, with_pricers_at_work),
    "the site is written": (WITH_FEW_PRICES, writing_the_site),
}


@pytest.mark.parametrize("moment", MOMENTS if LONG else ["pricers compute"])
def test_a_build_that_is_killed_leaves_no_process_and_no_pipe(moment: str, start: Start) -> None:
    program, reached = MOMENTS[moment]
    run = start(program, "build", "--edition", "estimator")
    run.wait_until(reached)
    run.process.kill()
    status, _, err = run.ended()
    assert (status, err) == (-signal.SIGKILL, "")
    assert os.listdir(run.temporary) == []


@pytest.mark.parametrize(
    ("number", "moment"),
    [
        (signal.SIGTERM, "pricers start"),
        (signal.SIGINT, "pricers compute"),
        (signal.SIGHUP, "the site is written"),
        *((signal.SIGTERM, moment) for moment in list(MOMENTS)[1:] if LONG),
    ],
    ids=lambda value: value.name if isinstance(value, signal.Signals) else value,
)
def test_a_build_that_is_told_to_stop_leaves_nothing_behind(
    number: signal.Signals, moment: str, start: Start
) -> None:
    program, reached = MOMENTS[moment]
    run = start(program, "build", "--edition", "estimator")
    run.wait_until(reached)
    run.process.send_signal(number)
    assert run.ended() == (128 + number, "", f"stopped by {number.name}\n")
    assert os.listdir(run.temporary) == []
    build = run.project / "build"
    assert unfinished(build) == []
    assert not (build / "estimator" / "site").exists()
    with exclusive(own_folders(run.project).build):  # nobody holds the lock
        pass


def unfinished(folder: Path) -> list[Path]:
    """Return what a run has left that it would have renamed; the lock is no such thing."""
    return [path for path in folder.rglob(".*") if path.name != ".proposal-lock"]


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM], ids=lambda number: number.name)
def test_a_command_is_stopped_while_it_is_loaded(number: signal.Signals, start: Start) -> None:
    """As soon as the program takes signals at all; before that the interpreter does what it always does."""
    for command in ("check", "issue"):
        run = start(AS_INSTALLED, command)
        run.wait_until(takes_signals)
        run.process.send_signal(number)
        assert run.ended() == (128 + number, "", f"stopped by {number.name}\n")
        assert not (run.project / "build").exists()


def takes_signals(run: Started) -> bool:
    status = Path(f"/proc/{run.process.pid}/status").read_text()
    (caught,) = [line.split()[1] for line in status.splitlines() if line.startswith("SigCgt:")]
    return bool(int(caught, 16) >> (signal.SIGTERM - 1) & 1)


def test_a_whole_terminal_that_is_interrupted_hears_one_line(start: Start) -> None:
    """Ctrl+C goes to all processes of the command; only the one that people see says something."""
    run = start(IN_TWO_PROCESSES, "build", "--edition", "estimator")
    run.wait_until(with_pricers_at_work)
    for process in run.living():
        os.kill(process, signal.SIGINT)
    assert run.ended() == (128 + signal.SIGINT, "", "stopped by SIGINT\n")


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM, signal.SIGHUP], ids=lambda one: one.name)
def test_a_preview_ends_well_by_a_signal(number: signal.Signals, start: Start) -> None:
    run = start(AS_INSTALLED, "preview", "--port", "0")
    assert run.process.stdout is not None
    assert run.process.stdout.readline().startswith("Serving http://127.0.0.1:")
    run.process.send_signal(number)
    status, _, err = run.ended()
    assert (status, err) == (0, "")
    assert unfinished(run.project / "build") == []


def test_a_comparison_that_is_told_to_stop_leaves_no_temporary_folder(start: Start, tmp_path: Path) -> None:
    """The files of a commit are written there to be read."""
    project = shutil.copytree(MINIMAL, tmp_path / "minimal")
    for command in (("init", "-q", "-b", "trunk"), ("add", "-A"), ("commit", "-qm", "one")):
        subprocess.run(["git", *WHO, *command], cwd=project, check=True, capture_output=True)
    run = start(AS_INSTALLED, "compare", "trunk")
    run.wait_until(lambda run: bool(os.listdir(run.temporary)))
    run.process.send_signal(signal.SIGTERM)
    assert run.ended() == (128 + signal.SIGTERM, "", "stopped by SIGTERM\n")
    assert os.listdir(run.temporary) == []
