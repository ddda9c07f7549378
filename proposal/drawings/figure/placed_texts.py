"""Texts of figures where the placement of labels puts them, in points on the field of a sheet."""

from proposal.drawings.canvas import ASCENT, LINE, MM_PT
from proposal.drawings.colours import MUTED, PAPER
from proposal.drawings.figure.axes import Axes, Look
from proposal.drawings.label_placement import Box, Placed
from proposal.drawings.sheet import TitleBlock

_PAD_PT = 0.7


def field_box(strip: TitleBlock) -> Box:
    """Return the field of a sheet as a box, pt.

    strip: what the title block says, and the paper.
    """
    width, height = strip.paper.field_mm
    return 0.0, 0.0, width * MM_PT, height * MM_PT


def draw_placed(axes: Axes, placed: Placed, *, edge: str = "none", layer: float = 8.0) -> None:
    """Draw a label where it stands, on a ground of its own, with its leader.

    axes: of the whole field in points.
    edge: colour of the edge of its ground.
    layer: above what it stands.
    """
    label = placed.label
    if placed.leader:
        axes.line(placed.leader, MUTED, 0.5, layer=layer - 0.2)
    left, top, right, bottom = placed.box
    size = right - left + 2 * _PAD_PT, bottom - top + 2 * _PAD_PT
    axes.rectangle((left - _PAD_PT, top - _PAD_PT), size, Look(PAPER, edge, 0.6), layer=layer - 0.1)
    for n, words in enumerate(label.lines):
        line = (left, top + (ASCENT + n * LINE) * label.size)
        bold = label.bold and n == 0
        axes.text(line, words, label.size, level="base", bold=bold, colour=label.colour, layer=layer)
