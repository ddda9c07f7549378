"""The field of a sheet in which something is drawn to a round scale: its size, and axes in metres."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

from proposal.drawings.figure import SHEET_MM, STRIP_MM
from proposal.drawings.figure.scale_bar import round_scale

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

Point = tuple[float, float]
_FRAME_MM = 8.0
FIELD_MM = (SHEET_MM[0] - 2 * _FRAME_MM, SHEET_MM[1] - STRIP_MM[1] - 2 * _FRAME_MM)
"""Width and height of the field."""


def extent(points: Iterable[Point]) -> tuple[Point, Point]:
    """Return the south-western and the north-eastern corner around one point or more."""
    xs, ys = zip(*points, strict=True)
    return (min(xs), min(ys)), (max(xs), max(ys))


def scale_that_fits(corners: tuple[Point, Point], units: str, around_mm: float = 0.0) -> int:
    """Return the denominator of the largest round scale at which something fits the field.

    units: metric or US customary, which have scales of their own.
    corners: of what is drawn, m.  around_mm: what is kept free on each side, mm on paper.
    """
    (west, south), (east, north) = corners
    width, height = (size - 2 * around_mm for size in FIELD_MM)
    return round_scale(max((east - west) * 1000 / width, (north - south) * 1000 / height), units)


def axes_to_scale(figure: "Figure", corners: tuple[Point, Point], scale: int) -> "Axes":
    """Return axes over the field, in metres at a scale, with what is drawn in their middle.

    figure: of matplotlib.
    corners: of what is drawn, m.  scale: denominator.
    """
    (west, south), (east, north) = corners
    axes = figure.add_axes(
        (
            _FRAME_MM / SHEET_MM[0],
            (STRIP_MM[1] + _FRAME_MM) / SHEET_MM[1],
            FIELD_MM[0] / SHEET_MM[0],
            FIELD_MM[1] / SHEET_MM[1],
        )
    )
    x, y = (west + east) / 2, (south + north) / 2
    half_x, half_y = (size * scale / 2000 for size in FIELD_MM)
    axes.set(xlim=(x - half_x, x + half_x), ylim=(y - half_y, y + half_y))
    axes.set_axis_off()
    return axes
