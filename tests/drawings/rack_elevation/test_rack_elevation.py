"""Rack elevations, read back from their SVG: units to scale, everything once, legible, told in words."""

import re
from dataclasses import replace
from functools import cache
from itertools import combinations

import pytest

from proposal.document.document import Document
from proposal.document.making.document import document_of
from proposal.document.rows.racks import RackPlaceRow
from proposal.drawings import rack_elevation
from proposal.drawings.figure import id_part
from proposal.drawings.rack_elevation import RackElevationSpec, layout
from proposal.drawings.sheet import A3, SheetPaper, paper_for
from proposal.editions import edition_of
from proposal.estimate.equipment_sheets import RACKS_A_SHEET
from proposal.pipeline import compute
from tests.design.making import EXAMPLE, project_of
from tests.drawings.shown import printed_pt, texts

POINTS_A_MM = 72 / 25.4
ANSI_B = paper_for("en_US", "us_customary")


@cache
def whole() -> Document:
    return document_of(compute(project_of(EXAMPLE)))


@cache
def elevations() -> RackElevationSpec:
    edition = edition_of(whole(), "installer")
    (sheet,) = (row for row in edition.document.detail_sheets if row.kind == "rack elevation")
    return rack_elevation.spec_of(edition, sheet)


@pytest.fixture(scope="module")
def drawn() -> str:
    return layout.render(elevations(), "x").decode("utf-8")


def corners(svg: str, rack: str, name: str) -> tuple[float, float, float, float]:
    """Return left, bottom, right and top of a thing in front, mm on the sheet."""
    found = re.search(rf'id="x-place-{re.escape(id_part(rack))}-{re.escape(id_part(name))}"[^>]*>.*? d="([^"]*)"', svg, flags=re.DOTALL)  # fmt: skip  # noqa: E501 (one expression)
    assert found, name
    numbers = [float(number) / POINTS_A_MM for number in re.findall(r"-?[\d.]+", found[1])]
    across, down = numbers[0::2], numbers[1::2]
    return min(across), 277 - max(down), max(across), 277 - min(down)


def test_everything_stands_at_its_unit_at_a_tenth_of_its_size(drawn: str) -> None:
    for row in whole().rack_places:
        name = row.name.removeprefix(f"{row.rack}/")
        left, bottom, right, top = corners(drawn, row.rack, name)
        # A rack unit is 44.45 mm and a front 482.6 mm wide (EIA-310).
        assert top - bottom == pytest.approx(4.445 * row.units, abs=0.01)
        assert right - left == pytest.approx(48.26 / (2 if row.side else 1), abs=0.01)
    for rack in whole().racks:
        front = [row for row in whole().rack_places if row.rack == rack.tag and row.face == "front"]
        lowest = min(front, key=lambda row: row.unit)
        zero = corners(drawn, rack.tag, lowest.name.removeprefix(f"{rack.tag}/"))[1]
        for row in front:
            bottom = corners(drawn, rack.tag, row.name.removeprefix(f"{rack.tag}/"))[1]
            assert bottom - zero == pytest.approx(4.445 * (row.unit - lowest.unit), abs=0.02)


def test_nothing_stands_where_something_else_does(drawn: str) -> None:
    for rack in whole().racks:
        for face in ("front", "rear"):
            names = [
                row.name.removeprefix(f"{rack.tag}/")
                for row in whole().rack_places
                if row.rack == rack.tag and row.face == face
            ]
            boxes = [corners(drawn, rack.tag, name) for name in names]
            for one, other in combinations(boxes, 2):
                across = min(one[2], other[2]) - max(one[0], other[0])
                up = min(one[3], other[3]) - max(one[1], other[1])
                assert across < 0.01 or up < 0.01


def test_every_tag_is_written_and_the_words_tell_every_unit(drawn: str) -> None:
    shown = " ".join(texts(drawn))
    words = rack_elevation.alternative(elevations())
    for row in whole().rack_places:
        name = row.name.removeprefix(f"{row.rack}/")
        assert name in words
        if row.kind not in rack_elevation.CLOSED:
            assert name in shown
    for rack in whole().racks:
        assert f"{rack.used} of {rack.units} units used" in shown


def test_it_is_legible_and_the_same_every_time(drawn: str) -> None:
    assert printed_pt(drawn) >= 7.0 - 1e-6
    assert layout.render(elevations(), "x").decode("utf-8") == drawn


