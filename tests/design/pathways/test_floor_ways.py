"""Cables of devices that stand away from walls: down to the floor, along it to a wall or a box, and up."""

import pytest

from proposal.design.connections.cable import Cable
from proposal.model.project import Project
from proposal.review.cable_routes import on_floors
from proposal.review.finding import Finding
from tests.design.making import designed, minimal, with_layout


def breakout_cable(project: Project) -> tuple[Cable, list[Finding]]:
    """Return the cable from the breakout to the rack, and what the review says of cables on floors."""
    made = designed(project)
    (cable,) = (one for one in made.cables if one.identity == "B001-BO1/N1/ER1-RK1")
    return cable, list(on_floors(made.project, made))


def test_a_cable_from_the_middle_of_a_room_goes_along_the_floor_to_the_nearest_wall() -> None:
    """The room is 6 m by 5 m and begins at 1 m, 1 m; the rack is at 12 m, 2 m, cables run at 3.1 m.

    The breakout stands 2.28 m from the west wall, 2.5 m from the south wall: down 0.75, along 2.28,
    up 3.1, along 11 + 1.5, and 2.1 down to the rack.
    """
    cable, found = breakout_cable(with_layout(minimal(), "meeting", breakouts_at=(2.28, 2.5)))
    assert cable.route.rises_at == (1.0, 3.5)
    assert cable.route.floor_m == pytest.approx(2.28)
    assert cable.route.length_m == pytest.approx(0.75 + 2.28 + 3.1 + 11 + 1.5 + 2.1)
    assert cable.route.text.startswith("down to the floor, along the floor to the wall, to the ceiling way")
    (one,) = found
    assert (one.rule, one.where, one.limit) == ("cable-on-the-floor", "B001", 1.5)
    # The charger before the middle of the south wall is 0.72 m and 2 m from it, along the floor too.
    assert one.value == pytest.approx(2.72)
    assert one.message.startswith("3 cables of room B001 (B001-AP1/N1/B001-BO1, ")
    assert "2.7 m of floor duct" in one.remedy


@pytest.mark.parametrize(
    ("away_m", "floor_m"),
    [(0.5, 0.0), (0.75, 0.0), (0.8, 0.8), (1.5, 1.5)],
    ids=["at the wall", "on deep furniture", "in the room", "behind its furniture"],
)
def test_what_stands_at_a_wall_needs_no_way_along_the_floor(away_m: float, floor_m: float) -> None:
    """People walk on what lies farther than 1.5 m along a floor; nearer it lies behind furniture."""
    cable, found = breakout_cable(with_layout(minimal(), "meeting", breakouts_at=(3.0, away_m)))
    assert cable.route.rises_at == (4.0, 1.0)
    assert cable.route.floor_m == pytest.approx(floor_m)
    assert not found


def test_devices_of_one_room_of_which_one_stands_in_the_middle_are_joined_along_the_floor() -> None:
    """The charger stands at the south wall, 2 m from the breakout: 0.75 down, 2 m along, 0.75 up."""
    project = with_layout(minimal(), "meeting", charging_at=(3.0, 0.5), breakouts_at=(3.0, 2.5))
    (cable,) = (one for one in designed(project).cables if one.identity == "B001-CH1/N1/B001-BO1")
    assert cable.route.text == "down to the floor, along the floor, up to BO1"
    assert cable.route.length_m == pytest.approx(0.75 + 2 + 0.75)
