"""Ways of runs on plans: at right angles, clear of symbols, arrows from the amplifier on."""

from itertools import pairwise

import pytest

from proposal.drawings.label_ground import crosses
from proposal.drawings.plan.run_routes import arrow_along, legs_through, routes

Box = tuple[float, float, float, float]


def symbol(x: float, y: float) -> Box:
    return x - 5, y - 5, x + 5, y + 5


def test_a_run_in_the_open_takes_one_corner_and_a_straight_one_none() -> None:
    assert routes([((0, 0), (40, 30))], []) == (((0, 0), (40, 0), (40, 30)),)
    assert routes([((0, 0), (40, 0))], []) == (((0, 0), (40, 0)),)


def test_a_run_takes_the_other_corner_where_a_symbol_is_in_the_way() -> None:
    (way,) = routes([((0, 0), (40, 30))], [symbol(0, 0), symbol(40, 0), symbol(40, 30)])
    assert way == ((0, 0), (0, 30), (40, 30))


@pytest.mark.parametrize("between", [1, 2, 3])
def test_a_straight_run_goes_round_what_stands_on_its_line(between: int) -> None:
    """The line from the first loudspeaker of a row to the last does not look as if it joined the others."""
    row = [symbol(60.0 * n, 0) for n in range(between + 2)]
    start, end = (0.0, 0.0), (60.0 * (between + 1), 0.0)
    (way,) = routes([(start, end)], row)
    assert (way[0], way[-1]) == (start, end)
    for box in row[1:-1]:
        assert not any(crosses(one, two, box) for one, two in pairwise(way))
    assert all(one[0] == two[0] or one[1] == two[1] for one, two in pairwise(way))


def test_a_long_run_does_not_lie_on_a_short_one() -> None:
    long, short = routes([((0, 0), (90, 0)), ((0, 0), (60, 0))], [])
    assert short == ((0, 0), (60, 0))
    assert not any(one[1] == two[1] == 0 and min(one[0], two[0]) < 56 for one, two in pairwise(long))


def test_an_arrow_points_along_the_longest_piece_of_its_way() -> None:
    tip, *feet = arrow_along(((0, 0), (10, 0), (10, 50)))
    assert tip[0] == pytest.approx(10)
    assert all(foot[1] < tip[1] for foot in feet)
    assert arrow_along(((0, 0), (9, 0))) == ()


def test_a_run_goes_through_the_opening_on_its_way_and_nowhere_else() -> None:
    """From (4, 0.5) east to 6, north to 12: the wall at 10.4 is passed at 6, not in the opening at 2."""
    legs = legs_through(((4.0, 0.5), (6.0, 12.0)), [((6.0, 10.4), False), ((2.0, 10.4), False)], 0.8)
    assert legs == (((4.0, 0.5), (6.0, 0.5)), ((6.0, 0.5), (6.0, 10.4)), ((6.0, 10.4), (6.0, 12.0)))
    assert legs_through(((4.0, 0.5), (6.0, 12.0)), [((2.0, 10.4), False)], 0.8) == (
        ((4.0, 0.5), (6.0, 12.0)),
    )


def test_a_run_is_led_aside_to_the_opening_that_it_shares() -> None:
    """North along x = 6: the wall at 10.4 is passed at 5.7, not in the wall beside it nor at 5.5."""
    openings = [((5.7, 10.4), False), ((5.8, 5.0), True), ((5.5, 10.4), False)]
    legs = legs_through(((6.0, 0.5), (6.0, 12.0)), openings, 0.8)
    assert legs == (((6.0, 0.5), (5.7, 10.4)), ((5.7, 10.4), (6.0, 12.0)))


def test_a_run_keeps_off_walls_and_on_its_side_of_them() -> None:
    """Of the ways to a point of a wall neither the one along it is taken nor one that passes it."""
    wall = ((0.0, 100.0), (300.0, 100.0))
    first, second = routes([((150, 40), (200, 100)), ((50, 60), (200, 100))], [], walls=[wall])
    assert first == ((150, 40), (200, 40), (200, 100))
    assert second == ((50, 60), (50, 92.5), (200, 92.5), (200, 100))
    # One that leads through an opening and meets a symbol before it is back in line with the opening first.
    (third,) = routes([((100, 40), (100, 100))], [symbol(97, 70)], walls=[wall])
    assert third == ((100, 40), (107.5, 40), (107.5, 92.5), (100, 92.5), (100, 100))
