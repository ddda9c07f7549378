"""What several commands print: findings, counts, progress."""

import contextlib
import sys
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Any, Literal

from proposal.running import say


def print_findings(computed: Any, of_the_price: Sequence[Any]) -> None:
    """Print a line for each finding and one that counts them.

    computed: all that was computed of a project.
    of_the_price: findings for the house alone.
    """
    for line in lines_of_findings(computed, of_the_price):
        say(line)


def lines_of_findings(computed: Any, of_the_price: Sequence[Any]) -> Iterator[str]:
    """Yield a line for each finding and one that counts them; the parameters are those of `print_findings`.

    computed, of_the_price: the findings of everybody, and those for the house.
    """
    from proposal.review.finding import finding_line, in_order

    found = in_order((*computed.findings, *of_the_price))
    for finding in found:
        yield finding_line(finding, computed.project.brief.units)
    still = [finding.severity for finding in found if finding.accepted is None]
    counts = [counted(still.count(severity), severity) for severity in ("error", "warning", "note")]
    yield f"{', '.join(counts)}, {len(found) - len(still)} accepted"


def number_clashes(folder: Path) -> Sequence[Any]:
    """Return the numbers that give way since branches that both issued were merged."""
    from proposal.model.loading import number_clashes

    return number_clashes(folder)


def print_clashes(clashes: Sequence[Any], stream: Literal["stdout", "stderr"] = "stdout") -> None:
    """Print a line for each number that gives way; stream: where to."""
    for line in lines_of_clashes(clashes):
        say(line, stream=stream)


def lines_of_clashes(clashes: Sequence[Any]) -> Iterator[str]:
    """Yield a line for each number that gives way."""
    for clash in clashes:
        yield f"issued: note: {clash}"


def counted(count: int, noun: str) -> str:
    """Return a count with its noun, in the plural where there is not one."""
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"


@contextlib.contextmanager
def progress() -> Iterator[Callable[[str], None]]:
    """Yield a function that shows what is being done: on one line of a terminal, else not at all."""
    if not sys.stderr.isatty():
        yield lambda _: None
        return
    from rich.console import Console

    with Console(stderr=True).status("starting") as status:
        yield lambda text: status.update(text)
