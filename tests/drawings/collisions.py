"""What touches what on a sheet, read from its SVG: texts as wide as the font's own glyphs, lines, marks."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from xml.etree import ElementTree

from fontTools.ttLib import TTFont
from shapely import STRtree
from shapely.affinity import translate
from shapely.geometry import LineString, Point, Polygon, box
from shapely.geometry.base import BaseGeometry

SVG = "{http://www.w3.org/2000/svg}"
FONTS = Path(__file__).parents[2] / "shared" / "site" / "fonts"
LEAST_PT = 7.0
# What two things may overlap by for all that: numbers in the file are rounded to a hundredth of a point.
ROUNDING_PT = 0.05


Placed = tuple[ElementTree.Element, float, float]


@dataclass(frozen=True)
class Text:
    """A text of a sheet: what it says, its size, and the box of its letters."""

    words: str
    size: float
    box: Polygon


@cache
def _font(weight: str) -> tuple[dict[int, str], dict[str, tuple[int, int]], int]:
    font = TTFont(FONTS / f"Arimo-{weight}.ttf")
    return font.getBestCmap(), font["hmtx"].metrics, font["head"].unitsPerEm


def width_pt(words: str, size: float, *, bold: bool) -> float:
    """Return how wide words are in the font that the program carries."""
    signs, advances, em = _font("Bold" if bold else "Regular")
    return sum(advances[signs.get(ord(sign), ".notdef")][0] for sign in words) * size / em


def _placed(element: ElementTree.Element, x: float = 0.0, y: float = 0.0) -> Iterator[Placed]:
    """Yield every element of a sheet with the place of its group on the paper, pt."""
    transform = element.get("transform", "")
    if moved := re.fullmatch(r"translate\(([-\d.]+) ([-\d.]+)\)", transform):
        x, y = x + float(moved[1]), y + float(moved[2])
    yield element, x, y
    for child in element:
        yield from _placed(child, x, y)


def texts_of(svg: str) -> Iterator[Text]:
    """Yield every text of a sheet. The letters of Arimo rise to 0.72 of their size and fall to 0.21."""
    for one, dx, dy in _placed(ElementTree.fromstring(svg)):
        if one.tag != f"{SVG}text" or one.get("transform"):
            continue  # the mark of a draft lies over all
        words = "".join(one.itertext())
        size = float(one.attrib["font-size"])
        wide = width_pt(words, size, bold=one.get("font-weight") == "bold")
        x, y = float(one.attrib["x"]) + dx, float(one.attrib["y"]) + dy
        left = x - {"start": 0.0, "middle": 0.5, "end": 1.0}[one.get("text-anchor", "start")] * wide
        yield Text(words, size, box(left, y - 0.72 * size, left + wide, y + 0.21 * size))


def drawn_of(svg: str) -> Iterator[BaseGeometry]:
    """Yield every line, and every shape that is dark enough to hide a text, of a sheet."""
    for one, dx, dy in _placed(ElementTree.fromstring(svg)):
        for shape in _shapes(one):
            yield translate(shape, dx, dy)


def _shapes(one: ElementTree.Element) -> Iterator[BaseGeometry]:
    kind = one.tag.removeprefix(SVG)
    if kind in ("polyline", "polygon"):
        numbers = [float(number) for number in re.findall(r"-?[\d.]+", one.attrib["points"])]
        points = list(zip(numbers[::2], numbers[1::2], strict=True))
        if kind == "polygon" and _dark(one.attrib["fill"]):
            yield Polygon(points)
        elif one.get("stroke"):
            yield LineString([*points, points[0]] if kind == "polygon" else points)
    elif kind == "circle":
        disc = Point(float(one.attrib["cx"]), float(one.attrib["cy"])).buffer(float(one.attrib["r"]))
        yield disc if _dark(one.attrib["fill"]) else disc.exterior
    elif kind == "rect":
        x, y, wide, high = (float(one.get(name, "0")) for name in ("x", "y", "width", "height"))
        yield (
            box(x, y, x + wide, y + high)
            if _dark(one.attrib["fill"])
            else box(x, y, x + wide, y + high).exterior
        )
    elif kind == "path":
        yield LineString(_straight(one.attrib["d"]))
    elif kind in ("line", "ellipse", "use"):
        raise AssertionError(f"nobody reads {kind}")


def _straight(path: str) -> list[tuple[float, float]]:
    """Return the points of a path of one straight piece, as frames, title blocks and legends have."""
    found = re.fullmatch(r"M([-\d.]+) ([-\d.]+)([LHhv])([-\d.]+)(?: ([-\d.]+))?", path)
    assert found, path
    x, y, value = float(found[1]), float(found[2]), float(found[4])
    ends = {"L": (value, float(found[5] or 0)), "H": (value, y), "h": (x + value, y), "v": (x, y + value)}
    return [(x, y), ends[found[3]]]


def _dark(fill: str) -> bool:
    return fill != "none" and int(fill[1:3], 16) < 0xE0


def collisions(svg: str) -> list[str]:
    """Return what is wrong with the texts of a sheet: too small, outside it, on one another, on a line."""
    texts = list(texts_of(svg))
    size = re.search(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', svg)
    assert size
    sheet = box(0, 0, *map(float, size.groups()))
    found = [f"{one.words!r} is {one.size} pt" for one in texts if one.size < LEAST_PT]
    found += [f"{one.words!r} leaves the sheet" for one in texts if not sheet.contains(one.box)]
    boxes = STRtree([one.box.buffer(-ROUNDING_PT) for one in texts])
    first, second = boxes.query(boxes.geometries, predicate="intersects")
    found += [
        f"{texts[a].words!r} on {texts[b].words!r}" for a, b in zip(first, second, strict=True) if a < b
    ]
    drawn = list(drawn_of(svg))
    hit, by = boxes.query(drawn, predicate="intersects")
    found += [
        f"{texts[b].words!r} at {texts[b].box.bounds} on a line or mark at {drawn[a].bounds}"
        for a, b in zip(hit, by, strict=True)
    ]
    return found
