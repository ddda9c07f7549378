"""What is painted on a sheet, in order, read from its SVG whichever engine wrote it: shapes and texts, in pt.

Groups may be moved, scaled and turned; curves become short strokes; marks that are used again are put where
they are used; what is clipped is cut.
"""

import itertools
import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path
from xml.etree import ElementTree

from fontTools.ttLib import TTFont
from shapely.geometry import LineString, MultiLineString, Polygon, box
from shapely.geometry.base import BaseGeometry

SVG = "{http://www.w3.org/2000/svg}"
_HREF = "{http://www.w3.org/1999/xlink}href"
FONTS = Path(__file__).parents[2] / "shared" / "site" / "fonts"
_NUMBER = re.compile(r"-?(?:\d+\.?\d*|\.\d+)(?:e-?\d+)?")
# The letters of Arimo rise to 0.72 of their size and fall to 0.21.
_ASCENT, _DESCENT = 0.72, 0.21
_STROKES_A_CURVE = 8
_INHERITED = (
    "fill",
    "stroke",
    "stroke-width",
    "font-size",
    "font-weight",
    "text-anchor",
    "opacity",
    "fill-opacity",
)

Matrix = tuple[float, float, float, float, float, float]
Points = list[tuple[float, float]]
_SAME: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


@dataclass(frozen=True)
class Text:
    """A text: what it says, its size, pt, its colour, its place in order.

    box: of its letters, as high as any may be.  ink: the box of what these letters blacken.
    """

    words: str
    size: float
    box: Polygon
    ink: Polygon
    colour: str
    order: int


@dataclass(frozen=True)
class Shape:
    """A shape: what of it is a line, what of it is filled, its colours, its place in order.

    edge: its line as wide as it is drawn; None where it has none.
    area: what it covers; None where it is not filled.  opaque: whether nothing shows through it.
    """

    edge: BaseGeometry | None
    stroke: str
    area: BaseGeometry | None
    fill: str
    opaque: bool
    order: int


@dataclass(frozen=True)
class Painted:
    """A sheet: width and height, pt, its texts and its shapes."""

    width: float
    height: float
    texts: tuple[Text, ...]
    shapes: tuple[Shape, ...]


@cache
def _font(weight: str) -> tuple[dict[int, str], dict[str, tuple[int, int]], int]:
    font = TTFont(FONTS / f"Arimo-{weight}.ttf")
    return font.getBestCmap(), font["hmtx"].metrics, font["head"].unitsPerEm


def width_pt(words: str, size: float, *, bold: bool) -> float:
    """Return how wide words are in the font that the program carries."""
    signs, advances, em = _font("Bold" if bold else "Regular")
    return sum(advances[signs.get(ord(sign), ".notdef")][0] for sign in words) * size / em


@cache
def _heights(weight: str) -> dict[int, tuple[float, float]]:
    """Return how far each sign reaches down and up, in sizes of the letters."""
    font = TTFont(FONTS / f"Arimo-{weight}.ttf")
    glyphs, em = font["glyf"], font["head"].unitsPerEm
    return {
        sign: (glyphs[name].yMin / em, glyphs[name].yMax / em)
        for sign, name in font.getBestCmap().items()
        if hasattr(glyphs[name], "yMin")
    }


