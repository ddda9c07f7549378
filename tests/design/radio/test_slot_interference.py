"""What demands bear of each other while they are laid and taken away, against sums made anew each time."""

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from proposal.design.radio.slot_board import Board, Cell
from proposal.design.radio.slot_graph import SlotGraph

CARRIERS = 2
UNLISTED = 0.07
Shares = dict[tuple[int, int], tuple[float, float]]


def graph(lengths: list[int], owners: list[int], listed: Shares) -> SlotGraph:
    pairs = sorted(listed)
    one, other = np.array(pairs, dtype=np.int64).reshape(-1, 2).T
    up, down = np.array([listed[pair] for pair in pairs], dtype=np.float64).reshape(-1, 2).T
    return SlotGraph(
        carriers=CARRIERS,
        lengths=tuple(lengths),
        access_point=tuple(owners),
        transceivers=(99,),
        conflicts=frozenset(),
        shares=(one, other, np.stack([up, down], axis=1)),
        unlisted_share=UNLISTED,
    )


def tolerated(listed: Shares, demand: int, others: set[int]) -> bool:
    """Say whether a demand tolerates others, by the definition."""
    sums = [0.0, 0.0]
    for other in others:
        for end in (0, 1):
            sums[end] += listed.get((demand, other), (UNLISTED, UNLISTED))[end]
    return max(sums) <= 1


@pytest.mark.independent
@settings(max_examples=80, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
@given(st.data())
def test_what_is_free_is_what_the_definition_allows_whatever_was_laid_and_taken_away(
    data: st.DataObject,
) -> None:
    count = data.draw(st.integers(3, 12))
    lengths = data.draw(st.lists(st.sampled_from([1, 3, 4, 6]), min_size=count, max_size=count))
    owners = data.draw(st.lists(st.sampled_from([0, 0, 0, -1]), min_size=count, max_size=count))
    share = st.floats(0, 1.3, allow_nan=False)
    pairs = st.tuples(st.integers(0, count - 1), st.integers(0, count - 1)).filter(lambda p: p[0] != p[1])
    listed = data.draw(st.dictionaries(pairs, st.tuples(share, share), min_size=1, max_size=count * count))
    board = Board(graph(lengths, owners, listed))
    for demand in data.draw(st.lists(st.integers(0, count - 1), max_size=40)):
        if board.carrier_of[demand] < 0:
            cell = board.best(demand)
            if cell is not None:
                board.put(demand, cell)
        else:
            board.take_away(demand)
    for demand in range(count):
        if board.carrier_of[demand] >= 0:
            continue
        for carrier in range(CARRIERS):
            for slot in range(12 - lengths[demand] + 1):
                good = True
                for at in range(slot, slot + lengths[demand]):
                    there = {
                        n
                        for n, cell in enumerate(board.cells)
                        if cell and cell.carrier == carrier and cell.slot <= at < cell.slot + lengths[n]
                    }
                    together = there | {demand}
                    good &= all(tolerated(listed, n, together - {n}) for n in together if owners[n] >= 0)
                assert board.fits(demand, Cell(carrier, slot)) == good


def test_many_unlisted_disturbers_fill_a_slot_too() -> None:
    # 0.07 each: one more than fourteen others is too much for everyone there
    many = graph([12] * 40, [0] * 40, {(0, 1): (0.07, 0.07)})
    board = Board(many)
    for demand in range(30):
        assert board.fits(demand, Cell(demand % 2, 0))
        board.put(demand, Cell(demand % 2, 0))
    assert not any(board.fits(30, Cell(carrier, 0)) for carrier in range(CARRIERS))
    board.take_away(0)
    assert board.fits(30, Cell(0, 0))
    assert not board.fits(30, Cell(1, 0))
