"""A signal that asks the program to stop is obeyed once, and not in the middle of what must be whole."""

import os
import signal
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import pytest

from proposal.errors import Stopped
from proposal.publish.stop_signals import followed, stoppable, uninterrupted

LONGEST_S = 20.0
REMINDED_S = 1.2
"""Long enough for a stop that was not followed to be raised again."""


@contextmanager
def not_ended_by(number: signal.Signals) -> Iterator[list[int]]:
    """Take signals that nobody else takes, so that they do not end the tests."""
    taken: list[int] = []
    former = signal.signal(number, lambda one, _: taken.append(one))
    try:
        yield taken
    finally:
        signal.signal(number, former)


def send(number: signal.Signals) -> None:
    os.kill(os.getpid(), number)


def wait() -> None:
    """Wait for a signal without end, as far as a test can."""
    end = time.monotonic() + LONGEST_S
    while time.monotonic() < end:
        time.sleep(0.01)


def stopped(work: Callable[[], object], number: signal.Signals = signal.SIGTERM) -> Stopped:
    """Do something that a signal stops, and return how it was stopped."""
    with not_ended_by(number):
        try:
            with stoppable():
                work()
        except Stopped as stop:
            return stop
    raise AssertionError("not stopped")


@pytest.mark.parametrize("name", ["SIGTERM", "SIGINT", "SIGHUP"])
def test_a_signal_stops_what_runs(name: str) -> None:
    number = signal.Signals[name]

    def work() -> None:
        send(number)
        wait()

    assert stopped(work, number).number == number


def test_afterwards_signals_are_whose_they_were() -> None:
    with not_ended_by(signal.SIGTERM) as taken:
        with stoppable():
            pass
        send(signal.SIGTERM)
    assert taken == [signal.SIGTERM]


def test_what_handles_errors_does_not_handle_it() -> None:
    def work() -> None:
        try:
            send(signal.SIGTERM)
            wait()
        except Exception:
            pytest.fail("taken for an error")

    stopped(work)


def test_what_must_be_whole_is_finished_first() -> None:
    done: list[str] = []

    def work() -> None:
        with uninterrupted():
            with uninterrupted():
                send(signal.SIGTERM)
                time.sleep(REMINDED_S)
                done.append("inner")
            done.append("outer")
        done.append("more")

    stopped(work)
    assert done == ["inner", "outer"]


def test_an_error_within_what_must_be_whole_is_not_hidden() -> None:
    seen: list[Exception] = []

    def work() -> None:
        try:
            with uninterrupted():
                send(signal.SIGTERM)
                raise ValueError("not whole")
        except ValueError as error:
            seen.append(error)
        wait()

    stopped(work)
    assert seen


def test_clearing_away_is_not_interrupted_by_another_signal() -> None:
    cleared: list[str] = []

    def work() -> None:
        try:
            send(signal.SIGTERM)
            wait()
        finally:
            send(signal.SIGTERM)
            time.sleep(REMINDED_S)
            try:
                raise OSError("nothing to clear")
            except OSError:
                send(signal.SIGTERM)
                cleared.append("whole")

    stopped(work)
    assert cleared == ["whole"]


def test_a_stop_that_gets_lost_is_raised_again() -> None:
    lost: list[BaseException] = []

    def work() -> None:
        try:
            send(signal.SIGTERM)
            wait()
        except BaseException as error:  # as the interpreter does in a destructor
            lost.append(error)
        wait()

    stopped(work)
    assert len(lost) == 1


def test_a_stop_that_gets_lost_in_a_destructor_is_not_told_as_an_error(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    class Destroyed:
        def __del__(self) -> None:
            send(signal.SIGTERM)
            wait()

    def work() -> None:
        one = Destroyed()
        del one
        wait()

    told: list[object] = []
    monkeypatch.setattr(sys, "unraisablehook", told.append)
    stopped(work)
    assert told == []
    assert sys.unraisablehook == told.append


def test_other_errors_that_get_lost_are_told(monkeypatch: pytest.MonkeyPatch) -> None:
    class Destroyed:
        def __del__(self) -> None:
            raise OSError("not closed")

    told: list[object] = []
    monkeypatch.setattr(sys, "unraisablehook", lambda lost: told.append(str(lost.exc_value)))
    with stoppable():
        one = Destroyed()
        del one
    assert told == ["not closed"]


def test_a_stop_that_was_followed_is_not_raised_again() -> None:
    with not_ended_by(signal.SIGTERM), stoppable():
        try:
            send(signal.SIGTERM)
            wait()
        except Stopped:
            followed()
        time.sleep(REMINDED_S)


def test_a_signal_that_is_ignored_stays_so() -> None:
    former = signal.signal(signal.SIGHUP, signal.SIG_IGN)
    try:
        with stoppable():
            send(signal.SIGHUP)
            time.sleep(0.05)
    finally:
        signal.signal(signal.SIGHUP, former)


def test_another_thread_leaves_signals_alone() -> None:
    seen: list[object] = []

    def work() -> None:
        with stoppable():
            seen.append(signal.getsignal(signal.SIGTERM))

    before = signal.getsignal(signal.SIGTERM)
    thread = threading.Thread(target=work)
    thread.start()
    thread.join()
    assert seen == [before]
