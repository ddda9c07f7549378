"""Drawings with axes: the field of a sheet with parts that have coordinates of their own, written as SVG."""

from proposal.drawings.canvas import MM_PT, sheet_svg
from proposal.drawings.figure.axes import Axes
from proposal.drawings.figure.hatches import Hatches
from proposal.drawings.sheet import TitleBlock

Span = tuple[float, float]
Box = tuple[float, float, float, float]


class Figure:
    """What is drawn so far on the field of a sheet, in parts that lie one on another in the order begun."""

    def __init__(self, strip: TitleBlock, prefix: str) -> None:
        """Begin an empty field.

        strip: what the title block says, and the paper.
        prefix: makes its ids unlike those of any other drawing on a page.
        """
        self._strip, self._prefix = strip, prefix
        self._hatches = Hatches(prefix)
        self._parts: list[Axes] = []

    def axes(self, box_mm: Box, xs: Span, ys: Span) -> Axes:
        """Return a new part of the field with coordinates of its own.

        box_mm: left, lower, right and upper edge, mm from the lower left corner of the field.
        xs: what stands at its left and right edge.  ys: at its lower and upper edge.
        """
        high = self._strip.paper.field_mm[1]
        left, lower, right, upper = box_mm
        box = (left * MM_PT, (high - upper) * MM_PT, right * MM_PT, (high - lower) * MM_PT)
        made = Axes(box, xs, ys, self._hatches, f"{self._prefix}-c{len(self._parts)}")
        self._parts.append(made)
        return made

    def in_mm(self) -> Axes:
        """Return a part over the whole field, in mm from its lower left corner."""
        width, height = self._strip.paper.field_mm
        return self.axes((0.0, 0.0, width, height), (0.0, width), (0.0, height))

    def in_points(self) -> Axes:
        """Return a part over the whole field, in points from its upper left corner, as labels are placed."""
        width, height = self._strip.paper.field_mm
        return self.axes((0.0, 0.0, width, height), (0.0, width * MM_PT), (height * MM_PT, 0.0))

    def finished(self, description: str) -> bytes:
        """Return the field as it is published.

        description: what it shows, for readers who cannot see it.
        """
        parts = [self._hatches.svg, *(part.svg for part in self._parts)]
        width, height = (size * MM_PT for size in self._strip.paper.field_mm)
        title = f"Sheet {self._strip.number}: {self._strip.title}"
        return sheet_svg((width, height), [part for part in parts if part], title, description, self._prefix)


def id_part(key: str) -> str:
    """Return a key or name as an id may hold it; different ones never give the same."""
    return "".join(sign if sign.isascii() and sign.isalnum() else f".{ord(sign):x}." for sign in key)
