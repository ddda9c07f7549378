"""A plan of carriers and slots for all radio links of a building, or the proof that there is none.

The plan shows that room exists; the equipment chooses its own carriers and slots from day to day. It is found
by a greedy pass that starts over with what did not fit, and where that fails by an integer programme over the
links concerned. Nothing here depends on a clock: searches end after a number of rounds or nodes.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from proposal.design.slot_board import Board, Cell, Sums, laid_greedily
from proposal.design.slot_graph import Clique, SlotGraph, proof_of_impossible
from proposal.design.slot_programme import exact_cells

Outcome = Literal["planned", "impossible", "not settled"]

MOST_ROUNDS = 12
SHARE_THAT_JOINS = 0.05


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
    mended = _mended(graph, known) if known else None
    if mended:
        return Plan(outcome="planned", cells=mended.cells)
    proof = proof_of_impossible(graph)
    if proof:
        return Plan(outcome="impossible", cells=(None,) * len(graph.lengths), proof=proof)
    board = Board(graph)
    left = laid_greedily(board, MOST_ROUNDS)
    if not left:
        return Plan(outcome="planned", cells=board.cells)
    # First the links in conflict with those left, then those that sums join to them as well.
    for least_share in (math.inf, SHARE_THAT_JOINS):
        outcome = _settled(graph, board, left, least_share)
        if isinstance(outcome, Clique):
            return Plan(outcome="impossible", cells=board.cells, proof=outcome, exact=True)
        if outcome:
            return Plan(outcome="planned", cells=board.cells, exact=True)
    return Plan(outcome="not settled", cells=board.cells, exact=True)


def _mended(graph: SlotGraph, known: Sequence[Cell | None]) -> Board | None:
    """Return a plan for every demand, as it was known except for those that no longer fit, or None."""
    board = Board(graph)
    moved = []
    for demand, cell in enumerate(known):
        if cell is not None and board.fits(demand, cell):
            board.put(demand, cell)
        else:
            moved.append(demand)
    for demand in sorted(moved, key=lambda one: (-graph.lengths[one], one)):
        cell = board.best(demand)
        if cell is None:
            return None
        board.put(demand, cell)
    return board


def _settled(graph: SlotGraph, board: Board, left: set[int], least_share: float) -> bool | Clique:
    """Lay what is left by exact search; say whether all lies now, or what proves that it cannot."""
    settled = True
    for component in graph.components(least_share):
        if not left & set(component):
            continue
        found = exact_cells(graph, component)
        if isinstance(found, Clique):
            return found
        if found is None:
            settled = False
            continue
        before = {demand: board.cells[demand] for demand in component}
        for demand in component:
            board.take_away(demand)
        for demand, cell in zip(component, found, strict=True):
            if board.fits(demand, cell):
                board.put(demand, cell)
        if any(board.cells[demand] is None for demand in component):
            # Elsewhere in the building the sums do not allow it.
            settled = False
            for demand in component:
                board.take_away(demand)
            for demand, was in before.items():
                if was is not None:
                    board.put(demand, was)
    return settled


def largest_shares(graph: SlotGraph, cells: Sequence[Cell | None]) -> NDArray[np.float64]:
    """Return what each demand bears of the sum of all others in its worst slot, as a share of what it can.

    cells: a plan. Nothing for demands that are not planned and for those of other users.
    """
    shares = np.zeros(len(graph.lengths))
    if graph.shares is None:
        return shares
    sums = Sums(graph)
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
