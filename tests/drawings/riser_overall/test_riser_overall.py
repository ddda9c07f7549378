"""The overall riser: storeys level across the sheet, the highest on top."""

import re
from xml.etree import ElementTree

from proposal.drawings.colours import FRAME
from tests.drawings.buildings import building
from tests.drawings.shown import SVG, svg_of
from tests.sample_document import sample_document

DOCUMENT = sample_document()


def test_storeys_are_level_across_the_overall_riser() -> None:
    document = building(12, (3, 8, 45), storeys=3)
    root = ElementTree.fromstring(svg_of(document, document.sheets[0]))
    drawing = next(group for group in root.iter(f"{SVG}g") if "translate" in group.get("transform", ""))
    floors = [path.get("d", "") for path in drawing.iter(f"{SVG}path") if path.get("stroke") == FRAME]
    # Two gaps between three columns, on each of three storeys.
    assert len(floors) == 6
    for floor in floors:
        heights = [float(y) for y in re.findall(r",(-?[\d.]+)", floor)]
        assert max(heights) - min(heights) < 0.5


def test_the_highest_storey_is_drawn_on_top() -> None:
    svg = svg_of(DOCUMENT, DOCUMENT.sheets[0])
    heights = {
        element.text.split()[0]: float(element.get("y", "0"))
        for element in ElementTree.fromstring(svg).iter(f"{SVG}text")
        if element.text and re.match(r"L\d ", element.text)
    }
    assert heights["L1"] < heights["L0"]
