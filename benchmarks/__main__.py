"""Run the benchmarks: `python -m benchmarks --help`."""

import argparse
import importlib
import sys
import tempfile
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from benchmarks.figures import TABLE, Row, commit, surroundings, write
from benchmarks.measuring import BenchmarkError, on_two_cores
from benchmarks.plan import EDITIONS, Plan

# Part → module and function, imported when they run: a process that starts others stays small, since
# Linux counts its memory as theirs. The steps of the design, which run in this process, come last.
PARTS = {
    "check": ("benchmarks.checking", "rows"),
    "build": ("benchmarks.builds", "rows"),
    "preview": ("benchmarks.previewing", "rows"),
    "rooms": ("benchmarks.growth", "rooms_rows"),
    "pages": ("benchmarks.growth", "pages_rows"),
    "radio": ("benchmarks.radio", "rows"),
    "cabling": ("benchmarks.cabling", "rows"),
}


def main(words: Sequence[str]) -> int:
    """Measure what the words of the command line ask for, print it, and return the exit status."""
    given = _parser().parse_args(words)
    measured = commit()
    print(f"commit: {measured}")
    found: list[Row] = []
    with tempfile.TemporaryDirectory() as work:
        plan = _plan(given, Path(work))
        try:
            for row in _rows(given.parts or list(PARTS), plan):
                found.append(row)
                print(f"{row.name}: {row.value}", flush=True)
        except BenchmarkError as error:
            print(error, file=sys.stderr)
            return 1
    if given.write:
        write(TABLE, measured, found)
    return 0


def _rows(parts: Sequence[str], plan: Plan) -> Iterator[Row]:
    yield from surroundings()
    yield Row("rounds of builds", str(plan.rounds))
    for part, (module, name) in PARTS.items():
        if part in parts:
            rows: Callable[[Plan], Iterator[Row]] = getattr(importlib.import_module(module), name)
            yield from rows(plan)


def _plan(given: argparse.Namespace, work: Path) -> Plan:
    names = ("project", "editions", "rounds", "checks", "saves", "rooms", "pages", "steps")
    return Plan(
        work=work,
        **{name: value for name in names if (value := getattr(given, name)) is not None},
    )


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="python -m benchmarks",
        description="Measure how long the program takes. Left out, every part is measured on the example.",
    )
    parser.add_argument("parts", nargs="*", metavar="PART", type=_part, help=", ".join(PARTS))
    parser.add_argument("--write", action="store_true", help=f"put the figures into {TABLE.name}, too")
    parser.add_argument("--project", type=_folder, help="folder of the project to build")
    parser.add_argument("--editions", type=_editions, help=f"built together: {','.join(EDITIONS)}")
    parser.add_argument("--rounds", type=_count, help="of builds")
    parser.add_argument("--checks", type=_count, help="rounds of check")
    parser.add_argument("--saves", type=_count, help="rounds of the preview")
    parser.add_argument("--rooms", type=_counts, help="sizes of the buildings to check, as 25,100")
    parser.add_argument("--pages", type=_counts, help="sizes of the buildings to build, as 10,25")
    parser.add_argument("--steps", type=_counts, help="sizes of the buildings for radio and cabling")
    return parser


def _part(text: str) -> str:
    if text not in PARTS:
        raise argparse.ArgumentTypeError(f"wanted one of {', '.join(PARTS)}; found {text}")
    return text


def _folder(text: str) -> Path:
    folder = Path(text).resolve()
    if not (folder / "project.yaml").is_file():
        raise argparse.ArgumentTypeError(f"no project folder: {text}")
    return folder


def _editions(text: str) -> tuple[str, ...]:
    names = tuple(text.split(","))
    unknown = [name for name in names if name not in EDITIONS]
    if unknown:
        raise argparse.ArgumentTypeError(f"wanted some of {','.join(EDITIONS)}; found {','.join(unknown)}")
    return names


def _count(text: str) -> int:
    if not (text.isascii() and text.isdigit() and int(text)):
        raise argparse.ArgumentTypeError(f"wanted a whole number above 0; found {text}")
    return int(text)


def _counts(text: str) -> tuple[int, ...]:
    return tuple(sorted({_count(part) for part in text.split(",")}))


if __name__ == "__main__":
    on_two_cores()
    sys.exit(main(sys.argv[1:]))
