"""Pages of a site that are shown before the site is made, each made when it is asked for."""

import queue
import threading
from collections.abc import Callable
from contextlib import suppress

Contents = Callable[[str], bytes | None]
"""Gives the content of a path of the site, such as `rooms/chamber.html`, None where there is none."""


class Overtaken(BaseException):
    """A file was saved while the site was being made from its earlier content: making it is stopped."""


class PagesAhead:
    """Pages that are shown before the site is made, each made once."""

    def __init__(self, contents: Contents) -> None:
        """Take what makes them; it is called in the thread that calls `make` or `make_asked` alone."""
        self._contents = contents
        self._made: dict[str, bytes | None] = {}
        self._waiting: queue.SimpleQueue[tuple[str, threading.Event]] = queue.SimpleQueue()

    def asked(self, name: str) -> threading.Event:
        """Ask for a page, and return what is set when it has been tried.

        name: of the page, such as `rooms/chamber.html`.
        """
        event = threading.Event()
        if name in self._made:
            event.set()
        else:
            self._waiting.put((name, event))
        return event

    def made(self, name: str) -> bytes | None:
        """Return a page, None where it is not made or cannot be.

        name: of the page.
        """
        return self._made.get(name)

    def make_asked(self) -> None:
        """Make all pages that were asked for."""
        while True:
            try:
                name, event = self._waiting.get_nowait()
            except queue.Empty:
                return
            try:
                self.make(name)
            finally:
                event.set()

    def make(self, name: str) -> None:
        """Make a page, once.

        name: of the page.
        """
        if name not in self._made:
            self._made[name] = None  # where it cannot be made, the build of the whole says why
            with suppress(Exception):
                self._made[name] = self._contents(name)
