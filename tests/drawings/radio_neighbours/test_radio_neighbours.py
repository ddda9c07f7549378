"""The radio neighbours of a storey: lines as the disturbances say, stubs elsewhere, legible."""

import re
from pathlib import Path
from xml.etree import ElementTree

import pytest

from proposal.document.document import Document
from proposal.drawings import radio_neighbours
from proposal.drawings.radio_neighbours import layout
from proposal.editions import edition_of
from tests.drawings.shown import printed_pt
from tests.whole_projects import whole_document

ROOT = Path(__file__).parents[3]
SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def document() -> Document:
    return whole_document(ROOT / "example_project")


def specs(document: Document) -> list[radio_neighbours.NeighboursSpec]:
    edition = edition_of(document, "reviewer")
    sheets = [row for row in edition.document.detail_sheets if row.kind == "radio neighbours"]
    return [radio_neighbours.spec_of(edition, sheet) for sheet in sheets]


def words(svg: str) -> list[str]:
    return ["".join(text.itertext()) for text in ElementTree.fromstring(svg).iter(f"{SVG}text")]


def test_a_sheet_a_storey_with_linked_rooms(document: Document) -> None:
    linked = {row.room for row in document.margins}
    assert [one.storey for one in specs(document)] == [
        storey.tag
        for storey in sorted(document.storeys, key=lambda row: row.height_m)
        if any(room.storey == storey.tag and room.tag in linked for room in document.rooms)
    ]


def test_the_client_has_none(document: Document) -> None:
    edition = edition_of(document, "client")
    rows = (*edition.document.sheets, *edition.document.detail_sheets)
    assert not [row for row in rows if row.kind == "radio neighbours"]


def test_every_disturbance_is_a_line_or_two_stubs(document: Document) -> None:
    rooms = {room.tag for room in document.rooms}
    drawn: dict[frozenset[str], int] = {}
    for one in specs(document):
        for a, b, _ in one.pairs:
            drawn[frozenset((a, b))] = drawn.get(frozenset((a, b)), 0) + 2
        for a, where, _ in one.elsewhere:
            other = re.split(r" on |, ", where)[0]
            drawn[frozenset((a, other))] = drawn.get(frozenset((a, other)), 0) + (
                2 if other not in rooms else 1
            )
    assert drawn == {frozenset(row.rooms): 2 for row in document.disturbances}


def test_links_are_counted_by_room(document: Document) -> None:
    for one in specs(document):
        shown = words(layout.render(one, "x").decode("utf-8"))
        for room in one.rooms:
            links = sum(row.room == room.tag for row in document.margins)
            assert f"{room.tag} · {links} link{'' if links == 1 else 's'}" in shown


def test_the_fullest_neighbourhood_of_each_storey_is_marked(document: Document) -> None:
    for one in specs(document):
        here = {room.tag for room in one.rooms}
        share = [row.wanted for row in document.neighbourhoods if here & set(row.rooms)]
        marked = {room.tag for room in one.rooms if room.full}
        assert any(
            row.wanted == max(share) and here & set(row.rooms) == marked for row in document.neighbourhoods
        )
        assert f"{max(share)} of " in one.fullest


@pytest.mark.parametrize(("over_db", "least"), [(0.0, 0.0), (9.9, 0.0), (10.0, 10.0), (25.0, 20.0)])
def test_lines_are_told_apart_by_style_and_weight(over_db: float, least: float) -> None:
    assert layout.style_of(over_db) == layout.style_of(least)
    styles = [layout.style_of(value) for value in (0.0, 10.0, 20.0)]
    assert len({drawn.style for drawn in styles}) == 3
    weights = [drawn.width for drawn in styles]
    assert weights == sorted(set(weights))


def test_nothing_is_smaller_than_seven_points(document: Document) -> None:
    for one in specs(document):
        assert printed_pt(layout.render(one, "x").decode("utf-8")) >= 7


def test_equal_specs_give_equal_bytes(document: Document) -> None:
    one = specs(document)[-1]
    assert layout.render(one, "x") == layout.render(one, "x")


def test_what_disturbs_is_told_in_words(document: Document) -> None:
    for one in specs(document):
        told = radio_neighbours.alternative(one)
        for a, b, over in one.pairs:
            assert f"Rooms {a} and {b} disturb each other by up to {over:.0f} dB." in told


def test_a_sheet_tells_which_rooms_have_other_carriers_in_which_state() -> None:
    document = whole_document(ROOT / "tests" / "projects" / "municipal")
    (spec,) = specs(document)
    assert [said.partition(":")[0] for said in spec.states] == [
        "In everyday",
        "In joined and budget-hearing",
        "In cart-indoors",
    ]
    moved = [(one.identity.rpartition("-")[0], one.states) for one in document.radio_moves]
    joined = sum(room == "C103" and "joined" in states for room, states in moved)
    assert spec.states[1].endswith(f"other carriers: {joined} of C103")
    assert all(f"{said}." in radio_neighbours.alternative(spec) for said in spec.states)
