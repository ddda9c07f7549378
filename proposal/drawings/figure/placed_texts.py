"""Texts of figures where the placement of labels puts them, in points on the field of a sheet."""

from typing import TYPE_CHECKING

from proposal.drawings.canvas import ASCENT, LINE, MM_PT
from proposal.drawings.colours import MUTED, PAPER
from proposal.drawings.figure.drawn_symbols import draw_line
from proposal.drawings.label_ground import Box
from proposal.drawings.label_placement import Placed
from proposal.drawings.lettering import plain
from proposal.drawings.sheet import TitleBlock

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

_PAD_PT = 0.7


def field_box(strip: TitleBlock) -> Box:
    """Return the field of a sheet as a box, pt.

    strip: what the title block says, and the paper.
    """
    width, height = strip.paper.field_mm
    return 0.0, 0.0, width * MM_PT, height * MM_PT


def field_in_points(figure: "Figure", strip: TitleBlock) -> "Axes":
    """Return axes over the whole field, in points from its upper left corner, as labels are placed.

    figure: as `field` returns it.  strip: what the title block says, and the paper.
    """
    _, _, width, height = field_box(strip)
    axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
    axes.set(xlim=(0, width), ylim=(height, 0))
    axes.set_axis_off()
    axes.patch.set_visible(False)
    return axes


def draw_placed(axes: "Axes", placed: Placed, *, edge: str = "none", zorder: float = 8.0) -> None:
    """Draw a label where it stands, on a ground of its own, with its leader.

    axes: as `field_in_points` returns them.
    edge: colour of the edge of its ground.
    zorder: above what it stands.
    """
    from matplotlib.patches import Rectangle

    label = placed.label
    if placed.leader:
        draw_line(axes, placed.leader, color=MUTED, linewidth=0.5, zorder=zorder - 0.2)
    left, top, right, bottom = placed.box
    axes.add_artist(
        Rectangle(
            (left - _PAD_PT, top - _PAD_PT), right - left + 2 * _PAD_PT, bottom - top + 2 * _PAD_PT,
            facecolor=PAPER, edgecolor=edge, linewidth=0.6, zorder=zorder - 0.1,
        )
    )  # fmt: skip
    for n, words in enumerate(label.lines):
        axes.text(
            left, top + (ASCENT + n * LINE) * label.size, plain(words), fontsize=label.size, va="baseline",
            ha="left", color=label.colour, weight="bold" if label.bold and n == 0 else "normal",
            zorder=zorder,
        )  # fmt: skip
