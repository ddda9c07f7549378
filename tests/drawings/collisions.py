"""What touches what on a sheet, read from its SVG: texts as wide as the font's own glyphs, lines, marks.

A line below an area that covers it is not seen, and touches nothing. A text stands on an area where that is
light enough behind it.
"""

from collections.abc import Iterator, Sequence

from shapely import STRtree, unary_union
from shapely.geometry import box
from shapely.geometry.base import BaseGeometry

from tests.drawings.painted import Painted, Shape, Text, painted

LEAST_PT = 7.0
# What two things may overlap by for all that: numbers in the file are rounded to a hundredth of a point.
ROUNDING_PT = 0.05
# Contrast that letters want against what is behind them (WCAG 2.2, 1.4.3).
CONTRAST = 4.5
_INSIDE_PT2 = 0.05


def collisions(svg: str) -> list[str]:
    """Return what is wrong with the texts of a sheet: too small, outside it, on one another, on a line."""
    sheet = painted(svg)
    frame = box(0, 0, sheet.width, sheet.height)
    found = [f"{one.words!r} is {one.size:.3f} pt" for one in sheet.texts if one.size < LEAST_PT - 1e-4]
    found += [f"{one.words!r} leaves the sheet" for one in sheet.texts if not frame.contains(one.box)]
    return [*found, *_on_one_another(sheet.texts), *_on_what_is_drawn(sheet)]


def _on_one_another(texts: Sequence[Text]) -> Iterator[str]:
    boxes = STRtree([one.box.buffer(-ROUNDING_PT) for one in texts])
    first, second = boxes.query(boxes.geometries, predicate="intersects")
    for a, b in zip(first, second, strict=True):
        if a < b:
            yield f"{texts[a].words!r} on {texts[b].words!r}"


def _on_what_is_drawn(sheet: Painted) -> Iterator[str]:
    boxes = [one.ink.buffer(-ROUNDING_PT) for one in sheet.texts]
    tree = STRtree(boxes)
    edged = [shape for shape in sheet.shapes if shape.edge is not None]
    filled = [shape for shape in sheet.shapes if shape.area is not None]
    over: dict[int, list[Shape]] = {}
    for place, which in _meeting(tree, [one.area for one in filled]):
        over.setdefault(which, []).append(filled[place])
    for place, which in _meeting(tree, [one.edge for one in edged]):
        text, shape = sheet.texts[which], edged[place]
        covers = [
            one.area for one in over.get(which, ()) if one.opaque and one.order > shape.order
            and one is not shape
        ]  # fmt: skip
        seen = shape.edge.intersection(boxes[which]).difference(unary_union(covers))
        if seen.area > _INSIDE_PT2:
            yield f"{text.words!r} at {_where(text)} on a line {shape.stroke} at {_bounds(shape)}"
    for which, areas in over.items():
        yield from _on_areas(sheet.texts[which], boxes[which], sorted(areas, key=lambda one: one.order))


def _meeting(tree: STRtree, shapes: Sequence[BaseGeometry | None]) -> Iterator[tuple[int, int]]:
    """Yield which of the shapes meets which box of the tree."""
    if shapes:
        for place, which in zip(*tree.query(shapes, predicate="intersects"), strict=True):
            yield int(place), int(which)


def _on_areas(text: Text, around: BaseGeometry, areas: Sequence[Shape]) -> Iterator[str]:
    for place, shape in enumerate(areas):
        if shape.order > text.order:
            if shape.area.intersection(around).area > _INSIDE_PT2:
                yield f"{text.words!r} at {_where(text)} is hidden by {shape.fill}"
            continue
        covers = [one.area for one in areas[place + 1 :] if one.opaque and one.order < text.order]
        seen = shape.area.intersection(around).difference(unary_union(covers))
        if seen.area <= _INSIDE_PT2:
            continue
        if shape.fill.startswith("url"):
            yield f"{text.words!r} at {_where(text)} on a hatch"
        elif shape.opaque and contrast(text.colour, shape.fill) < CONTRAST:
            yield f"{text.words!r} at {_where(text)} on {shape.fill} at {_bounds(shape)}"


def contrast(one: str, other: str) -> float:
    """Return the contrast of two colours, as WCAG 2.2 defines it."""
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: str) -> float:
    parts = [int(colour[n : n + 2], 16) / 255 for n in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def _where(text: Text) -> str:
    return " ".join(f"{part:.0f}" for part in text.box.bounds)


def _bounds(shape: Shape) -> str:
    drawn = shape.edge if shape.edge is not None else shape.area
    assert drawn is not None
    return " ".join(f"{part:.0f}" for part in drawn.bounds)
