"""Run a command so that it ends cleanly: a line for whatever goes wrong, and the exit status."""

import contextlib
import gc
import os
import signal
import sys
from collections.abc import Callable
from typing import Literal, NoReturn, TextIO

from proposal.errors import InputError, Place, Problem, Stopped
from proposal.publish.failures import is_failure, line_of
from proposal.publish.stop_signals import followed, stoppable

GOOD, DESIGN_ERRORS, WRONG_INPUT, FAILED = 0, 1, 2, 3
STOPPED = 128
"""What the number of a signal is added to."""


class CommandError(Exception):
    """What a command raised, kept from the library of commands, which would end by itself.

    Its cause is what counts.
    """


def run(command: Callable[[], object]) -> NoReturn:
    """Run a command and end the program with its exit status.

    command: may raise SystemExit with a status of its own.
    """
    # Plugins that happen to be installed must not change how a project is read.
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    with stoppable():
        try:
            status = _status(command)
            followed()
        except (Stopped, KeyboardInterrupt) as stop:
            number = stop.number if isinstance(stop, Stopped) else signal.SIGINT
            done = f"; {stop.done}" if isinstance(stop, Stopped) and stop.done else ""
            say(f"stopped by {signal.Signals(number).name}{done}", stream="stderr")
            status = STOPPED + number
        gc.freeze()  # the program ends: what it holds need not be collected
    sys.exit(status)


def _status(command: Callable[[], object]) -> int:
    """Run a command and return its exit status; what goes wrong is said."""
    try:
        try:
            _prepare_streams()
            command()
        except CommandError as raised:
            raise raised.__cause__ or raised from None
        _flush()
    except SystemExit as ended:
        return _status_of(ended)
    except (Stopped, KeyboardInterrupt):
        raise
    except BaseException as error:  # whatever it is, it is said
        say(line_of(error), stream="stderr")
        return FAILED if is_failure(error) else WRONG_INPUT
    return GOOD


def _status_of(ended: SystemExit) -> int:
    if isinstance(ended.__context__, BrokenPipeError):
        return GOOD  # the reader of the help closed the pipe early
    _flush()
    if ended.code is None:
        return GOOD
    return ended.code if isinstance(ended.code, int) else FAILED


def _prepare_streams() -> None:
    """Make what is printed readable whatever the terminal's encoding; raise InputError where none can be."""
    for number in range(3):
        try:
            os.fstat(number)
        except OSError:
            # The next file that is opened would take its place, and get what is printed.
            os.open(os.devnull, os.O_RDWR)
    # Libraries take it for granted that these are there.
    sys.stdin = sys.stdin or open(os.devnull, encoding="utf-8")  # noqa: SIM115 - open until the program ends
    sys.stderr = sys.stderr or open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115 - the same
    if sys.stdout is None:
        raise InputError([Problem(Place("standard output"), "", "wanted it open; found it closed")])
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(encoding="utf-8", errors="backslashreplace")


def say(text: str, *, stream: Literal["stdout", "stderr"] = "stdout", ended: bool = False) -> None:
    """Print a text, with a line's end unless it has one.

    stream: where to print it.
    ended: whether the text ends in a line's end already.
    Who reads it may have gone, as `head` does; the command then goes on, so that its exit status holds.
    Raises OSError where the standard output cannot be written for another reason.
    """
    target = getattr(sys, stream)
    if target is None:
        return
    try:
        target.write(text if ended else text + "\n")
        target.flush()
    except OSError as error:
        _turn_off(target)
        if stream == "stdout" and not isinstance(error, BrokenPipeError):
            error.filename = "standard output"
            raise


def _flush() -> None:
    for stream in (sys.stdout, sys.stderr):
        if stream is not None:
            try:
                stream.flush()
            except OSError:
                _turn_off(stream)


def _turn_off(stream: TextIO) -> None:
    """Let what is left in the buffer of a stream go nowhere: it must not fail once more at the end."""
    # Where not even that can be done, the end of the program complains once more.
    with contextlib.suppress(OSError, ValueError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, stream.fileno())
        os.close(nowhere)
