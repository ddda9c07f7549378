"""Plans and schedule of the old courthouse: its existing conduits, and a cable up one wall and down another.

Room C103 reaches from 74 to 94 ft east, 2 to 18 ft north. The owner's loudspeaker C103-OE1 stands at its
southern wall: its cable goes up there, 2 ft north, and comes down at the eastern wall, 94 ft east.
"""

from functools import cache
from pathlib import Path

import pytest

from proposal.document.document import Document
from proposal.drawings.device_schedule import spec_of as schedule_of
from proposal.drawings.kinds import kind_called
from proposal.drawings.mounting_details.cable_supports import STRUCTURE, cable_supports
from proposal.drawings.plan.storey_drawing import draw_storey, storey_foot
from proposal.drawings.plan.storey_spec import StoreyPlanSpec
from proposal.editions import edition_of
from tests.whole_projects import whole_document

FOOT_M = 0.3048
COURTHOUSE = Path(__file__).resolve().parents[2] / "projects" / "municipal"


@cache
def courthouse() -> Document:
    return whole_document(COURTHOUSE)


def plan(kind: str) -> StoreyPlanSpec:
    edition = edition_of(courthouse(), "installer")
    (spec,) = (
        kind_called(one.kind).spec(edition, one) for one in edition.document.sheets if one.kind == kind
    )
    assert isinstance(spec, StoreyPlanSpec)
    return spec


def schedule_rows(tag: str) -> list[str]:
    """Return the cells of the line of the schedule that begins with a tag."""
    edition = edition_of(courthouse(), "installer")
    lines = [
        [" ".join(cell) for cell in line.cells]
        for one in edition.document.detail_sheets
        if one.kind == "device schedule"
        for line in schedule_of(edition, one).lines
    ]
    (found,) = (line for line in lines if line and line[0] == tag)
    return found


def overhead(spec: StoreyPlanSpec) -> dict[str, tuple[float, float]]:
    """Return where runs of analogue signals go on off a plan, in feet, by what is written there."""
    return {
        run.goes_on: (run.ends[-1][0] / FOOT_M, run.ends[-1][1] / FOOT_M)
        for run in spec.runs
        if run.goes_on and dict(run.signals) == {"analogue": 1}
    }


def test_a_cable_over_the_ceiling_is_drawn_up_over_and_down() -> None:
    floor, ceiling = overhead(plan("floor plan")), overhead(plan("ceiling plan"))
    assert set(floor) == {"up to BO1", "up to OE1"}
    assert set(ceiling) == {"down to BO1", "down to OE1"}
    for at, wanted in ((floor["up to BO1"], (92, 2)), (ceiling["down to OE1"], (92, 2))):
        assert at == pytest.approx(wanted, abs=0.01)
    for at in (floor["up to OE1"], ceiling["down to BO1"]):
        assert at[0] == pytest.approx(94, abs=0.01)
        assert 11 < at[1] < 12
    straight = [run for run in plan("floor plan").runs if not run.goes_on and "analogue" in dict(run.signals)]
    assert straight == []


@pytest.mark.parametrize("kind", ["floor plan", "ceiling plan"])
def test_existing_conduits_are_drawn_and_named_as_existing(kind: str) -> None:
    spec = plan(kind)
    assert {one.kind for one in spec.pathways} == {"existing conduit"}
    assert {one.lines[0] for one in spec.pathways} == {
        "C1 existing conduit 1-1/4",
        "C2 existing conduit 1-1/4",
    }
    assert all("way not surveyed" in one.lines for one in spec.pathways)
    assert 'stroke-dasharray="9 2 1.5 2 1.5 2"' in draw_storey(spec, "p").decode().replace(",", " ")
    assert "existing conduit" in {entry.meaning for entry in storey_foot(spec).entries}


def test_the_schedule_tells_what_exists_and_asks_for_no_hole_for_it() -> None:
    for tag in ("C1", "C2"):
        cells = schedule_rows(tag)
        assert cells[1] == "existing conduit 1-1/4"
        assert "way not surveyed, rod and prove before first fix" in cells
    # Between C101 and C102 stands W1: each hole there is listed once, of both rooms and that wall.
    first = schedule_rows("C101-WO1")
    assert first[1].startswith("east wall of C101, west wall of C102, W1,")
    edition = edition_of(courthouse(), "installer")
    words = " ".join(
        " ".join(" ".join(cell) for cell in line.cells)
        for one in edition.document.detail_sheets
        if one.kind == "device schedule"
        for line in schedule_of(edition, one).lines
    )
    assert words.count("-WO") == words.count("C101-WO") + words.count("C102-WO1")
    assert "P1-WO" not in words


def cable_cells(identity: str) -> str:
    edition = edition_of(courthouse(), "installer")
    (found,) = (
        " ".join(" ".join(cell) for cell in line.cells)
        for one in edition.document.detail_sheets
        if one.kind == "device schedule"
        for line in schedule_of(edition, one).lines
        if line.identity == identity and line.cells
    )
    return found


def test_the_schedule_tells_how_high_cables_run_that_lie_in_no_pathway() -> None:
    """Horizontal runs of the storey are 10 ft 6 in up; the loudspeakers of C101 hang 8 ft up."""
    assert "to the ceiling way, along x and y, down to ER1, level at 10 ft 6 in" in cable_cells(
        "C101-AP1/N1/ER1-RK1"
    )
    assert "along the walls, level at 8 ft" in cable_cells("C101-LS1/L1/C101-LS2")
    assert "level at" not in cable_cells("C103-CH1/N1/C103-BO1")


def test_the_details_tell_heights_of_all_rooms_and_what_holds_cables_in_sight() -> None:
    """C101's ceiling, 16 ft up, may not be touched; those of C102 and C103 are 10 ft and 9 ft 6 in up."""
    (hooks,) = (one for one in cable_supports(courthouse()) if one.location == STRUCTURE)
    assert hooks.heights == (("8 ft", ("C101",)), ("10 ft 6 in", ("C101", "C102", "C103")))
    assert "in C101, in sight below a ceiling" in hooks.models[-1].held_by


def test_the_origin_is_told_by_the_corner_that_stands_there_and_a_rack_by_what_is_given() -> None:
    """The project does not say where its origin is; C101 begins there. Of ER1's walls only W3 is given."""
    assert plan("floor plan").origin == "the south-western corner of C101"
    assert "8 ft N of W3, no wall given across it: from the origin" in " ".join(schedule_rows("ER1-RK1"))
