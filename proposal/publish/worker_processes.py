"""Other processes of this program that do a part of its work: they end with it, however it ends.

A worker reads what it is to do from a pipe that this process alone can write to. When this process ends, even
by SIGKILL, the system closes the pipe; a thread of the worker waits for nothing else, and ends it at once.
"""

import os
import pickle
import queue
import subprocess
import sys
import threading
from collections.abc import Callable
from contextlib import suppress
from functools import partial
from typing import IO, Any, TypeAlias

from proposal.errors import PartError
from proposal.publish.process_copies import Copy, can_be_copied

Answering: TypeAlias = Callable[["queue.SimpleQueue[Any]", IO[bytes]], None]
"""Takes questions, and writes answers."""

# Modules are found where this process finds them, and not in the folder where the program was called.
_BEGIN = "import sys; sys.path[:] = sys.argv[1:]; "


class LostWorkerError(Exception):
    """A process that does a part of the work has ended unexpectedly, or cannot be started."""


class WorkerProcess:
    """One of the processes."""

    process: "subprocess.Popen[bytes] | Copy"

    def __init__(self, begin: str, answering: Answering | None = None) -> None:
        """Start it; raises OSError where the system does not.

        begin: what it runs, as Python.
        answering: what a copy of this process does instead, where one can be made, which has all loaded.
        """
        self.copied = answering is not None and can_be_copied()
        if answering is not None and self.copied:
            self.process = Copy(partial(serve_with, answering))
            return
        self.process = subprocess.Popen(  # noqa: S603 - this program's own interpreter
            [sys.executable, "-P", "-c", f"{_BEGIN}{begin}", *sys.path],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            # What a worker has to say it sends as an answer; a worker that is killed says nothing.
            stderr=subprocess.DEVNULL,
        )

    def answer(self, question: object) -> Any:
        """Return what the process answers to a question.

        question: anything that can be sent.
        Raises LostWorkerError where the process has ended, PartError where the program failed in it.
        """
        assert self.process.stdin is not None
        assert self.process.stdout is not None
        try:
            pickle.dump(question, self.process.stdin)
            self.process.stdin.flush()
            done, answer = pickle.load(self.process.stdout)  # noqa: S301 - from this program's own process
        except (OSError, EOFError, pickle.UnpicklingError, ValueError) as error:
            raise LostWorkerError from error
        if not done:
            raise PartError(answer)
        return answer

    def end(self) -> None:
        """End the process, whatever it does."""
        self.process.kill()
        self.process.wait()
        for stream in (self.process.stdout, self.process.stdin):
            assert stream is not None
            with suppress(OSError):  # what was still to be told finds nobody
                stream.close()


def serve_with(answer: Answering, asked: IO[bytes] | None = None) -> None:
    """Answer questions until there are no more, in a process of its own.

    answer: takes the questions, and writes the answers to the standard output.
    asked: where questions come from; the standard input where nothing else is said.
    """
    # Whatever a library prints must not come among the answers.
    answers = os.fdopen(os.dup(1), "wb")
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    questions: queue.SimpleQueue[Any] = queue.SimpleQueue()
    threading.Thread(target=_listen, args=(asked or sys.stdin.buffer, questions), daemon=True).start()
    try:
        answer(questions, answers)
    finally:
        os._exit(1)


def _listen(stream: IO[bytes], questions: "queue.SimpleQueue[Any]") -> None:
    """Pass questions on; end the process at once where nobody is left to ask."""
    try:
        while True:
            questions.put(pickle.load(stream))  # noqa: S301 - from the process that started this one
    finally:
        os._exit(0)
