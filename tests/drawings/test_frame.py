"""Every sheet of whole projects: its paper, one frame, one title block, nothing outside, no small lettering.

Sheets are read back from their SVG with a reader of paths and groups of its own.
"""

import re
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path
from xml.etree import ElementTree

import pytest

from proposal.document.document import Document
from proposal.document.making.document import document_of
from proposal.document.rows.sheets import SheetRow
from proposal.model.loading import load_project
from proposal.pipeline import compute
from tests.drawings.shown import SVG, lettering, svg_of, texts

PROJECTS = Path(__file__).parents[1] / "projects"
NAMES = ("one_room", "states", "us_customary", "failing")
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
Box = tuple[float, float, float, float]
Move = tuple[float, float, float]
_NUMBER = re.compile(r"-?\d+(?:\.\d+)?")


@lru_cache(maxsize=4)
def document(name: str) -> Document:
    return document_of(compute(load_project(PROJECTS / name)))


@lru_cache(maxsize=4)
def sheets(name: str) -> tuple[tuple[SheetRow, str], ...]:
    made = document(name)
    rows = (*made.sheets, *made.detail_sheets, *made.check_sheets)
    return tuple((row, svg_of(made, row, "reviewer")) for row in rows)


def boxes(element: ElementTree.Element, move: Move = (0.0, 0.0, 1.0)) -> Iterator[tuple[str, Box]]:
    """Yield each text and each line of a sheet with the box around it, pt on the paper.

    Texts are taken as wide as half their size for each sign, which is less than they are.
    """
    if element.tag in (f"{SVG}defs", f"{SVG}style", f"{SVG}title", f"{SVG}desc"):
        return
    x0, y0, scale = move
    for what, said in re.findall(r"(translate|scale)\(([^)]*)\)", element.get("transform", "")):
        numbers = [float(number) for number in _NUMBER.findall(said)]
        if what == "translate":
            x0, y0 = x0 + scale * numbers[0], y0 + scale * numbers[1]
        else:
            scale *= numbers[0]
    here = [box for box in [_own(element)] if box]
    for left, top, right, bottom in here:
        words = "".join(element.itertext()) if element.tag == f"{SVG}text" else ""
        yield words, (x0 + scale * left, y0 + scale * top, x0 + scale * right, y0 + scale * bottom)
    for child in element:
        yield from boxes(child, (x0, y0, scale))


def _own(element: ElementTree.Element) -> Box | None:
    if element.tag == f"{SVG}text":
        said = re.search(r"font(?:-size)?:[^;]*?([\d.]+)px", element.get("style", ""))
        size = float(said[1] if said else element.get("font-size", "0"))
        x, y = float(element.get("x", "0")), float(element.get("y", "0"))
        wide = 0.45 * size * len("".join(element.itertext()))
        style = element.get("style", "") + element.get("text-anchor", "")
        left = x - wide if "end" in style else x - wide / 2 if "middle" in style else x
        if re.search(r"rotate\(-?(?!0)[\d.]+", element.get("transform", "")):
            return (x, y, x, y)
        return (left, y - 0.7 * size, left + wide, y)
    if element.tag in (f"{SVG}path", f"{SVG}polygon", f"{SVG}polyline"):
        if "clip-path" in element.attrib:
            return None
        return _around(element.get("d") or element.get("points", ""))
    if element.tag == f"{SVG}rect":
        x, y, w, h = (float(element.get(name, "0")) for name in ("x", "y", "width", "height"))
        return (x, y, x + w, y + h)
    return None


def _around(path: str) -> Box | None:
    """Return the box around the corners and handles of a path; short strokes as points."""
    xs: list[float] = []
    ys: list[float] = []
    for command, said in re.findall(r"([MLQCTSHVhvaz]?)([^A-Za-z]*)", path):
        numbers = [float(number) for number in _NUMBER.findall(said)]
        if command == "H":
            xs += numbers
        elif command == "h" and xs:
            xs += [xs[-1] + number for number in numbers]
        elif command == "V":
            ys += numbers
        elif command in ("v", "a", "z"):
            continue
        else:
            xs += numbers[::2]
            ys += numbers[1::2]
    return (min(xs), min(ys), max(xs), max(ys)) if xs and ys else None


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
        frames = [
            box
            for words, box in boxes(ElementTree.fromstring(svg))
            if not words and box[:2] == pytest.approx((MARGIN_PT, MARGIN_PT), abs=0.02)
        ]
        wanted = (MARGIN_PT, MARGIN_PT, width - MARGIN_PT, height - MARGIN_PT)
        assert [box == pytest.approx(wanted, abs=0.02) for box in frames] == [True], row.number
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
    for row, svg in sheets(name):
        for words, (left, top, right, bottom) in boxes(ElementTree.fromstring(svg)):
            if not words and (right - left, bottom - top) == pytest.approx((width, height), abs=0.02):
                continue  # the paper itself
            within = (
                left >= MARGIN_PT - 0.5
                and top >= MARGIN_PT - 0.5
                and right <= width - MARGIN_PT + 0.5
                and bottom <= height - MARGIN_PT + 0.5
            )
            assert within, (row.number, words, left, top, right, bottom)


def assert_no_lettering_is_smaller_than_seven_points(name: str) -> None:
    for row, svg in sheets(name):
        assert min(lettering(svg))[0] >= 7.0 - 1e-6, (row.number, min(lettering(svg)))


@pytest.mark.parametrize("name", NAMES)
def test_every_sheet_is_whole_framed_and_legible(name: str) -> None:
    assert_the_paper_is_the_projects(name)
    assert_one_frame_and_one_full_title_block(name)
    assert_nothing_stands_outside_the_frame(name)
    assert_no_lettering_is_smaller_than_seven_points(name)
