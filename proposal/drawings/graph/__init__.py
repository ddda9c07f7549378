"""What all drawings that graphviz lays out have in common: text, colours, lines.

A drawing's boxes are HTML-like labels, in which `& < > "` and the backslash are special; every text of the
project goes through `escaped`. Heights are set in whole points, so that rows of boxes side by side stay
level with each other.
"""

import html
import math
from collections.abc import Sequence
from typing import Any

from graphviz import Digraph

from proposal.drawings.colours import INK, PAPER, stroke
from proposal.drawings.legend import LegendEntry, LineSample
from proposal.drawings.lettering import SMALLEST_PT, plain

# The layout engine knows the widths of this face; the free faces that drawings are shown in have the same.
FONT = "Arial"
LARGER_PT = 11
_LINE_SPACING = 1.2

# Between two pieces of text on a line.
SPACE = "&#160;"


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


def digraph(**attributes: str) -> Digraph:
    """Return an empty drawing from left to right; its legend and its title block stand on its sheet."""
    return Digraph(
        graph_attr={
            "rankdir": "LR",
            "fontname": FONT,
            "fontsize": str(SMALLEST_PT),
            "bgcolor": PAPER,
            "pad": "0.1",
            **attributes,
        },
        node_attr={"shape": "plain", "fontname": FONT, "fontsize": str(SMALLEST_PT), "fontcolor": INK},
        edge_attr={"fontname": FONT, "fontsize": str(SMALLEST_PT), "fontcolor": INK, "arrowsize": "0.7"},
    )


def line_entry(signal: str, meaning: str, *, returning: bool = False) -> LegendEntry:
    """Return the line of the legend for a signal.

    signal: which line is shown.  meaning: what it stands for.
    returning: whether the line is that of return audio.
    """
    return LegendEntry(LineSample(stroke(signal), returning), meaning)
