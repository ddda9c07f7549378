"""Carriers and slots on which demands are laid one by one, and what each bears of the others."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from proposal.design.slot_graph import SlotGraph
from proposal.standards.dect import SLOT_PAIRS

ROUNDING_NOISE = 1e-9


@dataclass(frozen=True, slots=True)
class Cell:
    """Where a demand lies: its carrier, and its first slot pair of the frame, both from 0."""

    carrier: int
    slot: int


class Board:
    """Carriers and slots with what lies on them."""

    def __init__(self, graph: SlotGraph) -> None:
        """Lay out empty carriers and slots.

        graph: what is to be planned on them.
        """
        self.graph = graph
        count = len(graph.lengths)
        shape = (count, graph.carriers, SLOT_PAIRS)
        self._blocked = np.zeros(shape, dtype=np.int32)
        self._busy = np.zeros((max(len(graph.transceivers), 1), SLOT_PAIRS), dtype=np.int32)
        self._cells: list[Cell | None] = [None] * count
        self._near = [np.array(sorted(one), dtype=np.int64) for one in graph.neighbours]
        self._never = [np.array(sorted(one), dtype=np.int64) for one in graph.never]
        self._beside = {
            away: [np.array(sorted(one), dtype=np.int64) for one in lists]
            for away, lists in graph.beside.items()
        }
        self._members: list[list[set[int]]] = [
            [set() for _ in range(SLOT_PAIRS)] for _ in range(graph.carriers)
        ]
        self._sums = Sums(graph) if graph.shares is not None else None

    @property
    def cells(self) -> tuple[Cell | None, ...]:
        """Where each demand lies."""
        return tuple(self._cells)

    def starts(self, demand: int) -> list[int]:
        """Return the slots at which a demand may begin; runs of one length lie side by side from 0."""
        length = self.graph.lengths[demand]
        return list(range(0, SLOT_PAIRS - length + 1, length))

    def fits(self, demand: int, cell: Cell) -> bool:
        """Say whether a demand may lie at a place beside what is there."""
        length = self.graph.lengths[demand]
        slots = slice(cell.slot, cell.slot + length)
        if cell.slot + length > SLOT_PAIRS or self._blocked[demand, cell.carrier, slots].any():
            return False
        tag = self.graph.access_point[demand]
        if tag >= 0 and (self._busy[tag, slots] >= self.graph.transceivers[tag]).any():
            return False
        if self._sums is None:
            return True
        members = self._members[cell.carrier]
        return all(self._sums.bears(demand, members[slot]) for slot in range(cell.slot, cell.slot + length))

    def put(self, demand: int, cell: Cell) -> None:
        """Lay a demand at a place."""
        self._change(demand, cell, 1)
        self._cells[demand] = cell

    def take_away(self, demand: int) -> None:
        """Take a demand from where it lies, if it lies anywhere."""
        cell = self._cells[demand]
        if cell is not None:
            self._change(demand, cell, -1)
            self._cells[demand] = None

    def _change(self, demand: int, cell: Cell, by: int) -> None:
        slots = slice(cell.slot, cell.slot + self.graph.lengths[demand])
        self._blocked[self._near[demand], cell.carrier, slots] += by
        self._blocked[self._never[demand], :, slots] += by
        for away, lists in self._beside.items():
            for carrier in (cell.carrier - away, cell.carrier + away):
                if 0 <= carrier < self.graph.carriers:
                    self._blocked[lists[demand], carrier, slots] += by
        tag = self.graph.access_point[demand]
        if tag >= 0:
            self._busy[tag, slots] += by
        for slot in range(SLOT_PAIRS)[slots]:
            members = self._members[cell.carrier][slot]
            if by > 0:
                members.add(demand)
            else:
                members.discard(demand)

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

        own = self._cells[like]
        if own is not None:
            block(own)
        count = 0
        for slot in range(SLOT_PAIRS - length + 1):
            for carrier in range(carriers):
                free = not taken[carrier, slot : slot + length].any()
                if count < most and free and self._borne(like, carrier, slot):
                    block(Cell(carrier, slot))
                    count += 1
        return count

    def _beside_itself(self, like: int, lists: Sequence[frozenset[int]]) -> bool:
        """Say whether demands at one place disturb each other some carriers apart: as its own mates do."""
        tag = self.graph.access_point[like]
        return any(self.graph.access_point[other] == tag for other in lists[like])

    def _borne(self, demand: int, carrier: int, slot: int) -> bool:
        if self._sums is None:
            return True
        members = self._members[carrier]
        run = range(slot, slot + self.graph.lengths[demand])
        return all(self._sums.bears(demand, members[at] - {demand}) for at in run)

    def best(self, demand: int) -> Cell | None:
        """Return the free place that takes the fewest choices from neighbours not laid yet, None for none."""
        length = self.graph.lengths[demand]
        free = self._blocked[demand] == 0
        waiting = [other for other in self._near[demand].tolist() if self._cells[other] is None]
        costs = (self._blocked[waiting] == 0).sum(axis=0) if waiting else np.zeros(free.shape, dtype=int)
        ranked = []
        for slot in self.starts(demand):
            run = slice(slot, slot + length)
            usable = free[:, run].all(axis=1)
            cost = costs[:, run].sum(axis=1)
            ranked += [(int(cost[c]), slot, c) for c in np.nonzero(usable)[0].tolist()]
        for _, slot, carrier in sorted(ranked):
            cell = Cell(carrier, slot)
            if self.fits(demand, cell):
                return cell
        return None


class Sums:
    """What each demand bears of all others in its slot together, as shares of what it bears at most."""

    def __init__(self, graph: SlotGraph) -> None:
        """Sort the shares of a graph by who is disturbed.

        graph: one that holds shares.
        """
        assert graph.shares is not None
        disturbed, disturber, up, down = graph.shares
        self._listed: list[dict[int, tuple[float, float]]] = [{} for _ in graph.lengths]
        for i, j, u, d in zip(
            disturbed.tolist(), disturber.tolist(), up.tolist(), down.tolist(), strict=True
        ):
            self._listed[i][j] = (u, d)
        self._heard_by: list[list[int]] = [[] for _ in graph.lengths]
        for i, j in zip(disturbed.tolist(), disturber.tolist(), strict=True):
            self._heard_by[j].append(i)
        self._unlisted = graph.unlisted_share
        # Another user's reception is not ours to judge.
        self._judged = [tag >= 0 for tag in graph.access_point]

    def of(self, demand: int) -> dict[int, tuple[float, float]]:
        """Return the shares that listed disturbers take of a demand, at both ends."""
        return self._listed[demand]

    def share(self, demand: int, others: set[int]) -> float:
        """Return the greater of the shares of both ends that others take together."""
        listed = self._listed[demand]
        up, down, count = 0.0, 0.0, 0
        for other in sorted(others & listed.keys()):
            up += listed[other][0]
            down += listed[other][1]
            count += 1
        missing = (len(others) - count - (demand in others)) * self._unlisted
        return max(up, down) + missing

    def bears(self, demand: int, others: set[int]) -> bool:
        """Say whether a demand bears the others, and each of them still bears all with the demand there."""
        if self._judged[demand] and self.share(demand, others) > 1 + ROUNDING_NOISE:
            return False
        together = others | {demand}
        return all(
            not self._judged[other] or self.share(other, together - {other}) <= 1 + ROUNDING_NOISE
            for other in sorted(others)
        )


def laid_greedily(board: Board, rounds: int) -> set[int]:
    """Lay as many demands as can be; what did not fit goes first in the next round. Return what is left."""
    graph = board.graph
    weight = [sum(graph.lengths[other] for other in graph.neighbours[n]) for n in range(len(graph.lengths))]
    order = sorted(range(len(graph.lengths)), key=lambda n: (-graph.lengths[n], -weight[n], n))
    best: tuple[int, list[Cell | None]] | None = None
    for _ in range(rounds):
        left = []
        for demand in order:
            cell = board.best(demand)
            if cell is None:
                left.append(demand)
            else:
                board.put(demand, cell)
        if best is None or len(left) < best[0]:
            best = (len(left), list(board.cells))
        if not left:
            return set()
        last = set(left)
        order = left + [demand for demand in order if demand not in last]
        for demand in order:
            board.take_away(demand)
    assert best is not None
    for demand, cell in enumerate(best[1]):
        board.take_away(demand)
        if cell is not None:
            board.put(demand, cell)
    return {demand for demand, cell in enumerate(best[1]) if cell is None}
