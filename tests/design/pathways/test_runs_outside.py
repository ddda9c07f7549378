"""Level runs outside pathways: drawn by hand, cut where they meet."""

import pytest

from proposal.design.pathways.cable_routes import CableRoute, Stretch
from proposal.design.pathways.runs_outside import RunOutside, runs_outside

pytestmark = pytest.mark.independent

HEIGHT = 3.0


def route(start: tuple[float, float], end: tuple[float, float], height_m: float = HEIGHT) -> CableRoute:
    """Return a route with one level run outside pathways."""
    along_m = abs(end[0] - start[0]) + abs(end[1] - start[1])
    return CableRoute((Stretch("along", along_m, level=((*start, height_m), (*end, height_m))),))


def plan(runs: tuple[RunOutside, ...]) -> dict[tuple[tuple[float, float], tuple[float, float]], str]:
    """Return the cables of each run by where it begins and ends in plan."""
    return {(run.start[:2], run.end[:2]): " ".join(run.cables) for run in runs}


def test_a_run_goes_along_x_first_and_begins_on_the_racks_side() -> None:
    runs = runs_outside([("A", route((0, 0), (4, 3)))], 1.0)
    assert plan(runs) == {((4, 0), (0, 0)): "A", ((4, 3), (4, 0)): "A"}
    assert [run.length_m for run in runs] == [4.0, 3.0]


def test_two_runs_that_lie_on_each_other_are_one_from_where_they_meet() -> None:
    """B joins A's run along y two metres up.

        rack (4, 10)
          |   A and B, 8 m
    B ----+ (4, 2)      4 m of B alone
          |   A, 2 m
    A ----+ (4, 0)      4 m of A alone
    """
    runs = runs_outside([("A", route((0, 0), (4, 10))), ("B", route((0, 2), (4, 10)))], 1.0)
    assert plan(runs) == {
        ((4, 0), (0, 0)): "A",
        ((4, 2), (0, 2)): "B",
        ((4, 2), (4, 0)): "A",
        ((4, 10), (4, 2)): "A B",
    }
    assert sum(run.length_m for run in runs) == 18.0


def test_runs_at_other_heights_or_only_crossing_share_nothing() -> None:
    apart = runs_outside([("A", route((0, 0), (6, 0))), ("B", route((0, 0), (6, 0), 2.5))], 1.0)
    assert [run.cables for run in apart] == [("B",), ("A",)]
    crossing = runs_outside([("A", route((0, 2), (6, 2))), ("B", route((3, 0), (3, 5)))], 1.0)
    assert [run.length_m for run in crossing] == [6.0, 5.0]


def test_lengths_hold_the_ways_round_obstacles() -> None:
    assert [run.length_m for run in runs_outside([("A", route((0, 0), (6, 0)))], 1.25)] == [7.5]


def test_pathways_and_vertical_stretches_are_no_runs_outside() -> None:
    stretches = (Stretch("up", 2.0, vertical=True), Stretch("T1", 9.0, "T1"))
    assert runs_outside([("A", CableRoute(stretches))], 1.0) == ()