@lru_cache(maxsize=64)
def painted(svg: str) -> Painted:
    """Return what is painted on a sheet; the mark of a draft, which lies over all, is left out."""
    root = ElementTree.fromstring(svg)
    size = re.search(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', svg)
    assert size
    named = {one.attrib["id"]: one for one in root.iter() if "id" in one.attrib}
    reader = _Reader(named)
    reader.read(root, _SAME, {}, None)
    return Painted(float(size[1]), float(size[2]), tuple(reader.texts), tuple(reader.shapes))


class _Reader:
    def __init__(self, named: dict[str, ElementTree.Element]) -> None:
        self.named = named
        self.texts: list[Text] = []
        self.shapes: list[Shape] = []
        self.order = 0

    def read(
        self,
        one: ElementTree.Element,
        at: Matrix,
        style: dict[str, str],
        clip: BaseGeometry | None,
    ) -> None:
        kind = one.tag.removeprefix(SVG)
        if kind in ("defs", "style", "title", "desc", "pattern", "clipPath") or one.get("aria-hidden"):
            return
        at = _times(at, _matrix(one.get("transform", "")))
        style = style | _style(one)
        if found := re.fullmatch(r"url\(#(.*)\)", style.pop("clip-path", one.get("clip-path", ""))):
            cut = next(iter(self._areas(self.named[found[1]], at)))
            clip = cut if clip is None else clip.intersection(cut)
        self.order += 1
        if kind == "text":
            self._text(one, at, style)
        elif kind == "use":
            moved = (1.0, 0.0, 0.0, 1.0, float(one.get("x", "0")), float(one.get("y", "0")))
            self.read(self.named[one.attrib[_HREF][1:]], _times(at, moved), style, clip)
        elif kind in ("g", "svg"):
            for child in one:
                self.read(child, at, style, clip)
        else:
            self._shape(one, at, style, clip)

    def _areas(self, clip: ElementTree.Element, at: Matrix) -> Iterator[BaseGeometry]:
        for child in clip:
            for points, _ in outlines(child):
                yield Polygon(_moved(points, at))

    def _text(self, one: ElementTree.Element, at: Matrix, style: dict[str, str]) -> None:
        words = "".join(one.itertext())
        if not words.strip():
            return
        size = float(style.get("font-size", "16").removesuffix("px"))
        bold = style.get("font-weight", "400") in ("bold", "600", "700", "800")
        wide = width_pt(words, size, bold=bold)
        x, y = float(one.get("x", "0")), float(one.get("y", "0"))
        left = x - {"start": 0.0, "middle": 0.5, "end": 1.0}[style.get("text-anchor", "start")] * wide
        around = box(left, y - _ASCENT * size, left + wide, y + _DESCENT * size)
        printed = size * math.sqrt(abs(at[0] * at[3] - at[1] * at[2]))
        known = _heights("Bold" if bold else "Regular")
        reach = [known.get(ord(sign), (-_DESCENT, _ASCENT)) for sign in words if not sign.isspace()]
        up, down = max(high for _, high in reach), min(low for low, _ in reach)
        black = box(left, y - up * size, left + wide, y - down * size)
        moved, ink = (Polygon(_moved(list(one.exterior.coords), at)) for one in (around, black))
        self.texts.append(Text(words, printed, moved, ink, style.get("fill", "#000000"), self.order))

    def _shape(
        self, one: ElementTree.Element, at: Matrix, style: dict[str, str], clip: BaseGeometry | None
    ) -> None:
        fill, stroke = style.get("fill", "#000000"), style.get("stroke", "none")
        wide = float(style.get("stroke-width", "1").removesuffix("px")) * math.sqrt(
            abs(at[0] * at[3] - at[1] * at[2])
        )
        edges, areas = [], []
        for points, closed in outlines(one):
            placed = _moved(points, at)
            if len(placed) >= 2:
                edges.append(LineString([*placed, placed[0]] if closed else placed))
            if len(placed) >= 3:
                areas.append(Polygon(placed).buffer(0))
        edge: BaseGeometry | None = None
        if stroke != "none" and wide > 0 and edges:
            edge = MultiLineString(edges).buffer(wide / 2, cap_style="flat")
        area: BaseGeometry | None = None
        if fill != "none" and float(style.get("fill-opacity", "1")) > 0 and areas:
            area = areas[0]
            for more in areas[1:]:
                area = area.symmetric_difference(more)
        if clip is not None:
            edge = edge.intersection(clip) if edge is not None else None
            area = area.intersection(clip) if area is not None else None
        opaque = float(style.get("opacity", "1")) >= 0.8 and not fill.startswith("url")
        edge, area = (None if one is None or one.is_empty else one for one in (edge, area))
        if edge is not None or area is not None:
            self.shapes.append(Shape(edge, stroke, area, fill, opaque, self.order))


def _style(one: ElementTree.Element) -> dict[str, str]:
    found = {name: one.attrib[name] for name in _INHERITED if name in one.attrib}
    for part in one.get("style", "").split(";"):
        name, _, value = part.partition(":")
        if name.strip() in (*_INHERITED, "clip-path"):
            found[name.strip()] = value.strip()
    return found


def _times(a: Matrix, b: Matrix) -> Matrix:
    return (
        a[0] * b[0] + a[2] * b[1],
        a[1] * b[0] + a[3] * b[1],
        a[0] * b[2] + a[2] * b[3],
        a[1] * b[2] + a[3] * b[3],
        a[0] * b[4] + a[2] * b[5] + a[4],
        a[1] * b[4] + a[3] * b[5] + a[5],
    )


def _matrix(said: str) -> Matrix:
    made = _SAME
    for what, inner in re.findall(r"(\w+)\(([^)]*)\)", said):
        numbers = [float(number) for number in _NUMBER.findall(inner)]
        if what == "translate":
            step: Matrix = (1.0, 0.0, 0.0, 1.0, numbers[0], (*numbers, 0.0)[1])
        elif what == "scale":
            step = (numbers[0], 0.0, 0.0, numbers[-1], 0.0, 0.0)
        elif what == "rotate":
            turn = math.radians(numbers[0])
            step = (math.cos(turn), math.sin(turn), -math.sin(turn), math.cos(turn), 0.0, 0.0)
            if len(numbers) == 3:
                x, y = numbers[1:]
                step = _times(_times((1, 0, 0, 1, x, y), step), (1, 0, 0, 1, -x, -y))
        else:
            raise AssertionError(f"nobody reads {what}")
        made = _times(made, step)
    return made


def _moved(points: Points, at: Matrix) -> Points:
    return [(at[0] * x + at[2] * y + at[4], at[1] * x + at[3] * y + at[5]) for x, y in points]


def outlines(one: ElementTree.Element) -> Iterator[tuple[Points, bool]]:
    """Yield the lines of a shape as points, and whether each is closed."""
    kind = one.tag.removeprefix(SVG)
    if kind in ("polyline", "polygon"):
        numbers = [float(number) for number in _NUMBER.findall(one.attrib["points"])]
        yield list(zip(numbers[::2], numbers[1::2], strict=True)), kind == "polygon"
    elif kind in ("circle", "ellipse"):
        x, y = float(one.attrib["cx"]), float(one.attrib["cy"])
        rx, ry = (float(one.get(name) or one.attrib["r"]) for name in ("rx", "ry"))
        turns = [math.tau * n / 32 for n in range(32)]
        yield [(x + rx * math.cos(turn), y + ry * math.sin(turn)) for turn in turns], True
    elif kind == "rect":
        x, y, wide, high = (float(one.get(name, "0")) for name in ("x", "y", "width", "height"))
        yield [(x, y), (x + wide, y), (x + wide, y + high), (x, y + high)], True
    elif kind == "path":
        yield from _path(one.get("d", ""))
    else:
        raise AssertionError(f"nobody reads {kind}")


def _path(said: str) -> Iterator[tuple[Points, bool]]:
    points: Points = []
    for command, inner in re.findall(r"([MLHVCQhvz])([^A-Za-z]*)", said):
        numbers = [float(number) for number in _NUMBER.findall(inner)]
        if command == "M":
            if points:
                yield points, False
            points = list(zip(numbers[::2], numbers[1::2], strict=True))
        elif command == "L":
            points += zip(numbers[::2], numbers[1::2], strict=True)
        elif command in "HhVv":
            x, y = points[-1]
            for number in numbers:
                x = number if command == "H" else x + number if command == "h" else x
                y = number if command == "V" else y + number if command == "v" else y
                points.append((x, y))
        elif command == "z":
            yield points, True
            points = []
        else:
            handles = list(zip(numbers[::2], numbers[1::2], strict=True))
            each = 3 if command == "C" else 2
            for n in range(0, len(handles), each):
                points += _curve([points[-1], *handles[n : n + each]])
    if points:
        yield points, False


def _curve(handles: Points) -> Points:
    """Return points along a curve of two or three handles, its beginning left out."""
    found = []
    for n in range(1, _STROKES_A_CURVE + 1):
        t, level = n / _STROKES_A_CURVE, handles
        while len(level) > 1:
            level = [
                (ax + (bx - ax) * t, ay + (by - ay) * t) for (ax, ay), (bx, by) in itertools.pairwise(level)
            ]
        found.append(level[0])
    return found
