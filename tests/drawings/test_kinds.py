"""Every kind of drawing is in the list of drawings and has a folder that draws it; nothing else is or has."""

from pathlib import Path

import pytest

import proposal.drawings
from proposal.document.document import Document
from proposal.document.rows.sheets import SheetRow
from proposal.drawings.drawing import Kind
from proposal.drawings.kinds import kind_called
from proposal.editions import readers_of
from proposal.estimate.drawing_list import KINDS, Sources, all_sheets, charged_sheets, kept_sheets
from proposal.model.loading import load_project
from proposal.pipeline import Computed, compute

ROOT = Path(__file__).parents[2]
ENGINES = {"figure", "graph", "plan"}


class OfDesign:
    """What follows from a project before anything is known of labour and programme."""

    def __init__(self, computed: Computed) -> None:
        self.project, self.design, self.estimate = computed.project, computed.design, computed.estimate

    @property
    def programme(self) -> None:
        raise AssertionError("the programme follows from the labour")


@pytest.fixture(scope="module")
def computed() -> Computed:
    return compute(load_project(ROOT / "tests" / "projects" / "minimal"))


def test_the_list_of_drawings_and_the_folders_that_draw_know_the_same_kinds() -> None:
    (package,) = map(Path, proposal.drawings.__path__)
    folders = {path.parent.name for path in package.glob("*/__init__.py")} - ENGINES
    assert {kind.name.replace(" ", "_") for kind in KINDS} == folders
    assert all(isinstance(kind_called(kind.name), Kind) for kind in KINDS)


def test_no_two_kinds_share_a_name_or_a_series_of_numbers() -> None:
    assert len({kind.name for kind in KINDS}) == len({kind.series for kind in KINDS}) == len(KINDS)


def test_sheets_stand_in_the_field_of_the_document_that_their_kind_names(computed: Computed) -> None:
    # Who reads a sheet is who reads the field that it stands in.
    readers = readers_of(Document)
    read_by = {kind.name: readers[kind.listed] for kind in KINDS}
    everyone = readers["sheets"]
    assert {name for name, who in read_by.items() if who != everyone} == {
        *("riser detail", "conduit sections", "radio neighbours", "rack elevation", "cut plan"),
        "mounting details",
        "equipment room plan",
        "device schedule",
        "crew loading",
    }
    assert "client" not in frozenset.union(*(who for who in read_by.values() if who != everyone))
    assert read_by["crew loading"] == {"reviewer", "estimator"}
    fields = {
        name for name, field in Document.model_fields.items() if field.annotation == tuple[SheetRow, ...]
    }
    assert fields == {kind.listed for kind in KINDS}
    assert {sheet.kind.name for sheet in all_sheets(computed)} <= set(read_by)


def test_sheets_whose_hours_are_counted_follow_from_no_labour(computed: Computed) -> None:
    alone: Sources = OfDesign(computed)
    assert [sheet.number for sheet in charged_sheets(alone)] == [
        "R-01",
        "D-01",
        "P-01",
        "S-01",
        "E-01",
    ]
    kept = {sheet.number for sheet in kept_sheets(alone)}
    assert kept >= {"R-01", "D-01", "P-01", "S-01", "E-01"}
    # Numbers that are not kept follow from the part alone.
    others = [sheet for sheet in all_sheets(computed) if sheet.number not in kept]
    assert all(sheet.number == f"{sheet.kind.series}-{sheet.part:02d}" for sheet in others)


def test_every_sheet_of_a_drawing_says_which_part_it_is(computed: Computed) -> None:
    for sheet in all_sheets(computed):
        assert (sheet.parts > 1) == sheet.title.endswith(f"({sheet.part} of {sheet.parts})")
        assert sheet.identity == f"sheet/{sheet.kind.series}/{sheet.subject}/{sheet.part}"
