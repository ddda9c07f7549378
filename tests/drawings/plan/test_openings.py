"""Doors in walls and the grids of ceilings, as lines."""

import math

import pytest

from proposal.drawings.plan.openings import doors_of, grid_lines

ROOM = ((0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0))


def test_a_door_stands_in_the_nearest_wall_and_opens_into_the_room() -> None:
    (door,) = doors_of(ROOM, [((4.0, 1.0), 0.9)])
    assert sorted(door.gap) == [pytest.approx((4.0, 0.55)), pytest.approx((4.0, 1.45))]
    assert door.leaf[0] in door.gap
    assert door.leaf[1][0] == pytest.approx(3.1)
    assert door.swing[0] == pytest.approx(next(jamb for jamb in door.gap if jamb != door.leaf[0]))
    assert all(math.dist(point, door.leaf[0]) == pytest.approx(0.9) for point in door.swing)


@pytest.mark.parametrize("turning", [ROOM, ROOM[::-1]])
def test_it_opens_inwards_whichever_way_the_corners_run(turning: tuple[tuple[float, float], ...]) -> None:
    for at in ((2.0, 0.0), (4.0, 1.5), (2.0, 3.0), (0.0, 1.5)):
        (door,) = doors_of(turning, [(at, 0.8)])
        assert all(-1e-9 <= x <= 4 + 1e-9 and -1e-9 <= y <= 3 + 1e-9 for x, y in door.swing)


def test_a_wide_door_has_two_leaves() -> None:
    one, two = doors_of(ROOM, [((2.0, 0.0), 1.8)])
    assert one.gap == two.gap
    assert math.dist(*one.leaf) == pytest.approx(0.9)
    assert math.dist(*two.leaf) == pytest.approx(0.9)
    assert one.swing[0] == pytest.approx((2.0, 0.0))
    assert two.swing[0] == pytest.approx((2.0, 0.0))


def test_a_grid_keeps_within_a_room_with_a_corner_cut_out() -> None:
    corner = ((0.0, 0.0), (3.0, 0.0), (3.0, 1.0), (1.0, 1.0), (1.0, 3.0), (0.0, 3.0))
    lines = grid_lines(corner, (1.0, 1.0))
    along_y = {line for line in lines if line[0][0] == line[1][0]}
    assert ((2.0, 0.0), (2.0, 1.0)) in along_y
    assert ((0.0, 2.0), (1.0, 2.0)) in set(lines) - along_y
    assert not any(max(x for x, _ in line) > 1 and max(y for _, y in line) > 1 for line in lines)
    assert grid_lines(corner, ()) == ()
