"""End cleanly where a signal asks the program to stop."""

import _thread
import signal
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType
from typing import TypeAlias

from proposal.errors import Stopped

# Other systems than POSIX have fewer.
_NAMES = ("SIGINT", "SIGTERM", "SIGHUP", "SIGBREAK")
_REMIND_S = 0.5
_Telling: TypeAlias = "Callable[[sys.UnraisableHookArgs], object]"


class _Asked:
    """What was asked of this process: the number of the signal, and who must still hear of it."""

    def __init__(self) -> None:
        self.number = 0
        self.holding = 0
        self.followed = threading.Event()

    def take(self, number: int, _frame: FrameType | None) -> None:
        """Raise Stopped, unless what runs now must not be interrupted or is ending already."""
        first = not self.number
        self.number = self.number or number
        if first:
            # What is raised in the middle of a destructor is lost; then it has to be raised once more.
            # Starting one of `threading` would wait for a lock that the interrupted thread may hold.
            _thread.start_new_thread(self._remind, ())
        self.let_go()

    def let_go(self, done: str = "") -> None:
        """Raise Stopped where that was held back and is held no more; done: what was finished meanwhile."""
        if self.number and not (self.holding or self.followed.is_set() or _ending()):
            raise Stopped(self.number, done)

    def _remind(self) -> None:
        while not self.followed.wait(_REMIND_S):
            _thread.interrupt_main(signal.Signals(self.number))


_asked = _Asked()


def _ending() -> bool:
    """Say whether what runs now does so because Stopped was raised: it is left to finish."""
    error = sys.exc_info()[1]
    while error is not None:
        if isinstance(error, Stopped):
            return True
        error = error.__context__
    return False


def _without_stops(tell: _Telling) -> _Telling:
    """Make what tells of lost errors silent about Stopped, which is raised once more."""

    def told(lost: "sys.UnraisableHookArgs") -> None:
        if not isinstance(lost.exc_value, Stopped):
            tell(lost)

    return told


@contextmanager
def stoppable() -> Iterator[None]:
    """Let signals that ask the program to stop raise Stopped, until the block ends.

    Signals that are ignored stay so, as for a program that outlives its terminal. Only the main thread can
    be told; in another one nothing changes.
    """
    global _asked
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    _asked = _Asked()
    numbers = [getattr(signal, name) for name in _NAMES if hasattr(signal, name)]
    former = {number: signal.getsignal(number) for number in numbers}
    taken = {number: one for number, one in former.items() if one not in (signal.SIG_IGN, None)}
    former_hook = sys.unraisablehook
    try:
        sys.unraisablehook = _without_stops(former_hook)
        for number in taken:
            signal.signal(number, _asked.take)
        yield
    finally:
        followed()
        sys.unraisablehook = former_hook
        for number, one in taken.items():
            signal.signal(number, one)


@contextmanager
def uninterrupted(done: str = "") -> Iterator[None]:
    """Hold back signals until the block has ended, where stopping half-way would do harm.

    done: what the block does, in words for who sent the signal.
    Raises Stopped at its end where one has come meanwhile.
    """
    _asked.holding += 1
    try:
        yield
    finally:
        _asked.holding -= 1
    _asked.let_go(done)


def followed() -> None:
    """Note that the program is ending as asked, so that Stopped is not raised again."""
    _asked.followed.set()
