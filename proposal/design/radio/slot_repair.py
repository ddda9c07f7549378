"""Laying what a greedy pass has left: others are moved out of its way and laid again in their turn."""

from collections import deque

import numpy as np

from proposal.design.radio.slot_graph import Integers
from proposal.design.radio.slot_grid import Board, Cell
from proposal.design.radio.slot_interference import ONE
from proposal.standards.dect import SLOT_PAIRS

MOST_STEPS_A_DEMAND = 3
PATIENCE = 1_000
QUARTER = ONE // 4
"""What one disturber is taken to contribute to a sum that is too high."""


def repaired(board: Board) -> set[int]:
    """Lay what does not lie yet, and whatever makes room for it; return what is left in the best arrangement.

    A demand that finds no place free takes the cheapest: one of demands that were without a place themselves
    the fewest times. So what is hard to lay settles first, and no ring of moves is run through for ever. The
    search ends after so many steps for each demand, or so many in a row that left no fewer than before.
    """
    lengths = board.graph.lengths
    waiting = deque(sorted(board.left, key=lambda demand: (-lengths[demand], demand)))
    weight = np.ones(len(lengths), dtype=np.int64)
    fewest, kept, idle = len(waiting), board.arrangement(), 0
    for _ in range(PATIENCE + MOST_STEPS_A_DEMAND * len(lengths)):
        if not waiting or idle == PATIENCE:
            break
        idle += 1
        demand = waiting.popleft()
        cell = board.best(demand)
        if cell is None:
            if len(waiting) + 1 < fewest:
                fewest, kept, idle = len(waiting) + 1, board.arrangement(), 0
            weight[demand] += 1
            cell = _cheapest(board, demand, weight)
            waiting.extend(_cleared(board, demand, cell, weight))
        board.put(demand, cell)
    if len(waiting) >= fewest:
        board.lay(kept)
    return board.left


def _cheapest(board: Board, demand: int, weight: Integers) -> Cell:
    """Return the place where what is in the way weighs least; an estimate, as one may be in the way twice.

    weight: of each demand.
    """
    carriers, length = board.graph.carriers, board.graph.lengths[demand]
    starts = SLOT_PAIRS // length
    price = np.zeros((carriers, starts), dtype=np.int64)
    for away, lists in ((0, board.near), *board.beside.items()):
        runs, others = _covered(board, lists[demand], length)
        if not len(others):
            continue
        for carrier in {-away, away}:
            there = board.carrier_of[others] + carrier
            inside = (there >= 0) & (there < carriers)
            np.add.at(price, (there[inside], runs[inside]), weight[others[inside]])
    if len(board.never[demand]):
        runs, others = _covered(board, board.never[demand], length)
        np.add.at(price.T, runs, weight[others, None])
    tag = board.graph.access_point[demand]
    if tag >= 0:
        full = board.without_transceiver(tag)[: starts * length].reshape(starts, length).any(axis=1)
        runs, others = _covered(board, board.served[tag], length)
        lightest = np.full(starts, weight.max())
        np.minimum.at(lightest, runs, weight[others])
        price[:, full] += lightest[full]
    strain = _strain(board, demand, weight)[:, : starts * length]
    price += strain.reshape(carriers, starts, length).max(axis=2)
    start, carrier = divmod(int(price.T.argmin()), carriers)
    return Cell(carrier, start * length)


def _covered(board: Board, others: Integers, length: int) -> tuple[Integers, Integers]:
    """Return which runs of a length are touched by which demands, as numbers of runs and of demands."""
    others = others[board.carrier_of[others] >= 0]
    if not len(others):
        return others, others
    first = board.slot_of[others] // length
    last = np.minimum((board.slot_of[others] + board.lengths[others] - 1) // length, SLOT_PAIRS // length - 1)
    if (first == last).all():
        return first, others
    count = np.maximum(last - first + 1, 0)
    step = np.arange(count.sum()) - np.repeat(np.cumsum(count) - count, count)
    return np.repeat(first, count) + step, np.repeat(others, count)


def _strain(board: Board, demand: int, weight: Integers) -> Integers:
    """Return by carrier and slot the weight of what sums keep from a demand, besides its neighbours."""
    if board.loads is None:
        return np.zeros((board.graph.carriers, SLOT_PAIRS), dtype=np.int64)
    excess = board.loads.excess(demand)
    price = np.where(excess > 0, 1 + excess // QUARTER, 0)
    carriers, slots, members = board.loads.strained(demand)
    neighbour = np.zeros(len(weight), dtype=np.bool_)
    neighbour[board.near[demand]] = True
    further = ~neighbour[members]
    np.add.at(price, (carriers[further], slots[further]), weight[members[further]])
    return price


def _cleared(board: Board, demand: int, cell: Cell, weight: Integers) -> list[int]:
    """Take away what keeps a demand from a place, and return it."""
    end = cell.slot + board.graph.lengths[demand]
    away: list[int] = []

    def take(others: list[int]) -> None:
        for other in others:
            board.take_away(other)
        away.extend(others)

    def overlapping(others: Integers) -> Integers:
        begin = board.slot_of[others]
        laid = board.carrier_of[others] >= 0
        return others[laid & (begin < end) & (begin + board.lengths[others] > cell.slot)]

    if len(board.never[demand]):
        take(overlapping(board.never[demand]).tolist())
    for apart, lists in ((0, board.near), *board.beside.items()):
        if not len(lists[demand]):
            continue
        others = overlapping(lists[demand])
        take(others[np.abs(board.carrier_of[others] - cell.carrier) == apart].tolist())
    tag = board.graph.access_point[demand]
    while tag >= 0 and (full := board.without_transceiver(tag)[cell.slot : end]).any():
        slot = cell.slot + int(full.argmax())
        others = board.served[tag]
        begin = board.slot_of[others]
        on = (board.carrier_of[others] >= 0) & (begin <= slot) & (begin + board.lengths[others] > slot)
        take([min(others[on].tolist(), key=lambda other: (weight[other], other))])
    if board.loads:
        run = np.arange(cell.slot, end)
        while True:
            carriers, slots, members = board.loads.strained(demand)
            here = (carriers == cell.carrier) & (slots >= cell.slot) & (slots < end)
            strained = set(members[here].tolist())
            excess = board.loads.excess(demand)[cell.carrier, run]
            if strained:
                take(sorted(strained))
            elif excess.max() > 0:
                take([board.loads.worst(demand, cell.carrier, int(run[excess.argmax()]), weight)])
            else:
                break
    return away
