"""The preview, started as a user does: from saving a file to the page that shows what was saved."""

import re
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from http.client import HTTPConnection
from pathlib import Path

from benchmarks.editing import RoomTypeWord, fresh_copy, new_words, room_type_word
from benchmarks.figures import Row, alone
from benchmarks.measuring import (
    ROOT,
    BenchmarkError,
    Taken,
    environment,
    median,
    processor_s_of_tree,
    program,
)
from benchmarks.plan import Plan

_BETWEEN_LOOKS_S = 0.05
# Answering takes the preview's own time: who waits long looks less often.
_SHARE_BETWEEN_LOOKS = 0.02
_LONGEST_S = 300.0
# At rest the program looks at its files, which takes about a hundredth of a processor.
_REST_S, _REST_SHARE = 1.0, 0.05


class Shown:
    """A preview that runs, and the page that is looked at."""

    def __init__(self, process: subprocess.Popen[str], port: int, page: str) -> None:
        """Look at a page of a preview that listens on a port of this machine."""
        self._process, self._port, self._page = process, port, page

    def processor_s(self) -> float:
        """Return the processor time that the preview and its children have used [s]."""
        return processor_s_of_tree(self._process.pid)

    def until_served(self, word: str) -> None:
        """Ask for the page until it holds a word."""
        begun = time.monotonic()
        while word not in self._answer():
            waited_s = time.monotonic() - begun
            if self._process.poll() is not None:
                raise BenchmarkError("the preview has ended")
            if waited_s > _LONGEST_S:
                raise BenchmarkError(f"the preview never served {self._page} with the new word")
            time.sleep(max(_BETWEEN_LOOKS_S, _SHARE_BETWEEN_LOOKS * waited_s))

    def until_rest(self) -> Taken:
        """Wait until the preview hardly works any more; return what it took until then."""
        begun, used = time.perf_counter(), self.processor_s()
        last_used, last_busy = used, begun
        while True:
            time.sleep(_REST_S)
            now_used = self.processor_s()
            if now_used - last_used < _REST_SHARE * _REST_S:
                return Taken(processor_s=last_used - used, elapsed_s=last_busy - begun)
            last_used, last_busy = now_used, time.perf_counter()
            if last_busy - begun > _LONGEST_S:
                raise BenchmarkError("the preview never rests")

    def _answer(self) -> str:
        connection = HTTPConnection("127.0.0.1", self._port, timeout=60)
        try:
            connection.request("GET", self._page)
            return connection.getresponse().read().decode("utf-8", "replace")
        except OSError:  # not yet listening
            return ""
        finally:
            connection.close()


def rows(plan: Plan) -> Iterator[Row]:
    """Measure and yield the rows."""
    word, words = room_type_word(plan.project), new_words()
    copy = fresh_copy(plan.project, plan.work / "previewed")
    word.change(copy, first := next(words))
    served: list[Taken] = []
    rested: list[Taken] = []
    with previewed(copy, word, plan.work / "previewed.log") as shown:
        shown.until_served(first)
        for _ in range(plan.saves):
            shown.until_rest()
            served.append(saved(shown, word, copy, next(words)))
            rested.append(served[-1] + shown.until_rest())
    yield from alone("preview, from saving to the page served", median(served))
    yield from alone("preview, from saving to rest", median(rested))


@contextmanager
def previewed(project: Path, word: RoomTypeWord, log: Path) -> Iterator[Shown]:
    """Start the preview of a project and end it again.

    log: gets what the preview says.
    """
    with log.open("w", encoding="utf-8") as said:
        process = subprocess.Popen(  # noqa: S603 - our own command
            [program("proposal"), "preview", project, "--port", "0"],
            cwd=ROOT,
            env=environment(),
            stdout=said,
            stderr=said,
            text=True,
        )
        try:
            yield Shown(process, _port(process, log), word.page)
        finally:
            process.terminate()
            process.wait()


def saved(shown: Shown, word: RoomTypeWord, project: Path, new: str) -> Taken:
    """Save a new word and return what it takes until its page is served."""
    used, begun = shown.processor_s(), time.perf_counter()
    word.change(project, new)
    shown.until_served(new)
    return Taken(processor_s=shown.processor_s() - used, elapsed_s=time.perf_counter() - begun)


def _port(process: subprocess.Popen[str], log: Path) -> int:
    """Return the port that the preview says it listens on."""
    end = time.monotonic() + _LONGEST_S
    while not (found := re.search(r"http://[\w.]+:(\d+)/", log.read_text("utf-8"))):
        if process.poll() is not None or time.monotonic() > end:
            raise BenchmarkError(f"the preview did not start:\n{log.read_text('utf-8')[-2000:]}")
        time.sleep(_BETWEEN_LOOKS_S)
    return int(found[1])
