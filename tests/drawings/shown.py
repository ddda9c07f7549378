"""Read drawings back: lay them out, and take from the SVG what a reader sees."""

import re
from functools import lru_cache
from xml.etree import ElementTree

from proposal.document.document import Document
from proposal.document.readers import Reader
from proposal.document.rows.sheets import SheetRow
from proposal.drawings.drawing import Drawing
from proposal.drawings.kinds import drawing_of
from proposal.editions import edition_of
from proposal.publish.graph_program import lay_out

SVG = "{http://www.w3.org/2000/svg}"
# A3 is 420 × 297 mm (ISO 216) less 10 mm on each side.
PRINTED_MM = (400.0, 277.0)
MM_A_POINT = 25.4 / 72


@lru_cache(maxsize=64)
def _finished(drawing: Drawing) -> str:
    return drawing.render(lay_out).decode()


def svg_of(document: Document, sheet: SheetRow, reader: Reader = "installer") -> str:
    """Return a sheet as it is published."""
    return _finished(drawing_of(edition_of(document, reader), sheet))


def texts(svg: str) -> list[str]:
    """Return the pieces of text of a drawing, top to bottom in the file."""
    return ["".join(element.itertext()) for element in ElementTree.fromstring(svg).iter(f"{SVG}text")]


def printed_pt(svg: str) -> float:
    """Return the size of the smallest text on A3, measured apart from the program's own helper."""
    found = re.search(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', svg)
    assert found
    width, height = (float(size) * MM_A_POINT for size in found.groups())
    landscape = min(PRINTED_MM[0] / width, PRINTED_MM[1] / height)
    portrait = min(PRINTED_MM[1] / width, PRINTED_MM[0] / height)
    return min(map(float, re.findall(r'font-size(?:="|: )([\d.]+)', svg))) * max(landscape, portrait)
