"""Steps of a computation that are repeated only where something that they read has changed.

While a computation is done for one project, each of its steps is noted with what it was given, what it read
of the project, and its result. For another project a step has the same result where it is given the same and
has read nothing in which the two differ. A result that holds parts of the project has read all of them.
"""

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from typing import Any, ParamSpec, Protocol, TypeVar

from proposal.field_classes import dataclass
from proposal.model.project import Project
from proposal.model.reads import Differing, Reads, TakingReads

P = ParamSpec("P")
R = TypeVar("R")


class Doing(Protocol):
    """Runs a step of a computation, or gives its known result."""

    def __call__(self, step: Callable[P, R], /, *given: P.args, **named: P.kwargs) -> R:
        """Return the result of a step.

        step: a function whose result follows from what it is given alone.
        """


def plainly(step: Callable[P, R], /, *given: P.args, **named: P.kwargs) -> R:
    """Run a step and return its result."""
    return step(*given, **named)


_Key = tuple[str, int]
"""A step by its name, and how often it was done before."""


@dataclass(frozen=True, slots=True)
class _Done:
    """A step that was done.

    given: what it was given beside the project.
    reads: what it read of it.
    """

    given: tuple[object, ...]
    reads: Reads
    result: Any


class NotedSteps:
    """Runs steps and notes what they read."""

    def __init__(self, taken: TakingReads, sharing: tuple[type, ...] = ()) -> None:
        """Note what steps read.

        taken: tells it.
        sharing: kinds of things that keep what they have read for the steps that follow: each step that is
            given one of them counts as reading what they all read.
        """
        self._taken, self._sharing = taken, sharing
        self._numbers: Counter[str] = Counter()
        self._done: dict[_Key, _Done] = {}
        self._with_others: list[_Key] = []
        self._between: list[Reads] = []

    def do(self, step: Callable[P, R], /, *given: P.args, **named: P.kwargs) -> R:
        """Run a step, note what it reads, and return its result."""
        assert not named, "what a step is given has an order"
        self._between.append(self._taken())
        kept = tuple(map(_kept, given))
        result = step(*given, **named)
        key = step.__qualname__, self._numbers[step.__qualname__]
        self._numbers[step.__qualname__] += 1
        self._done[key] = _Done(_compared(kept, self._sharing), self._taken(result), result)
        if any(isinstance(one, self._sharing) for one in given):
            self._with_others.append(key)
        return result

    def reads(self) -> Reads:
        """Return what all steps have read, and what was read between them until now."""
        self._between.append(self._taken())
        return Reads.together([*(one.reads for one in self._done.values()), *self._between])

    def again(self, changed: Sequence[Differing]) -> Doing:
        """Return the runner of the same steps for another project.

        changed: in what it differs.
        """
        shared = Reads.together(self._done[key].reads for key in self._with_others)
        shared_differ = any(shared.hold(one) for one in changed)
        numbers: Counter[str] = Counter()

        def doing(step: Callable[P, R], /, *given: P.args, **named: P.kwargs) -> R:
            key = step.__qualname__, numbers[step.__qualname__]
            numbers[step.__qualname__] += 1
            done = self._done.get(key)
            if done is None:
                return step(*given, **named)
            other = key in self._with_others and shared_differ
            other = other or any(done.reads.hold(one) for one in changed)
            known: R = done.result
            if not other and _compared(given, self._sharing) == done.given:
                return known
            result = step(*given, **named)
            # What is the same is also the same thing, which the steps that follow see at once.
            return known if result == known else result

        return doing


def _kept(given: object) -> object:
    """Return what a step is given as it is now: lists and tables may hold more later."""
    if isinstance(given, list):
        return list(given)
    return dict(given) if isinstance(given, dict) else given


def _compared(given: Iterable[object], sharing: tuple[type, ...]) -> tuple[object, ...]:
    """Return what decides whether a step is given the same: what is read of a project is known otherwise."""
    return tuple(None if isinstance(one, (Project, *sharing)) else one for one in given)
