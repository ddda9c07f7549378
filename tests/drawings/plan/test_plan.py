"""Plans of storeys: to scale, legible, complete, the same bytes."""

import re
from pathlib import Path
from xml.etree import ElementTree

import pytest

from proposal.document.document import Document
from proposal.document.making.document import document_of
from proposal.document.readers import Reader
from proposal.drawings import plan
from proposal.drawings.figure import SHEET_MM, smallest_text_pt
from proposal.drawings.plan import layout
from proposal.editions import edition_of
from proposal.model.loading import load_project
from proposal.pipeline import compute

ROOT = Path(__file__).resolve().parents[3]
PT_MM = 25.4 / 72


@pytest.fixture(scope="module")
def documents() -> dict[str, Document]:
    folders = {"metric": ROOT / "example_project", "us": ROOT / "tests" / "projects" / "us_customary"}
    return {name: document_of(compute(load_project(folder))) for name, folder in folders.items()}


def specs(document: Document, reader: Reader = "installer") -> list[plan.PlanSpec]:
    edition = edition_of(document, reader)
    sheets = [sheet for sheet in edition.document.sheets if sheet.kind == "plan"]
    return [plan.spec_of(edition, sheet) for sheet in sheets]


def polygons(svg: str) -> list[list[tuple[float, float]]]:
    """Return the corner points of every closed path, in points of the sheet."""
    root = ElementTree.fromstring(svg)
    found = []
    for path in root.iter("{http://www.w3.org/2000/svg}path"):
        steps = path.attrib["d"].strip()
        if steps.endswith("z"):
            numbers = [float(number) for number in re.findall(r"-?\d+\.?\d*", steps)]
            found.append(list(zip(numbers[::2], numbers[1::2], strict=True)))
    return found


@pytest.mark.independent
@pytest.mark.parametrize("name", ["metric", "us"])
def test_rooms_are_drawn_to_the_scale_that_the_sheet_states(
    name: str, documents: dict[str, Document]
) -> None:
    for spec in specs(documents[name]):
        svg = layout.render(spec, "p").decode()
        scale = int(re.search(r"1:(\d+) on A3", svg)[1])  # type: ignore[index]
        drawn = sorted(
            (round(width * PT_MM * scale / 1000, 2), round(height * PT_MM * scale / 1000, 2))
            for width, height in (
                (max(x for x, _ in points) - min(x for x, _ in points),
                 max(y for _, y in points) - min(y for _, y in points))
                for points in polygons(svg)
            )
        )  # fmt: skip
        for room in spec.rooms:
            xs, ys = [x for x, _ in room.outline], [y for _, y in room.outline]
            size = (max(xs) - min(xs), max(ys) - min(ys))
            assert any(one == pytest.approx(size, abs=0.02) for one in drawn), room.tag


@pytest.mark.parametrize("name", ["metric", "us"])
def test_a_larger_round_scale_would_not_fit(name: str, documents: dict[str, Document]) -> None:
    for spec in specs(documents[name]):
        points = [point for room in spec.rooms for point in room.outline]
        points += [place.at for place in spec.places] + [mark.at for mark in spec.marks]
        points += [point for pathway in spec.pathways for point in pathway.points]
        width = max(x for x, _ in points) - min(x for x, _ in points)
        height = max(y for _, y in points) - min(y for _, y in points)
        scale = layout.scale_of(spec)
        assert width * 1000 / scale < SHEET_MM[0]
        assert height * 1000 / scale < SHEET_MM[1]


@pytest.mark.parametrize("name", ["metric", "us"])
def test_the_smallest_text_prints_at_seven_points(name: str, documents: dict[str, Document]) -> None:
    for spec in specs(documents[name]):
        assert smallest_text_pt(layout.render(spec, "p").decode()) >= 7.0


def test_equal_specs_give_equal_bytes_and_tell_nothing_of_the_run(documents: dict[str, Document]) -> None:
    spec = specs(documents["metric"])[0]
    once = layout.render(spec, "p")
    assert once == layout.render(spec, "p")
    assert b"<metadata" not in once
    assert b"Matplotlib" not in once


def test_every_room_pathway_and_access_point_of_a_storey_is_on_its_plan(
    documents: dict[str, Document],
) -> None:
    document = documents["metric"]
    shown = specs(document)
    assert sorted(room.tag for spec in shown for room in spec.rooms) == sorted(
        row.tag for row in document.rooms
    )
    tags = {
        part.partition(" · ")[0]
        for spec in shown
        for pathway in spec.pathways
        for part in pathway.tag.split(", ")
    }
    assert tags == {row.tag for row in document.pathways}
    for spec in shown:
        svg = layout.render(spec, "p").decode()
        labels = sum(mark.kind == "access point" for mark in spec.marks)
        assert labels == sum(
            row.kind == "access point" and row.storey == spec.storey for row in document.devices
        )
        for room in spec.rooms:
            assert room.tag in svg


def test_a_client_sees_rooms_without_positions_of_devices_or_pathways(documents: dict[str, Document]) -> None:
    for spec in specs(documents["metric"], "client"):
        assert spec.rooms
        assert spec.marks == ()
        assert spec.pathways == ()


def test_the_alternative_tells_rooms_and_pathways_in_words(documents: dict[str, Document]) -> None:
    document = documents["metric"]
    words = plan.alternative(specs(document)[0])
    in_tray = sum("T01" in row.pathways for row in document.cables)
    assert "Room A001 Assembly Chamber, 18.0 m by 16.0 m" in words
    assert in_tray
    assert f"Tray T01 with {in_tray} cables." in words
