"""What was measured, a row a figure, and the table in which a commit has a column."""

import datetime
import math
import os
import platform
import subprocess
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path

from benchmarks.measuring import ROOT, Taken

LIBRARIES = (
    "mkdocs",
    "mkdocs-material",
    "markdown",
    "jinja2",
    "pydantic",
    "numpy",
    "shapely",
    "networkx",
    "highspy",
    "matplotlib",
    "graphviz-pure",
)
TABLE = ROOT / "benchmarks" / "figures.md"

_HEAD = """# Figures of the benchmarks

Written by `python -m benchmarks --write`, a column a commit; `+` after a commit: measured with changes that
were not committed. What each row means stands in `benchmarks/__init__.py`. Where two figures and a ratio
stand, they are ours / bare = times as long. Processor time (user and system, children included) and ratios
can be compared; elapsed time only where the load at the start was low.
"""
_FIGURE = "figure"


@dataclass(frozen=True, slots=True)
class Row:
    """A figure: its name, which stays from commit to commit, and its value as text."""

    name: str
    value: str


def seconds(value: float) -> str:
    """Return a time in three figures or whole seconds [s]."""
    return f"{value:.2f}" if value < 10 else f"{value:.1f}" if value < 100 else f"{value:.0f}"


def power(value: float) -> str:
    """Return an exponent as text; a dash where one size alone was measured [-]."""
    return "–" if math.isnan(value) else f"{value:.2f}"


def alone(name: str, taken: Taken) -> Iterator[Row]:
    """Yield the rows of a run that is compared with nothing."""
    yield Row(f"{name}: processor, s", seconds(taken.processor_s))
    yield Row(f"{name}: elapsed, s", seconds(taken.elapsed_s))


def compared(name: str, ours: Taken, bare: Taken) -> Iterator[Row]:
    """Yield the rows of a run beside the bare work that it cannot do without."""
    pairs = {
        "processor": (ours.processor_s, bare.processor_s),
        "elapsed": (ours.elapsed_s, bare.elapsed_s),
    }
    for kind, (one, other) in pairs.items():
        yield Row(f"{name}: {kind}, s", f"{seconds(one)} / {seconds(other)} = {one / other:.2f}")


def commit() -> str:
    """Return the short name of the commit, with `+` where tracked files differ from it."""

    def git(*words: str) -> str:
        done = subprocess.run(  # noqa: S603 - git, with words of our own
            ["git", "-C", str(ROOT), *words],  # noqa: S607 - the git of the path, as at a prompt
            capture_output=True,
            text=True,
            check=False,
        )
        return done.stdout.strip()

    changed = git("status", "--porcelain", "--untracked-files=no", "--", ".", f":!{TABLE.relative_to(ROOT)}")
    return (git("rev-parse", "--short", "HEAD") or "no commit") + ("+" if changed else "")


def surroundings() -> Iterator[Row]:
    """Yield the rows that tell with what the figures were measured."""
    yield Row("date", datetime.datetime.now(tz=datetime.UTC).date().isoformat())
    yield Row("Python", platform.python_version())
    for library in LIBRARIES:
        yield Row(library, version(library))
    yield Row("cores", str(len(os.sched_getaffinity(0))))
    yield Row("load at the start", f"{os.getloadavg()[0]:.1f}")


def with_column(table: str, name: str, rows: Sequence[Row]) -> str:
    """Return the text of a table with the figures of a commit in a column.

    table: the text as it stands, or "".  A column that stands there under this name is filled in; rows
    that the table lacks come last.
    """
    columns, cells = _read(table)
    if name not in columns:
        columns.append(name)
    for row in rows:
        cells.setdefault(row.name, {})[name] = row.value
    lines = [[_FIGURE, *columns], ["---", *("--:" for _ in columns)]]
    lines += [[figure, *(values.get(column, "") for column in columns)] for figure, values in cells.items()]
    return _HEAD + "\n" + "".join(f"| {' | '.join(line)} |\n" for line in lines)


def write(path: Path, name: str, rows: Sequence[Row]) -> None:
    """Write the figures of a commit into a table."""
    table = path.read_text("utf-8") if path.exists() else ""
    path.write_text(with_column(table, name, rows), "utf-8")


def _read(table: str) -> tuple[list[str], dict[str, dict[str, str]]]:
    """Return the columns of a table, and its cells by figure and column."""
    lines = [
        [cell.strip() for cell in line.strip().strip("|").split("|")]
        for line in table.splitlines()
        if line.startswith("|")
    ]
    if not lines:
        return [], {}
    columns = lines[0][1:]
    return columns, {line[0]: _filled(columns, line[1:]) for line in lines[2:]}


def _filled(columns: Sequence[str], values: Sequence[str]) -> dict[str, str]:
    cells: Mapping[str, str] = dict(zip(columns, values, strict=True))
    return {column: value for column, value in cells.items() if value}
