"""A plan of carriers and slots for all radio links of a building, or the proof that there is none.

The plan shows that room exists; the equipment chooses its own carriers and slots from day to day. It is found
by a greedy pass; what did not fit is laid by moving others out of its way, and where that fails and few are
concerned by an integer programme. Nothing here depends on a clock: searches end after counted steps or nodes.
"""

import math
from collections import deque
from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

import numpy as np

from proposal.design.radio.slot_board import Board, Cell
from proposal.design.radio.slot_cliques import Clique, fullness, proof_of_impossible
from proposal.design.radio.slot_exact import exact_cells
from proposal.design.radio.slot_graph import SlotGraph
from proposal.field_classes import dataclass

Outcome = Literal["planned", "impossible", "not settled"]

SHARE_THAT_JOINS = 0.05
OPEN_SHARE = 0.01
"""A place is open to a link that hears no more of others: thresholds of listening are 20 dB apart."""
MOST_PASSES = 5
MOST_STEPS_A_DEMAND = 3
PATIENCE = 1_000
LITTLE_PATIENCE = 60
MOST_FITTING_STEPS = 3_000


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


def slot_plan(graph: SlotGraph, known: Sequence[Cell | None] = ()) -> Plan:
    """Return a plan for every demand, or why there is none.

    graph: what has to be planned.
    known: a plan of the same demands under other levels, which may need little change to hold under these.
    """
    adapted = _adapted(graph, known) if any(known) else None
    if adapted and not adapted.left:
        return _quietened(graph, Plan(outcome="planned", cells=adapted.cells, steps=adapted.steps))
    proof = proof_of_impossible(graph)
    if proof:
        return Plan(outcome="impossible", cells=(None,) * len(graph.lengths), proof=proof)
    return _quietened(graph, _planned(graph, adapted))


def quick_plan(graph: SlotGraph, known: Sequence[Cell | None] = ()) -> Plan:
    """Return a plan found by changing a known one a little, else in few steps; or why there is none.

    graph: what has to be planned.
    known: a plan of the same demands under other levels.
    """
    adapted = _adapted(graph, known) if any(known) else None
    if adapted and not adapted.left:
        return Plan(outcome="planned", cells=adapted.cells, steps=adapted.steps)
    proof = proof_of_impossible(graph)
    if proof:
        return Plan(outcome="impossible", cells=(None,) * len(graph.lengths), proof=proof)
    if adapted:
        repaired(adapted, LITTLE_PATIENCE, min(LITTLE_PATIENCE + len(graph.lengths), MOST_FITTING_STEPS))
        if not adapted.left:
            return Plan(outcome="planned", cells=adapted.cells, steps=adapted.steps)
    return fitting_plan(graph)


def fitting_plan(graph: SlotGraph) -> Plan:
    """Return a plan for as many demands as are laid in few steps, whether or not all of them could be.

    graph: what has to be planned.
    """
    board = Board(graph)
    laid_greedily(board)
    repaired(board, LITTLE_PATIENCE, min(LITTLE_PATIENCE + len(graph.lengths), MOST_FITTING_STEPS))
    return Plan(outcome="not settled" if board.left else "planned", cells=board.cells, steps=board.steps)


def board_of(graph: SlotGraph, plan: Plan) -> Board:
    """Return carriers and slots with a plan laid on them, to ask what could be added."""
    board = Board(graph)
    board.lay(plan.cells)
    return board


def _planned(graph: SlotGraph, adapted: Board | None) -> Plan:
    """Return a plan found by laying one by one, moving, and searching; first from an adapted one."""
    boards = [adapted] if adapted else []
    boards.append(Board(graph))
    steps = 0
    for board in boards:
        if board is not adapted:
            laid_greedily(board)
        repaired(board)
        steps += board.steps
        if not board.left:
            return Plan(outcome="planned", cells=board.cells, steps=steps)
    board, exact = boards[-1], False
    # First the links in conflict with those left, then those that sums join to them as well.
    groups = dict.fromkeys(
        tuple(part) for share in (math.inf, SHARE_THAT_JOINS) for part in graph.components(share)
    )
    for component in groups:
        if board.left.isdisjoint(component):
            continue
        exact = True
        found = exact_cells(graph, component)
        if found is False:
            proof = fullness(graph.lengths, component, graph.carriers, "search")
            return Plan(outcome="impossible", cells=board.cells, proof=proof, exact=True, steps=steps)
        if found is True:
            continue
        _exchanged(board, component, found)
    outcome: Outcome = "not settled" if board.left else "planned"
    return Plan(outcome=outcome, cells=board.cells, exact=exact, steps=board.steps + steps)


def _quietened(graph: SlotGraph, plan: Plan) -> Plan:
    """Return a plan in which links that hear much where they lie have moved to quieter places free for them.

    Microphones that listen first would do so; a plan in which they all may stay is the answer as it is.
    """
    if plan.outcome != "planned" or graph.shares is None or graph.shares[2].shape[1] < 3:
        return plan
    board = board_of(graph, plan)
    for _ in range(MOST_PASSES):
        loud = (board.shares()[:, 1] > OPEN_SHARE).nonzero()[0].tolist()
        moved = [board.quieten(demand) for demand in loud]
        if not any(moved):
            break
    return replace(plan, cells=board.cells, steps=plan.steps + board.steps)


def _adapted(graph: SlotGraph, known: Sequence[Cell | None]) -> Board:
    """Return a plan as it was known; what no longer fits lies in free places, as far as there are any."""
    board = Board(graph)
    moved = []
    for demand, cell in enumerate(known):
        if cell is not None and board.fits(demand, cell):
            board.put(demand, cell)
        else:
            moved.append(demand)
    for demand in sorted(moved, key=lambda one: (-graph.lengths[one], one)):
        cell = board.best(demand)
        if cell is not None:
            board.put(demand, cell)
    return board


def laid_greedily(board: Board) -> None:
    """Lay as many demands as can be, the long ones first, of equal ones those with most neighbours.

    board: an empty one.
    """
    graph = board.graph
    weight = [int(board.lengths[near].sum()) for near in graph.near[0]]
    for demand in sorted(range(len(weight)), key=lambda n: (-graph.lengths[n], -weight[n], n)):
        cell = board.best(demand)
        if cell is not None:
            board.put(demand, cell)


def repaired(board: Board, patience: int = PATIENCE, most_steps: int | None = None) -> set[int]:
    """Lay what does not lie yet, and whatever makes room for it; return what is left in the best arrangement.

    board: with something laid on it.
    patience: steps in a row that may leave no fewer than before.
    most_steps: in all; so many for each demand and patience besides where left out.
    A demand that finds no place free takes the cheapest: one of demands that were without a place themselves
    the fewest times. So what is hard to lay settles first, and no ring of moves is run through for ever. The
    search ends after so many steps for each demand, or when patience does.
    """
    lengths = board.graph.lengths
    waiting = deque(sorted(board.left, key=lambda demand: (-lengths[demand], demand)))
    weight = np.ones(len(lengths), dtype=np.int64)
    fewest, kept, idle = len(waiting), board.cells, 0
    for _ in range(most_steps or patience + MOST_STEPS_A_DEMAND * len(lengths)):
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


def _exchanged(board: Board, component: Sequence[int], cells: Sequence[Cell]) -> None:
    """Lay a group anew, unless sums elsewhere in the building do not allow it."""
    before = board.cells
    for demand in component:
        if board.carrier_of[demand] >= 0:
            board.take_away(demand)
    for demand, cell in zip(component, cells, strict=True):
        if not board.fits(demand, cell):
            board.lay(before)
            return
        board.put(demand, cell)
