"""Things near a point are found ring by ring, from anywhere."""

import itertools
import math
import random
import time

import pytest

from proposal.design.pathways.entry_points import CELL_M, JoinGrid


def test_a_point_far_away_finds_what_there_is_without_looking_at_all_between() -> None:
    grid = JoinGrid([("T1", (0.0, 0.0, 3.0), (40.0, 0.0, 3.0)), ("T2", (0.0, 90.0, 3.0), (5.0, 90.0, 3.0))])
    begun = time.process_time()
    rings = list(grid.around((200_000.0, 5.0, 1.0)))
    # Ring by ring from the point, there would be 1.6 thousand million cells.
    assert time.process_time() - begun < 2
    assert [item for _, items in rings for item in items] == ["T1", "T2"]


@pytest.mark.independent
def test_rings_hold_everything_once_and_no_nearer_than_they_say() -> None:
    chance = random.Random(7)
    items = []
    for name in range(60):
        x, y = chance.uniform(-200, 200), chance.uniform(-200, 200)
        items.append((name, (x, y, 0.0), (x + chance.choice((0, 30)), y, 0.0)))
    grid = JoinGrid(items)
    for at in itertools.product((-900.0, -40.0, 35.0, 700.0), repeat=2):
        rings = list(grid.around((*at, 0.0)))
        assert sorted(item for _, found in rings for item in found) == list(range(60))
        for nearest_m, found in rings:
            for item in found:
                (left, y, _), (right, _, _) = items[item][1:]
                away_m = math.hypot(max(left - at[0], at[0] - right, 0), y - at[1])
                assert away_m >= nearest_m - 1e-9
                assert nearest_m % CELL_M == 0
