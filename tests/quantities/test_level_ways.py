"""Ways of pathways by the place where they change their height, worked out by hand."""

import pytest

from proposal.quantities.level_ways import LevelPart, level_parts, level_way_m


def test_a_conduit_runs_level_along_x_and_y_to_where_it_drops_and_on() -> None:
    """3 m east and 4 m north to the wall, then 1 m back south to the box."""
    assert level_way_m((0.0, 0.0), (3.0, 4.0), (3.0, 3.0)) == pytest.approx(8.0, rel=0, abs=1e-9)
    high, low = level_parts(((0.0, 0.0), (3.0, 3.0)), (2.5, 0.0), (3.0, 4.0))
    assert high == LevelPart(((0.0, 0.0), (3.0, 0.0), (3.0, 4.0)), 2.5)
    assert low == LevelPart(((3.0, 4.0), (3.0, 3.0)), 0.0)


def test_one_that_drops_at_its_end_has_one_level_part() -> None:
    assert level_parts(((0.0, 0.0), (0.0, 2.0)), (2.5, 0.0), (0.0, 2.0)) == (
        LevelPart(((0.0, 0.0), (0.0, 2.0)), 2.5),
    )


def test_a_straight_one_is_whole_and_has_a_height_only_where_it_is_level() -> None:
    ends = ((0.0, 0.0), (5.0, 1.0))
    assert level_parts(ends, (2.5, 2.5), None) == (LevelPart(ends, 2.5),)
    assert level_parts(ends, (2.5, 0.0), None) == (LevelPart(ends, None),)
