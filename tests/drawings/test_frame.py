"""Every sheet of whole projects: its paper, one frame, one title block, nothing outside, no text on anything.

Sheets are read back from their SVG with a reader of paths and groups of its own.
"""

import re
from functools import lru_cache
from pathlib import Path

import pytest
from shapely.geometry import box

from proposal.document.document import Document
from proposal.document.rows.sheets import SheetRow
from proposal.document.spelling import Spelling
from tests.drawings.collisions import collisions
from tests.drawings.painted import painted
from tests.drawings.shown import svg_of, texts
from tests.pages.test_american_pages import METRIC
from tests.whole_projects import whole_document

ROOT = Path(__file__).parents[2]
PROJECTS = ROOT / "tests" / "projects"
NAMES = ("one_room", "states", "us_customary", "failing", "example_project")
MM = 72 / 25.4
# ISO 216: A3 is 420 by 297 mm. ASME Y14.1: B is 17 by 11 in.
PAPERS_PT = {"A3": (420 * MM, 297 * MM), "ANSI B": (17 * 72.0, 11 * 72.0)}
MARGIN_PT = 10 * MM
FIELDS = (
    "Client",
    "Integrator",
    "Title",
    "Issued for",
    "Revision",
    "Date",
    "Scale",
    "Drawn by",
    "Checked by",
    "Lengths in",
    "Sheet size",
)


@lru_cache(maxsize=5)
def document(name: str) -> Document:
    return whole_document(ROOT / name if name == "example_project" else PROJECTS / name)


@lru_cache(maxsize=5)
def sheets(name: str) -> tuple[tuple[SheetRow, str], ...]:
    made = document(name)
    rows = (*made.sheets, *made.detail_sheets, *made.check_sheets)
    return tuple((row, svg_of(made, row, "reviewer")) for row in rows)


def assert_the_paper_is_the_projects(name: str) -> None:
    paper = "ANSI B" if name == "us_customary" else "A3"
    width, height = PAPERS_PT[paper]
    for row, svg in sheets(name):
        found = re.search(r'<svg\b[^>]*viewBox="0 0 ([\d.]+) ([\d.]+)"', svg)
        assert found, row.number
        assert float(found[1]) == pytest.approx(width, abs=0.01), row.number
        assert float(found[2]) == pytest.approx(height, abs=0.01), row.number
        assert paper in texts(svg), row.number


def assert_one_frame_and_one_full_title_block(name: str) -> None:
    cover = document(name).cover
    width, height = PAPERS_PT["ANSI B" if name == "us_customary" else "A3"]
    for row, svg in sheets(name):
        wanted = (MARGIN_PT, MARGIN_PT, width - MARGIN_PT, height - MARGIN_PT)
        frames = [
            shape
            for shape in painted(svg).shapes
            if shape.edge is not None
            and box(*shape.edge.bounds).buffer(-0.69).bounds == pytest.approx(wanted, abs=0.05)
        ]
        assert len(frames) == 1, row.number
        words = texts(svg)
        assert [words.count(field) for field in FIELDS] == [1] * len(FIELDS), row.number
        assert row.number in words, row.number
        assert f"Sheet, part {row.part} of {row.parts}" in words, row.number
        said = " ".join(words)
        for value in (cover.number, cover.revision.identity, cover.revision.purpose):
            assert value in said, (row.number, value)
        for value in (cover.client.name, row.title):
            assert set(value.split()) <= set(said.split()), (row.number, value)


def assert_nothing_stands_outside_the_frame(name: str) -> None:
    width, height = PAPERS_PT["ANSI B" if name == "us_customary" else "A3"]
    # The line of the frame is 1.4 pt wide.
    frame = box(MARGIN_PT, MARGIN_PT, width - MARGIN_PT, height - MARGIN_PT).buffer(0.75, join_style="mitre")
    for row, svg in sheets(name):
        paper, *drawn = painted(svg).shapes
        assert paper.area is not None
        assert paper.area.bounds == pytest.approx((0, 0, width, height), abs=0.02), row.number
        for shape in drawn:
            for part in (shape.edge, shape.area):
                assert part is None or part.is_empty or frame.contains(part), (row.number, part.bounds)
        for text in painted(svg).texts:
            assert frame.contains(text.box), (row.number, text.words)


def assert_no_text_touches_anything(name: str) -> None:
    # Other sheets of the example are held to it in test_sheets.py, as its readers see them.
    alone = {row.number for row in document(name).check_sheets} if name == "example_project" else None
    found = {row.number: collisions(svg) for row, svg in sheets(name) if alone is None or row.number in alone}
    assert {number: wrong for number, wrong in found.items() if wrong} == {}


def assert_no_unit_is_metric(name: str) -> None:
    spelling = Spelling.of(document(name))
    told = {row.number: [spelling.plain(one) for one in texts(svg)] for row, svg in sheets(name)}
    assert {n: found for n, words in told.items() if (found := [w for w in words if METRIC.search(w)])} == {}


@pytest.mark.parametrize("name", NAMES)
def test_every_sheet_is_whole_framed_and_legible(name: str) -> None:
    assert_the_paper_is_the_projects(name)
    assert_one_frame_and_one_full_title_block(name)
    assert_nothing_stands_outside_the_frame(name)
    assert_no_text_touches_anything(name)
    if document(name).cover.units == "us_customary":
        assert_no_unit_is_metric(name)


@pytest.mark.parametrize("name", NAMES)
def test_cut_plans_are_drawn_of_the_types_of_cable_that_take_several_reels(name: str) -> None:
    made = document(name)
    drawn = {model for row in made.detail_sheets if row.kind == "cut plan" for model in row.members}
    several = {order.type for order in made.reel_orders if len({reel.number for reel in order.reels}) > 1}
    assert drawn == several


def test_the_projects_have_sheets_of_these_kinds() -> None:
    """What is held of every sheet is held of each of these kinds."""
    kinds = {row.kind for name in NAMES for row, _ in sheets(name)}
    assert kinds >= {
        "riser overall", "floor plan", "ceiling plan", "room plan", "signal flow", "charge timeline",
        "network", "level map", "gantt chart", "riser detail", "mounting details", "device schedule",
        "conduit sections", "rack elevation", "radio neighbours", "crew loading", "cut plan",
    }  # fmt: skip
