"""The plan of an equipment room: what is free around its rack, and all that it has to show."""

from dataclasses import replace
from pathlib import Path

import pytest

from proposal.document.document import Document
from proposal.drawings.equipment_room_plan import EquipmentRoomSpec, alternative, spec_of
from proposal.drawings.equipment_room_plan.layout import KIND
from proposal.editions import edition_of
from tests.drawings.collisions import collisions
from tests.drawings.shown import printed_pt, sheet_svg, texts
from tests.whole_projects import whole_document

EXAMPLE = Path(__file__).resolve().parents[3] / "example_project"


@pytest.fixture(scope="module")
def document() -> Document:
    return whole_document(EXAMPLE)


def plans(document: Document) -> dict[str, EquipmentRoomSpec]:
    edition = edition_of(document, "installer")
    return {
        sheet.subject: spec_of(edition, sheet)
        for sheet in edition.document.detail_sheets
        if sheet.kind == "equipment room plan"
    }


def test_each_equipment_room_whose_walls_are_given_has_a_plan(document: Document) -> None:
    assert set(plans(document)) == {"ER1", "ER2"}
    client = edition_of(document, "client").document
    assert not [row for row in client.sheets if row.kind == "equipment room plan"]


def test_what_is_free_around_a_rack_is_told(document: Document) -> None:
    """By hand: 600 × 800 mm, its middle 62.5 m east and 17.5 m north, in 59.8 to 66 m and 15 to 21 m."""
    spec = plans(document)["ER1"]
    (rack,) = spec.racks
    assert rack.box == pytest.approx((62.2, 17.1, 62.8, 17.9), rel=0, abs=0.0015)
    assert [words for _, _, words in spec.free] == ["2.1 m", "3.1 m", "2.4 m", "3.2 m"]
    assert spec.short == ()


def test_too_little_room_before_a_rack_is_told(document: Document) -> None:
    """With its south wall at 16.4 m there are 0.7 m before the front at 17.1 m; 1 m is wanted."""
    rooms = tuple(
        row.model_copy(update={"outline": ((59.8, 16.4), (66.0, 16.4), (66.0, 21.0), (59.8, 21.0))})
        for row in document.equipment_rooms
    )
    spec = plans(document.model_copy(update={"equipment_rooms": rooms}))["ER2"]
    assert spec.short == ("Free to the south wall: 0.7 m, less than 1 m.",)
    assert spec.short[0] in texts(sheet_svg(KIND, spec))


def test_pathways_openings_outlets_and_the_earthing_bar_stand_on_it(document: Document) -> None:
    """T22 comes through the south wall at 60.5 m; the mains schedule has PS1, PS2 and UP1 of ER2."""
    spec = plans(document)["ER2"]
    words = alternative(spec)
    assert "Tray T22: at 3.7 m, 2.5 m E of core-w-2, 200 × 54 mm" in words
    assert "Opening ER2-WO1: 60.5 m E, 15 m N, hole 250 × 104 mm for T22." in words
    assert "ER2/C1/1 for PS1, ER2/C1/2 for PS2: IEC 60309, 16 A." in words
    assert "Earthing bar: 66 m E, 19 m N, bond each rack to it: 1 × DR-EK1" in words
    assert "Cables to the rack: at 3.7 m, then down to it, DR-HK32 every 1.5 m" in words
    shown = texts(sheet_svg(KIND, spec))
    assert {"ER2-RK1", "tray T22", "hooks H23", "ER2-WO1", "mains outlets", "earthing bar"} <= set(shown)
    # The wall that the core and the room have in common has one opening, under the name that it had.
    assert [one.tag for one in plans(document)["ER1"].openings] == ["core-e-0-WO1"]


@pytest.mark.parametrize("tag", ["ER1", "ER2"])
def test_nothing_on_it_touches_anything_else(document: Document, tag: str) -> None:
    spec = plans(document)[tag]
    svg = sheet_svg(KIND, spec)
    assert collisions(svg) == []
    assert printed_pt(svg) >= 7.0


def test_a_place_that_nobody_tells_is_said_to_be_open(document: Document) -> None:
    rooms = tuple(
        row.model_copy(update={"outlets_at": None, "earthing_at": None}) for row in document.equipment_rooms
    )
    spec = plans(document.model_copy(update={"equipment_rooms": rooms}))["ER1"]
    assert ("mains outlets", "at the racks") in {row[:2] for row in spec.table}
    assert ("earthing bar", "place to be agreed") in {row[:2] for row in spec.table}
    assert replace(spec, outlets_at=None) == spec
