"""A sheet drawn straight as SVG, in points from its upper left corner: lines, shapes and texts in order."""

from collections.abc import Iterable

from proposal.drawings.colours import INK
from proposal.drawings.graph.svg import FONT_FAMILY
from proposal.drawings.lettering import plain

Point = tuple[float, float]
MM_PT = 72 / 25.4
"""Points in a millimetre."""
ASCENT, DESCENT = 0.74, 0.22
"""How far letters reach above and below their line, in sizes of the letters."""
LINE = 1.2
"""Distance of the lines of a text, in sizes of the letters."""


class Canvas:
    """What is drawn so far on a sheet of a size in points."""

    def __init__(self, width: float, height: float) -> None:
        """Begin an empty sheet.

        width, height: pt.
        """
        self.width, self.height = width, height
        self._parts: list[str] = []

    def line(
        self, points: Iterable[Point], colour: str = INK, width: float = 0.6, dash: str = "", of: str = ""
    ) -> None:
        """Draw a line through points.

        colour: of it.  width: pt.  dash: lengths of strokes and gaps, pt; empty for a whole line.
        of: what it is for, as a class of the element; empty for a line like others.
        """
        pattern = f' stroke-dasharray="{dash}"' if dash else ""
        named = f' class="{of}"' if of else ""
        self._parts.append(
            f'<polyline{named} points="{_points(points)}" fill="none" stroke="{colour}" '
            f'stroke-width="{_short(width)}"{pattern}/>'
        )

    def polygon(
        self, points: Iterable[Point], fill: str = "none", stroke: str = "none", width: float = 0.6
    ) -> None:
        """Draw a closed shape.

        fill: its colour.  stroke: colour of its edge.  width: of its edge, pt.
        """
        edge = f' stroke="{stroke}" stroke-width="{_short(width)}"' if stroke != "none" else ""
        self._parts.append(f'<polygon points="{_points(points)}" fill="{fill}"{edge}/>')

    def circle(
        self, at: Point, radius: float, fill: str = "none", stroke: str = "none", width: float = 0.6
    ) -> None:
        """Draw a circle.

        radius: pt.  fill: its colour.  stroke: colour of its edge.  width: of its edge, pt.
        """
        edge = f' stroke="{stroke}" stroke-width="{_short(width)}"' if stroke != "none" else ""
        x, y = (_short(value) for value in at)
        self._parts.append(f'<circle cx="{x}" cy="{y}" r="{_short(radius)}" fill="{fill}"{edge}/>')

    def text(
        self,
        at: Point,
        words: str,
        size: float = 7.5,
        *,
        anchor: str = "start",
        bold: bool = False,
        colour: str = INK,
    ) -> None:
        """Draw a line of text.

        at: where its line begins, ends or has its middle, as anchor says.  words: what it says.
        size: of its letters, pt.  bold, colour: how they are set.
        """
        shown = _escaped(words)
        if not shown:
            return
        x, y = (_short(value) for value in at)
        set_from = f' text-anchor="{anchor}"' if anchor != "start" else ""
        weight = ' font-weight="bold"' if bold else ""
        self._parts.append(
            f'<text x="{x}" y="{y}" font-size="{_short(size)}"{set_from}{weight} fill="{colour}">'
            f"{shown}</text>"
        )

    @property
    def parts(self) -> str:
        """What is drawn so far, as SVG without the sheet."""
        return "".join(self._parts)

    def finished(self, title: str, description: str, prefix: str) -> bytes:
        """Return the sheet as it is published.

        title, description: its text alternative.
        prefix: makes its ids unlike those of any other drawing on a page.
        """
        said = "".join(
            f'<{kind} id="{prefix}-{kind}">{_escaped(words)}</{kind}>\n'
            for kind, words in (("title", title), ("desc", description))
        )
        # The sheet itself is as exact as its texts may be small: they are measured against it.
        wide, high = f"{self.width:.6f}", f"{self.height:.6f}"
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}pt" height="{high}pt" '
            f'viewBox="0 0 {wide} {high}" role="img" font-family="{FONT_FAMILY}" '
            f'aria-labelledby="{prefix}-title {prefix}-desc">\n{said}' + "\n".join(self._parts) + "\n</svg>\n"
        ).encode()


def _points(points: Iterable[Point]) -> str:
    return " ".join(f"{_short(x)},{_short(y)}" for x, y in points)


def _short(number: float) -> str:
    """Return a number to a hundredth of a point, without trailing zeros."""
    shown = f"{number:.2f}".rstrip("0").rstrip(".")
    return "0" if shown in ("-0", "") else shown


def _escaped(text: str) -> str:
    return plain(text).replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
