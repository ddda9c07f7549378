"""Symbols and line patterns of the common tables, drawn in figures."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from proposal.drawings.colours import Stroke, dash_of
from proposal.drawings.symbol_table import DOT_SHARE, EDGE_PT, corners, filling, symbol_of

if TYPE_CHECKING:
    from matplotlib.axes import Axes

Point = tuple[float, float]


def draw_symbol(axes: "Axes", name: str, at: Point, *, shift_pt: float = 0.0, zorder: float = 7.0) -> None:
    """Draw a symbol of the common table; in its size on paper, whatever the scale.

    axes: of a figure.
    name: of the symbol.
    at: its middle, in units of the axes.
    shift_pt: by how much it stands to the right of there, pt.
    zorder: above what it stands.
    """
    from matplotlib.path import Path
    from matplotlib.transforms import ScaledTranslation

    symbol = symbol_of(name)
    assert axes.figure is not None
    moved = axes.transData + ScaledTranslation(shift_pt / 72, 0, axes.figure.dpi_scale_trans)
    around = corners(symbol.shape, 1.0)
    shape: Any = Path([(x, -y) for x, y in (*around, around[0])], closed=True) if around else "o"
    size = symbol.size_pt
    if around:
        # The library draws a shape of its own so large that its widest part is as large as said.
        size *= 2 * max(abs(part) for point in around for part in point)
    looks: dict[str, Any] = {
        "linestyle": "none", "markeredgecolor": symbol.colour, "markeredgewidth": EDGE_PT, "transform": moved,
    }  # fmt: skip
    draw_line(
        axes, [at], marker=shape, markersize=size, markerfacecolor=filling(symbol), zorder=zorder, **looks
    )
    if symbol.shape == "loudspeaker":
        looks["markeredgecolor"] = "none"
        dot = size * DOT_SHARE
        draw_line(axes, [at], marker="o", markersize=dot, color=symbol.colour, zorder=zorder, **looks)
    if symbol.shape == "crossed":
        draw_line(axes, [at], marker="x", markersize=size * 0.7, zorder=zorder, **looks)


def draw_line(axes: "Axes", points: Sequence[Point], **looks: Any) -> None:
    """Draw a line through points in units of the axes, whose limits are set: it moves none, which takes long.

    axes: of a figure.  looks: how it is drawn, as the library takes it.
    """
    from matplotlib.lines import Line2D

    axes.add_artist(Line2D([x for x, _ in points], [y for _, y in points], **looks))


def dashes(stroke: Stroke) -> Any:
    """Return the pattern of a line as the library takes it."""
    lengths = [float(one) for one in dash_of(stroke).replace(",", " ").split()]
    return (0, tuple(lengths)) if lengths else "-"


def line_style(stroke: Stroke) -> dict[str, Any]:
    """Return how a line is drawn, as the library takes it."""
    return {"linestyle": dashes(stroke), "linewidth": stroke.width, "color": stroke.colour}
