"""Walls to which nothing may be fixed: cables that come down there, and outlets at them."""

from proposal.design.design import Design
from proposal.review.finding import Finding
from proposal.review.untouchable_walls import cables_at_untouchable_walls
from tests.design.making import designed, minimal, with_layout


def found(made: Design) -> list[Finding]:
    return list(cables_at_untouchable_walls(made.project, made))


def made_with(**written: object) -> Design:
    """Return the small room with something written of its kind."""
    return designed(with_layout(minimal(), "meeting", **written))


def test_a_cable_of_a_charger_that_comes_down_beside_a_wall_is_told() -> None:
    (told,) = found(made_with(untouchable={"walls": "The panelling is listed."}))
    assert (told.rule, told.severity, told.where) == ("cables-at-untouchable-walls", "warning", "B001")
    assert "of B001 (The panelling is listed), and " in told.message
    # From the ceiling to the breakout on the table, and from there to the rack.
    assert "2 cables (B001-AP1/N1/B001-BO1 and B001-BO1/N1/ER1-RK1) come down beside a wall" in told.message


def test_walls_of_which_nothing_is_written_are_free() -> None:
    assert found(made_with()) == []
    assert found(made_with(untouchable={"ceiling": "Painted."})) == []


def test_an_outlet_at_such_a_wall_is_told_and_one_in_the_room_is_not() -> None:
    walls = {"walls": "The panelling is listed."}
    (beside,) = found(made_with(untouchable=walls))
    assert "mains outlets for B001-BO1 and B001-CH1 are planned at one" in beside.message
    (inside,) = found(made_with(untouchable=walls, charging_at=(3.0, 2.5)))
    assert "outlets" not in inside.message.partition("Lead")[0]
