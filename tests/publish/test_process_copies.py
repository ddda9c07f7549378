"""Copies of a process do a part of its work, hold nothing of it open, and end with it."""

import json
import os
import subprocess
import sys
import threading
from pathlib import Path

import pytest

from proposal.publish.process_copies import can_be_copied

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="copies are made on Linux alone")

# Two copies, each asked what it has open, what it knew before, and how signals end it.
TWO = """
import json, os, pickle, signal, sys
from proposal.publish.worker_processes import WorkerProcess

known = ["loaded before"]
kept = open(sys.argv[1])

def answering(questions, answers):
    while True:
        questions.get()
        print("what a library prints")
        open_now = [f"/proc/self/fd/{one}" for one in os.listdir("/proc/self/fd")]
        links = sorted(os.readlink(one) for one in open_now if os.path.lexists(one))
        told = [known, links, signal.getsignal(signal.SIGTERM) is signal.SIG_DFL]
        pickle.dump((True, told), answers)
        answers.flush()

signal.signal(signal.SIGTERM, lambda *_: print("of the process that was copied"))
workers = [WorkerProcess("", answering) for _ in range(2)]
known.append("later")
found = [[one.copied, *one.answer(None)] for one in workers for _ in range(2)]
workers[0].end()
found.append(workers[1].answer(None)[0])
workers[1].end()
print(json.dumps([found, [one.process.returncode for one in workers]]))
"""
# Solves an integer programme, then the same one in a copy.
SOLVED = """
import pickle, random
from proposal.design.solving.solver import silent_solver
from proposal.publish.worker_processes import WorkerProcess

def solve():
    chance = random.Random(1)
    solver = silent_solver()
    chosen = [solver.addBinary(obj=-chance.randint(70, 130)) for _ in range(60)]
    for _ in range(30):
        solver.addConstr(sum(chance.randint(1, 100) * one for one in chosen) <= 1000)
    solver.setOptionValue("mip_max_nodes", 20)
    solver.run()
    return solver.getInfo().mip_node_count

def answering(questions, answers):
    while True:
        questions.get()
        pickle.dump((True, solve()), answers)
        answers.flush()

here = solve()
worker = WorkerProcess("", answering)
print(worker.copied, worker.answer(None) == here)
worker.end()
"""
# Ends without ending its copies.
LEFT = """
import os, signal, sys
from proposal.publish.worker_processes import WorkerProcess

def answering(questions, answers):
    while True:
        questions.get()

workers = [WorkerProcess("", answering) for _ in range(2)]
print(*(one.process.pid for one in workers), flush=True)
os.kill(os.getpid(), signal.SIGKILL)
"""
# A signal asks the process to stop at the very moment when it has made a copy.
STOPPED = """
import os, signal
from proposal.errors import Stopped
from proposal.publish.process_copies import Copy
from proposal.publish.stop_signals import followed, stoppable

def asked():
    os.kill(os.getpid(), signal.SIGTERM)
    for _ in range(1000):
        pass
    finished.append(True)

finished = []
os.register_at_fork(after_in_parent=asked)
try:
    with stoppable():
        Copy(lambda questions: questions.read())
except Stopped as stop:
    print(stop.number, finished)
try:
    os.waitpid(-1, 0)
except ChildProcessError:
    print("no copy is left")
"""


def test_a_stop_while_a_copy_is_made_waits_until_it_is_made_and_ends_it() -> None:
    done = subprocess.run(
        [sys.executable, "-c", STOPPED], capture_output=True, text=True, check=False, timeout=60
    )
    assert (done.stdout, done.stderr) == ("15 [True]\nno copy is left\n", "")


def test_a_copy_solves_what_the_process_that_was_copied_solved_before() -> None:
    done = subprocess.run(
        [sys.executable, "-c", SOLVED], capture_output=True, text=True, check=True, timeout=60
    )
    assert done.stdout.split() == ["True", "True"]


def test_copies_know_what_was_loaded_and_hold_nothing_open(tmp_path: Path) -> None:
    (tmp_path / "held").write_text("")
    done = subprocess.run(
        [sys.executable, "-c", TWO, str(tmp_path / "held")], capture_output=True, text=True, check=True
    )
    found, codes = json.loads(done.stdout)
    assert codes == [-9, -9]
    assert found.pop() == ["loaded before"]
    for copied, known, links, by_default in found:
        assert (copied, known, by_default) == (True, ["loaded before"], True)
        # Questions and answers; that of the other copy is not among them.
        pipes = [link for link in links if link.startswith("pipe:")]
        assert len(pipes) == 2
        assert not [link for link in links if "held" in link]


def test_copies_end_with_a_process_that_is_killed() -> None:
    done = subprocess.run([sys.executable, "-c", LEFT], capture_output=True, text=True, check=False)
    # The pipe of the output is read to its end, which no copy holds open either.
    copies = [int(one) for one in done.stdout.split()]
    assert len(copies) == 2
    for copy in copies:
        status = Path(f"/proc/{copy}/status")
        for _ in range(500):
            text = status.read_text() if status.exists() else ""
            if not text or "State:\tZ" in text:
                break
            threading.Event().wait(0.01)
        else:
            os.kill(copy, 9)
            pytest.fail("a copy outlives the process that was copied")


def test_nothing_is_copied_while_another_thread_may_hold_a_lock() -> None:
    script = (
        "import threading\n"
        "from proposal.publish.process_copies import can_be_copied\n"
        "alone = can_be_copied()\n"
        "ended = threading.Event()\n"
        "threading.Thread(target=ended.wait).start()\n"
        "print(alone, can_be_copied())\n"
        "ended.set()\n"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert done.stdout == "True False\n"
    found: list[bool] = []
    thread = threading.Thread(target=lambda: found.append(can_be_copied()))
    thread.start()
    thread.join()
    assert found == [False]
