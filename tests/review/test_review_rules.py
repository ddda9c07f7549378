"""From where on a review speaks up is a rule of the project: it judges by what is written, and lists it."""

from dataclasses import replace
from functools import cache

import pytest

from proposal.design.design import Design
from proposal.design.standing_conditions import facts
from proposal.document.making.sensitivity import cases_of
from proposal.model.pathways.pathways import Pathway
from proposal.model.project import Project
from proposal.review.cable_routes import outside
from proposal.review.cabling import links
from proposal.review.rooms import spares
from proposal.standards.nfpa70 import BUNDLED_POWER, MAINS_DISTANCE
from tests.design.making import changed, designed, minimal, with_layout


@cache
def in_rack() -> Design:
    """Return the one-room building with every device cabled to the rack."""
    return designed(with_layout(minimal(), "meeting", network="rack"))


def ruled(name: str, value: float) -> Project:
    return changed(in_rack().project, f"brief.rules.review.{name}", value)


@pytest.mark.independent
@pytest.mark.parametrize(
    ("share", "warned"),
    [
        # Limits of 90 m / 1.03 and / 1.04 leave 81.3, 78.3 and 77.5 % beyond 16.3 m, 18.75 m and 19.47 m.
        (0.05, []),
        (0.774, []),
        (0.78, ["B001-BO1/N1/ER1-RK1"]),
        (0.79, ["B001-BO1/N1/ER1-RK1", "B001-CH1/N1/ER1-RK1"]),
    ],
)
def test_a_link_is_near_its_limit_as_the_project_says(share: float, warned: list[str]) -> None:
    found = [one.where for one in links(ruled("near_limit", share), in_rack())]
    assert sorted(found) == warned


@pytest.mark.independent
@pytest.mark.parametrize(
    ("tolerance", "warned"),
    [
        # 19.47 m times 4.44 is 86.45 m, times 4.45 86.64 m, 18.75 m times 4.62 86.63 m; limits of 86.54 m.
        (3.44, []),
        (3.45, ["B001-BO1/N1/ER1-RK1"]),
        (3.62, ["B001-BO1/N1/ER1-RK1", "B001-CH1/N1/ER1-RK1"]),
    ],
)
def test_an_estimate_that_passes_its_limit_with_its_tolerance_is_to_be_measured(
    tolerance: float, warned: list[str]
) -> None:
    project = changed(ruled("near_limit", 0.0), "brief.rules.takeoff.length_tolerance", tolerance)
    found = list(links(project, in_rack()))
    assert sorted(one.where for one in found) == warned
    assert all("Measure the route on site" in one.remedy for one in found)
    measured = replace(in_rack(), cables=tuple(replace(cable, measured=True) for cable in in_rack().cables))
    assert list(links(project, measured)) == []


@pytest.mark.independent
@pytest.mark.parametrize(("most_m", "noted"), [(30.0, 0), (14.7, 0), (14.6, 1)])
def test_a_run_is_far_outside_pathways_as_the_project_says(most_m: float, noted: int) -> None:
    # The cable of 19.47 m without 3 m and 1.5 m of slack and 0.3 m for both ends: 14.67 m.
    project = changed(
        ruled("outside_pathways", most_m), "building.pathways", {"T1": Pathway.model_construct()}
    )
    found = list(outside(project, in_rack()))
    assert [(one.value, one.limit) for one in found] == [(pytest.approx(14.67), most_m)] * noted


@pytest.mark.independent
@pytest.mark.parametrize(
    ("microphones", "wanted"),
    [(10, None), (2, None), (1, 2.0)],  # two microphones in use, one spare
)
def test_spares_are_wanted_as_the_project_says(microphones: int, wanted: float | None) -> None:
    found = list(spares(ruled("microphones_a_spare", microphones), in_rack()))
    assert [one.limit for one in found] == ([] if wanted is None else [wanted])
    assert all("every 1 microphone in use" in one.remedy for one in found)


@pytest.mark.independent
@pytest.mark.parametrize(("height_m", "high"), [(3.0, False), (2.7, False), (2.6, True)])
def test_work_is_high_as_the_project_says(height_m: float, high: bool) -> None:
    # The access point hangs at 2.7 m, and nothing is higher.
    ruled_so = replace(in_rack(), project=ruled("work_at_height", height_m))
    assert ("work at height" in facts(ruled_so)) == high


def test_what_is_not_written_is_an_assumption_and_moves_no_price() -> None:
    project = minimal()
    taken = {one.path[-1]: one.value for one in project.assumptions if one.path[2:3] == ("review",)}
    assert taken == {
        "near_limit": 0.05,
        "outside_pathways": 30.0,
        "microphones_a_spare": 10,
        "work_at_height": 3.0,
    }
    tried = {case.path[2] for case in cases_of(project) if case.path[:2] == ("project", "rules")}
    assert not tried & {"review", "priorities"}
    assert "cabling" in tried
    further = {case.path[3] for case in cases_of(project) if case.path[:2] == ("project", "rules")}
    assert not further & {"interference_shift", "panel_ports"}
    assert {"fade_margin", "rack_slack"} <= further


@pytest.mark.published
def test_limits_of_publications_stand_with_them() -> None:
    assert MAINS_DISTANCE.value == pytest.approx(2 * 0.0254)  # two inches
    assert BUNDLED_POWER.value == 60
