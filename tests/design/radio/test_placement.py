"""Places of access points, against an exhaustive search over every choice of candidates."""

import math
from dataclasses import replace
from itertools import combinations, permutations, product
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from proposal.design.radio.place_search import Search
from proposal.design.radio.placement import (
    MOST_PATHS,
    Placement,
    Setting,
    Talker,
    Task,
    _middles,
    candidates,
    margins_db,
    place,
    places_of,
    spread_out,
)
from proposal.model.radio.radio import Obstruction

SETTING = Setting(from_walls_m=0.5, wall_height_m=2.4, below_ceiling_m=0.3, off_walls_m=0.1)


def task(
    width: float,
    depth: float,
    talkers: list[tuple[float, float]],
    channels: tuple[int, ...],
    spacing_m: float = 3.0,
    obstructions: tuple[tuple[str, Obstruction], ...] = (),
) -> Task:
    return Task(
        outline=((0, 0), (width, 0), (width, depth), (0, depth)),
        ceiling_m=2.7,
        setting=SETTING,
        talkers=tuple(
            Talker(code=f"M{n}", at=at, height_m=0.75, receivable_db=90.0) for n, at in enumerate(talkers, 1)
        ),
        channels=channels,
        spacing_m=spacing_m,
        frequency_hz=1.89e9,
        environment="office",
        obstructions=obstructions,
    )


def reached(given: Task, found: Placement) -> tuple[float, float]:
    """Return worst margin and worst second path of a placement; the second is not a number for one."""
    margins = margins_db(given, found.places)
    by = {code: n for n, codes in enumerate(found.serves) for code in codes}
    worst = min(row[by[talker.code]] for talker, row in zip(given.talkers, margins, strict=True))
    return worst, min(sorted(row)[-2] if len(row) > 1 else math.nan for row in margins)


def best_by_trying_all(given: Task) -> tuple[float, float]:
    """Return worst margin and worst second path of the best of all choices, served in every possible way."""
    places = candidates(
        given.outline, given.ceiling_m, given.setting, tuple(talker.at for talker in given.talkers)
    )
    margins = margins_db(given, places)
    found: list[tuple[float, float]] = []
    for chosen in combinations(range(len(places)), len(given.channels)):
        apart = all(
            math.dist((*places[a].at, places[a].height_m), (*places[b].at, places[b].height_m))
            >= given.spacing_m - 1e-9
            for a, b in combinations(chosen, 2)
        )
        if not apart:
            continue
        second = min(sorted(row[n] for n in chosen)[-2] for row in margins) if len(chosen) > 1 else 0.0
        for sizes in set(permutations(given.channels)):
            for served in product(range(len(chosen)), repeat=len(given.talkers)):
                if all(served.count(n) <= size for n, size in enumerate(sizes)):
                    worst = min(row[chosen[n]] for row, n in zip(margins, served, strict=True))
                    found.append((worst, second))
    worst, second = max(found)
    return worst, second if len(given.channels) > 1 else math.nan


spots = st.tuples(st.integers(2, 38), st.integers(2, 28)).map(lambda p: (p[0] / 10, p[1] / 10))


