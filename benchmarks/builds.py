"""Builds of editions beside a bare `mkdocs build` of the same editions."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import partial
from pathlib import Path

from benchmarks import building
from benchmarks.checking import CHECKED
from benchmarks.editing import fresh_copy, new_words, room_type_word
from benchmarks.figures import Row, compared
from benchmarks.measuring import Command, Taken, in_turn, program, run
from benchmarks.plan import Plan

# A build makes no PDF; an option that leaves one out belongs here.
_BUILD = ("build",)

# Name of a state, and what brings it about and builds some editions.
States = Mapping[str, Callable[[Sequence[str]], Taken]]


def rows(plan: Plan) -> Iterator[Row]:
    """Measure and yield the rows."""
    warm_up(plan.work)
    copy = plan.work / "example"
    word, words = room_type_word(plan.project), new_words()

    def cold(editions: Sequence[str]) -> Taken:
        fresh_copy(plan.project, copy)
        return build(copy, editions)

    def changed(editions: Sequence[str]) -> Taken:
        word.change(copy, next(words))
        return build(copy, editions)

    unchanged = partial(build, copy)
    bare = partial(bare_build, copy, plan.work / "bare")
    states: States = {"cold": cold, "unchanged": unchanged, "one word changed": changed}
    yield from _beside("build of all editions", states, bare, plan.editions, plan.rounds)
    alone: States = {"cold": cold, "unchanged": unchanged}
    yield from _beside("build of the client edition", alone, bare, ("client",), plan.rounds)


def _beside(
    name: str,
    states: States,
    bare: Callable[[Sequence[str]], Taken],
    editions: Sequence[str],
    rounds: int,
) -> Iterator[Row]:
    """Yield the rows of the states of a project, one after the other in every round, each beside mkdocs."""
    works: dict[str, Callable[[], Taken]] = {}
    for state, work in states.items():
        works[state] = partial(work, editions)
        works[f"{state}, bare"] = partial(bare, editions)
    found = in_turn(works, rounds)
    for state in states:
        yield from compared(f"{name}, {state} / mkdocs", found[state], found[f"{state}, bare"])


def warm_up(work: Path) -> None:
    """Build a room once, so that bytecode is there and libraries have written what they keep."""
    if (work / "warm").exists():
        return
    folder = building.write(work / "warm", 1)
    build(folder, ("client",))
    bare_build(folder, work / "bare", ("client",))


def build(project: Path, editions: Sequence[str]) -> Taken:
    """Return what our build of some editions takes."""
    chosen = [f"--edition={edition}" for edition in editions]
    return run([program("proposal"), *_BUILD, project, *chosen], CHECKED)


def bare_build(project: Path, folder: Path, editions: Sequence[str]) -> Taken:
    """Return what mkdocs takes alone for the same sites, one after the other.

    A configuration that has the theme and its search only takes as long within a twentieth.

    project: just built.  folder: gets the sites.
    """
    taken = Taken(processor_s=0.0, elapsed_s=0.0)
    for edition in editions:
        configuration = project / "build" / edition / "mkdocs.yml"
        command: Command = [program("mkdocs"), "build", "-q", "-f", configuration, "-d", folder / edition]
        taken += run(command)
    return taken
