"""How many processes a command may use at once."""

import os
from collections.abc import Iterator
from contextlib import contextmanager

_limits: list[int] = []


def processors() -> int:
    """Return how many processes this command may use at once: as many as it has processors, or was told."""
    if _limits:
        return _limits[-1]
    allowed = getattr(os, "sched_getaffinity", None)
    return len(allowed(0)) if allowed is not None else os.cpu_count() or 1


@contextmanager
def limited_to(jobs: int | None) -> Iterator[None]:
    """Use so many processes at once, until the block ends.

    jobs: one at least; None for as many as there are processors.
    """
    if jobs is None:
        yield
        return
    _limits.append(jobs)
    try:
        yield
    finally:
        _limits.pop()
