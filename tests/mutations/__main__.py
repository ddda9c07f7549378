"""Draw mutations at random, and list those that no test sees."""

import argparse
import csv
import os
import random
import signal
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator, Sequence, Set
from pathlib import Path

from tests.mutations.coverage_map import Covering, coverings, test_files
from tests.mutations.mutator import Mutation, mutations_of
from tests.mutations.running import Outcome, cleared, copied, tried

ROOT = Path(__file__).resolve().parent.parent.parent
EQUIVALENT = Path(__file__).parent / "equivalent.csv"
FOLDERS = ("standards", "design", "estimate", "document", "differences", "publish")


def main(arguments: Sequence[str]) -> int:
    """Run the command; the status is 1 where a mutation survives that is not known to change nothing."""
    asked = _parser().parse_args(arguments)
    os.nice(max(0, asked.nice - os.nice(0)))
    # Ended from outside, the copy goes, and with it whatever runs there.
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(143))
    with tempfile.TemporaryDirectory(prefix="mutations-") as folder:
        tree = copied(ROOT, Path(folder) / "tree")
        tests = coverings(tree, asked.map, test_files(tree, asked.tests), asked.longest, print_now)
        print_now(f"{len(tests)} files of tests, {sum(one.seconds for one in tests):.0f} s in all")
        if asked.measure:
            return 0
        return _survivors(tree, tests, asked)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m tests.mutations", description=__doc__)
    parser.add_argument("--seed", type=int, default=1, help="the same seed draws the same mutations")
    parser.add_argument("--count", type=int, default=200, help="how many are drawn")
    parser.add_argument("--only", default="", help="of modules whose path begins so, proposal/design")
    parser.add_argument("--tests", nargs="*", default=[""], help="files of tests whose path begins so")
    parser.add_argument("--nice", type=int, default=19, help="niceness: 19 leaves all else its time")
    parser.add_argument("--budget", type=float, default=40.0, help="seconds of tests for each")
    parser.add_argument("--again", type=float, default=120.0, help="seconds for each that survives those")
    parser.add_argument("--longest", type=float, default=60.0, help="longest file of tests, seconds")
    parser.add_argument("--stop", type=float, default=36_000.0, help="seconds after which no more are tried")
    parser.add_argument("--skip", type=int, default=0, help="how many of those drawn are left out")
    parser.add_argument("--measure", action="store_true", help="only measure which tests run which lines")
    parser.add_argument("--list", action="store_true", help="only list what is drawn")
    parser.add_argument(
        "--map", type=Path, default=ROOT / ".mutations" / "map.json", help="where measurements are kept"
    )
    return parser


def _survivors(tree: Path, tests: Sequence[Covering], asked: argparse.Namespace) -> int:
    run = _lines_run(tests)
    every = [one for one in all_mutations(tree) if one.path.startswith(asked.only)]
    seen = [one for one in every if (one.path, one.line) in run]
    print_now(f"{len(every)} mutations, {len(seen)} of them on lines that these tests run")
    chosen_ones, unseen = drawn(every, run, asked.seed, asked.count)
    for mutation in unseen:
        print_now(f"     NOT RUN            {told(mutation)}")
    known = {identity for identity, _ in equivalents()}
    survivors: list[Mutation] = []
    counts: Counter[str] = Counter()
    begun = time.monotonic()
    for number, mutation in enumerate(chosen_ones, 1):
        if number <= asked.skip:
            continue
        if time.monotonic() - begun > asked.stop:
            print_now(f"stopped after {number - 1}")
            break
        if asked.list:
            print_now(f"{number:4} {told(mutation)}")
            continue
        if mutation.identity in known:
            counts["equivalent"] += 1
            continue
        chosen = chosen_tests(mutation, tests, asked.budget)
        outcome = _tried(tree, mutation, chosen)
        if not outcome.killed:
            others = [one for one in chosen_tests(mutation, tests, asked.again) if one not in chosen]
            outcome = _tried(tree, mutation, others) if others else outcome
        word = "killed" if outcome.killed else "SURVIVES"
        counts[word] += 1
        if not outcome.killed:
            survivors.append(mutation)
        print_now(f"{number:4} {word:8} {outcome.seconds:6.1f} s  {told(mutation)}  {outcome.by}")
    print_now(", ".join(f"{count} {word}" for word, count in sorted(counts.items())))
    for mutation in survivors:
        print_now(f"{told(mutation)}\n    in: {mutation.where}")
    return 1 if survivors else 0


def _tried(tree: Path, mutation: Mutation, chosen: Sequence[Covering]) -> Outcome:
    seconds = sum(one.seconds for one in chosen)
    outcome = tried(tree, mutation, [one.path for one in chosen], 2 * seconds + 20)
    cleared(tree)
    return outcome


def drawn(
    every: Sequence[Mutation], run: Set[tuple[str, int]], seed: int, count: int
) -> tuple[list[Mutation], list[Mutation]]:
    """Return mutations drawn at random, and those drawn between them that lie on lines that no test runs.

    run: path and number of every line that a test runs; it says which are tried, and never their order.
    count: how many are drawn on lines that are run.
    """
    order = random.Random(seed).sample(every, len(every))
    seen: list[Mutation] = []
    unseen: list[Mutation] = []
    for one in order:
        if len(seen) == count:
            break
        (seen if (one.path, one.line) in run else unseen).append(one)
    return seen, unseen


def all_mutations(tree: Path) -> Iterator[Mutation]:
    """Yield every mutation of the folders of the program that are mutated."""
    for folder in FOLDERS:
        for path in sorted((tree / "proposal" / folder).rglob("*.py")):
            yield from mutations_of(path.relative_to(tree).as_posix(), path.read_text("utf-8"))


def equivalents() -> list[tuple[tuple[str, str, str, str, str], str]]:
    """Return the mutations that change nothing that anybody can see, each with its reason."""
    with EQUIVALENT.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    return [
        ((row["path"], row["function"], row["where"], row["before"], row["after"]), row["reason"])
        for row in rows
    ]


def chosen_tests(mutation: Mutation, tests: Sequence[Covering], budget_s: float) -> list[Covering]:
    """Return the files of tests that run a mutated line, likeliest first, as many as the budget holds.

    Those of the module come first, then those in its folder, then those that run most of it in a second.
    """
    covering = [one for one in tests if mutation.line in one.lines.get(mutation.path, ())]
    mirror = _mirror(mutation.path)
    covering.sort(
        key=lambda one: (
            one.path != mirror,
            one.path.rpartition("/")[0] != mirror.rpartition("/")[0],
            one.seconds / len(one.lines[mutation.path]),
            one.path,
        )
    )
    chosen: list[Covering] = []
    for one in covering:
        if not chosen or sum(each.seconds for each in chosen) + one.seconds <= budget_s:
            chosen.append(one)
    return chosen


def _mirror(path: str) -> str:
    folder, _, name = path.removeprefix("proposal/").rpartition("/")
    return f"tests/{folder}/test_{name}"


def _lines_run(tests: Sequence[Covering]) -> set[tuple[str, int]]:
    return {(path, line) for one in tests for path, lines in one.lines.items() for line in lines}


def told(mutation: Mutation) -> str:
    """Return a mutation in a line."""
    before, after = (" ".join(text.split()) for text in (mutation.before, mutation.after))
    where = f"{mutation.path}:{mutation.line} {mutation.function}".rstrip()
    return f"{where}: {mutation.kind}: {before}  →  {after}"


def print_now(line: str) -> None:
    """Print a line at once, also where the output is a file."""
    print(line, flush=True)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
