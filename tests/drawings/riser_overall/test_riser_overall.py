"""The overall riser: storeys level across the sheet, the highest on top."""

import re
from pathlib import Path
from xml.etree import ElementTree

from proposal.document.rows.pathways import PenetrationRow
from proposal.drawings.colours import FRAME
from tests.drawings.buildings import building
from tests.drawings.shown import SVG, svg_of, texts
from tests.sample_document import sample_document
from tests.whole_projects import whole_document

DOCUMENT = sample_document()
ROOT = Path(__file__).resolve().parents[3]


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


def test_what_passes_a_floor_stands_on_it_with_its_size_and_how_it_is_closed() -> None:
    """Two pathways through the floor of L1, written by hand: a sleeve and a tray."""
    rows = (
        PenetrationRow(
            tag="R7-F1", pathway="R7", crosses="floor", storey="L1", kind="sleeve", size="2", cables=9,
            closed="in the sleeve", closed_by="others", fire_rating="EI 60",
        ),
        PenetrationRow(
            tag="T9-F1", pathway="T9", crosses="floor", storey="L1", kind="tray", width_m=0.3, depth_m=0.06,
            cables=1, closed="round the cables", closed_by="us",
        ),
        PenetrationRow(
            tag="H8-F1", pathway="H8", crosses="floor", storey="L1", kind="hooks", cables=8,
            sleeves=("1-1/4 for 7 cables", "1/2 for 1 loudspeaker line"),
            closed="in and round the sleeves", closed_by="us",
        ),
        PenetrationRow(tag="C3-W1", pathway="C3", crosses="wall", storey="L1", kind="conduit", cables=2),
    )  # fmt: skip
    document = DOCUMENT.model_copy(update={"penetrations": rows})
    shown = texts(svg_of(document, document.sheets[0]))
    assert "R7: sleeve, trade size 2, 9 cables" in shown
    words = " ".join(shown)
    assert "R7-F1: floor EI 60, closed in the sleeve by others" in words
    assert "T9: tray, 300 mm × 60 mm, 1 cable" in shown
    assert "T9-F1: floor fire-rated, closed round the cables by us" in words
    assert "sleeve 1-1/4 for 7 cables, sleeve 1/2 for 1 loudspeaker line" in words
    assert not any("C3" in text for text in shown)


def test_leads_on_a_cart_stand_with_the_cart_and_not_with_the_racks() -> None:
    """Three from access point and chargers to the breakout, one from there to the loudspeaker of the cart.

    Its room type names that loudspeaker, which is analogue, as its only destination, and nobody places it.
    """
    document = whole_document(ROOT / "tests" / "projects" / "municipal")
    on_it = [line for line in document.riser_lines if line.room == "P1"]
    lines = [(line.end, line.signal, line.count) for line in on_it]
    assert lines == [("P1", "analogue", 1), ("P1", "network", 3)]
    assert not any(line.signal == "network" for line in document.riser_lines if line.room == "ER1")
