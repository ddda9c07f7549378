"""The field of a sheet in which something is drawn to a round scale: its size, and axes in metres."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

from proposal.drawings.figure.scale_bar import round_scale
from proposal.drawings.sheet import SheetPaper

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

Point = tuple[float, float]
_INSET_MM = 5.0


def field_to_scale_mm(paper: SheetPaper) -> tuple[float, float]:
    """Return width and height of what is drawn to scale on a sheet, mm."""
    width, height = paper.field_mm
    return width - 2 * _INSET_MM, height - 2 * _INSET_MM


def extent(points: Iterable[Point]) -> tuple[Point, Point]:
    """Return the south-western and the north-eastern corner around one point or more."""
    xs, ys = zip(*points, strict=True)
    return (min(xs), min(ys)), (max(xs), max(ys))


def scale_that_fits(
    corners: tuple[Point, Point], paper: SheetPaper, units: str, around_mm: float = 0.0
) -> int:
    """Return the denominator of the largest round scale at which something fits the field of a sheet.

    units: metric or US customary, which have scales of their own.
    corners: of what is drawn, m.  around_mm: what is kept free on each side, mm on paper.
    """
    (west, south), (east, north) = corners
    width, height = (size - 2 * around_mm for size in field_to_scale_mm(paper))
    return round_scale(max((east - west) * 1000 / width, (north - south) * 1000 / height), units)


def axes_to_scale(figure: "Figure", paper: SheetPaper, corners: tuple[Point, Point], scale: int) -> "Axes":
    """Return axes over the field, in metres at a scale, with what is drawn in their middle.

    figure: of matplotlib.
    corners: of what is drawn, m.  scale: denominator.
    """
    (west, south), (east, north) = corners
    field, inside = paper.field_mm, field_to_scale_mm(paper)
    axes = figure.add_axes(
        (_INSET_MM / field[0], _INSET_MM / field[1], inside[0] / field[0], inside[1] / field[1])
    )
    x, y = (west + east) / 2, (south + north) / 2
    half_x, half_y = (size * scale / 2000 for size in inside)
    axes.set(xlim=(x - half_x, x + half_x), ylim=(y - half_y, y + half_y))
    axes.set_axis_off()
    return axes
