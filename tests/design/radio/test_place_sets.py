"""Sets of places tried all at once say the same as the integer programme, and as sets tried one by one."""

import math
import random
from itertools import combinations, permutations, product

import pytest

from proposal.design.radio import place_search
from proposal.design.radio.place_search import Search
from proposal.design.radio.place_sets import MOST_SETS, PlaceSets, few_enough

AT = [(float(x), float(y), 2.7) for y in (0, 2) for x in range(4)]


def margins(seed: int, talkers: int) -> list[list[float]]:
    chance = random.Random(seed)
    return [[round(chance.uniform(0, 3), 1) for _ in AT] for _ in range(talkers)]


@pytest.mark.independent
@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("channels", [(3, 3), (4, 1), (2, 2, 2), (3, 1, 1)])
def test_sets_that_serve_are_those_in_which_somebody_serves_everybody(
    seed: int, channels: tuple[int, ...]
) -> None:
    given = margins(seed, 5)
    tried = PlaceSets(given, AT, channels)
    for load in (2, 4):
        expected = {
            chosen
            for chosen in combinations(range(len(AT)), len(channels))
            for sizes in permutations(channels)
            for served in product(range(len(chosen)), repeat=len(given))
            if all(served.count(n) <= min(size, load) for n, size in enumerate(sizes))
            and all(row[chosen[n]] >= 1.2 for row, n in zip(given, served, strict=True))
        }
        found = tried.serving(tried.kept_apart(0.0), 1.2, load)
        assert {tuple(one) for one in found.tolist()} == expected


@pytest.mark.independent
def test_sets_keep_apart_and_reach_second_paths() -> None:
    given = margins(1, 5)
    tried = PlaceSets(given, AT, (3, 3))
    apart = {(a, b) for a, b in combinations(range(len(AT)), 2) if math.dist(AT[a], AT[b]) >= 2}
    assert {tuple(one) for one in tried.kept_apart(2.0).tolist()} == apart
    reached = {(a, b) for a, b in apart if all(min(row[a], row[b]) >= 0.2 for row in given)}
    assert {tuple(one) for one in tried.second_paths(tried.kept_apart(2.0), 0.2).tolist()} == reached


@pytest.mark.independent
@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("channels", [(3, 3), (4, 2), (2, 2, 2)])
def test_the_programme_alone_chooses_the_same(
    seed: int, channels: tuple[int, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    given = margins(seed, 6)
    tried = Search(channels, AT, given, [0.0] * len(AT), 1.5).solve()
    assert tried is not None
    monkeypatch.setattr(place_search, "few_enough", lambda places, access_points: False)
    assert Search(channels, AT, given, [0.0] * len(AT), 1.5).solve() == tried


def test_too_many_sets_are_left_to_the_programme() -> None:
    assert few_enough(90, 2)
    assert not few_enough(90, 4)
    assert not few_enough(20, 100)
    assert not few_enough(8, 7)
    assert math.comb(90, 4) > MOST_SETS
