"""Hooks along runs outside pathways, counted by hand."""

import pytest

from proposal.design.pathways.cable_routes import CableRoute, Stretch
from proposal.design.pathways.runs_outside import runs_outside
from proposal.estimate.takeoff.supports import supports_of_runs
from proposal.pipeline import compute
from tests.design.making import EXAMPLE, project_of

pytestmark = pytest.mark.independent

HOOK_M2 = 400e-6
"""What a hook of 800 mm² may hold at half its area."""
CABLE_M2 = 30e-6


def hooks(*ways: tuple[tuple[float, float], tuple[float, float]]) -> list[tuple[float, int, int]]:
    """Return length, hooks side by side and hooks counted of each run of cables that lie at one height."""
    routes = [
        (f"C{n}", CableRoute((Stretch("along", 1.0, level=((*start, 3.0), (*end, 3.0))),)))
        for n, (start, end) in enumerate(ways)
    ]
    runs = runs_outside(routes, 1.0)
    areas_m2 = dict.fromkeys((identity for identity, _ in routes), CABLE_M2)
    found = supports_of_runs(runs, areas_m2, 1.5, HOOK_M2)
    return [(held.run.length_m, held.side_by_side, held.count) for held in found]


@pytest.mark.parametrize(("length_m", "count"), [(0.4, 1), (1.4, 1), (1.5, 2), (2.9, 2), (3.0, 3), (10.0, 7)])
def test_a_run_has_a_hook_where_it_begins_and_one_each_metre_and_a_half(length_m: float, count: int) -> None:
    """floor(L/1.5) + 1."""
    assert hooks(((0, 0), (length_m, 0))) == [(length_m, 1, count)]


def test_cables_on_one_run_share_its_hooks() -> None:
    assert hooks(*[((0, 0), (10, 0))] * 13) == [(10.0, 1, 7)]


def test_as_many_hooks_stand_side_by_side_as_hold_the_cables() -> None:
    """14 · 30 mm² are 420 mm², more than one hook of 400 mm² and less than two: 2 · 7."""
    assert hooks(*[((0, 0), (10, 0))] * 14) == [(10.0, 2, 14)]


def test_an_end_that_runs_share_has_one_hook() -> None:
    """Along y at 0, 1.5, 3.0, 4.5 and 6.0 m from the racks; there begin 3 along x: 5 + 3 − 1."""
    assert sum(count for _, _, count in hooks(((0, 0), (4, 6)))) == 7


def test_a_shared_end_has_as_many_hooks_as_the_fuller_run_needs() -> None:
    """14 cables along 3 m of y need two hooks at 0, 1.5 and 3.0; the last of them ends 3 m of x with one."""
    found = hooks(*[((0, 0), (0, 3))] * 13, ((3, 0), (0, 3)))
    assert found == [(3.0, 1, 2), (3.0, 2, 6)]


def test_rooms_of_the_example_add_to_the_hooks_of_the_building() -> None:
    """Whole hooks in each room, and no run counted for two rooms."""
    computed = compute(project_of(EXAMPLE))
    lines = [line for line in computed.estimate.lines if line.section == "supports"]
    assert all(line.quantity == int(line.quantity) for line in lines)
    shared = [
        run
        for run in computed.design.runs_outside
        if len({identity.partition("-")[0] for identity in run.cables}) > 1
    ]
    assert shared, "cables of several rooms lie on one run beside the racks"
    hung = sum(line.units for line in computed.labour.lines if line.task == "hang a hook")
    assert hung == sum(line.quantity for line in lines)
