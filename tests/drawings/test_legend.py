"""A legend stays within its box, whole, as full as sheets of the example make it."""

import re

import pytest

from proposal.drawings.colours import stroke
from proposal.drawings.figure.scale_bar import scale_bar
from proposal.drawings.legend import Foot, LegendEntry, LineSample, legend_svg
from tests.drawings.painted import width_pt

MEANINGS = (
    "access point", "loudspeaker", "rack", "wall: concrete", "conduit", "hooks", "sleeve", "tray",
    "leaves the storey upwards", "opening in a wall", "fibre, no pathway",
    "loudspeaker line, no pathway", "network, no pathway",
)  # fmt: skip
NOTES = (
    "Do not scale from the drawing; check sizes on site. Openings WO, W and F in rated walls and floors: "
    "close each with a firestop system listed for its rating, by those licensed for it. Devices, cables "
    "and where they end: T-01, T-02.",
    "The whole sheet is new in revision B; nothing on it is marked.",
)
LEFT, TOP, WIDTH, HEIGHT = 8.0, 700.0, 573.0, 85.0


@pytest.mark.parametrize("notes", [NOTES[:1], NOTES])
def test_a_full_legend_stays_whole_within_its_box(notes: tuple[str, ...]) -> None:
    entries = tuple(LegendEntry(LineSample(stroke("network")), words) for words in MEANINGS)
    foot = Foot(
        entries=entries, notes=notes, scale="1:100", bar=scale_bar(100, "metric", "en"), pointing="north"
    )
    svg = legend_svg(foot, LEFT, TOP, WIDTH, HEIGHT)
    said = re.findall(r'<text x="([\d.]+)" y="([\d.]+)" font-size="([\d.]+)"([^>]*)>([^<]*)', svg)
    assert len(said) > len(MEANINGS)
    for x, y, size, more, words in said:
        assert "…" not in words
        assert float(size) >= 7
        assert TOP <= float(y) <= TOP + HEIGHT
        if "anchor" not in more:
            assert float(x) + width_pt(words, float(size), bold="bold" in more) <= LEFT + WIDTH
    told = " ".join(words for *_, words in said)
    assert all(word in told for meaning in MEANINGS for word in meaning.split())
