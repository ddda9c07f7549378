"""What a page of paper is made of: blocks, one below the other, and the text in them."""

from dataclasses import fields
from functools import lru_cache
from typing import Any, Literal, TypeAlias

from proposal.field_classes import dataclass

Style: TypeAlias = Literal[
    "strong",
    "emphasis",
    "code",
    "unit",
    "mark",
    "good",
    "bad",
    "care",
    "info",
    "open",
    "raised",
    "lowered",
    "whole",
    "link",
    "page",
    "anchor",
    "break",
]
"""How a stretch of text stands: `whole` on one line, `page` the number of the page of what it leads to."""


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of text that stands in its own way.

    text: what it holds.  to: where it leads, or the name that an anchor has.
    """

    style: Style
    text: "Inline" = ()
    to: str = ""


Inline: TypeAlias = "tuple[str | Span, ...]"


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading.

    level: 1 to 6.  anchors: what leads to it.
    listed: whether the contents list it.  bookmarked: whether the reader's own list of headings does.
    on_new_sheet: whether it begins a sheet of its own.
    """

    level: int
    text: Inline
    anchors: tuple[str, ...] = ()
    listed: bool = False
    bookmarked: bool = True
    on_new_sheet: bool = False


@dataclass(frozen=True, slots=True)
class Paragraph:
    """A paragraph; `role` is empty, `lead`, `title` of a box, or `name` of a document on its cover."""

    text: Inline
    role: Literal["", "lead", "title", "name"] = ""


@dataclass(frozen=True, slots=True)
class Listing:
    """A list; each of its items is a column of blocks."""

    items: "tuple[tuple[Block, ...], ...]"
    ordered: bool = False


@dataclass(frozen=True, slots=True)
class Facts:
    """Names and values; `run_in` sets them one after the other, as in a sentence."""

    pairs: tuple[tuple[Inline, Inline], ...]
    run_in: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """A schedule.

    caption: above it.  head, foot, rows: their cells.
    sums_first: whether its foot stands above the rows, which are many.
    numeric: for each column, whether it is set to the right.
    names: how many of the first columns name the row.
    whole_rows: whether no row is parted between two sheets.
    widths_pt: of the columns with their margins, pt; empty until they are known.  size_pt: of the text, pt.
    """

    caption: Inline
    head: tuple[Inline, ...]
    rows: tuple[tuple[Inline, ...], ...]
    foot: tuple[tuple[Inline, ...], ...]
    numeric: tuple[bool, ...]
    names: int
    sums_first: bool = False
    widths_pt: tuple[float, ...] = ()
    size_pt: float = 8.0
    whole_rows: bool = True


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture.

    svg: as text.  alternative: what it shows, empty where it only adorns.
    width_pt: the most that it takes, pt; 0 for the width of the page.
    """

    svg: str
    alternative: str
    width_pt: float = 0.0


@dataclass(frozen=True, slots=True)
class Labels:
    """Labels to print; each has its code as SVG, and its text."""

    items: tuple[tuple[str, str, Inline], ...]


@dataclass(frozen=True, slots=True)
class Verbatim:
    """Lines that stand as they were typed."""

    text: str


@dataclass(frozen=True, slots=True)
class Box:
    """Blocks in a frame of their own."""

    blocks: "tuple[Block, ...]"


@dataclass(frozen=True, slots=True)
class Contents:
    """Where the contents stand."""


@dataclass(frozen=True, slots=True)
class Rule:
    """A line across the page."""


Block: TypeAlias = (
    "Heading | Paragraph | Listing | Facts | Table | Picture | Labels | Verbatim | Box | Contents | Rule"
)


def as_data(block: Any) -> dict[str, object]:
    """Return a block, or a stretch of text, as the template reads it: `kind` and its fields.

    block: any frozen dataclass of what stands on paper.
    Raises TypeError for anything else.
    """
    kind: type = type(block)
    return {"kind": kind.__name__.lower(), **{name: getattr(block, name) for name in _names(kind)}}


@lru_cache(maxsize=64)
def _names(kind: type) -> tuple[str, ...]:
    return tuple(one.name for one in fields(kind))
