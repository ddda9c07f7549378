"""What all drawings that graphviz lays out have in common: text, colours, lines, title strip.

A drawing's boxes are HTML-like labels, in which `& < > "` and the backslash are special; every text of the
project goes through `escaped`. Heights are set in whole points, so that rows of boxes side by side stay
level with each other.
"""

import html
import math
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from graphviz import Digraph

from proposal.document.rows.sheets import SheetRow
from proposal.drawings.draft_mark import DRAFT
from proposal.editions import Edition
from proposal.quantities import formatting

# The layout engine knows the widths of this face; the free faces that drawings are shown in have the same.
FONT = "Arial"
SMALLEST_PT = 9
LARGER_PT = 11
TITLE_PT = 13
_LINE_SPACING = 1.2

INK = "#1c2530"
MUTED = "#4a5563"
FRAME = "#77828f"
BAND = "#f0f3f6"
PAPER = "#ffffff"
# Between two pieces of text on a line.
SPACE = "&#160;"


@dataclass(frozen=True, slots=True)
class Stroke:
    """How lines of one kind are drawn; colour is never the only sign.

    style, width: of the line.  head: of its arrow, where lines have a direction.
    """

    colour: str
    style: str
    width: float
    head: str


# Colours from a palette that readers with any colour vision tell apart, darkened to stand on white.
_STROKES = {
    "network": Stroke("#0a5a9c", "solid", 1.2, "normal"),
    "networked audio": Stroke("#0a5a9c", "solid", 1.2, "normal"),
    "radio": Stroke("#00694f", "dotted", 1.8, "vee"),
    "analogue": Stroke("#1c2530", "solid", 0.8, "empty"),
    "usb": Stroke("#7b3f8c", "solid", 1.2, "diamond"),
    "loudspeaker line": Stroke("#a33d00", "solid", 2.0, "normal"),
}
_OTHER = Stroke(MUTED, "solid", 0.8, "open")


def stroke(signal: str) -> Stroke:
    """Return how lines that carry a signal are drawn."""
    return _STROKES.get(signal.casefold(), _OTHER)


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """The title strip of a sheet.

    number, title: of the sheet.  part: such as `1 of 2`, empty where the drawing is one sheet; the title
    of the sheet says it too.
    project, revision, purpose: as the cover has them.
    draft: whether the sheet is marked as not issued.
    """

    number: str
    title: str
    part: str
    project: str
    revision: str
    purpose: str
    draft: bool = False


@dataclass(frozen=True, slots=True)
class LegendEntry:
    """A line of the legend.

    signal: which line is shown.  returning: whether the line is that of return audio.
    meaning: what it stands for.
    """

    signal: str
    meaning: str
    returning: bool = False


def strip_of(edition: Edition, sheet: SheetRow) -> Strip:
    """Return the title strip of a sheet."""
    cover = edition.document.cover
    revision = cover.revision
    return Strip(
        number=sheet.number,
        title=sheet.title,
        part=f"{sheet.part} of {sheet.parts}" if sheet.parts > 1 else "",
        project=cover.name,
        revision=f"Revision {revision.identity}, {formatting.date(revision.date, cover.locale)}",
        purpose=f"{DRAFT} · {revision.purpose}" if cover.draft else revision.purpose,
        draft=cover.draft,
    )


def plain(text: str) -> str:
    """Return a text as one line of signs that XML may hold."""
    folded = " ".join(text.split())
    return "".join(sign for sign in folded if unicodedata.category(sign) not in {"Cc", "Cs", "Cn", "Co"})


def escaped(text: str) -> str:
    """Return a text for an HTML-like label, every sign shown as it is."""
    # A backslash is read even there: with an N it would become the name of the node.
    return html.escape(plain(text), quote=True).replace("\\", "\\\\")


# Advance widths of Helvetica, thousandths of the size, for the signs from space to tilde; the metrics
# that the free faces share. Bold ones are at most a ninth wider on the whole of a line.
_WIDTHS = (
    "278 278 355 556 556 889 667 191 333 333 389 584 278 333 278 278 556 556 556 556 556 556 556 556 556 "
    "556 278 278 584 584 584 556 1015 667 667 722 722 667 611 778 722 278 500 667 556 833 722 778 667 778 "
    "722 667 611 722 667 944 667 667 611 278 278 278 469 556 333 556 556 500 556 556 278 556 556 222 222 "
    "500 222 833 556 556 556 556 333 500 278 556 500 722 500 500 500 334 260 334 584"
)
_WIDTH = {chr(32 + place): int(width) for place, width in enumerate(_WIDTHS.split())}


