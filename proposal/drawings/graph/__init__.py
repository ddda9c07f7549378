"""What all drawings that graphviz lays out have in common: text, colours, lines, title strip.

A drawing's boxes are HTML-like labels, in which `& < > "` and the backslash are special; every text of the
project goes through `escaped`. Heights are set in whole points, so that rows of boxes side by side stay
level with each other.
"""

import html
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from graphviz import Digraph

from proposal.drawings.colours import INK, MUTED, PAPER, stroke
from proposal.drawings.lettering import SMALLEST_PT, plain, wrapped
from proposal.drawings.sheet import TitleBlock

# The layout engine knows the widths of this face; the free faces that drawings are shown in have the same.
FONT = "Arial"
LARGER_PT = 11
TITLE_PT = 13
_LINE_SPACING = 1.2

# Between two pieces of text on a line.
SPACE = "&#160;"


@dataclass(frozen=True, slots=True)
class LegendEntry:
    """A line of the legend.

    signal: which line is shown.  returning: whether the line is that of return audio.
    meaning: what it stands for.
    """

    signal: str
    meaning: str
    returning: bool = False


def escaped(text: str) -> str:
    """Return a text for an HTML-like label, every sign shown as it is."""
    # A backslash is read even there: with an N it would become the name of the node.
    return html.escape(plain(text), quote=True).replace("\\", "\\\\")


def height_pt(lines: int, size_pt: float = SMALLEST_PT, padding_pt: int = 2) -> int:
    """Return the height of a cell without a border that holds lines of text, whole pt.

    lines: number of lines.
    size_pt, padding_pt: size of the text and space around it, pt.
    """
    return math.ceil(lines * size_pt * _LINE_SPACING) + 2 * padding_pt


def text(
    lines: Sequence[str],
    *,
    size_pt: float = SMALLEST_PT,
    colour: str = INK,
    bold: bool = False,
    align: str = "LEFT",
) -> str:
    """Return lines of the project's text as the content of a cell.

    size_pt: size of the letters, pt.
    colour: as SVG names it.
    bold: whether in bold letters.
    align: LEFT, CENTER or RIGHT.
    """
    end = f'<BR ALIGN="{align}"/>'
    inner = end.join(escaped(line) for line in lines) + (end if len(lines) > 1 else "")
    if not inner:
        # The engine takes an empty cell, but no empty text.
        return ""
    if bold:
        inner = f"<B>{inner}</B>"
    return f'<FONT POINT-SIZE="{size_pt:g}" COLOR="{colour}">{inner}</FONT>'


def cell(content: str, **attributes: Any) -> str:
    """Return a cell; attributes are named in lower case.

    content: as `text` or `table` returns it.
    """
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
    """Return a table as an HTML-like label.

    content: as `table` returns it.
    """
    return f"<{content}>"


def tip(content: str) -> str:
    """Return a text for the tip of a line; a backslash is special there.

    content: plain text.
    """
    return plain(content).replace("\\", "\\\\")


def digraph(
    strip: TitleBlock, legend: Sequence[LegendEntry], notes: Sequence[str], **attributes: str
) -> Digraph:
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


def _foot(strip: TitleBlock, legend: Sequence[LegendEntry], notes: Sequence[str]) -> str:
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


def _title(strip: TitleBlock) -> tuple[str, int]:
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
