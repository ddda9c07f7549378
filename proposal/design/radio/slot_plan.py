"""A plan of carriers and slots for all radio links of a building, or the proof that there is none.

The plan shows that room exists; the equipment chooses its own carriers and slots from day to day. It is found
by a greedy pass; what did not fit is laid by moving others out of its way, and where that fails and few are
concerned by an integer programme. Nothing here depends on a clock: searches end after counted steps or nodes.
"""

from collections import deque
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Literal

import numpy as np

from proposal.design.radio.slot_board import Board, Cell
from proposal.design.radio.slot_cliques import Clique, fullness, proof_of_impossible
from proposal.design.radio.slot_exact import exact_cells
from proposal.design.radio.slot_graph import SlotGraph
from proposal.field_classes import dataclass

Outcome = Literal["planned", "impossible", "not settled"]

OPEN_SHARE = 0.01
"""A place is open to a link that hears no more of others: thresholds of listening are 20 dB apart."""
MOST_PASSES = 5
MOST_STEPS_A_DEMAND = 3
PATIENCE = 1_500
LITTLE_PATIENCE = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """What came of planning.

    outcome: planned, impossible or not settled.
    cells: of every demand where planned; else of as many as fitted, None for the others.
    proof: the demands that prove that no plan exists, where impossible.
    exact: whether the integer programme was needed.
    steps: how often something was laid.
    """

    outcome: Outcome
    cells: tuple[Cell | None, ...]
    proof: Clique | None = None
    exact: bool = False
    steps: int = 0


def slot_plan(graph: SlotGraph, known: Sequence[Cell | None] = (), *, quick: bool = False) -> Plan:
    """Return a plan for every demand, or why there is none.

    graph: what has to be planned.
    known: a plan of the same demands under other levels, which may need little change to hold under these.
    quick: whether few steps are tried, nothing exact, and every link may stay where it is.
    """
    patience = LITTLE_PATIENCE if quick else PATIENCE
    board = laid(graph, known)
    proof = proof_of_impossible(graph) if board.left else None
    if proof:
        return Plan(outcome="impossible", cells=(None,) * len(graph.lengths), proof=proof)
    if repaired(board, patience) and any(known):
        steps, board = board.steps, laid(graph)
        board.steps += steps
        repaired(board, patience)
    searched = bool(board.left) and not quick
    for component in graph.components() if searched else ():
        found = board.left.isdisjoint(component) or exact_cells(graph, component)
        if found is False:
            proof = fullness(graph.lengths, component, graph.carriers, "search")
            return replace(_as_laid(board), outcome="impossible", proof=proof, exact=True)
        if found is not True:
            board = _exchanged(board, dict(zip(component, found, strict=True)))
    if not quick:
        _quieten(board)
    return replace(_as_laid(board), exact=searched)


def fitting_plan(graph: SlotGraph) -> Plan:
    """Return a plan for as many demands as are laid in few steps, whether or not all of them could be.

    graph: what has to be planned.
    """
    board = laid(graph)
    repaired(board, LITTLE_PATIENCE)
    return _as_laid(board)


def _as_laid(board: Board) -> Plan:
    return Plan(outcome="not settled" if board.left else "planned", cells=board.cells, steps=board.steps)


def board_of(graph: SlotGraph, plan: Plan) -> Board:
    """Return carriers and slots with a plan laid on them, to ask what could be added."""
    board = Board(graph)
    board.lay(plan.cells)
    return board


def _quieten(board: Board) -> None:
    """Move links that hear much where they lie to quieter places free for them, where all have one.

    Equipment that listens first would do so; a plan in which they all may stay is the answer as it is.
    """
    for _ in range(0 if board.left else MOST_PASSES):
        loud = (board.shares()[:, 1] > OPEN_SHARE).nonzero()[0].tolist()
        moved = [board.quieten(demand) for demand in loud]
        if not any(moved):
            break


def laid(graph: SlotGraph, known: Sequence[Cell | None] = ()) -> Board:
    """Return a board with as many demands as fit one by one.

    The long ones are first, of equal ones those with most neighbours.
    graph: what has to be planned.
    known: a plan of the same demands; what still fits lies where it was.
    """
    board = Board(graph)
    for demand, cell in enumerate(known):
        if cell is not None and board.fits(demand, cell):
            board.put(demand, cell)
    weight = [int(board.lengths[near].sum()) for near in graph.near[0]]
    for demand in sorted(board.left, key=lambda n: (-graph.lengths[n], -weight[n], n)):
        cell = board.best(demand)
        if cell is not None:
            board.put(demand, cell)
    return board


def repaired(board: Board, patience: int = PATIENCE) -> set[int]:
    """Lay what does not lie yet, and whatever makes room for it; return what is left in the best arrangement.

    board: with something laid on it.
    patience: steps in a row that may leave no fewer than before.
    A demand that finds no place free takes the cheapest: one of demands that were without a place themselves
    the fewest times. So what is hard to lay settles first, and no ring of moves is run through for ever. The
    search ends after so many steps for each demand, or when patience does.
    """
    lengths = board.graph.lengths
    waiting = deque(sorted(board.left, key=lambda demand: (-lengths[demand], demand)))
    weight = np.ones(len(lengths), dtype=np.int64)
    fewest, kept, idle = len(waiting), board.cells, 0
    for _ in range(patience + MOST_STEPS_A_DEMAND * len(lengths)):
        if not waiting or idle == patience:
            break
        idle += 1
        demand = waiting.popleft()
        cell = board.best(demand)
        if cell is None:
            if len(waiting) + 1 < fewest:
                fewest, kept, idle = len(waiting) + 1, board.cells, 0
            weight[demand] += 1
            cell, away = board.make_room(demand, weight)
            waiting.extend(away)
        board.put(demand, cell)
    if waiting and len(waiting) >= fewest:
        board.lay(kept)
    return board.left


def _exchanged(board: Board, cells: Mapping[int, Cell]) -> Board:
    """Return a board with a group laid anew, unless sums elsewhere in the building do not allow it."""
    anew = laid(board.graph, [cells.get(demand, cell) for demand, cell in enumerate(board.cells)])
    anew.steps += board.steps
    return anew if len(anew.left) < len(board.left) else board