def width_pt(text: str, size_pt: float = SMALLEST_PT) -> float:
    """Return how wide a line of text is, pt; signs beyond ASCII count as wide ones."""
    return sum(_WIDTH.get(sign, 1000) for sign in text) * size_pt / 1000


def wrapped(text: str, room_pt: float, most_lines: int, size_pt: float = SMALLEST_PT) -> tuple[str, ...]:
    """Return a text as lines that fit a width, the last one cut with an ellipsis where it must be.

    room_pt: width of a line.
    """
    return _fitted(plain(text).split(" "), room_pt, most_lines, size_pt)


def wrapped_list(items: Sequence[str], room_pt: float, most_lines: int) -> tuple[str, ...]:
    """Return items, separated by commas, as lines that break between items and nowhere else."""
    pieces = [plain(item) + ("," if place < len(items) else "") for place, item in enumerate(items, start=1)]
    return _fitted(pieces or [""], room_pt, most_lines, SMALLEST_PT)


def _fitted(pieces: Sequence[str], room_pt: float, most_lines: int, size_pt: float) -> tuple[str, ...]:
    lines: list[str] = []
    line = ""
    for piece in pieces:
        longer = f"{line} {piece}" if line else piece
        if line and width_pt(longer, size_pt) > room_pt:
            lines.append(line)
            line = piece
        else:
            line = longer
    lines.append(line)
    kept = lines[:most_lines]
    if len(lines) > most_lines:
        kept[-1] = " ".join(lines[most_lines - 1 :])
    return tuple(_cut(line, room_pt, size_pt) for line in kept)


def _cut(line: str, room_pt: float, size_pt: float) -> str:
    if width_pt(line, size_pt) <= room_pt:
        return line
    while line and width_pt(line + "…", size_pt) > room_pt:
        line = line[:-1]
    return line.rstrip() + "…"


def height_pt(lines: int, size_pt: float = SMALLEST_PT, padding_pt: int = 2) -> int:
    """Return the height of a cell without a border that holds lines of text, whole pt."""
    return math.ceil(lines * size_pt * _LINE_SPACING) + 2 * padding_pt


def text(
    lines: Sequence[str],
    *,
    size_pt: float = SMALLEST_PT,
    colour: str = INK,
    bold: bool = False,
    align: str = "LEFT",
) -> str:
    """Return lines of the project's text as the content of a cell."""
    end = f'<BR ALIGN="{align}"/>'
    inner = end.join(escaped(line) for line in lines) + (end if len(lines) > 1 else "")
    if not inner:
        # The engine takes an empty cell, but no empty text.
        return ""
    if bold:
        inner = f"<B>{inner}</B>"
    return f'<FONT POINT-SIZE="{size_pt:g}" COLOR="{colour}">{inner}</FONT>'


def cell(content: str, **attributes: Any) -> str:
    """Return a cell; attributes are named in lower case."""
    return f"<TD{_attributes(attributes)}>{content}</TD>"


def row(*cells: str) -> str:
    """Return a row of cells."""
    return f"<TR>{''.join(cells)}</TR>"


def table(rows: Sequence[str], **attributes: Any) -> str:
    """Return a table without a border of its own, unless attributes give it one."""
    given: dict[str, Any] = {"border": 0, "cellborder": 0, "cellspacing": 0, "cellpadding": 2} | attributes
    return f"<TABLE{_attributes(given)}>{''.join(rows)}</TABLE>"


def filler(height: int, **attributes: Any) -> str:
    """Return a row of one empty cell of a height, pt, or nothing where it would have none."""
    if height < 1:
        return ""
    return row(cell("", height=height, cellpadding=0, border=0, **attributes))


def _attributes(attributes: dict[str, Any]) -> str:
    return "".join(f' {name.upper()}="{value}"' for name, value in attributes.items())


def label(content: str) -> str:
    """Return a table as an HTML-like label."""
    return f"<{content}>"


def tip(content: str) -> str:
    """Return a text for the tip of a line; a backslash is special there."""
    return plain(content).replace("\\", "\\\\")


