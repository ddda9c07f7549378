"""A part of a figure with coordinates of its own: lines, areas, symbols and texts, in layers."""

from collections.abc import Iterable, Sequence

from proposal.drawings.canvas import Point, escaped, listed, short
from proposal.drawings.colours import INK, PAPER, Stroke, dash_of
from proposal.drawings.figure.hatches import Hatches
from proposal.drawings.letter_widths import letters_pt
from proposal.drawings.symbol_table import symbol_of, symbol_svg
from proposal.field_classes import dataclass

ABOVE, BELOW = 0.76, 0.24
"""How far a line of text reaches above and below its base line, in sizes of its letters."""
LINE = 1.2
"""Distance of the lines of a text, in sizes of its letters."""
AREAS, LINES, TEXTS, SYMBOLS = 1.0, 2.0, 3.0, 7.0
"""Layers where nothing else is said."""
_SHARE_LEFT = {"start": 0.0, "middle": 0.5, "end": 1.0}


@dataclass(frozen=True, slots=True)
class Look:
    """How an area is drawn.

    fill: its colour; `none` where what lies below is to be seen.
    edge, width: colour and width of its edge, pt.  dash: strokes and gaps of the edge, pt.
    hatch: signs of its hatch, in the colour of the edge.  hatch_width: width of the lines of the hatch, pt.
    """

    fill: str = "none"
    edge: str = "none"
    width: float = 1.0
    dash: str = ""
    hatch: str = ""
    hatch_width: float = 1.0


@dataclass(frozen=True, slots=True)
class Behind:
    """A ground of its own behind a text.

    pad: by how much it is larger than the text on each side, pt.  edge: colour of its edge.
    opacity: 1 where nothing shows through.
    """

    pad: float
    edge: str = "none"
    opacity: float = 1.0


