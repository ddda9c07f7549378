"""Loudspeakers on walls: how far off their axis a listener is, worked by hand.

A room of 10 m by 4 m; the loudspeaker hangs on its west wall, in the middle, 3 m from the corner of the axes.
"""

import math

import pytest

from proposal.design.equipment.loudspeaker_aim import Aim, off_axis_db
from proposal.design.equipment.room_walls import away_m, inward, nearest_wall

ROOM = ((0.0, 0.0), (10.0, 0.0), (10.0, 4.0), (0.0, 4.0))
EAR_M = 1.2


def aim(*, upright: float | None = None, tilt: float = 0.0, height: float = EAR_M) -> Aim:
    return Aim(
        at=(0.0, 2.0), height_m=height, across_deg=90.0, upright_deg=upright, bearing_deg=0.0, tilt_deg=tilt
    )


@pytest.mark.parametrize("corners", [ROOM, tuple(reversed(ROOM))])
def test_a_wall_faces_into_the_room_whichever_way_its_corners_turn(
    corners: tuple[tuple[float, float], ...],
) -> None:
    wall = nearest_wall(corners, (0.2, 2.0))
    assert {*wall} == {(0.0, 0.0), (0.0, 4.0)}
    assert away_m((0.2, 2.0), wall) == pytest.approx(0.2)
    assert inward(wall, corners) == pytest.approx((1.0, 0.0))


def test_nothing_is_lost_on_the_axis() -> None:
    assert off_axis_db(aim(), (4.0, 2.0), EAR_M) == pytest.approx(0.0, abs=1e-9)


def test_six_decibels_are_lost_at_the_edge_of_the_coverage() -> None:
    # 45° to the side, half of 90°.
    assert off_axis_db(aim(), (2.0, 4.0), EAR_M) == pytest.approx(6.0)


def test_a_column_weakens_across_and_upright() -> None:
    # 45° to the side and, seen from a height of 2.828 m · tan 15° above the ears, 15° down.
    high_m = EAR_M + math.hypot(2.0, 2.0) * math.tan(math.radians(15))
    assert off_axis_db(aim(upright=30.0, height=high_m), (2.0, 4.0), EAR_M) == pytest.approx(12.0)
    assert off_axis_db(aim(upright=30.0, height=high_m, tilt=15.0), (2.0, 4.0), EAR_M) == pytest.approx(6.0)


def test_a_cone_that_is_turned_down_to_a_listener_loses_nothing() -> None:
    high_m = EAR_M + 4.0 * math.tan(math.radians(20))
    assert off_axis_db(aim(height=high_m, tilt=20.0), (4.0, 2.0), EAR_M) == pytest.approx(0.0, abs=1e-6)
    # Without that it is 20° off: 6·(2·20/90)².
    assert off_axis_db(aim(height=high_m), (4.0, 2.0), EAR_M) == pytest.approx(1.185, abs=5e-4)