def digraph(strip: Strip, legend: Sequence[LegendEntry], notes: Sequence[str], **attributes: str) -> Digraph:
    """Return an empty drawing from left to right with its legend and title strip below.

    notes: lines of text above the title strip.
    """
    return Digraph(
        graph_attr={
            "rankdir": "LR",
            "fontname": FONT,
            "fontsize": str(SMALLEST_PT),
            "bgcolor": PAPER,
            "pad": "0.1",
            "labelloc": "b",
            "labeljust": "r",
            "label": label(_foot(strip, legend, notes)),
            **attributes,
        },
        node_attr={"shape": "plain", "fontname": FONT, "fontsize": str(SMALLEST_PT), "fontcolor": INK},
        edge_attr={"fontname": FONT, "fontsize": str(SMALLEST_PT), "fontcolor": INK, "arrowsize": "0.7"},
    )


# As wide as a note, so that a wider note does not stretch the samples of lines.
_LEGEND_WIDTH = 330
_TITLE_WIDTH = 300


def _foot(strip: Strip, legend: Sequence[LegendEntry], notes: Sequence[str]) -> str:
    """Return the legend, the notes and the title strip as one table."""
    key, key_height = _legend(legend)
    height = key_height + len(notes) * height_pt(1, padding_pt=1)
    remarks = [row(cell(text([note], colour=MUTED), align="LEFT", cellpadding=1)) for note in notes]
    left = table([row(cell(key, align="LEFT", cellpadding=0)), *remarks], cellpadding=0)
    title, title_height = _title(strip)
    # The title strip keeps its height and stands on the foot of the sheet.
    right = table([filler(height - title_height), row(cell(title, cellpadding=0))], cellpadding=0)
    return table(
        [filler(8), row(cell(left, align="LEFT"), cell(right, align="RIGHT"))], cellspacing=6, cellpadding=0
    )


def _legend(entries: Sequence[LegendEntry]) -> tuple[str, int]:
    """Return the legend, in two columns where it is long, and its height, pt."""
    columns = 1 if len(entries) <= _LONG_LEGEND else 2
    width = _LEGEND_WIDTH // columns
    pairs = [(_sample(entry), wrapped(entry.meaning, width, 2)) for entry in entries]
    rows, height = [], 0
    for start in range(0, len(pairs), columns):
        cells = ""
        for sample, lines in pairs[start : start + columns]:
            cells += sample + cell(text(lines), align="LEFT", balign="LEFT", cellpadding=3, width=width)
        rows.append(row(cells))
        height += height_pt(max(len(lines) for _, lines in pairs[start : start + columns]), padding_pt=3)
    return table(rows or [row(cell(""))], cellpadding=0), height


_LONG_LEGEND = 4


def _title(strip: Strip) -> tuple[str, int]:
    """Return the title strip and its height, pt."""
    project = wrapped(strip.project, _TITLE_WIDTH * 0.62, 2)
    title = wrapped(strip.title, _TITLE_WIDTH * 0.9, 2, TITLE_PT)
    status = wrapped(" · ".join(part for part in (strip.revision, strip.purpose) if part), _TITLE_WIDTH, 2)
    about = table(
        [
            row(
                cell(text(project, colour=MUTED), align="LEFT", balign="LEFT"),
                cell(text([f"Sheet {strip.number}"], size_pt=LARGER_PT, bold=True), align="RIGHT"),
            )
        ],
        cellpadding=0,
    )
    rows = [
        row(cell(about, height=max(height_pt(len(project)), height_pt(1, LARGER_PT)), width=_TITLE_WIDTH)),
        row(
            cell(
                text(title, size_pt=TITLE_PT, bold=True),
                align="LEFT",
                balign="LEFT",
                height=height_pt(len(title), TITLE_PT),
            )
        ),
        row(cell(text(status, colour=MUTED), align="LEFT", balign="LEFT", height=height_pt(len(status)))),
    ]
    inside = table(rows, cellpadding=2)
    height = (
        max(height_pt(len(project)), height_pt(1, LARGER_PT))
        + height_pt(len(title), TITLE_PT)
        + height_pt(len(status))
        + 10
    )
    return table([row(cell(inside, cellpadding=4))], border=1, color=INK), height


def _sample(entry: LegendEntry) -> str:
    """Return a cell with a piece of a line as the drawing shows it."""
    drawn = stroke(entry.signal)
    line = cell(
        "",
        height=6,
        width=36,
        cellpadding=0,
        border=max(1, round(drawn.width)),
        sides="B",
        color=drawn.colour,
        style="dashed" if entry.returning else drawn.style,
    )
    return cell(table([row(line), row(cell("", height=6, cellpadding=0))]), width=44, cellpadding=2)
