"""The SVG of a graph: what the program knows of its printed size."""

import pytest

from proposal.drawings.graph import svg
from tests.drawings.buildings import building
from tests.drawings.shown import printed_pt, svg_of


def test_the_printed_size_is_known_to_the_program() -> None:
    document = building(4, (45,))
    for sheet in document.detail_sheets:
        shown = svg_of(document, sheet)
        assert svg.smallest_printed_pt(shown) == pytest.approx(printed_pt(shown), rel=1e-9)
