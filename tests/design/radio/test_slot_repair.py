"""Laying what a greedy pass has left, by moving others out of the way."""

from itertools import combinations

import pytest

from proposal.design.radio.slot_board import Board, Cell
from proposal.design.radio.slot_graph import SlotGraph
from proposal.design.radio.slot_plan import (
    MOST_STEPS_A_DEMAND,
    PATIENCE,
    Plan,
    laid,
    repaired,
    slot_plan,
)
from tests.design.radio.test_slot_plan import clique_of, wrong
from tests.design.radio_building import building


def repaired_board(graph: SlotGraph) -> Board:
    """Return a board after the greedy pass and the repair."""
    board = laid(graph)
    repaired(board)
    return board


def test_one_in_the_way_moves_aside() -> None:
    # two carriers, whole frames: 0 lies where only 2 could, and there is room for it elsewhere
    graph = clique_of(3, 12, 2, conflicts=frozenset({(0, 2), (1, 2)}))
    board = Board(graph)
    board.put(0, Cell(0, 0))
    board.put(1, Cell(1, 0))
    assert board.best(2) is None
    assert repaired(board) == set()
    assert wrong(graph, Plan(outcome="planned", cells=board.cells)) == []


def test_each_thing_that_keeps_a_demand_from_its_place_is_moved() -> None:
    # 1 lies across both halves of the frame, on one of two carriers. 0 is kept from the other by the
    # rule of neighbouring carriers, the only transceiver, or that both are parts of one link.
    common: dict[str, object] = {"transceivers": (1, 9), "conflicts": frozenset()}
    ways: tuple[dict[str, object], ...] = (
        {"near_far": {1: frozenset({(0, 1)})}, "access_point": (0, 1), "conflicts": frozenset({(0, 1)})},
        {"access_point": (0, 0)},
        {"apart": frozenset({(0, 1)}), "access_point": (0, 1)},
    )
    for in_the_way in ways:
        graph = clique_of(2, 6, 2, **(common | in_the_way))
        board = Board(graph)
        board.put(1, Cell(0, 3))
        assert board.best(0) is None
        assert repaired(board) == set()
        assert wrong(graph, Plan(outcome="planned", cells=board.cells)) == []


def test_what_cannot_be_laid_leaves_the_best_arrangement_and_ends_after_counted_steps() -> None:
    # ten carriers hold forty links of three; the bound is that of the search, not of a clock
    board = repaired_board(clique_of(43, 3, 10))
    assert len(board.left) == 3
    # once more for all of the arrangement that is laid again at the end
    assert board.steps <= PATIENCE + MOST_STEPS_A_DEMAND * 43 + 3 * 43


@pytest.mark.independent
def test_a_building_that_one_pass_leaves_unplanned_is_planned() -> None:
    # 48 rooms with ten links each, 480 slot runs; starting over with what did not fit left four of them
    graph = building(48, slab_db=30, wall_db=30)
    assert laid(graph).left
    plan = slot_plan(graph)
    assert (plan.outcome, plan.exact) == ("planned", False)
    assert wrong(graph, plan) == []
    assert slot_plan(graph).cells == plan.cells


def test_a_building_beyond_its_room_that_nothing_proves_impossible_is_not_settled() -> None:
    plan = slot_plan(building(24, slab_db=19, wall_db=12))
    assert plan.outcome == "not settled"
    assert plan.proof is None
    assert 0 < sum(cell is None for cell in plan.cells) < 40


def test_the_steps_grow_with_the_building_and_not_with_its_square() -> None:
    puts = {}
    for rooms in (24, 96):
        board = repaired_board(building(rooms, slab_db=40, wall_db=30))
        assert not board.left
        puts[rooms] = board.steps
    assert puts[96] < 8 * puts[24]  # quadratic would be 16 times


def test_adapting_a_known_plan_keeps_more_of_it_than_planning_anew() -> None:
    known = slot_plan(building(48, slab_db=40, wall_db=30))
    louder = building(48, slab_db=30, wall_db=30)
    adapted = slot_plan(louder, known.cells)
    assert adapted.outcome == "planned"
    assert wrong(louder, adapted) == []
    anew = slot_plan(louder)
    kept, by_chance = (
        sum(one == other for one, other in zip(plan.cells, known.cells, strict=True))
        for plan in (adapted, anew)
    )
    assert kept > by_chance


def test_a_ring_of_rooms_is_planned() -> None:
    # every link excludes those of the next two rooms: 24 places are needed, in turn, and 28 are there
    links = [(room, n) for room in range(12) for n in range(8)]
    pairs = frozenset(
        (a, b)
        for a, b in combinations(range(len(links)), 2)
        if (links[b][0] - links[a][0]) % 12 in (0, 1, 2, 10, 11)
    )
    graph = clique_of(len(links), 3, 7, conflicts=pairs)
    board = repaired_board(graph)
    assert not board.left
    assert wrong(graph, Plan(outcome="planned", cells=board.cells)) == []
