"""The exceptions of the program.

ProposalError                   anything the program says instead of failing
├── InputError                  the project, the library or the call is wrong; nothing was written (exit 2)
├── DesignError                 a revision is not issued because errors of the design stand (exit 1)
└── BuildError                  the site or a drawing could not be made from a good project (exit 2)
PartError                       a part of the program failed that does not run in it (exit 3)
Stopped                         a signal asked the program to stop (exit 128 and its number)
"""

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from typing import NamedTuple

from proposal.field_classes import dataclass


def printable(text: str) -> str:
    """Return text on one line, whatever cannot be printed written as an escape."""
    return "".join(
        letter if letter.isprintable() else letter.encode("unicode_escape", "replace").decode("ascii")
        for letter in text
    )


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
        field = printable(self.field)
        return f"{self.place}: {field}: {self.message}" if field else f"{self.place}: {self.message}"


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


class PartError(Exception):
    """A part of the program failed, such as another of its processes; the message is all that it said.

    The last line of it says what was wrong.
    """


class Stopped(BaseException):
    """A signal asked the program to stop; what is left unfinished is taken away on the way out.

    It is no error, so that nobody who handles errors takes it for one.
    """

    def __init__(self, number: int, done: str = "") -> None:
        """Keep the number of the signal, and what was done all the same, in words."""
        self.number = number
        self.done = done
        super().__init__(number, done)


@contextmanager
def naming(file: object) -> Iterator[None]:
    """Let an OSError of the block name a file where the system does not, as on a full disk."""
    try:
        yield
    except OSError as error:
        if error.filename is None and error.errno is not None:
            error.filename = str(file)
        raise
