"""Sites of several editions, made in several processes where that is worth while.

The first is made here, which shows how long a page takes; what is left is shared out. What another process
does not do is done here: it makes the same, and says what is wrong.
"""

import pickle
import queue
import threading
from collections import deque
from collections.abc import Callable, Iterator, Mapping
from contextlib import ExitStack, contextmanager
from time import process_time
from typing import IO, Any

from proposal.errors import PartError
from proposal.publish.cache import Cache
from proposal.publish.files import make_folder, remove
from proposal.publish.folder_replacement import replacing
from proposal.publish.processors import processors
from proposal.publish.program_folders import OwnPath
from proposal.publish.site import SiteSource, place_site, write_site
from proposal.publish.worker_processes import LostWorkerError, WorkerProcess, serve_with

# Another process loads the program first, which only longer work than this repays.
LONGEST_ALONE_S = 3.0
_BEGIN = "from proposal.publish.site_processes import serve; serve()"

Say = Callable[[str], None]


def place_sites(
    sources: Mapping[OwnPath, SiteSource], cache: Cache, progress: Say, titles: Mapping[OwnPath, str]
) -> None:
    """Make sites and put each into its folder, in the place of what stood there.

    sources: what each is made of, by its folder.
    cache: keeps what was made of pages.
    progress: told in a few words what is being done.
    titles: what each is called.
    Raises what `place_site` raises.
    """
    left = deque(sources)
    begun = process_time()
    first = left.popleft()
    progress(f"{titles[first]}: site")
    place_site(sources[first], first, progress=progress, cache=cache)
    each_s = (process_time() - begun) / max(len(sources[first].pages), 1)
    still_s = each_s * sum(len(sources[folder].pages) for folder in left)
    others = min(processors() - 1, len(left) - 1) if still_s > LONGEST_ALONE_S else 0
    # The longest are made by others, the shortest here.
    left = deque(sorted(left, key=lambda folder: -len(sources[folder].pages)))
    with ExitStack() as replaced, _elsewhere(others, cache, sources, replaced, left) as elsewhere:
        while (folder := elsewhere.here()) is not None:
            progress(f"{titles[folder]}: site")
            place_site(sources[folder], folder, progress=progress, cache=cache)
        for folder, new, complaints in elsewhere.made():
            progress(f"{titles[folder]}: site")
            if complaints is None:  # this time what is wrong is said
                remove(new)
                make_folder(new)
                write_site(sources[folder], new, progress=progress, cache=cache)
            for complaint in complaints or ():
                progress(complaint)


class _Elsewhere:
    """Sites that other processes make."""

    def __init__(self, left: "deque[OwnPath]") -> None:
        self._left = left
        self._lock = threading.Lock()
        self.threads: list[threading.Thread] = []
        self.results: list[tuple[OwnPath, OwnPath, list[str] | None]] = []

    def here(self) -> OwnPath | None:
        """Return the next folder whose site is to be made here, None where none is left."""
        return self._left.pop() if self._left else None

    def made(self) -> Iterator[tuple[OwnPath, OwnPath, list[str] | None]]:
        """Yield what was made: for which folder, where it stands, and what was complained about.

        None stands for the complaints where it could not be made.
        """
        for thread in self.threads:
            while thread.is_alive():  # a signal is heard in between
                thread.join(0.2)
        yield from self.results


@contextmanager
def _elsewhere(
    count: int,
    cache: Cache,
    sources: Mapping[OwnPath, SiteSource],
    replaced: ExitStack,
    left: "deque[OwnPath]",
) -> Iterator[_Elsewhere]:
    """Let other processes make a site each, until the block ends; they are taken from those that are left.

    replaced: gets what puts the finished sites in their place.
    """
    elsewhere = _Elsewhere(left)
    workers: list[WorkerProcess] = []

    def ask(worker: WorkerProcess, folder: OwnPath, new: OwnPath) -> None:
        complaints: list[str] | None = None
        try:
            complaints, used = worker.answer((sources[folder], new, cache.folder))
            cache.add_used(used)
        except (LostWorkerError, PartError, pickle.PicklingError):
            pass
        elsewhere.results.append((folder, new, complaints))

    try:
        for _ in range(count):
            try:
                workers.append(WorkerProcess(_BEGIN))
            except OSError:
                break
            folder = left.popleft()
            new = replaced.enter_context(replacing(folder))
            thread = threading.Thread(target=ask, args=(workers[-1], folder, new), name="site", daemon=True)
            elsewhere.threads.append(thread)
            thread.start()
        yield elsewhere
    finally:
        for worker in workers:
            worker.process.kill()
        for thread in elsewhere.threads:
            thread.join()
        for worker in workers:
            worker.end()


def serve() -> None:
    """Make sites as the standard input says, in a process of its own."""
    serve_with(_answer)


def _answer(questions: "queue.SimpleQueue[Any]", answers: IO[bytes]) -> None:
    source, folder, kept = questions.get()
    cache = Cache(kept)
    complaints: list[str] = []
    try:
        write_site(source, folder, progress=complaints.append, cache=cache)
        answer: tuple[bool, object] = (True, (complaints, cache.used()))
    except Exception as error:  # the process that asked does it again, and says what is wrong
        answer = (False, str(error))
    pickle.dump(answer, answers)
    answers.flush()
    questions.get()  # nothing follows but the end
