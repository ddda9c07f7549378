"""Pulls through conduits: tension against a numerical integration, bends between pull points."""

import itertools
import math
import random
from typing import Any

import pytest

from proposal.design.pathways.cables_in_pathways import CableInPathway
from proposal.design.pathways.pulling import Part, PullRun, divided, pull_runs
from proposal.model.design_rules import Rules
from proposal.model.pathways.building import Building
from proposal.model.project import Project
from tests.design.pathways.test_fill import cable, cables
from tests.design.pathways.test_pathway_graph import building_of, conduit, project_with, tray

LINE = {f"N{n}": ("L0", 10.0 * n, 0.0, 3.0) for n in range(9)}


def runs(
    pathways: dict[str, dict[str, Any]],
    laid: list[CableInPathway],
    nodes: dict[str, tuple[str, float, float, float]] | None = None,
    kinds: dict[str, str] | None = None,
    rules: dict[str, Any] | None = None,
) -> tuple[PullRun, ...]:
    building = building_of(nodes or LINE, pathways)
    for tag, kind in (kinds or {}).items():
        building["nodes"][tag]["kind"] = kind
    project = project_with(building, rules)
    return pull_runs(project, dict.fromkeys(pathways, laid))


def integrated_n(
    parts: list[tuple[float, float, float]], weight: float, friction: float, tension: float
) -> float:
    """Return the tension behind straight parts and bends, by small steps along both (Runge-Kutta).

    parts: length in m, slope in degrees, bend behind it in degrees.
    """

    def step(slope: float, size: float, value: float, count: int = 2000) -> float:
        # dT/ds = slope, or dT/dθ = friction · T where slope is None
        for _ in range(count):
            h = size / count
            if math.isnan(slope):
                k1 = friction * value
                k2 = friction * (value + h / 2 * k1)
                k3 = friction * (value + h / 2 * k2)
                k4 = friction * (value + h * k3)
            else:
                k1 = k2 = k3 = k4 = slope
            value += h / 6 * (k1 + 2 * k2 + 2 * k3 + k4)
        return value

    for length_m, rise, bend in parts:
        angle = math.radians(rise)
        tension = step(weight * (math.sin(angle) + friction * math.cos(angle)), length_m, tension)
        tension = step(math.nan, math.radians(bend), tension)
    return tension


@pytest.mark.independent
def test_tension_agrees_with_an_integration_in_both_directions() -> None:
    nodes = {"N1": ("L0", 0.0, 0.0, 0.0), "N2": ("L0", 24.0, 0.0, 3.0)}
    run = runs({"C1": conduit("N1", "N2", bends=(90.0, 45.0, 30.0))}, cables(3), nodes)[0]
    pull = run.pulls[0]
    length_m = math.dist((0, 0), (24, 3)) / 4
    rise = math.degrees(math.atan2(3, 24))
    forward = [(length_m, rise, bend) for bend in (90.0, 45.0, 30.0, 0.0)]
    backward = [(length_m, -rise, bend) for bend in (30.0, 45.0, 90.0, 0.0)]
    assert pull.forward_n == pytest.approx(integrated_n(forward, 1.2, 0.35, 30.0), rel=1e-9)
    assert pull.backward_n == pytest.approx(integrated_n(backward, 1.2, 0.35, 30.0), rel=1e-9)
    assert pull.tension is not None
    assert pull.tension.result == pytest.approx(min(pull.forward_n, pull.backward_n), rel=1e-12)
    assert pull.tension.limit == 330


@pytest.mark.pinned
def test_the_check_value_of_common_practice_comes_out() -> None:
    # 5 × 10 m, four right angles, friction 0.35, 0.45 N/m, 10 N at the reel: about 122 N, over 110 N
    nodes = {"N1": ("L0", 0.0, 0.0, 3.0), "N2": ("L0", 50.0, 0.0, 3.0)}
    run = runs({"C1": conduit("N1", "N2", bends=(90.0,) * 4)}, [cable(1, weight_n_per_m=0.45)], nodes)[0]
    tension = run.pulls[0].tension
    assert tension is not None
    assert tension.result == pytest.approx(121.6, abs=0.05)
    assert tension.verdict == "fails"
    assert run.pulls[0].degrees == 360


def test_conduits_that_follow_each_other_are_pulled_as_one() -> None:
    pathways = {
        "C1": conduit("N1", "N2", bends=(90.0,)),
        "C2": conduit("N3", "N2", bends=(45.0, 90.0)),
        "T1": tray("N3", "N4"),
    }
    found = runs(pathways, cables(1))
    assert [(run.conduits, run.start, run.end) for run in found] == [(("C1", "C2"), "N1", "N3")]
    assert found[0].pulls[0].degrees == 225
    assert [part.bend_degrees for part in found[0].pulls[0].parts] == [90, 0, 90, 45, 0]