def test_a_sheet_holds_as_many_racks_as_the_number_of_sheets_rests_on() -> None:
    spec = elevations()
    # A library's racks have 50 units at most.
    tall = replace(spec.racks[0], units=50)
    for paper in (spec.strip.paper, ANSI_B):
        strip = replace(spec.strip, paper=paper)
        svg = layout.render(replace(spec, racks=(tall,) * RACKS_A_SHEET, strip=strip), "x").decode("utf-8")
        lowest, highest = heights(svg)
        assert 0 < lowest < highest < paper.field_mm[1]
        assert texts(svg).count("50") == RACKS_A_SHEET
    with pytest.raises(ValueError, match="racks on a sheet"):
        layout.render(replace(spec, racks=(tall,) * (RACKS_A_SHEET + 1)), "x")


def heights(svg: str) -> tuple[float, float]:
    """Return how far below the upper edge of the field the first and the last line of text stand, mm."""
    found = [float(y) / POINTS_A_MM for y in re.findall(r'<text[^>]* y="([\d.]+)"', svg)]
    return min(found), max(found)


@pytest.mark.parametrize("paper", [A3, ANSI_B], ids=lambda paper: paper.name)
@pytest.mark.parametrize("racks", [1, 2])
def test_racks_stand_in_the_middle_of_their_sheet(paper: SheetPaper, racks: int) -> None:
    spec = elevations()
    shown = replace(spec, racks=spec.racks[:racks], strip=replace(spec.strip, paper=paper))
    first, last = heights(layout.render(shown, "x").decode("utf-8"))
    assert first == pytest.approx(paper.field_mm[1] - last, abs=5)


def test_what_stands_on_a_shelf_is_told_and_drawn_on_it() -> None:
    shelf_row = RackPlaceRow(
        rack="ER1-RK1", unit=3, units=1, face="front", name="ER1-RK1/SH1", kind="shelf", weight_kg=1.2
    )
    sources = [
        RackPlaceRow(
            rack="ER1-RK1", unit=3, face="front", name=f"ER1-PI{n}", kind="network part",
            shelf="ER1-RK1/SH1", weight_kg=0.6, typical_w=5.0, outlets=(f"PS1/{n}",),
        )
        for n in (1, 2)
    ]  # fmt: skip
    edition = edition_of(whole(), "installer")
    (sheet,) = (row for row in edition.document.detail_sheets if row.kind == "rack elevation")
    document = edition.document.model_copy(update={"rack_places": (shelf_row, *sources)})
    spec = rack_elevation.spec_of(replace(edition, document=document), sheet)
    (shelf,) = next(rack.front for rack in spec.racks if rack.front)
    # 1.2 kg and twice 0.6 kg; twice 5 W.
    assert (shelf.holds, shelf.note, shelf.outlets) == (("PI1", "PI2"), "2.4 kg, 10.0 W", ("PS1/1", "2"))
    assert "unit 3 SH1 with PI1, PI2" in rack_elevation.alternative(spec)
    shown = texts(layout.render(spec, "x").decode("utf-8"))
    assert {"SH1", "PI1", "PI2", "2.4 kg, 10.0 W, PS1/1, 2"} <= set(shown)


def test_what_stands_in_racks_is_told_with_its_model_and_two_alike_once() -> None:
    """By the library of the example: amplifiers Q60929, the panel for cables CC-PP24-6AS."""
    edition = edition_of(whole(), "installer")
    (sheet,) = (row for row in edition.document.detail_sheets if row.kind == "rack elevation")
    spec = rack_elevation.spec_of(edition, sheet)
    shown = texts(layout.render(spec, "x").decode("utf-8"))
    places = [row for row in edition.document.rack_places if row.rack == "ER1-RK1" and row.units]
    for row in places:
        if row.model and row.kind not in rack_elevation.CLOSED:
            assert any(row.model in text for text in shown), row.name
    assert any(text.startswith("2 × Q60929, 2.1 kg, 34.0 W, PS1/2, PS1/3") for text in shown)
    assert "CC-PP24-6AS, 1.8 kg" in shown
    assert "mains at the rack: PS1 at ER1/C1/1, IEC 60309, 16 A" in shown
    foot = layout.KIND.foot(spec)
    assert "blank panel DR-BL1" in [entry.meaning for entry in foot.entries]
    assert "AM amplifier, CM cable manager, FN fan panel, FP fibre panel, MX mixer" in foot.notes[-1]


def test_the_client_gets_no_rack_elevation() -> None:
    client = edition_of(whole(), "client").document
    assert client.racks == client.rack_places == ()
    assert not [row for row in (*client.sheets, *client.detail_sheets) if row.kind == "rack elevation"]
