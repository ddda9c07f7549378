"""Drawings stay readable on A3 whatever the size of the building, and their sheets show everything once."""

from collections import Counter
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from proposal.design.sheets import splitting as sheets
from proposal.document.document import Document
from proposal.document.making.document import document_of
from proposal.drawings import riser_detail
from proposal.drawings.graph import svg
from proposal.model.loading import load_project
from proposal.pipeline import compute
from tests.drawings.buildings import building, large_room
from tests.drawings.shown import printed_pt, svg_of, texts

LEAST_PT = 7.0
ROOT = Path(__file__).parents[2]
PROJECTS = ("example_project", "tests/projects/us_customary", "tests/projects/failing")
BUILDINGS = {
    "one room of 150 cables": (1, (150,)),
    "4 rooms of 45 cables": (4, (45,)),
    "12 rooms of 3 to 45 cables": (12, (3, 8, 45, 12)),
    "40 rooms of 3 cables": (40, (3,)),
    "40 rooms of 5 cables on one storey": (40, (5,), 1),
}
ROOMS = {
    "small": (1, 1, 1),
    "many forms": (5, 4, 10),
    "many access points": (20, 2, 20),
    "many chargers": (2, 4, 20),
}


@pytest.fixture(scope="module", params=BUILDINGS)
def large(request: pytest.FixtureRequest) -> Document:
    return building(*BUILDINGS[request.param])


@pytest.fixture(scope="module", params=PROJECTS)
def project(request: pytest.FixtureRequest) -> Document:
    return document_of(compute(load_project(ROOT / request.param)))


def assert_legible(document: Document) -> None:
    for sheet in [*document.sheets, *document.detail_sheets]:
        shown = svg_of(document, sheet)
        # A sheet laid out at A3 itself holds its size in millionths of a point.
        assert printed_pt(shown) >= LEAST_PT - 1e-6, sheet.number
    for sheet in document.check_sheets:
        assert printed_pt(svg_of(document, sheet, "reviewer")) >= LEAST_PT - 1e-6, sheet.number


def assert_identities_equal_the_schedule(document: Document) -> None:
    scheduled = Counter(cable.identity for cable in document.cables)
    shown = Counter(
        text for sheet in document.detail_sheets for text in texts(svg_of(document, sheet)) if "/" in text
    )
    assert {identity: shown[identity] for identity in scheduled} == dict(scheduled)


def test_risers_of_large_buildings_print_legibly(large: Document) -> None:
    assert_legible(large)


def test_identities_over_all_sheets_of_a_large_building_equal_the_schedule(large: Document) -> None:
    assert_identities_equal_the_schedule(large)


def test_every_device_stands_on_a_detail_sheet(large: Document) -> None:
    shown = " ".join(
        text for sheet in large.detail_sheets for text in texts(svg_of(large, sheet)) if "/" not in text
    )
    words = set(shown.replace(",", " ").split())
    assert {device.tag for device in large.devices} <= words


def test_every_room_stands_once_on_the_overall_riser(large: Document) -> None:
    shown = Counter(text for sheet in large.sheets for text in texts(svg_of(large, sheet)))
    assert {room.tag: shown[room.tag] for room in large.rooms} == dict.fromkeys(
        (room.tag for room in large.rooms), 1
    )


def test_drawings_of_the_projects_print_legibly(project: Document) -> None:
    assert_legible(project)


def test_identities_over_all_sheets_of_a_project_equal_the_schedule(project: Document) -> None:
    assert project.cables
    assert_identities_equal_the_schedule(project)


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


def test_the_printed_size_is_known_to_the_program() -> None:
    document = building(4, (45,))
    for sheet in document.detail_sheets:
        shown = svg_of(document, sheet)
        assert svg.smallest_printed_pt(shown) == pytest.approx(printed_pt(shown), rel=1e-9)


def test_a_drawing_that_fits_is_one_sheet() -> None:
    assert sheets.overall_parts([("L1", [("A", 2), ("B", 1)]), ("L0", [])]) == sheets.WHOLE
    assert sheets.detail_parts([("A", 12, 2), ("B", 0, 0)]) == sheets.WHOLE
    assert sheets.flow_parts(["AP1"], ["CH1", "CH2"]) == sheets.WHOLE


ROOM_SIZES = st.lists(st.tuples(st.integers(0, 200), st.integers(0, 20)), min_size=1, max_size=30)


@given(ROOM_SIZES)
def test_detail_sheets_show_every_cable_of_every_room_once(sizes: list[tuple[int, int]]) -> None:
    rooms = [(f"R{number}", cables, others) for number, (cables, others) in enumerate(sizes)]
    cables = {tag: count for tag, count, _ in rooms}
    shown: list[tuple[str, int]] = []
    parts = sheets.detail_parts(rooms)
    for part in parts:
        members = part.members or tuple(cables)
        for place, tag in enumerate(members):
            first = part.first if place == 0 else 1
            last = part.last if place == len(members) - 1 and part.last else cables[tag]
            shown += [(tag, number) for number in range(first, last + 1)]
    assert shown == [(tag, number) for tag, count, _ in rooms for number in range(1, count + 1)]
    assert {tag for part in parts for tag in part.members} in (set(), set(cables))


@given(st.lists(st.lists(st.integers(0, 8), max_size=40), max_size=6))
def test_overall_sheets_show_every_room_once_and_in_order(storeys: list[list[int]]) -> None:
    listed = [
        (f"L{level}", [(f"L{level}-{number}", lines) for number, lines in enumerate(rooms)])
        for level, rooms in enumerate(storeys)
    ]
    parts = sheets.overall_parts(listed)
    every = [tag for _, rooms in listed for tag, _ in rooms]
    shown = [tag for part in parts for tag in part.members]
    assert shown == (every if len(parts) > 1 else [])


@given(st.integers(0, 30), st.integers(0, 30), st.integers(1, 4))
def test_flow_sheets_show_every_access_point_and_charger_once(
    access_points: int, chargers: int, groups: int
) -> None:
    first = [f"AP{number}" for number in range(access_points)]
    second = [f"CH{number}" for number in range(chargers)]
    parts = sheets.flow_parts(first, second, dict.fromkeys(first, groups))
    shown = [code for part in parts for code in part.members]
    assert shown == ([*first, *second] if len(parts) > 1 else [])


def test_as_many_devices_share_a_row_as_the_number_of_sheets_rests_on() -> None:
    assert riser_detail.DEVICES_A_ROW == sheets.DEVICES_A_ROW