@pytest.mark.independent
@settings(max_examples=12, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
@given(
    st.lists(spots, min_size=2, max_size=4, unique=True),
    st.sampled_from([(4,), (2, 2), (3, 1), (4, 2)]),
    st.sampled_from([1.0, 2.5]),
)
def test_no_choice_of_places_is_better_than_the_one_made(
    talkers: list[tuple[float, float]], channels: tuple[int, ...], spacing_m: float
) -> None:
    small = task(4.0, 3.0, talkers, channels, spacing_m)
    if sum(channels) < len(talkers):
        assert place(small) is None
        return
    found = place(small)
    assert found is not None
    worst, second = best_by_trying_all(small)
    assert found.worst_db == pytest.approx(worst, rel=0, abs=1e-9)
    assert reached(small, found) == pytest.approx((worst, second), rel=0, abs=1e-9, nan_ok=True)
    assert sorted(code for codes in found.serves for code in codes) == [t.code for t in small.talkers]
    for codes, size in zip(found.serves, channels, strict=True):
        assert len(codes) <= size


@pytest.mark.independent
def test_three_access_points_are_placed_as_well_as_by_trying_all() -> None:
    long = task(9.0, 2.0, [(1, 1), (4, 1), (7.5, 1)], (1, 1, 1))
    found = place(long)
    assert found is not None
    worst, second = best_by_trying_all(long)
    assert reached(long, found) == (worst, second)


def test_access_points_keep_their_distance_and_share_the_load() -> None:
    found = place(task(12.0, 7.0, [(2 + n % 4 * 2.5, 2 + n // 4 * 3) for n in range(8)], (8, 8)))
    assert found is not None
    assert math.dist(found.places[0].at, found.places[1].at) >= 3
    assert [len(codes) for codes in found.serves] == [4, 4]


def test_a_room_too_small_for_the_distance_keeps_what_it_can() -> None:
    found = place(task(2.0, 2.0, [(0.5, 1), (1.5, 1)], (1, 1)))
    assert found is not None
    assert 0 < math.dist(found.places[0].at, found.places[1].at) < 3


def test_places_lie_in_the_room_also_where_it_is_bent_or_narrow() -> None:
    from shapely import Point, Polygon

    for outline in (
        ((0, 0), (10, 0), (10, 3), (3, 3), (3, 8), (0, 8)),
        ((0, 0), (0, 5), (0.6, 5), (0.6, 0)),
        ((0, 0), (4, 6), (-4, 6)),
    ):
        places = candidates(outline, 2.7, SETTING)
        assert places
        assert all(Polygon(outline).contains(Point(one.at)) for one in places)
        assert all(one.height_m <= 2.4 for one in places if one.mounting == "wall")


def test_each_is_served_by_the_nearer_access_point_also_where_another_would_do() -> None:
    """The first microphone is received 40 dB worse than the others, and alone sets the worst margin."""
    given = task(16.0, 4.0, [(1, 2), (2, 2), (14, 2), (15, 2)], (2, 2))
    weak = replace(given.talkers[0], receivable_db=50.0)
    found = place(replace(given, talkers=(weak, *given.talkers[1:])))
    assert found is not None
    assert set(found.serves) == {("M1", "M2"), ("M3", "M4")}


def test_walls_have_a_place_at_their_middle_and_long_ones_at_their_quarters_too() -> None:
    places = candidates(((0, 0), (8, 0), (8, 3), (0, 3)), 2.7, SETTING)
    walls = {one.at for one in places if one.mounting == "wall"}
    assert walls == {*((x, y) for x in (2, 4, 6) for y in (0.1, 2.9)), (0.1, 1.5), (7.9, 1.5)}


def test_in_a_narrow_room_places_hang_along_its_middle() -> None:
    places = candidates(((10, 20), (10.5, 20), (10.5, 28), (10, 28)), 2.7, SETTING)
    hung = [one.at for one in places if one.mounting == "ceiling"]
    assert len(hung) > 1
    assert {x for x, _ in hung} == {10.25}


def test_places_keep_from_walls_and_ceiling_what_the_rules_say() -> None:
    setting = Setting(from_walls_m=2, wall_height_m=2.0, below_ceiling_m=0.9, off_walls_m=0.25)
    places = candidates(((0, 0), (8, 0), (8, 6), (0, 6)), 2.7, setting)
    ceiling = [one.at for one in places if one.mounting == "ceiling"]
    # 2 m from the walls of 8 m by 6 m leave x from 2 to 6 and y from 2 to 4.
    assert (min(x for x, _ in ceiling), max(x for x, _ in ceiling)) == (2, 6)
    assert (min(y for _, y in ceiling), max(y for _, y in ceiling)) == (2, 4)
    walls = [one for one in places if one.mounting == "wall"]
    assert [one.height_m for one in walls] == pytest.approx([1.8] * len(walls))  # 0.9 m below 2.7 m
    assert all(min(x, 8 - x, y, 6 - y) == pytest.approx(0.25) for x, y in (one.at for one in walls))


def test_an_obstruction_moves_the_access_point_to_where_it_is_seen() -> None:
    talkers = [(1.0, 2.5)]
    screen = Obstruction(outline=((1.4, 0), (1.6, 0), (1.6, 5), (1.4, 5)), kind="metal", loss=20)
    open_room, hindered = task(8, 5, talkers, (2,)), task(8, 5, talkers, (2,), obstructions=(("O1", screen),))
    assert place(open_room) is not None
    found = place(hindered)
    assert found is not None
    assert found.places[0].at[0] < 1.4


@pytest.mark.parametrize(
    ("talkers", "channels", "xs"), [([(8, 3)], (2,), [8.0]), ([(4, 3), (12, 3)], (1, 1), [4.0, 12.0])]
)
@pytest.mark.parametrize(("loud_m", "taken_m"), [(0.1, 5.9), (5.9, 0.1)])
def test_of_places_as_good_those_that_hear_others_least_are_taken(
    talkers: list[tuple[float, float]],
    channels: tuple[int, ...],
    xs: list[float],
    loud_m: float,
    taken_m: float,
) -> None:
    # On the walls north and south a place is as near to the microphones; the walls east and west are farther.
    room = replace(task(16, 6, talkers, channels), surfaces=("wall",))
    levels = tuple(-60.0 if one.at[1] == loud_m else -80.0 for one in places_of(room))
    found = place(replace(room, foreign_dbm=levels))
    assert found is not None
    assert sorted(one.at for one in found.places) == [(x, taken_m) for x in xs]


def test_equal_rooms_are_solved_once() -> None:
    one = task(5, 4, [(2, 2)], (2,))
    before = place.cache_info().hits
    assert place(one) is place(task(5, 4, [(2, 2)], (2,)))
    assert place.cache_info().hits > before


@pytest.mark.pinned
def test_few_places_of_many_are_spread_over_the_room() -> None:
    """By hand: places at 0 to 8 m in a row; the middle has the best worst margin, then come the two ends.

    The next farthest are 2 and 6 m (both 2 m from what is kept; the earlier one first).
    """
    at = [(float(x), 0.0, 2.7) for x in range(9)]
    margins = [[10.0 - abs(x - 0.0) for x in range(9)], [10.0 - abs(x - 8.0) for x in range(9)]]
    assert [spread_out(at, margins, most) for most in (1, 2, 3, 4, 5)] == [
        [4],
        [0, 4],
        [0, 4, 8],
        [0, 2, 4, 8],
        [0, 2, 4, 6, 8],
    ]


def test_a_room_with_hundreds_of_microphones_looks_at_fewer_places(monkeypatch: pytest.MonkeyPatch) -> None:
    looked_at: list[tuple[int, int]] = []
    real = Search.__init__

    def watched(self: Search, channels: Any, at: Any, margins: Any, foreign: Any, spacing_m: float) -> None:
        looked_at.append((len(at), len(margins)))
        real(self, channels, at, margins, foreign, spacing_m)

    monkeypatch.setattr(Search, "__init__", watched)
    seats = [(1.0 + n % 20, 1.0 + n // 20) for n in range(280)]
    found = place(task(24.0, 18.0, seats, (70,) * 4))
    assert found is not None
    assert sorted(code for served in found.serves for code in served) == sorted(
        f"M{n}" for n in range(1, 281)
    )
    assert all(count * talkers <= MOST_PATHS for count, talkers in looked_at)


def test_microphones_at_one_and_the_same_place_have_their_middle_there() -> None:
    assert _middles([(1.0, 2.0), (1.0, 2.0)]) == [(1.0, 2.0)]


def test_under_a_grid_access_points_hang_in_the_middle_of_tiles() -> None:
    # Bars lie every 600 mm from the origin: (3.1 m, 2.2 m) is in the tile from 3.0 m and from 1.8 m on.
    room = ((0, 0), (8, 0), (8, 6), (0, 6))
    places = candidates(room, 2.7, SETTING, ((3.1, 2.2),), (0.6, 0.6))
    hung = [one.at for one in places if one.mounting == "ceiling"]
    assert hung[0] == (3.3, 2.1)
    assert len(set(hung)) == len(hung)
    assert {round(value % 0.6, 6) for at in hung for value in at} == {0.3}


def test_a_tile_too_large_for_its_middle_to_clear_the_walls_leaves_places_as_they_are() -> None:
    places = candidates(((0, 0), (3, 0), (3, 3), (0, 3)), 2.7, SETTING, (), (8.0, 8.0))
    assert any(one.mounting == "ceiling" for one in places)
