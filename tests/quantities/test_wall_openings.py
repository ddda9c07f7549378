"""Openings in walls: where lines pass, what passes together, and what only touches a wall."""

import pytest

from proposal.quantities.wall_openings import Passing, right_angled, wall_openings

ROOM = {"A": ((0.0, 0.0), (6.0, 0.0), (6.0, 4.0), (0.0, 4.0))}


def test_a_line_through_a_wall_makes_one_opening_with_its_place() -> None:
    (one,) = wall_openings(ROOM, {}, [Passing("c", ((2.0, 1.0), (2.0, 9.0)), 3.0)])
    assert (one.tag, one.side, one.at, one.along_m, one.height_m) == ("A-WO1", "north", (2.0, 4.0), 2.0, 3.0)


def test_what_passes_near_at_one_height_passes_together() -> None:
    lines = [Passing(f"c{n}", ((x, 1.0), (x, 9.0)), 3.0) for n, x in enumerate((2.0, 2.25, 2.5))]
    assert [one.names for one in wall_openings(ROOM, {}, lines)] == [("c0", "c1"), ("c2",)]
    higher = [lines[0], Passing("c1", lines[1].points, 3.4)]
    assert len(wall_openings(ROOM, {}, higher)) == 2


def test_cables_are_led_to_an_opening_that_they_go_by_and_to_no_other() -> None:
    """Two go on to the east behind the wall, 0.7 m from each other: through one opening, at the second."""

    def found(*onward: float) -> list[tuple[float, tuple[str, ...]]]:
        lines = [
            Passing(f"c{n}", ((x, 1.0), (x, 9.0)), 3.0, 0.8, (far, 0.0))
            for n, (x, far) in enumerate(zip((2.0, 2.7), onward, strict=True))
        ]
        return [(one.along_m, one.names) for one in wall_openings(ROOM, {}, lines)]

    assert found(5.0, 5.0) == [(2.7, ("c0", "c1"))]
    assert found(-5.0, -5.0) == [(2.0, ("c0", "c1"))]
    # The first goes on by less than that, the other way, or nowhere.
    for onward in ((0.5, 5.0), (-5.0, 5.0), (0.0, 0.0)):
        assert found(*onward) == [(2.0, ("c0",)), (2.7, ("c1",))]


@pytest.mark.parametrize(
    "points",
    [((1.0, 1.0), (5.0, 3.0)), ((2.0, 4.0), (2.0, 9.0)), ((1.0, 4.0), (5.0, 4.0)), ((2.0, 1.0), (2.0, 4.0))],
)
def test_what_stays_inside_touches_or_follows_a_wall_passes_none(
    points: tuple[tuple[float, float], ...],
) -> None:
    assert wall_openings(ROOM, {}, [Passing("c", points, 3.0)]) == ()


def test_a_wall_that_is_given_where_a_room_has_one_is_the_rooms() -> None:
    line = Passing("c", ((2.0, 2.0), (9.0, 2.0)), 3.0)
    found = wall_openings(ROOM, {"w": ((6.0, 0.0), (6.0, 9.0)), "v": ((7.0, 0.0), (7.0, 9.0))}, [line])
    assert [(one.tag, one.along_m, one.upright) for one in found] == [
        ("A-WO1", 2.0, True),
        ("v-WO1", 2.0, True),
    ]


def test_a_run_goes_along_x_first() -> None:
    assert right_angled((1.0, 1.0), (5.0, 3.0)) == ((1.0, 1.0), (5.0, 1.0), (5.0, 3.0))


def test_a_hole_through_the_walls_of_two_rooms_side_by_side_is_listed_once() -> None:
    """Two rooms with a wall of 0.2 m between them: one hole, 1 m from the southern end, of both."""
    rooms = {**ROOM, "B": ((6.2, 0.0), (9.0, 0.0), (9.0, 4.0), (6.2, 4.0))}
    one, two = (Passing(name, ((3.0, y), (8.0, y)), 3.0) for name, y in (("c", 1.0), ("d", 3.0)))
    found = wall_openings(rooms, {"w": ((6.1, 0.0), (6.1, 4.0))}, [one, two])
    assert [(at.tag, at.side, at.also, at.along_m, at.names) for at in found] == [
        ("A-WO1", "east", ("west wall of B", "w"), 1.0, ("c",)),
        ("A-WO2", "east", ("west wall of B", "w"), 3.0, ("d",)),
    ]
    # What passes 0.5 m beyond, or at another height, is a hole of its own.
    apart = {**ROOM, "B": ((6.5, 0.0), (9.0, 0.0), (9.0, 4.0), (6.5, 4.0))}
    assert [at.tag for at in wall_openings(apart, {}, [one])] == ["A-WO1", "B-WO1"]