def test_a_pull_box_ends_a_pull() -> None:
    pathways = {"C1": conduit("N1", "N2", bends=(90.0,)), "C2": conduit("N2", "N3", bends=(90.0,))}
    assert len(runs(pathways, cables(1))) == 1
    assert len(runs(pathways, cables(1), kinds={"N2": "pull box"})) == 2


def test_pull_points_are_put_where_bends_would_pass_360_degrees() -> None:
    run = runs({"C1": conduit("N1", "N2", bends=(90.0,) * 5)}, cables(1))[0]
    assert run.pull_points == ("C1",)
    assert [pull.degrees for pull in run.pulls] == [360, 90]
    assert sum(pull.length_m for pull in run.pulls) == pytest.approx(10.0)
    four = runs({"C1": conduit("N1", "N2", bends=(90.0,) * 4)}, cables(1))[0]
    assert four.pull_points == ()


def test_a_written_number_of_pull_points_stands() -> None:
    run = runs({"C1": conduit("N1", "N2", bends=(90.0,) * 5, pull_points=0)}, cables(1))[0]
    assert run.written
    assert [pull.degrees for pull in run.pulls] == [450]
    two = runs({"C1": conduit("N1", "N2", bends=(90.0,) * 5, pull_points=2)}, cables(1))[0]
    assert sorted(pull.degrees for pull in two.pulls) == [90, 180, 180]


def test_long_runs_want_pull_points_though_they_are_straight() -> None:
    nodes = {"N1": ("L0", 0.0, 0.0, 3.0), "N2": ("L0", 95.0, 0.0, 3.0)}
    run = runs({"C1": conduit("N1", "N2")}, cables(1), nodes)[0]
    assert run.pull_points == ()
    assert run.wanted_points == 3
    written = runs({"C1": conduit("N1", "N2", pull_points=3)}, cables(1), nodes)[0]
    assert max(pull.length_m for pull in written.pulls) <= 30


@pytest.mark.independent
@pytest.mark.parametrize("seed", range(20))
def test_pull_points_leave_the_least_bends_that_any_division_does(seed: int) -> None:
    draw = random.Random(seed)
    bends = [draw.choice((30.0, 45.0, 90.0)) for _ in range(draw.randint(1, 8))]
    parts = [Part("C1", 1.0, 0.0, bend) for bend in (*bends, 0.0)]
    for points in range(min(3, len(bends) - 1) + 1):
        best = min(
            max(sum(bends[a:b]) for a, b in itertools.pairwise((0, *cuts, len(bends))))
            for cuts in itertools.combinations(range(1, len(bends)), points)
        )
        pieces = divided(parts, points)
        assert len(pieces) == points + 1
        assert max(sum(part.bend_degrees for part in piece) for piece in pieces) == best
        assert sum(part.length_m for piece in pieces for part in piece) == pytest.approx(len(parts))


def test_an_empty_conduit_is_not_pulled() -> None:
    run = runs({"C1": conduit("N1", "N2", bends=(90.0,))}, [])[0]
    assert run.pulls[0].tension is None


def test_conduits_in_a_ring_are_one_run() -> None:
    nodes = {"N1": ("L0", 0.0, 0.0, 3.0), "N2": ("L0", 9.0, 0.0, 3.0), "N3": ("L0", 9.0, 9.0, 3.0)}
    pathways = {"C1": conduit("N1", "N2"), "C2": conduit("N2", "N3"), "C3": conduit("N3", "N1")}
    found = runs(pathways, cables(1), nodes)
    assert [run.conduits for run in found] == [("C1", "C2", "C3")]


def test_friction_and_back_tension_come_from_the_rules() -> None:
    rules = {"pathways": {"friction": 0.0, "back_tension": 7.0}}
    run = runs({"C1": conduit("N1", "N2", bends=(90.0,))}, cables(2), rules=rules)[0]
    assert run.pulls[0].forward_n == pytest.approx(14.0)


def test_a_project_without_pathways_has_no_runs() -> None:
    project = Project.model_construct(
        building=Building.model_validate(
            {
                "storeys": {"L0": {"name": "Ground", "height": 0.0, "slab_to_slab": 4.0}},
                "equipment_rooms": {
                    "ER1": {"name": "Racks", "storey": "L0", "at": (0.0, 0.0), "racks": {"RK1": {}}}
                },
            }
        ),
        brief=Rules(),
    )
    assert pull_runs(project, {}) == ()
