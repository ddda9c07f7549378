"""Carriers and slots on which demands are laid one by one, and what is free beside what lies there."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from proposal.design.radio.slot_graph import Integers, SlotGraph
from proposal.design.radio.slot_interference import Loads
from proposal.standards.dect import SLOT_PAIRS


@dataclass(frozen=True, slots=True)
class Cell:
    """Where a demand lies: its carrier, and its first slot pair of the frame, both from 0."""

    carrier: int
    slot: int


class Board:
    """Carriers and slots with what lies on them.

    carrier_of, slot_of: where each demand lies, carrier -1 for nowhere; changed only by the board.
    lengths: of the demands.
    served: the demands of each access point.
    near, never, beside: the neighbours of each demand as the graph has them, as numbers in order.
    loads: what everyone bears of the others, where the graph holds shares.
    """

    def __init__(self, graph: SlotGraph) -> None:
        """Lay out empty carriers and slots.

        graph: what is to be planned on them.
        """
        self.graph = graph
        count = len(graph.lengths)
        self._blocked = np.zeros((count, graph.carriers, SLOT_PAIRS), dtype=np.int32)
        self._busy = np.zeros((max(len(graph.transceivers), 1), SLOT_PAIRS), dtype=np.int32)
        self.carrier_of = np.full(count, -1, dtype=np.int64)
        self.slot_of = np.zeros(count, dtype=np.int64)
        self.lengths = np.array(graph.lengths, dtype=np.int64)
        tags = np.array(graph.access_point, dtype=np.int64)
        self.served = [np.nonzero(tags == tag)[0] for tag in range(len(graph.transceivers))]
        self.near = _numbers(graph.neighbours)
        self.never = _numbers(graph.never)
        self.beside = {away: _numbers(lists) for away, lists in graph.beside.items()}
        self.loads = Loads(graph, self.carrier_of, self.slot_of) if graph.shares is not None else None

    @property
    def cells(self) -> tuple[Cell | None, ...]:
        """Where each demand lies."""
        return tuple(self.cell_of(demand) for demand in range(len(self.carrier_of)))

    def cell_of(self, demand: int) -> Cell | None:
        """Return where a demand lies."""
        carrier = int(self.carrier_of[demand])
        return Cell(carrier, int(self.slot_of[demand])) if carrier >= 0 else None

    @property
    def left(self) -> set[int]:
        """The demands that do not lie anywhere."""
        return set(np.nonzero(self.carrier_of < 0)[0].tolist())

    def arrangement(self) -> tuple[Integers, Integers]:
        """Return where everything lies at the moment, to be laid so again."""
        return self.carrier_of.copy(), self.slot_of.copy()

    def lay(self, arrangement: tuple[Integers, Integers]) -> None:
        """Lay everything as it was before."""
        for demand in range(len(self.carrier_of)):
            self.take_away(demand)
        for demand, (carrier, slot) in enumerate(np.stack(arrangement, axis=1).tolist()):
            if carrier >= 0:
                self.put(demand, Cell(carrier, slot))

    def fits(self, demand: int, cell: Cell) -> bool:
        """Say whether a demand may lie at a place beside what is there."""
        end = cell.slot + self.graph.lengths[demand]
        return end <= SLOT_PAIRS and bool(self._free(demand)[cell.carrier, cell.slot : end].all())

    def put(self, demand: int, cell: Cell) -> None:
        """Lay a demand at a place."""
        self.carrier_of[demand], self.slot_of[demand] = cell.carrier, cell.slot
        self._change(demand, cell, 1)

    def take_away(self, demand: int) -> None:
        """Take a demand from where it lies, if it lies anywhere."""
        cell = self.cell_of(demand)
        if cell is not None:
            self._change(demand, cell, -1)
            self.carrier_of[demand] = -1

    def _change(self, demand: int, cell: Cell, by: int) -> None:
        slots = slice(cell.slot, cell.slot + self.graph.lengths[demand])
        self._blocked[self.near[demand], cell.carrier, slots] += by
        if len(self.never[demand]):
            self._blocked[self.never[demand], :, slots] += by
        for away, lists in self.beside.items():
            if not len(lists[demand]):
                continue
            for carrier in (cell.carrier - away, cell.carrier + away):
                if 0 <= carrier < self.graph.carriers:
                    self._blocked[lists[demand], carrier, slots] += by
        tag = self.graph.access_point[demand]
        if tag >= 0:
            self._busy[tag, slots] += by
        if self.loads:
            self.loads.change(demand, cell.carrier, cell.slot, by)

    def _free(self, demand: int) -> NDArray[np.bool_]:
        """Say of each carrier and slot whether a demand may lie there as far as that slot is concerned."""
        free: NDArray[np.bool_] = self._blocked[demand] == 0
        tag = self.graph.access_point[demand]
        if tag >= 0:
            free &= ~self.without_transceiver(tag)
        if self.loads and free.any():
            free &= self.loads.bearable(demand)
        return free

    def without_transceiver(self, tag: int) -> NDArray[np.bool_]:
        """Say of each slot whether all transceivers of an access point are taken.

        tag: number of the access point.
        """
        taken: NDArray[np.bool_] = self._busy[tag] >= self.graph.transceivers[tag]
        return taken

    def further(self, like: int, most: int) -> int:
        """Return how many demands like a given one could be added without moving anything, up to `most`.

        like: they share its place, length and levels, exclude each other, and have transceivers of their own.
        """
        length, carriers = self.graph.lengths[like], self.graph.carriers
        taken = self._blocked[like] > 0
        alike = [away for away, lists in self.graph.beside.items() if self._beside_itself(like, lists)]

        def block(cell: Cell) -> None:
            slots = slice(cell.slot, cell.slot + length)
            taken[cell.carrier, slots] = True
            for away in alike:
                for carrier in (cell.carrier - away, cell.carrier + away):
                    if 0 <= carrier < carriers:
                        taken[carrier, slots] = True

        own = self.cell_of(like)
        if own is not None:
            block(own)
        # What lies there already is counted without the demand itself, which is blocked where it lies.
        borne = self.loads.bearable(like) if self.loads else np.ones(taken.shape, dtype=np.bool_)
        count = 0
        for slot in range(SLOT_PAIRS - length + 1):
            for carrier in range(carriers):
                run = slice(slot, slot + length)
                if count < most and not taken[carrier, run].any() and borne[carrier, run].all():
                    block(Cell(carrier, slot))
                    count += 1
        return count

    def _beside_itself(self, like: int, lists: Sequence[frozenset[int]]) -> bool:
        """Say whether demands at one place disturb each other some carriers apart: as its own mates do."""
        tag = self.graph.access_point[like]
        return any(self.graph.access_point[other] == tag for other in lists[like])

    def best(self, demand: int) -> Cell | None:
        """Return the free place that takes the fewest choices from neighbours not laid yet, None for none.

        demand: its number.
        Runs of one length lie side by side from slot 0.
        """
        length, carriers = self.graph.lengths[demand], self.graph.carriers
        starts = SLOT_PAIRS // length
        runs = carriers, starts, length
        usable = self._free(demand)[:, : starts * length].reshape(runs).all(axis=2)
        if not usable.any():
            return None
        near = self.near[demand]
        waiting = near[self.carrier_of[near] < 0]
        costs = (self._blocked[waiting] == 0).sum(axis=0)[:, : starts * length].reshape(runs).sum(axis=2)
        costs[~usable] = costs.max() + 1
        # Of equal places the earliest slot, then the lowest carrier.
        start, carrier = divmod(int(costs.T.argmin()), carriers)
        return Cell(carrier, start * length)


def _numbers(lists: Sequence[frozenset[int]]) -> list[Integers]:
    return [np.array(sorted(one), dtype=np.int64) for one in lists]


def laid_greedily(board: Board) -> None:
    """Lay as many demands as can be, the long ones first, of equal ones those with most neighbours."""
    lengths = board.graph.lengths
    weight = [int(board.lengths[near].sum()) for near in board.near]
    for demand in sorted(range(len(lengths)), key=lambda n: (-lengths[n], -weight[n], n)):
        cell = board.best(demand)
        if cell is not None:
            board.put(demand, cell)
