"""Which pathways ask for openings at known places, by the lengths of the project in the old courthouse.

N1 is at 50 ft E, 42 ft N, 10 ft 6 in high, FB1 at 43 ft, 33 ft on the floor: the straight line between them
is √(7² + 9² + 10.5²) = 15.51 ft, and conduit C1 is 58 ft long.
"""

import pytest

from proposal.design.pathways.known_ways import goes_straight, makes_openings
from proposal.design.whole_design import design
from proposal.estimate.plan_sheets import openings_in_walls
from proposal.model.project import Project
from proposal.review.pathway_ways import unknown_ways
from tests.design.making import PROJECTS, changed, project_of

FOOT_M = 0.3048


def courthouse(**values: object) -> Project:
    """Return the project with conduit C1 so."""
    project = project_of(PROJECTS / "municipal")
    conduit = project.building.pathways["C1"].model_copy(update=values)
    return changed(project, "building.pathways", {**project.building.pathways, "C1": conduit})


@pytest.mark.parametrize(
    ("length_ft", "straight"), [(None, True), (15.51, True), (15.6, False), (58.0, False)]
)
def test_a_conduit_longer_than_the_straight_line_goes_nobody_says_where(
    length_ft: float | None, straight: bool
) -> None:
    length_m = None if length_ft is None else length_ft * FOOT_M
    project = courthouse(length=length_m, existing=False)
    assert goes_straight(project, "C1") is straight
    assert makes_openings(project, "C1") is straight
    assert not makes_openings(courthouse(length=length_m, existing=True), "C1")


def passing(project: Project) -> set[str]:
    made = design(project)
    return {name for one in openings_in_walls(project, made, "1") for name in one.names}


def test_an_existing_conduit_asks_for_no_opening_and_a_new_straight_one_does() -> None:
    assert not passing(courthouse()) & {"C1", "C2"}
    assert not passing(courthouse(existing=False)) & {"C1"}
    # Straight from N1 behind the northern wall to FB1: through that wall.
    assert "C1" in passing(courthouse(existing=False, length=None))


def test_the_way_of_a_new_conduit_through_walls_is_asked_for() -> None:
    def asked(project: Project) -> list[str]:
        found = list(unknown_ways(project, design(project)))
        assert {one.rule for one in found} <= {"pathway-way-unknown"}
        return [one.where for one in found]

    assert asked(courthouse()) == []
    assert asked(courthouse(existing=False)) == ["C1"]
    assert asked(courthouse(existing=False, length=None)) == []
