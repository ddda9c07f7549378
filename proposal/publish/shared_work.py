"""Work that is shared out among this process and others of the program, which end with it.

Each takes what is next until nothing is left. What another process does not do is done here: it makes the
same, and says what is wrong.
"""

import pickle
import queue
import threading
from collections import deque
from collections.abc import Callable, Hashable, Iterable, Mapping
from typing import IO, Any, Self, TypeVar

from proposal.errors import PartError
from proposal.publish.worker_processes import LostWorkerError, WorkerProcess, serve_with

K = TypeVar("K", bound=Hashable)
R = TypeVar("R")
A = TypeVar("A")

BEGIN = "from proposal.publish.shared_work import serve; serve()"


class Workers:
    """Other processes, which do whatever function they are asked for until the block ends."""

    def __init__(self) -> None:
        """Begin with none."""
        self.running: list[WorkerProcess] = []

    def begin(self, count: int) -> None:
        """Begin so many, or as many as the system allows.

        count: how many more there are to be.
        """
        for _ in range(count):
            try:
                self.running.append(WorkerProcess(BEGIN, _answer))
            except OSError:
                break

    def __enter__(self) -> Self:
        """Begin the block."""
        return self

    def __exit__(self, *_: object) -> None:
        """End all of them, whatever they do."""
        for worker in self.running:
            worker.end()


def shared_out(
    items: Iterable[K],
    workers: Workers,
    here: Callable[[K], R],
    asked: Callable[[K], Callable[[], A]],
    received: Callable[[A], R],
) -> Mapping[K, R]:
    """Return what is made of each item, in the order of the items.

    items: the longest work first.
    here: makes it in this process.
    asked: gives the function that makes it in another; it and what it gives can be sent.
    received: makes of that what `here` gives. Threads call these two.
    Raises what `here` raises; what was asked elsewhere is then given up.
    """
    every = list(items)
    left, failed = deque(every), deque[K]()
    found: dict[K, R] = {}
    threads = [
        threading.Thread(target=_take, args=(worker, left, asked, received, found, failed), daemon=True)
        for worker in workers.running
    ]
    for thread in threads:
        thread.start()
    try:
        while left:
            try:
                item = left.popleft()
            except IndexError:  # another has taken it meanwhile
                break
            found[item] = here(item)
        for thread in threads:
            while thread.is_alive():  # a signal is heard in between
                thread.join(0.2)
    except BaseException:
        left.clear()
        for worker in workers.running:
            worker.process.kill()
        for thread in threads:
            thread.join()
        raise
    for item in failed:  # this time what is wrong is said
        found[item] = here(item)
    return {item: found[item] for item in every}


def _take(
    worker: WorkerProcess,
    left: "deque[K]",
    asked: Callable[[K], Callable[[], A]],
    received: Callable[[A], R],
    found: dict[K, R],
    failed: "deque[K]",
) -> None:
    """Let a process make what is left, until nothing is, or it fails."""
    while left:
        try:
            item = left.popleft()
        except IndexError:
            return
        try:
            found[item] = received(worker.answer(asked(item)))
        except (LostWorkerError, PartError, pickle.PicklingError):
            failed.append(item)
            return


def serve() -> None:
    """Do what the standard input asks for, in a process of its own."""
    serve_with(_answer)


def _answer(questions: "queue.SimpleQueue[Any]", answers: IO[bytes]) -> None:
    while True:
        question = questions.get()
        try:
            answer: tuple[bool, object] = (True, question())
        except Exception as error:  # the process that asked does it again, and says what is wrong
            answer = (False, str(error))
        pickle.dump(answer, answers)
        answers.flush()
