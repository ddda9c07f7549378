"""Changes of the inputs as rows of their own, each for the readers who may see it."""

from collections.abc import Iterator, Sequence
from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.schedule import ALL, CHECKERS, HOUSE, Row, Schedule, Shows, composed

# Keys of project.yaml whose changes every checker may see; those of prices are the house's alone.
OPEN_KEYS = frozenset(
    {
        "name",
        "number",
        "client",
        "integrator",
        "site",
        "goals",
        "revision",
        "history",
        "region",
        "units",
        "locale",
        "currency",
        "branding",
        "subnets",
        "mains",
        "rules",
        "scope",
        "responsibilities",
        "labour",
        "programme",
        "accepted_findings",
        "accepted_alternates",
    }
)
HOUSE_KEYS = frozenset({"price", "terms", "internal_note"})
_OPEN_FILES = frozenset({"building", "room_types", "rooms", "fixed", "requirements", "wording", "images"})


class InputRow(Row):
    """A value that is written otherwise than before."""

    schedule: ClassVar = Schedule("input", subject="terms", key=("path",))

    path: Annotated[tuple[str, ...], Shows("input_path", CHECKERS, "text")] = Field(
        default=(), description="Keys from the top."
    )
    before: Annotated[str, Shows("input_before", CHECKERS, "text")] = Field(
        default="", description="As it was written."
    )
    after: Annotated[str, Shows("input_after", CHECKERS, "text")] = Field(
        default="", description="As it is written now."
    )
    file: Annotated[str, Shows("input_file", CHECKERS, "text")] = Field(
        default="", description="File, in the later state where it is still there."
    )
    line: Annotated[int, Shows("input_line", CHECKERS, "number")] = Field(
        default=0, description="Line there; 0 for the whole file."
    )
    kind: Annotated[str, Shows("input_kind", CHECKERS, "text")] = Field(
        default="", description="added, removed, changed or reordered."
    )

    @composed(Shows("file_and_line", CHECKERS))
    def place(self) -> str:
        """File and line as a reader finds them."""
        return f"{self.file}:{self.line}" if self.line else self.file

    @composed(Shows("what", CHECKERS))
    def name(self) -> str:
        """The path as one word."""
        return ".".join(self.path)


PLACED, ROOM, ROOM_TYPE = "placed", "room", "room type"
"""What was asked for: a device placed by hand, a change of a room, a change of a room type."""


class AskedRow(Row):
    """A thing that somebody asked to be otherwise, by its name alone: everyone may know that it was asked."""

    schedule: ClassVar = Schedule("asked", subject="terms", key=("kind", "name"))

    kind: Annotated[str, Shows("kind", ALL, "word")] = Field(description="placed, room or room type.")
    name: Annotated[str, Shows("what", ALL, "tag")] = Field(
        description="Tag of the device or room, or key of the room type."
    )


class Inputs(Row):
    """What changed in the inputs."""

    schedule: ClassVar = Schedule("inputs", subject="terms")

    changes: Annotated[tuple[InputRow, ...], Shows("input_changes", CHECKERS, "rows")] = Field(
        default=(), description="In order of files and lines."
    )
    house_changes: Annotated[tuple[InputRow, ...], Shows("input_house_changes", HOUSE, "rows")] = Field(
        default=(), description="Those that tell of costs, prices and notes of the house."
    )
    elsewhere: Annotated[tuple[str, ...], Shows("input_elsewhere", CHECKERS, "text")] = Field(
        default=(), description="What else changed: the program, the shared data."
    )
    asked: Annotated[tuple[AskedRow, ...], Shows("what", ALL, "rows")] = Field(
        default=(), description="What was asked to be otherwise, each thing once."
    )

    @property
    def all(self) -> tuple[InputRow, ...]:
        """All changes that this reader may see, in order of files and lines."""
        return tuple(sorted((*self.changes, *self.house_changes), key=lambda one: (one.file, one.line)))


def inputs_of(rows: Sequence[InputRow], elsewhere: Sequence[str] = ()) -> Inputs:
    """Return changes of the inputs, those of the house apart from the others.

    rows: every change.
    elsewhere: what else may have changed something.
    """
    return Inputs(
        changes=tuple(row for row in rows if _is_open(row.path)),
        house_changes=tuple(row for row in rows if not _is_open(row.path)),
        elsewhere=tuple(elsewhere),
        asked=tuple(dict.fromkeys(one for row in rows if _is_open(row.path) for one in _asked(row.path))),
    )


def _asked(path: tuple[str, ...]) -> Iterator[AskedRow]:
    """Yield the thing that a change of the inputs is about, where everyone knows the thing."""
    match path:
        case ("fixed", "devices", tag, "at" | "height", *_):
            yield AskedRow(kind=PLACED, name=tag)
        case ("rooms", tag, *rest) if "internal_note" not in rest:
            yield AskedRow(kind=ROOM, name=tag)
        case ("room_types", key, *rest) if "internal_note" not in rest:
            yield AskedRow(kind=ROOM_TYPE, name=key)


def _is_open(path: tuple[str, ...]) -> bool:
    """Say whether checkers outside the house may see a change; what is not known is the house's."""
    if path[:1] == ("alternates",):
        path = path[2:]
        if not path:
            return False
    if not path or "internal_note" in path or path == ("wording", "price"):
        return False
    if path[:3] == ("project", "labour", "rates"):
        return False
    if path[0] == "project":
        return len(path) > 1 and path[1] in OPEN_KEYS
    return path[0] in _OPEN_FILES