class Axes:
    """A part of a figure; what is drawn in a higher layer lies on what is drawn in a lower one."""

    def __init__(
        self,
        box: tuple[float, float, float, float],
        xs: tuple[float, float],
        ys: tuple[float, float],
        hatches: Hatches,
        clip: str,
    ) -> None:
        """Begin an empty part.

        box: left, upper, right and lower edge, pt from the upper left corner of the figure.
        xs: what stands at its left and right edge.  ys: at its lower and upper edge.
        hatches: of the figure.
        clip: id of the shape of `clip_to`.
        """
        self.box, self.xs, self.ys = box, xs, ys
        self._hatches, self._clip = hatches, clip
        left, top, right, bottom = box
        self._scale = (right - left) / (xs[1] - xs[0]), (bottom - top) / (ys[1] - ys[0])
        self._drawn: list[tuple[float, str]] = []
        self._cut = ""

    def at(self, point: Point) -> Point:
        """Return where a point stands in the figure, pt.

        point: in the units of the axes.
        """
        left, _, _, bottom = self.box
        return (
            left + (point[0] - self.xs[0]) * self._scale[0],
            bottom - (point[1] - self.ys[0]) * self._scale[1],
        )

    def clip_to(self, points: Iterable[Point]) -> None:
        """Cut at a closed shape what is drawn as clipped."""
        self._cut = listed(map(self.at, points))

    def line(
        self,
        points: Iterable[Point],
        colour: str,
        width: float,
        dash: str = "",
        *,
        layer: float = LINES,
        clipped: bool = False,
    ) -> None:
        """Draw a line through points.

        colour, width: of it, the width in pt.  dash: lengths of strokes and gaps, pt; empty for a whole line.
        layer: in which it lies.  clipped: whether it is cut as `clip_to` says.
        """
        pattern = f' stroke-dasharray="{dash}"' if dash else ""
        self._add(
            layer,
            f'<polyline points="{listed(map(self.at, points))}" fill="none" stroke="{colour}" '
            f'stroke-width="{short(width)}" stroke-linejoin="round"{pattern}{self._clipped(clipped)}/>',
        )

    def stroke(
        self, points: Iterable[Point], drawn: Stroke, *, layer: float = LINES, clipped: bool = False
    ) -> None:
        """Draw a line of one of the common kinds.

        drawn: its kind.  layer: in which it lies.  clipped: whether it is cut as `clip_to` says.
        """
        self.line(points, drawn.colour, drawn.width, dash_of(drawn), layer=layer, clipped=clipped)

    def area(self, points: Iterable[Point], look: Look, *, layer: float = AREAS, name: str = "") -> None:
        """Draw a closed shape.

        look: how.  layer: in which it lies.  name: its id; empty where nobody asks for it.
        """
        named = f' id="{name}"' if name else ""
        self._add(layer, f'<polygon{named} points="{listed(map(self.at, points))}"{self._looks(look)}/>')

    def rectangle(
        self, corner: Point, size: Point, look: Look, *, layer: float = AREAS, name: str = ""
    ) -> None:
        """Draw a rectangle.

        corner: the one with the least coordinates.  size: width and height.
        look: how.  layer: in which it lies.  name: its id; empty where nobody asks for it.
        """
        (x, y), (width, height) = corner, size
        around = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
        self.area(around, look, layer=layer, name=name)

    def rings(self, rings: Iterable[Sequence[Point]], look: Look, *, layer: float = AREAS) -> None:
        """Draw an area with holes, cut as `clip_to` says.

        rings: outlines of the area and of what it leaves out.
        look: how.  layer: in which it lies.
        """
        path = "".join(f"M{listed(map(self.at, ring), ' ')}z" for ring in rings)
        self._add(layer, f'<path d="{path}" fill-rule="evenodd"{self._looks(look)}{self._clipped(True)}/>')

    def circle(self, at: Point, radius: float, look: Look, *, layer: float = AREAS) -> None:
        """Draw a circle.

        radius: in the units of the axes.  look: how.  layer: in which it lies.
        """
        self.dot(at, radius * self._scale[0], look, layer=layer)

    def dot(self, at: Point, radius_pt: float, look: Look, *, layer: float = LINES) -> None:
        """Draw a circle in its size on paper.

        radius_pt: pt.  look: how.  layer: in which it lies.
        """
        x, y = map(short, self.at(at))
        self._add(layer, f'<circle cx="{x}" cy="{y}" r="{short(radius_pt)}"{self._looks(look)}/>')

    def symbol(self, name: str, at: Point, *, layer: float = SYMBOLS) -> None:
        """Draw a symbol of the common table, in its size on paper.

        name: of the symbol.  at: its middle.  layer: in which it lies.
        """
        self._add(layer, symbol_svg(symbol_of(name), *self.at(at)))

    def text(
        self,
        at: Point,
        words: str | Sequence[str],
        size: float,
        *,
        anchor: str = "start",
        level: str = "middle",
        bold: bool = False,
        colour: str = INK,
        layer: float = TEXTS,
        behind: Behind | None = None,
        right_pt: float = 0.0,
        down_pt: float = 0.0,
    ) -> None:
        """Write lines of text.

        at: where they begin, end or have their middle, as anchor says.  words: a line, or several.
        size: of the letters, pt.
        level: which height of them stands there: their middle, their foot, or `base`, their last base line.
        bold, colour: how they are set.  layer: in which they lie.  behind: their ground; None for none.
        right_pt, down_pt: how much farther to the right and lower than there they stand, pt.
        """
        lines = (words,) if isinstance(words, str) else tuple(words)
        x, y = self.at(at)
        x += right_pt
        tall = (ABOVE + BELOW + (len(lines) - 1) * LINE) * size
        foot = y + down_pt + {"middle": tall / 2, "foot": 0.0, "base": BELOW * size}[level]
        ground = self._ground(lines, size, bold, (x, foot - tall, foot), anchor, behind) if behind else ""
        set_from = f' text-anchor="{anchor}"' if anchor != "start" else ""
        weight = ' font-weight="bold"' if bold else ""
        self._add(
            layer,
            ground
            + "".join(
                f'<text x="{short(x)}" y="{short(foot - tall + (ABOVE + n * LINE) * size)}" '
                f'font-size="{short(size)}"{set_from}{weight} fill="{colour}">{shown}</text>'
                for n, line in enumerate(lines)
                if (shown := escaped(line))
            ),
        )

    def tick(self, at: Point, way_pt: Point, colour: str) -> None:
        """Draw a short line of a scale.

        at: where it begins.  way_pt: to the right and downwards, pt.  colour: of it.
        """
        x, y = self.at(at)
        ends = listed(((x, y), (x + way_pt[0], y + way_pt[1])))
        self._add(LINES, f'<polyline points="{ends}" fill="none" stroke="{colour}" stroke-width="0.8"/>')

    def turned(self, at_pt: Point, words: str, size: float) -> None:
        """Write a line that is read from below.

        at_pt: the middle of its base line, pt in the figure.  words, size: what it says, and how large, pt.
        """
        x, y = map(short, at_pt)
        self._add(
            TEXTS,
            f'<text x="{x}" y="{y}" transform="rotate(-90 {x} {y})" font-size="{short(size)}" '
            f'text-anchor="middle" fill="{INK}">{escaped(words)}</text>',
        )

    @property
    def svg(self) -> str:
        """What is drawn, the lowest layer first, and in a layer what was drawn first."""
        drawn = "\n".join(one for _, one in sorted(self._drawn, key=lambda one: one[0]))
        if not self._cut:
            return drawn
        return f'<defs><clipPath id="{self._clip}"><polygon points="{self._cut}"/></clipPath></defs>\n{drawn}'

    def _add(self, layer: float, drawn: str) -> None:
        self._drawn.append((layer, drawn))

    def _clipped(self, clipped: bool) -> str:
        return f' clip-path="url(#{self._clip})"' if clipped else ""

    def _looks(self, look: Look) -> str:
        fill = look.fill
        if look.hatch:
            fill = self._hatches.filling(look.hatch, look.fill, look.edge, look.hatch_width)
        edge = f' stroke="{look.edge}" stroke-width="{short(look.width)}"' if _is_edged(look) else ""
        return f' fill="{fill}"{edge}' + (f' stroke-dasharray="{look.dash}"' if look.dash else "")

    def _ground(
        self,
        lines: Sequence[str],
        size: float,
        bold: bool,
        place: tuple[float, float, float],
        anchor: str,
        behind: Behind,
    ) -> str:
        """Return the ground of a text.

        place: from where it is set, its upper and its lower edge, pt.
        """
        x, top, foot = place
        wide = max(letters_pt(line, size, bold=bold) for line in lines)
        left, pad = x - _SHARE_LEFT[anchor] * wide, behind.pad
        corners = ((left, top), (left + wide, top), (left + wide, foot), (left, foot))
        moved = (
            (a + (pad if n in (1, 2) else -pad), b + (pad if n > 1 else -pad))
            for n, (a, b) in enumerate(corners)
        )
        edge = f' stroke="{behind.edge}"' if behind.edge != "none" else ""
        through = f' opacity="{behind.opacity:g}"' if behind.opacity != 1 else ""
        return f'<polygon points="{listed(moved)}" fill="{PAPER}"{edge}{through}/>'


def _is_edged(look: Look) -> bool:
    return look.edge != "none" and look.width > 0
