"""Losses between antennas: by the formulas of the standards, and walls by another library's geometry."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString
from shapely.affinity import translate
from shapely.geometry import box

from proposal.design.radio.propagation import (
    Surface,
    Surroundings,
    WallLine,
    obstruction_losses_db,
    wall_lines,
)
from proposal.model.radio.radio import BuildingRadio, Loss, Obstruction, RadioLosses, Wall
from proposal.standards.free_space import free_space_loss_db
from proposal.standards.itu_p1238 import floor_loss_db

HZ = 1.89e9
LOSSES = RadioLosses(
    walls={
        "glass": Loss(least=2, greatest=2, source="test"),
        "light partition": Loss(least=3, greatest=4, source="test"),
        "concrete": Loss(least=9, greatest=17, source="test"),
    }
)


def around(walls: tuple[WallLine, ...] = (), storeys: int = 3, slab: float = 15.0) -> Surroundings:
    return Surroundings(
        storeys=tuple(f"L{n}" for n in range(storeys)),
        floors_m=tuple(4.0 * n for n in range(storeys)),
        slab_db=(slab,) * storeys,
        further_db=4.0,
        walls=walls,
        frequency_hz=HZ,
        environment="office",
    )


def loss(place: Surroundings, start: tuple[float, ...], end: tuple[float, ...]) -> float:
    return float(place.unwanted_loss_db(np.array([start]), np.array([end]))[0])


@pytest.mark.published
def test_a_wanted_path_of_20_m_with_one_floor_loses_91_6_db() -> None:
    # ITU-R P.1238, office: 65.53 + 30·log10(20) + 15 − 28
    place = around()
    start, end = np.array([[0.0, 0.0, 2.0]]), np.array([[0.0, math.sqrt(20**2 - 4**2), 6.0]])
    assert place.wanted_loss_db(start, end)[0] == pytest.approx(91.6, rel=0, abs=0.05)


@pytest.mark.independent
def test_floors_lose_what_the_standard_says_of_their_number() -> None:
    place = around(storeys=5)
    for floors in range(5):
        found = place.floors_db(np.array([0]), np.array([floors]))[0]
        assert found == floor_loss_db(floors)


def test_of_several_slabs_the_least_counts_in_full_and_the_others_as_further_ones() -> None:
    place = Surroundings(
        storeys=("L0", "L1", "L2"), floors_m=(0, 4, 8), slab_db=(15, 19, 12), further_db=4, walls=(),
        frequency_hz=HZ, environment="office",
    )  # fmt: skip
    assert place.floors_db(np.array([0]), np.array([1]))[0] == 19
    assert place.floors_db(np.array([2]), np.array([0]))[0] == 12 + 4
    assert place.floors_db(np.array([1]), np.array([1]))[0] == 0


@pytest.mark.independent
def test_an_unwanted_path_of_10_m_through_two_walls_is_free_space_and_both_of_them() -> None:
    walls = (WallLine("L0", (2, -5), (2, 5), 9.0), WallLine("L0", (7, -5), (7, 5), 3.0))
    found = loss(around(walls), (0, 0, 1), (10, 0, 1))
    assert found == pytest.approx(free_space_loss_db(HZ, 10) + 12, rel=1e-12)
    # walls of another storey, and walls the path does not reach, do not count
    assert loss(around(walls), (0, 0, 5), (10, 0, 5)) == pytest.approx(free_space_loss_db(HZ, 10), rel=1e-12)
    assert loss(around(walls), (3, 0, 1), (6, 0, 1)) == pytest.approx(free_space_loss_db(HZ, 3), rel=1e-12)


def test_a_path_that_changes_storeys_meets_the_walls_of_each_where_it_passes() -> None:
    # the slab lies halfway, at x = 5: before it the lower storey's walls count, behind it the upper one's
    lower, upper = WallLine("L0", (2, -5), (2, 5), 9.0), WallLine("L1", (7, -5), (7, 5), 3.0)
    start, end = (0.0, 0.0, 3.0), (10.0, 0.0, 5.0)
    bare = loss(around(()), start, end)
    assert loss(around((lower, upper)), start, end) == pytest.approx(bare + 12, rel=1e-12)
    other = (WallLine("L1", (2, -5), (2, 5), 9.0), WallLine("L0", (7, -5), (7, 5), 3.0))
    assert loss(around(other), start, end) == pytest.approx(bare, rel=1e-12)


def test_a_wall_bent_where_the_path_crosses_it_counts_once() -> None:
    bent = (WallLine("L0", (5, -5), (5, 0), 9.0), WallLine("L0", (5, 0), (5, 5), 9.0))
    assert loss(around(bent), (0, 0, 1), (10, 0, 1)) == pytest.approx(
        free_space_loss_db(HZ, 10) + 9, rel=1e-12
    )


points = st.tuples(st.integers(0, 400), st.integers(0, 400)).map(
    lambda p: (p[0] / 10 + 0.013, p[1] / 10 + 0.027)
)


@pytest.mark.independent
@settings(max_examples=40, deadline=None, derandomize=True)
@given(st.lists(st.tuples(points, points), min_size=1, max_size=12), points, points)
def test_crossed_walls_are_those_another_library_finds(
    lines: list[tuple[tuple[float, float], tuple[float, float]]],
    start: tuple[float, float],
    end: tuple[float, float],
) -> None:
    walls = tuple(WallLine("L0", a, b, 2.0 + n) for n, (a, b) in enumerate(lines) if a != b)
    way = LineString([start, end])
    shapes = [LineString([wall.start, wall.end]) for wall in walls]
    if start == end or any(way.distance(LineString([p, p])) < 1e-6 for s in shapes for p in s.coords):
        return
    expected = sum(wall.loss_db for wall, shape in zip(walls, shapes, strict=True) if way.crosses(shape))
    found = around(walls).walls_db(np.array([[*start, 1.0]]), np.array([[*end, 1.0]]))[0]
    assert found == pytest.approx(expected, rel=1e-12)


def room(west: float, loss_db: float = 3.0) -> Surface:
    corners = tuple(box(west, 0, west + 8, 6).exterior.coords)[:-1]
    return Surface("L0", corners, loss_db)


def crossing(rooms: list[Surface], walls: BuildingRadio | None = None) -> float:
    lines = wall_lines(walls or BuildingRadio(), LOSSES, rooms)
    return float(around(lines).walls_db(np.array([[4.0, 3, 1]]), np.array([[12.0, 3.1, 1]]))[0])


def test_rooms_side_by_side_have_one_wall_between_them_and_the_lighter_one() -> None:
    assert crossing([room(0), room(8.2)]) == 3
    assert crossing([room(0, 3.5), room(8.0, 2.0)]) == 2
    assert crossing([room(0, 2.0), room(8.2, 3.5)]) == 2


@pytest.mark.independent
@pytest.mark.parametrize(
    ("same_m", "lost_db"),
    [(0.6, 3.0), (0.41, 3.0), (0.39, 6.0)],  # sides 0.4 m apart are one wall of 3 dB, or two
)
def test_how_far_apart_one_wall_may_be_is_said_by_the_building(same_m: float, lost_db: float) -> None:
    assert crossing([room(0), room(8.4)], BuildingRadio(same_wall=same_m)) == lost_db


def test_rooms_with_a_corridor_between_have_a_wall_each() -> None:
    far = translate(box(9.6, 0, 17.6, 6))
    assert crossing([room(0), Surface("L0", tuple(far.exterior.coords)[:-1], 3.0)]) == 6


def test_a_wall_that_is_written_stands_for_the_sides_along_it_by_its_own_loss_or_its_least() -> None:
    wall = {"storey": "L0", "along": ((8.1, -1.0), (8.1, 9.0))}
    written = BuildingRadio(walls={"W1": Wall(**wall, construction="concrete")})
    assert crossing([room(0), room(8.2)], written) == 9
    measured = BuildingRadio(walls={"W1": Wall(**wall, construction="concrete", loss=15.0)})
    assert crossing([room(0), room(8.2)], measured) == 15


def test_an_obstruction_adds_its_loss_where_the_line_crosses_it() -> None:
    screen = Obstruction(outline=((4, 2), (5, 2), (5, 4), (4, 4)), kind="metal", loss=12)
    losses = obstruction_losses_db({"O1": screen}, [(0, 3), (0, 5)], [(9, 3), (9, 5)])
    assert losses.tolist() == [12, 0]


def test_obstructions_on_one_line_add_up_and_none_lose_nothing() -> None:
    screens = {
        "O1": Obstruction(outline=((4, 2), (5, 2), (5, 4), (4, 4)), kind="metal", loss=12),
        "O2": Obstruction(outline=((6, 2), (7, 2), (7, 3.5), (6, 3.5)), kind="metal", loss=5),
    }
    # The second line ends before it reaches the second one; the third passes above both.
    losses = obstruction_losses_db(screens, [(0, 3), (0, 3), (0, 6)], [(9, 3), (5.5, 3), (9, 6)])
    assert losses.tolist() == [17, 12, 0]
    assert obstruction_losses_db({}, [(0, 3)], [(9, 3)]).tolist() == [0]


boxes = st.tuples(st.integers(0, 300), st.integers(0, 300), st.integers(1, 60), st.integers(1, 60)).map(
    lambda b: (b[0] / 10 + 0.011, b[1] / 10 + 0.017, (b[0] + b[2]) / 10 + 0.011, (b[1] + b[3]) / 10 + 0.017)
)


@settings(max_examples=60, deadline=None, derandomize=True)
@given(
    st.lists(st.tuples(points, points, st.booleans()), min_size=1, max_size=8),
    boxes,
    boxes,
    st.integers(0, 1),
    st.integers(0, 2**16),
)
def test_what_cannot_be_avoided_is_never_more_than_any_path_loses(
    lines: list[tuple[tuple[float, float], tuple[float, float], bool]],
    one: tuple[float, float, float, float],
    other: tuple[float, float, float, float],
    upper: int,
    seed: int,
) -> None:
    walls = [WallLine("L0", a, b, 3.0 + n) for n, (a, b, _) in enumerate(lines) if a != b]
    walls += [WallLine("L1", a, b, 2.0 + n) for n, (a, b, both) in enumerate(lines) if a != b and both]
    place = around(tuple(walls))
    least = place.unavoidable_db(np.array([one]), np.array([other]), np.array([0]), np.array([upper]))[0]
    random = np.random.default_rng(seed)

    def inside(box_m: tuple[float, float, float, float], z: float) -> np.ndarray:  # type: ignore[type-arg]
        spots = random.uniform(box_m[:2], box_m[2:], (40, 2))
        return np.column_stack([spots, np.full(40, z)])

    lost = place.walls_db(inside(one, 1.0), inside(other, 1.0 + 4.0 * upper))
    assert least <= lost.min() + 1e-9


def test_a_long_wall_between_two_boxes_cannot_be_avoided_and_a_short_one_can() -> None:
    left, right = np.array([[0.0, 0.0, 2.0, 2.0]]), np.array([[8.0, 0.0, 10.0, 2.0]])
    storey = np.array([0])
    long = around((WallLine("L0", (5, -3), (5, 5), 9.0),))
    short = around((WallLine("L0", (5, 0.5), (5, 5), 9.0),))
    assert long.unavoidable_db(left, right, storey, storey)[0] == 9
    assert short.unavoidable_db(left, right, storey, storey)[0] == 0
    # a path to the storey above may pass over a wall that stands on one of the two only
    assert long.unavoidable_db(left, right, storey, np.array([1]))[0] == 0
