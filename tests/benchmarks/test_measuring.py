"""What the benchmarks measure is what was used, children included."""

import math
import subprocess
import sys
from pathlib import Path

import pytest

from benchmarks.measuring import BenchmarkError, Taken, exponent, in_turn, processor_s_of_tree, run

ROOT = Path(__file__).resolve().parents[2]
USED_S = 0.4
BUSY = f"import time\nwhile time.process_time() < {USED_S}: pass"
# Starts a busy child, waits for it, and starts another that it does not wait for.
PARENT = (
    "import subprocess, sys\n"
    f"subprocess.run([sys.executable, '-c', {BUSY!r}], check=True)\n"
    f"child = subprocess.Popen([sys.executable, '-c', {BUSY + chr(10)!r} 'print(1, flush=True); input()'],\n"
    "    stdin=subprocess.PIPE, stdout=subprocess.PIPE)\n"
    "child.stdout.readline()\n"
    "print('busy', flush=True)\n"
    "input()\n"
    "child.communicate(b'\\n')\n"
)


def test_a_run_counts_the_processor_time_of_children() -> None:
    script = f"import subprocess, sys; subprocess.run([sys.executable, '-c', {BUSY!r}], check=True)"
    taken = run([sys.executable, "-c", script])
    assert taken.processor_s >= USED_S
    # The clock may go on while others work, never the other way round for work that is done in turn.
    assert taken.elapsed_s >= USED_S


def test_a_run_tells_the_peak_memory_in_mebibytes() -> None:
    """Measured from a small process: what the measuring one holds itself counts until the program begins."""
    script = (
        "import sys; from benchmarks.measuring import run\n"
        "print(run([sys.executable, '-c', 'held = bytearray(300 * 2**20)']).peak_mib)"
    )
    told = subprocess.run([sys.executable, "-c", script], cwd=ROOT, check=True, capture_output=True)
    assert 300 <= float(told.stdout) < 400


def test_a_command_that_fails_is_told_with_what_it_said() -> None:
    with pytest.raises(BenchmarkError, match=r"ended with status 3:\nno such thing"):
        run([sys.executable, "-c", "import sys; print('no such thing'); sys.exit(3)"])
    run([sys.executable, "-c", "import sys; sys.exit(3)"], statuses=(0, 3))


def test_the_time_of_a_running_process_counts_children_that_run_and_that_have_ended() -> None:
    process = subprocess.Popen(
        [sys.executable, "-c", PARENT], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    try:
        assert process.stdout is not None
        assert process.stdout.readline() == "busy\n"
        # Two children, each told in ticks of a hundredth of a second.
        assert processor_s_of_tree(process.pid) >= 2 * USED_S - 0.04
    finally:
        process.communicate("\n")


def test_works_are_done_in_turn_and_their_medians_told() -> None:
    done: list[str] = []
    times = iter([1.0, 10.0, 5.0, 30.0, 3.0, 20.0])

    def work(name: str) -> Taken:
        done.append(name)
        return Taken(processor_s=next(times), elapsed_s=0.0)

    found = in_turn({"A": lambda: work("A"), "B": lambda: work("B")}, rounds=3)
    assert "".join(done) == "ABABAB"
    assert (found["A"].processor_s, found["B"].processor_s) == (3.0, 20.0)


@pytest.mark.parametrize("power", [0.0, 1.0, 1.5, 2.0])
def test_the_exponent_of_a_power_law_is_found(power: float) -> None:
    assert exponent([(size, 7 * size**power) for size in (25, 100, 400, 1000)]) == pytest.approx(power)


def test_one_size_has_no_exponent() -> None:
    assert math.isnan(exponent([(25, 1.0)]))
    assert math.isnan(exponent([(25, 1.0), (25, 2.0)]))
