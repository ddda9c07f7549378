"""Copies of this process, which do a part of its work without loading anything again.

A copy has all that this process has loaded and computed. It is made only where that is safe: on Linux, and
while no other thread of Python runs that could hold a lock which nobody would ever release in the copy.
"""

import gc
import os
import signal
import sys
import threading
import warnings
from collections.abc import Callable
from contextlib import suppress
from typing import IO, NoReturn

from proposal.publish.stop_signals import uninterrupted


class Copy:
    """A copy of this process: it is talked to by pipes, and ended, as `subprocess.Popen` is."""

    def __init__(self, work: Callable[[IO[bytes]], object]) -> None:
        """Make it; raises OSError where the system does not.

        work: what it does, once; it is given what to read questions from, and answers on its standard output.
        """
        questions, ask = os.pipe()
        hear, answers = os.pipe()
        self.returncode: int | None = None
        self.pid = 0
        try:
            # What Python runs before and after the copy is made, logging's locks among it, must be whole.
            with uninterrupted(), warnings.catch_warnings():
                # Newer versions of Python warn of threads of numerical libraries too, which rest meanwhile.
                warnings.simplefilter("ignore", DeprecationWarning)
                self.pid = os.fork()
                if self.pid == 0:
                    _begin(work, questions, answers)
        except BaseException:
            for one in (questions, ask, hear, answers):
                os.close(one)
            if self.pid:
                self.kill()
                self.wait()
            raise
        os.close(questions)
        os.close(answers)
        self.stdin: IO[bytes] = os.fdopen(ask, "wb")
        self.stdout: IO[bytes] = os.fdopen(hear, "rb")

    def kill(self) -> None:
        """End it, whatever it does."""
        if self.returncode is None:
            with suppress(ProcessLookupError):
                os.kill(self.pid, signal.SIGKILL)

    def wait(self) -> int:
        """Wait until it has ended, and return how."""
        if self.returncode is None:
            self.returncode = os.waitstatus_to_exitcode(os.waitpid(self.pid, 0)[1])
        return self.returncode


def can_be_copied() -> bool:
    """Say whether this process can be copied safely as it is now."""
    return (
        sys.platform == "linux"
        and threading.active_count() == 1
        and threading.current_thread() is threading.main_thread()
    )


def _begin(work: Callable[[IO[bytes]], object], questions: int, answers: int) -> NoReturn:
    """Do the work in the copy, which ends with it: nothing of the process that was copied goes on in it."""
    try:
        for number in signal.valid_signals():
            if callable(signal.getsignal(number)):
                signal.signal(number, signal.SIG_DFL)
        # The pipes of other copies would never close, were they held open here.
        os.dup2(questions, 0)
        os.dup2(answers, 1)
        os.dup2(os.open(os.devnull, os.O_WRONLY), 2)
        for held in map(int, os.listdir("/proc/self/fd")):
            if held > 2:
                with suppress(OSError):  # the folder itself was open while it was listed
                    os.close(held)
        gc.freeze()  # what was there before is not looked through again
        work(os.fdopen(0, "rb", closefd=False))
    finally:
        os._exit(1)
