"""Other processes of this program that compute prices: they end with it, however it ends.

A pricer reads what it is to do from a pipe that this process alone can write to. When this process ends, even
by SIGKILL, the system closes the pipe; a thread of the pricer waits for nothing else, and ends it at once.
"""

import pickle
import queue
import traceback
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import contextmanager
from decimal import Decimal
from functools import partial
from typing import IO, Any, TypeAlias

from proposal.document.making.price_again import PriceAgain
from proposal.document.making.sensitivity import Case, Side, price_of
from proposal.model.source import ProjectSource, source_of
from proposal.pipeline import compute
from proposal.publish.worker_processes import LostWorkerError, WorkerProcess, serve_with

Task: TypeAlias = tuple[Case, Side]
Price: TypeAlias = Decimal | str

_BEGIN = "from proposal.publish.price_processes import serve; serve()"


class LostPricerError(LostWorkerError):
    """A process that computes prices has ended unexpectedly."""


class _Pricer(WorkerProcess):
    """One of the processes."""

    def __init__(self, here: Callable[[int], Price] | None) -> None:
        """Start it.

        here: computes the price of a task by its number in this process, and in a copy of it.
        """
        super().__init__(_BEGIN, None if here is None else partial(_answer_with, here))

    def answer(self, question: object) -> Any:
        """Return what the process answers; raises LostPricerError where it has ended."""
        try:
            return super().answer(question)
        except LostWorkerError as error:
            raise LostPricerError from error


@contextmanager
def prices_of(
    source: ProjectSource, tasks: Sequence[Task], count: int, here: Callable[[Task], Price] | None
) -> Iterator[Iterator[tuple[int, Price]]]:
    """Give the prices of some tasks, each with its number, as they come; other processes end with the block.

    source: what makes the project.
    count: of other processes, which begin with the first tasks.
    here: computes a price in this process, which begins with the last; None where others do all.
    Raises LostPricerError where no process can be started; taking a price does where one has ended, and
    raises PartError where the program failed in one.
    """
    told = (source.parts, source.surroundings, tuple(tasks))
    idle: queue.SimpleQueue[tuple[_Pricer, bool]] = queue.SimpleQueue()
    pricers: list[_Pricer] = []
    numbered = None if here is None else lambda number: here(tasks[number])

    def price(number: int) -> Price:
        pricer, begun = idle.get()
        try:
            if not begun:
                pricer.answer(told)
            answer: Price = pricer.answer(number)
        finally:
            idle.put((pricer, True))
        return answer

    try:
        for _ in range(count):
            try:
                pricers.append(_Pricer(numbered))
            except OSError as error:
                raise LostPricerError from error
            # A copy of this process knows already what it is asked about.
            idle.put((pricers[-1], pricers[-1].copied))
        threads = ThreadPoolExecutor(count, thread_name_prefix="pricer")
        try:
            yield _as_they_come([threads.submit(price, number) for number in range(len(tasks))], tasks, here)
        finally:
            for pricer in pricers:
                pricer.process.kill()
            threads.shutdown(wait=True, cancel_futures=True)
    finally:
        for pricer in pricers:
            pricer.end()


def _as_they_come(
    elsewhere: "Sequence[Future[Price]]", tasks: Sequence[Task], here: Callable[[Task], Price] | None
) -> Iterator[tuple[int, Price]]:
    """Yield the price of each task with its number; what nobody has begun is done here, the last first."""
    left = dict(enumerate(elsewhere))
    for number in reversed(range(len(tasks))):
        if here is None or not elsewhere[number].cancel():
            break
        del left[number]
        yield number, here(tasks[number])
        for done in [one for one, price in left.items() if price.done()]:
            yield done, left.pop(done).result()
    for number, price in left.items():
        yield number, price.result()


def serve() -> None:
    """Answer questions from the standard input until there are no more, in a process of its own."""
    serve_with(_answer)


def _answer(questions: "queue.SimpleQueue[Any]", answers: IO[bytes]) -> None:
    def begin() -> Callable[[int], Price]:
        parts, surroundings, tasks = questions.get()
        source = source_of(parts, surroundings, [])
        computed = compute(source.base)
        again = PriceAgain(source.base)
        _say(answers, True, None)

        def price(number: int) -> Price:
            case, side = tasks[number]
            return price_of(source, computed, case, side, again)

        return price

    _tell_prices(begin, questions, answers)


def _answer_with(
    price: Callable[[int], Price], questions: "queue.SimpleQueue[Any]", answers: IO[bytes]
) -> None:
    """Answer in a copy of the process that asks, which has computed the base already.

    price: computes the price of a task by its number.
    """
    _tell_prices(lambda: price, questions, answers)


def _tell_prices(
    begin: Callable[[], Callable[[int], Price]], questions: "queue.SimpleQueue[Any]", answers: IO[bytes]
) -> None:
    try:
        price = begin()
        while True:
            _say(answers, True, price(questions.get()))
    except (BrokenPipeError, MemoryError):
        return  # what this process does not do the one that started it does
    except Exception:  # whatever it is, it is told where people read it
        _say(answers, False, traceback.format_exc())


def _say(answers: IO[bytes], *answer: object) -> None:
    pickle.dump(answer, answers)
    answers.flush()
