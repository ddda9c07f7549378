"""Signal flows: legible whatever the size of the room, every box once, a line style for each signal."""

from collections import Counter
from xml.etree import ElementTree

import pytest

from proposal.drawings.colours import stroke
from tests.drawings.buildings import large_room
from tests.drawings.shown import SVG, printed_pt, svg_of, texts
from tests.sample_document import sample_document

LEAST_PT = 7.0
DOCUMENT = sample_document()


ROOMS = {
    "small": (1, 1, 1),
    "many forms": (5, 4, 10),
    "many access points": (20, 2, 20),
    "many chargers": (2, 4, 20),
}


@pytest.mark.parametrize("size", ROOMS)
def test_large_signal_flows_print_legibly_and_show_every_box(size: str) -> None:
    document = large_room(*ROOMS[size])
    titles = Counter(text for sheet in document.sheets for text in texts(svg_of(document, sheet)))
    for sheet in document.sheets:
        assert printed_pt(svg_of(document, sheet)) >= LEAST_PT
    sources = [node.code for node in document.room_sheets[0].flow_nodes if node.code[:2] in ("AP", "CH")]
    alone = [code for code in sources if "-" not in code]
    assert {code: titles[code] for code in alone} == dict.fromkeys(alone, 1)
    microphones = [node for node in document.room_sheets[0].flow_nodes if node.kind == "microphones"]
    assert titles["microphones"] == len(microphones)


def dashes(svg: str, colour: str) -> set[str | None]:
    """Return how the paths of a colour are dashed."""
    return {
        path.get("stroke-dasharray")
        for path in ElementTree.fromstring(svg).iter(f"{SVG}path")
        if path.get("stroke") == colour
    }


def test_return_audio_and_radio_have_line_styles_of_their_own() -> None:
    chamber = svg_of(DOCUMENT, DOCUMENT.sheets[1])
    network = stroke("networked audio").colour
    solid_and_dashed = dashes(chamber, network)
    assert None in solid_and_dashed
    assert len(solid_and_dashed) == 2
    radio = dashes(chamber, stroke("radio").colour)
    assert None not in radio
    assert radio.isdisjoint(solid_and_dashed)
    assert "return audio, networked audio" in texts(chamber)
