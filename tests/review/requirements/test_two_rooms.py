"""A tenant's two rooms without a rack: every sentence of the brief that asks for something is answered."""

from functools import cache

from proposal.pipeline import Computed
from tests.review.editing import PROJECTS
from tests.review.requirements.briefs import answered_point_by_point, brief_of, points_of
from tests.whole_projects import whole_computed

FOLDER = PROJECTS / "two_rooms"
STATED = {"R-12": "stated", "R-13": "by others"}


@cache
def computed() -> Computed:
    return whole_computed(FOLDER)


def test_the_brief_of_one_page_is_answered_point_by_point() -> None:
    brief = brief_of(FOLDER)
    answered_point_by_point(brief, computed().project.requirements.values())
    assert len(points_of(brief)) == 10


def test_all_that_figures_answer_is_met_and_that_is_two_thirds_at_least() -> None:
    verdicts = {one.tag: one.verdict for one in computed().answered}
    assert {tag: one for tag, one in verdicts.items() if one != "met"} == STATED
    assert 3 * (len(verdicts) - len(STATED)) >= 2 * len(verdicts)


def test_nothing_stands_in_a_rack_and_nothing_of_the_landlords_is_joined() -> None:
    design = computed().design
    assert not design.racks
    assert not design.project.building.equipment_rooms
    assert {room.equipment_room for room in design.rooms} == {""}


def test_nobody_finds_anything_but_leads_of_the_tenant() -> None:
    """Conferencing units and recorder stand on furniture of the tenant, who brings what leads to them."""
    assert {one.rule for one in computed().findings} == {"lead-not-counted"}
