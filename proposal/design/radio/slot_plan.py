"""A plan of carriers and slots for all radio links of a building, or the proof that there is none.

The plan shows that room exists; the equipment chooses its own carriers and slots from day to day. It is found
by a greedy pass; what did not fit is laid by moving others out of its way, and where that fails by an integer
programme over the links concerned. Nothing here depends on a clock: searches end after a number of steps or
nodes.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from proposal.design.radio.slot_graph import Clique, SlotGraph, proof_of_impossible
from proposal.design.radio.slot_grid import Board, Cell, laid_greedily
from proposal.design.radio.slot_interference import Sums
from proposal.design.radio.slot_repair import repaired
from proposal.design.radio.slot_solver import exact_cells

Outcome = Literal["planned", "impossible", "not settled"]

SHARE_THAT_JOINS = 0.05
MOST_UNSETTLED = 3
"""The exact search ends after so many groups of links without a plan: the others alone would not make one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """What came of planning.

    outcome: planned, impossible or not settled.
    cells: of every demand where planned; where not settled of as many as fitted, None for the others.
    proof: the demands that prove that no plan exists, where impossible.
    exact: whether the integer programme was needed.
    """

    outcome: Outcome
    cells: tuple[Cell | None, ...]
    proof: Clique | None = None
    exact: bool = False


def slot_plan(graph: SlotGraph, known: Sequence[Cell | None] = ()) -> Plan:
    """Return a plan for every demand, or why there is none.

    graph: what has to be planned.
    known: a plan of the same demands under other levels, which may need little change to hold under these.
    """
    adapted = _adapted(graph, known) if known else None
    if adapted and not adapted.left:
        return Plan(outcome="planned", cells=adapted.cells)
    proof = proof_of_impossible(graph)
    if proof:
        return Plan(outcome="impossible", cells=(None,) * len(graph.lengths), proof=proof)
    if adapted and not repaired(adapted):
        return Plan(outcome="planned", cells=adapted.cells)
    board = Board(graph)
    laid_greedily(board)
    if not repaired(board):
        return Plan(outcome="planned", cells=board.cells)
    # First the links in conflict with those left, then those that sums join to them as well.
    searched: set[tuple[int, ...]] = set()
    for least_share in (math.inf, SHARE_THAT_JOINS):
        proof = _laid_exactly(graph, board, least_share, searched)
        if proof:
            return Plan(outcome="impossible", cells=board.cells, proof=proof, exact=True)
        if not board.left:
            return Plan(outcome="planned", cells=board.cells, exact=True)
    return Plan(outcome="not settled", cells=board.cells, exact=True)


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


def _laid_exactly(
    graph: SlotGraph, board: Board, least_share: float, searched: set[tuple[int, ...]]
) -> Clique | None:
    """Lay what is left by exact search, small groups of links first; return what proves that it cannot be.

    searched: groups that were searched before without result, to which this adds.
    """
    unsettled = 0
    for component in sorted(graph.components(least_share), key=lambda one: (len(one), one)):
        if tuple(component) in searched or (board.carrier_of[component] >= 0).all():
            continue
        found = exact_cells(graph, component)
        if isinstance(found, Clique):
            return found
        if found is None or not _exchanged(board, component, found):
            searched.add(tuple(component))
            unsettled += 1
            if unsettled == MOST_UNSETTLED:
                break
    return None


def _exchanged(board: Board, component: Sequence[int], cells: Sequence[Cell]) -> bool:
    """Lay a group anew, unless sums elsewhere in the building do not allow it; say whether it lies there."""
    before = [board.cell_of(demand) for demand in component]
    for demand in component:
        board.take_away(demand)
    for number, (demand, cell) in enumerate(zip(component, cells, strict=True)):
        if not board.fits(demand, cell):
            for other in component[:number]:
                board.take_away(other)
            for other, was in zip(component, before, strict=True):
                if was is not None:
                    board.put(other, was)
            return False
        board.put(demand, cell)
    return True


def largest_shares(graph: SlotGraph, cells: Sequence[Cell | None]) -> NDArray[np.float64]:
    """Return what each demand bears of the sum of all others in its worst slot, as a share of what it can.

    cells: a plan. Nothing for demands that are not planned and for those of other users.
    """
    shares = np.zeros(len(graph.lengths))
    if graph.shares is None:
        return shares
    judged = [n for n, cell in enumerate(cells) if cell is not None and graph.access_point[n] >= 0]
    sums = Sums(graph, judged)
    members: dict[tuple[int, int], set[int]] = {}
    for demand, cell in enumerate(cells):
        if cell is not None:
            for slot in range(cell.slot, cell.slot + graph.lengths[demand]):
                members.setdefault((cell.carrier, slot), set()).add(demand)
    for (_, _), together in sorted(members.items()):
        for demand in sorted(together):
            if graph.access_point[demand] >= 0:
                shares[demand] = max(shares[demand], sums.share(demand, together - {demand}))
    return shares


def board_of(graph: SlotGraph, plan: Plan) -> Board:
    """Return carriers and slots with a plan laid on them, to ask what could be added."""
    board = Board(graph)
    for demand, cell in enumerate(plan.cells):
        if cell is not None:
            board.put(demand, cell)
    return board
