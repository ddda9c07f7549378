"""The exceptions of the program.

ProposalError                   anything the program says instead of failing
├── InputError                  the project, the library or the call is wrong; nothing was written (exit 2)
├── DesignError                 a revision is not issued because errors of the design stand (exit 1)
└── BuildError                  the site or a drawing could not be made from a good project (exit 2)
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple


class Place(NamedTuple):
    """A place in a file that a person wrote.

    file: path relative to the project folder, with forward slashes.
    line, column: counted from 1, columns in characters; 0 where the whole file is meant.
    """

    file: str
    line: int = 0
    column: int = 0

    def __str__(self) -> str:
        """Return the place as editors take it, `file:line:column`."""
        return f"{self.file}:{self.line}:{self.column}" if self.line else self.file


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """One thing that is wrong in the input.

    place: where it stands.
    field: dotted name of the field, empty where the whole file is meant.
    message: what was wanted and what was found.
    """

    place: Place
    field: str
    message: str

    def __str__(self) -> str:
        """Return the line a person reads: place, field, what was wanted and found."""
        return (
            f"{self.place}: {self.field}: {self.message}" if self.field else f"{self.place}: {self.message}"
        )


class ProposalError(Exception):
    """Anything the program says instead of failing."""


class InputError(ProposalError):
    """The project, the library or the call is wrong, and nothing was written."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        """Keep every problem, in the order of files and lines, each once."""
        self.problems = tuple(sorted(set(problems)))
        super().__init__("\n".join(str(problem) for problem in self.problems))


class DesignError(ProposalError):
    """A revision is not issued because error findings stand that nobody accepted."""


class BuildError(ProposalError):
    """The site or a drawing could not be made from a good project."""
