"""Read drawings back: lay them out, and take from the SVG what a reader sees."""

import re
from collections.abc import Iterator
from functools import lru_cache
from typing import Any
from xml.etree import ElementTree

from proposal.document.document import Document
from proposal.document.readers import Reader
from proposal.document.rows.sheets import SheetRow
from proposal.drawings.drawing import Drawing, Kind, Spec
from proposal.drawings.kinds import drawing_of
from proposal.editions import Edition, edition_of
from proposal.publish.graph_program import lay_out

SVG = "{http://www.w3.org/2000/svg}"


@lru_cache(maxsize=64)
def _finished(drawing: Drawing) -> str:
    return drawing.render(lay_out).decode()


def svg_of(document: Document, sheet: SheetRow, reader: Reader = "installer") -> str:
    """Return a sheet as it is published without an issue before it."""
    return svg_in(edition_of(document, reader), sheet)


def svg_in(edition: Edition, sheet: SheetRow) -> str:
    """Return a sheet as an edition publishes it, marked where it changed."""
    return _finished(drawing_of(edition, sheet))


def sheet_svg(kind: Kind[Any], spec: Spec) -> str:
    """Return a sheet of a spec of its own, in its frame."""
    return Drawing(kind, spec).render(lay_out).decode()


def texts(svg: str) -> list[str]:
    """Return the pieces of text of a drawing, top to bottom in the file."""
    return ["".join(element.itertext()) for element in ElementTree.fromstring(svg).iter(f"{SVG}text")]


def printed_pt(svg: str) -> float:
    """Return the size of the smallest text of a sheet in its full size."""
    return min(size for size, _ in lettering(svg))


def lettering(svg: str) -> Iterator[tuple[float, str]]:
    """Yield the size of each text as printed, pt, and its words."""
    yield from _lettering(ElementTree.fromstring(svg), 1.0, 0.0)


def _lettering(element: ElementTree.Element, scale: float, above: float) -> Iterator[tuple[float, str]]:
    if factor := re.search(r"scale\(([\d.]+)", element.get("transform", "")):
        scale *= float(factor[1])
    said = re.search(r"font(?:-size)?:[^;]*?([\d.]+)px", element.get("style", ""))
    size = float(said[1] if said else element.get("font-size", above))
    if element.tag == f"{SVG}text":
        yield size * scale, "".join(element.itertext())
    for child in element:
        yield from _lettering(child, scale, size)
