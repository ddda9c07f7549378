"""What is claimed of a cutting when its integer programme decides nothing, or shows that there is no way."""

import random
from collections.abc import Sequence

import pytest

from proposal.estimate.reels import cutting
from proposal.estimate.reels.cutting import cut
from proposal.estimate.reels.cutting_bounds import Demand, Offer, best_patterns
from proposal.estimate.reels.cutting_patterns import Whole, all_patterns, relaxed, whole
from proposal.estimate.reels.packing import FILLING_RULES, FillingRule, Piece, packed


def pieces_of(lengths: Sequence[int]) -> list[Piece]:
    return [Piece(0, length, number) for number, length in enumerate(lengths)]


@pytest.mark.independent
def test_what_an_integer_programme_leaves_open_is_not_called_proven(monkeypatch: pytest.MonkeyPatch) -> None:
    """The same pieces are cut with the program whole, which other tests hold against exact solvers."""
    chance = random.Random(4)
    cases = [[chance.randint(18, 60) for _ in range(12)] for _ in range(200)]
    offers = [Offer(100, 5)]
    exact = [cut(pieces_of(lengths), offers) for lengths in cases]
    assert all(found.proven for found in exact)
    monkeypatch.setattr(cutting, "whole", lambda *_: Whole(None, False))
    monkeypatch.setattr(cutting._Cutter, "_by_diving", lambda *_: None)
    monkeypatch.setattr(cutting, "FILLING_RULES", FILLING_RULES[:1])
    open_cases = 0
    for lengths, best in zip(cases, exact, strict=True):
        found = cut(pieces_of(lengths), offers)
        assert found.bound <= best.cost <= found.cost
        assert not found.proven or found.cost == best.cost
        open_cases += not found.proven
    assert open_cases


def test_an_integer_programme_over_all_patterns_finds_a_way_or_shows_that_there_is_none() -> None:
    demands, offers = [Demand(60, 2), Demand(40, 2), Demand(30, 1)], [Offer(100, 1)]
    patterns = all_patterns(demands, offers, [3])
    assert patterns is not None
    assert {pattern.counts for pattern in patterns} == {(1, 1, 0), (1, 0, 1), (0, 1, 1), (0, 2, 0)}
    found = whole(demands, [3], patterns)
    assert found.uses is not None
    for place, demand in enumerate(demands):
        assert (
            sum(use * pattern.counts[place] for use, pattern in zip(found.uses, patterns, strict=True))
            >= demand.count
        )
    assert whole(demands, [2], patterns) == Whole(None, True)


@pytest.mark.independent
def test_reels_that_are_too_few_are_forbidden_and_those_that_suffice_are_not() -> None:
    """Three pieces of 6 and one of 5 go one to a reel of 10: two reels are half of what it takes."""
    demands, offers = [Demand(6, 3), Demand(5, 1)], [Offer(10, 1)]
    few = relaxed(demands, offers, [2], ())
    assert few.weighting is not None
    assert few.weighting.forbids([2])
    assert not few.weighting.forbids([4])
    enough = relaxed(demands, offers, [4], ())
    assert enough.weighting is None
    held = [
        sum(use * pattern.counts[n] for pattern, use in zip(enough.patterns, enough.uses, strict=True))
        for n in (0, 1)
    ]
    assert held == pytest.approx([3, 1])


def test_the_heaviest_pattern_is_that_of_trying_them_all() -> None:
    chance = random.Random(5)
    for _ in range(200):
        demands = [Demand(length, chance.randint(1, 3)) for length in chance.sample(range(2, 15), 3)]
        weights = [chance.randint(0, 9) for _ in demands]
        offers = [Offer(length, 1) for length in chance.sample(range(8, 30), 2)]
        best = best_patterns(demands, offers, weights)
        for offer, weight, pattern in zip(offers, best.weights, best.patterns, strict=True):
            tried = [
                a * weights[0] + b * weights[1] + c * weights[2]
                for a in range(demands[0].count + 1)
                for b in range(demands[1].count + 1)
                for c in range(demands[2].count + 1)
                if a * demands[0].length + b * demands[1].length + c * demands[2].length <= offer.length
            ]
            assert weight == max(tried)
            assert sum(n * value for n, value in zip(pattern, weights, strict=True)) == weight
            assert sum(n * d.length for n, d in zip(pattern, demands, strict=True)) <= offer.length
            assert all(n <= d.count for n, d in zip(pattern, demands, strict=True))


@pytest.mark.parametrize("rule", FILLING_RULES)
def test_reels_are_filled_with_every_piece_once_and_none_too_full(rule: FillingRule) -> None:
    chance = random.Random(6)
    pieces = [Piece(number % 3, chance.randint(5, 90), number) for number in range(200)]
    filled, enough = packed(pieces, [305] * 4 + [152] * 3, rule)
    assert not enough
    assert sorted(piece.number for reel in filled for piece in reel.pieces) == list(range(200))
    assert all(reel.spare >= 0 for reel in filled)
