"""Carriers and slots on which demands are laid, what is free beside them, and what is in the way."""

import numpy as np

from proposal.design.radio.slot_graph import Floats, Integers, SlotGraph
from proposal.design.radio.slot_loads import ONE, UNJUDGED, Marks, Places, SlotLoads, slots_of
from proposal.field_classes import dataclass
from proposal.standards.dect import SLOT_PAIRS

QUARTER = ONE // 4
"""What one disturber is taken to contribute to a sum that is too high."""


@dataclass(frozen=True, slots=True)
class Cell:
    """Where a demand lies: its carrier, and its first slot pair of the frame, both from 0."""

    carrier: int
    slot: int


class Board:
    """Carriers and slots with what lies on them.

    carrier_of, slot_of: where each demand lies, carrier -1 for nowhere; changed only by the board.
    steps: how often something was laid.
    """

    def __init__(self, graph: SlotGraph) -> None:
        """Lay out empty carriers and slots.

        graph: what is to be planned on them.
        """
        self.graph, self.steps = graph, 0
        count = len(graph.lengths)
        self.lengths = np.array(graph.lengths, dtype=np.int64)
        self.carrier_of = np.full(count, -1, dtype=np.int64)
        self.slot_of = np.zeros(count, dtype=np.int64)
        self._blocked = np.zeros((count, graph.carriers, SLOT_PAIRS), dtype=np.int32)
        self._busy = np.zeros((max(len(graph.transceivers), 1), SLOT_PAIRS), dtype=np.int32)
        self._served = graph.served()
        self._used = np.array(graph.uses, dtype=np.int64)
        self._loads = SlotLoads(graph, self.carrier_of, self.slot_of, self.lengths)

    @property
    def cells(self) -> tuple[Cell | None, ...]:
        """Where each demand lies."""
        places = zip(self.carrier_of.tolist(), self.slot_of.tolist(), strict=True)
        return tuple(None if carrier < 0 else Cell(carrier, slot) for carrier, slot in places)

    @property
    def left(self) -> set[int]:
        """The demands that do not lie anywhere."""
        return set(np.nonzero(self.carrier_of < 0)[0].tolist())

    def lay(self, cells: tuple[Cell | None, ...]) -> None:
        """Lay everything so and nothing else."""
        for demand in np.nonzero(self.carrier_of >= 0)[0].tolist():
            self.take_away(demand)
        for demand, cell in enumerate(cells):
            if cell is not None:
                self.put(demand, cell)

    def put(self, demand: int, cell: Cell) -> None:
        """Lay a demand, which lies nowhere, at a place."""
        self.steps += 1
        self.carrier_of[demand], self.slot_of[demand] = cell.carrier, cell.slot
        self._change(demand, cell, 1)

    def take_away(self, demand: int) -> Cell:
        """Take a demand from where it lies, and return that place."""
        cell = Cell(int(self.carrier_of[demand]), int(self.slot_of[demand]))
        self.carrier_of[demand] = -1
        self._change(demand, cell, -1)
        return cell

    def _change(self, demand: int, cell: Cell, by: int) -> None:
        end = cell.slot + self.graph.lengths[demand]
        for away, lists in self.graph.near.items():
            for carrier in {cell.carrier - away, cell.carrier + away}:
                if 0 <= carrier < self.graph.carriers:
                    self._blocked[lists[demand], carrier, cell.slot : end] += by
        self._blocked[self.graph.never[demand], :, cell.slot : end] += by
        if (tag := self.graph.access_point[demand]) >= 0:
            self._busy[tag, cell.slot : cell.slot + self.graph.uses[demand]] += by
        self._loads.change(demand, cell.carrier, cell.slot, by)

    def _all_tuned(self, demand: int) -> Marks:
        """Say of each slot whether all transceivers of a demand's access point are taken."""
        tag = self.graph.access_point[demand]
        most = self.graph.transceivers[tag] if tag >= 0 else len(self.lengths) + 1
        taken: Marks = self._busy[tag] >= most
        return taken

    def free(self, demand: int) -> Marks:
        """Say of each carrier and slot whether a demand may lie there, as far as others are concerned.

        demand: one that lies nowhere.
        """
        free: Marks = (self._blocked[demand] == 0) & (self._loads.excess(demand) <= 0)
        _, carriers, slots = self._loads.strained(demand)
        free[carriers, slots] = False
        return free

    def fits(self, demand: int, cell: Cell) -> bool:
        """Say whether a demand that lies nowhere may lie at a place beside what is there."""
        end, used = cell.slot + self.graph.lengths[demand], cell.slot + self.graph.uses[demand]
        if end > SLOT_PAIRS or self._all_tuned(demand)[cell.slot : used].any():
            return False
        return bool(self.free(demand)[cell.carrier, cell.slot : end].all())

    def _usable(self, demand: int) -> Marks:
        """Say of each carrier and run whether a demand that lies nowhere may lie there."""
        runs = self._runs(demand)
        usable: Marks = np.all(self.free(demand)[:, runs], axis=2)
        usable &= ~np.any(self._all_tuned(demand)[runs[:, : self.graph.uses[demand]]], axis=1)
        return usable

    def _runs(self, demand: int) -> Integers:
        """Return the slots of each run in which a demand may lie, shape (runs, its length)."""
        starts = np.array(self.graph.starts(demand), dtype=np.int64)
        return starts[:, None] + np.arange(self.graph.lengths[demand])

    def best(self, demand: int) -> Cell | None:
        """Return the free place that takes the fewest choices from neighbours not laid yet, None for none.

        demand: its number.
        Runs of one length lie side by side from slot 0.
        """
        usable = self._usable(demand)
        if not usable.any():
            return None
        near = self.graph.near[0][demand]
        waiting = near[self.carrier_of[near] < 0]
        costs = (self._blocked[waiting] == 0).sum(axis=0)[:, self._runs(demand)].sum(axis=2)
        costs[~usable] = costs.max() + 1
        return self._first_least(demand, costs)

    def _first_least(self, demand: int, costs: Integers) -> Cell:
        """Return the run that costs least; of equal ones the earliest slot, then the lowest carrier."""
        run, carrier = divmod(int(costs.T.argmin()), len(costs))
        return Cell(carrier, self.graph.starts(demand)[run])

    def make_room(self, demand: int, weight: Integers) -> tuple[Cell, list[int]]:
        """Take away what keeps a demand from the place where that weighs least; return both.

        demand: one that lies nowhere; weight: of each demand.
        """
        members, carriers, slots = self._in_the_way(demand)
        excess = self._loads.excess(demand)
        price = np.where(excess > 0, 1 + excess // QUARTER, 0)
        np.add.at(price, (carriers, slots), weight[members])
        if (tuned := self._all_tuned(demand)).any():
            price += np.where(tuned, self._lightest_tuned(demand, weight), 0)
        cell = self._first_least(demand, price[:, self._runs(demand)].sum(axis=2))
        end, used = cell.slot + self.graph.lengths[demand], cell.slot + self.graph.uses[demand]
        here = (carriers == cell.carrier) & (cell.slot <= slots) & (slots < end)
        away: list[int] = np.unique(members[here]).tolist()
        for member in away:
            self.take_away(member)
        while (tuned := self._all_tuned(demand)[cell.slot : used]).any():
            there = self._lying(self._served[self.graph.access_point[demand]], self._used)
            on = there[0][there[2] == cell.slot + int(tuned.argmax())]
            away.append(int(on[weight[on].argmin()]))
            self.take_away(away[-1])
        while (excess := self._loads.excess(demand)[cell.carrier, cell.slot : end]).max() > 0:
            there = self._lying(np.arange(len(self.lengths)), self.lengths)
            on = there[0][(there[1] == cell.carrier) & (there[2] == cell.slot + int(excess.argmax()))]
            away.append(self._loads.heaviest(demand, on, weight))
            self.take_away(away[-1])
        return cell, away

    def _lying(self, members: Integers, lengths: Integers) -> Places:
        """Return those of some demands that lie somewhere, one for each slot, so many from the first on."""
        there = members[self.carrier_of[members] >= 0]
        return slots_of(there, self.carrier_of[there], self.slot_of[there], lengths[there])

    def _in_the_way(self, demand: int) -> Places:
        """Return what lies somewhere, with each carrier and slot from which it keeps a demand."""
        found = [self._loads.strained(demand)]
        for away, lists in self.graph.near.items():
            members, carriers, slots = self._lying(lists[demand], self.lengths)
            found += [(members, carriers + step, slots) for step in {-away, away}]
        members, _, slots = self._lying(self.graph.never[demand], self.lengths)
        found += [(members, np.full_like(slots, carrier), slots) for carrier in range(self.graph.carriers)]
        members, carriers, slots = (np.concatenate(part) for part in zip(*found, strict=True))
        there = (carriers >= 0) & (carriers < self.graph.carriers)
        return members[there], carriers[there], slots[there]

    def _lightest_tuned(self, demand: int, weight: Integers) -> Integers:
        """Return by slot the least weight of what a demand's access point serves there."""
        members, _, slots = self._lying(self._served[self.graph.access_point[demand]], self._used)
        lightest = np.full(SLOT_PAIRS, weight.max())
        np.minimum.at(lightest, slots, weight[members])
        return lightest

    def shares(self) -> Floats:
        """Return what each demand takes where it lies, in its worst slot at its worst end, of what it can.

        Shape (demands, 2): of carrier to interference, and of listening; zero where it is not judged.
        """
        return self._loads.shares()

    def quietest(self, demand: int) -> float:
        """Return the least share that a demand would hear of all others, in any run of its length.

        demand: one that lies somewhere and listens; its own run is among them.
        """
        length, heard = self.graph.lengths[demand], self._loads.heard_by(demand)
        runs = np.arange(SLOT_PAIRS - length + 1)[:, None] + np.arange(length)
        return float(max(heard[:, runs].max(axis=2).min(), 0)) / ONE

    def quieten(self, demand: int) -> bool:
        """Lay a demand where it hears least among the places free for it; say whether it moved.

        demand: one that lies somewhere and listens.
        """
        before = self.take_away(demand)
        by_slot = self._loads.heard_by(demand)
        heard = by_slot[:, self._runs(demand)].max(axis=2)
        heard[~self._usable(demand)] = UNJUDGED
        now = by_slot[before.carrier, before.slot : before.slot + self.graph.lengths[demand]].max()
        quieter = bool(heard.min() < now)
        self.put(demand, self._first_least(demand, heard) if quieter else before)
        return quieter

    def further(self, like: int, most: int) -> int:
        """Return how many demands like a given one could be added without moving anything, up to `most`.

        like: they share its place, length and levels, exclude each other, and have transceivers of their own.
        """
        free = self.free(like)
        if self.carrier_of[like] >= 0:
            free[self.carrier_of[like], self.slot_of[like] : self.slot_of[like] + self.lengths[like]] = False
        count = 0
        for row in free.tolist():
            run = 0
            for one in row:
                run = run + 1 if one else 0
                if run == self.lengths[like]:
                    count, run = count + 1, 0
        return min(count, most)
