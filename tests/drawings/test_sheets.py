"""Drawings stay readable on A3 whatever the size of the building, and their sheets show everything once."""

import re
from collections import Counter

import pytest

from proposal.document.document import Document
from proposal.document.rows import SheetRow
from proposal.drawings import drawing, riser_detail, svg
from proposal.editions import edition_of
from proposal.publish.engine import lay_out
from tests.drawings.buildings import building, large_room

# A3 is 420 × 297 mm (ISO 216) less 10 mm on each side; 1 pt is 1/72 in, 1 in is 25.4 mm.
PRINTED_MM = (400.0, 277.0)
LEAST_PT = 7.0


def laid_out(document: Document, sheet: SheetRow) -> str:
    spec = drawing.spec(edition_of(document, "installer"), sheet)
    return drawing.finish(lay_out(drawing.source(spec)), spec).decode()


def printed_pt(shown: str) -> float:
    """Measure the smallest text with the SVG's own numbers, apart from the program's helper."""
    width, height = map(float, re.search(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', shown).groups())
    width_mm, height_mm = width / 72 * 25.4, height / 72 * 25.4
    landscape = min(PRINTED_MM[0] / width_mm, PRINTED_MM[1] / height_mm)
    portrait = min(PRINTED_MM[1] / width_mm, PRINTED_MM[0] / height_mm)
    return min(map(float, re.findall(r'font-size="([\d.]+)"', shown))) * max(landscape, portrait)


@pytest.mark.parametrize("rooms", [1, 4, 12, 40])
@pytest.mark.parametrize("cables", [(3,), (12,), (45,), (3, 8, 45)])
def test_the_smallest_text_of_risers_prints_at_seven_points(rooms: int, cables: tuple[int, ...]) -> None:
    document = building(rooms, cables)
    for sheet in [*document.sheets, *document.detail_sheets]:
        shown = laid_out(document, sheet)
        assert printed_pt(shown) >= LEAST_PT, sheet.number
        assert svg.smallest_printed_pt(shown) == pytest.approx(printed_pt(shown), rel=1e-3)
