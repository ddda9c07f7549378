"""A route that the designer fixes is the one a cable takes, or is refused with its line."""

from pathlib import Path

import pytest

from proposal.design.whole_design import design
from proposal.errors import InputError
from proposal.model.loading import load_project
from proposal.model.project import FixedCable, Project
from proposal.pipeline import compute
from tests.design.making import changed

EXAMPLE = Path(__file__).resolve().parents[3] / "example_project"
BETWEEN, IN_A_RACK = "A001-LS2/L1/A001-LS1", "A001-MX1/O1/A001-AM1"


def with_route(identity: str, *tags: str) -> Project:
    cables = {identity: FixedCable(route=tags)}
    return changed(load_project(EXAMPLE), "fixed.cables", cables)


def test_a_line_between_two_loudspeakers_takes_the_pathways_that_are_named() -> None:
    project = with_route(BETWEEN, "T04")
    cable = next(one for one in design(project).cables if one.identity == BETWEEN)
    assert cable.route.pathways == ("T04",)
    first, *_, last = cable.route.stretches
    assert "T04" in first.name
    assert last.name == "along x and y to LS1"
    assert cable.length_m == pytest.approx(cable.route.length_m + cable.slack_m)
    assert "building.pathways.T04" in " ".join(cable.uses)


def test_a_route_that_a_cable_cannot_take_is_refused() -> None:
    with pytest.raises(InputError) as error:
        compute(with_route(IN_A_RACK, "T01"))
    (problem,) = error.value.problems
    assert problem.field == f"cables.{IN_A_RACK}.route"
    assert problem.message.startswith("wanted a cable that leaves its rack")
