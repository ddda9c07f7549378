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
        self.graph = graph
        count = len(graph.lengths)
        self.steps = 0
        self.lengths = np.array(graph.lengths, dtype=np.int64)
        self.carrier_of = np.full(count, -1, dtype=np.int64)
        self.slot_of = np.zeros(count, dtype=np.int64)
        self._lies = np.zeros((count, graph.carriers, SLOT_PAIRS), dtype=np.bool_)
        self._blocked = np.zeros((count, graph.carriers, SLOT_PAIRS), dtype=np.int32)
        self._busy = np.zeros((max(len(graph.transceivers), 1), SLOT_PAIRS), dtype=np.int32)
        self._served = graph.served()
        self._used = np.array(graph.uses, dtype=np.int64)
        kinds = {(length, used) for length, used in zip(graph.lengths, graph.uses, strict=True)}
        self._run_slots = {kind: np.zeros((0, 0), dtype=np.int64) for kind in sorted(kinds)}
        for demand, kind in enumerate(zip(graph.lengths, graph.uses, strict=True)):
            if not self._run_slots[kind].size:
                starts = np.array(graph.starts(demand), dtype=np.int64)
                self._run_slots[kind] = starts[:, None] + np.arange(kind[0])
        self._loads = (
            None if graph.shares is None else SlotLoads(graph, self.carrier_of, self.slot_of, self.lengths)
        )

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

    def take_away(self, demand: int) -> None:
        """Take a demand from where it lies."""
        cell = Cell(int(self.carrier_of[demand]), int(self.slot_of[demand]))
        self.carrier_of[demand] = -1
        if self._loads is not None:
            self._loads.forget(demand)
        self._change(demand, cell, -1)

    def _change(self, demand: int, cell: Cell, by: int) -> None:
        end = cell.slot + self.graph.lengths[demand]
        self._lies[demand, cell.carrier, cell.slot : end] = by > 0
        for away, lists in self.graph.near.items():
            for carrier in {cell.carrier - away, cell.carrier + away}:
                if 0 <= carrier < self.graph.carriers:
                    self._blocked[lists[demand], carrier, cell.slot : end] += by
        self._blocked[self.graph.never[demand], :, cell.slot : end] += by
        if (tag := self.graph.access_point[demand]) >= 0:
            self._busy[tag, cell.slot : cell.slot + self.graph.uses[demand]] += by
        if self._loads is not None:
            self._loads.change(demand, cell.carrier, cell.slot, by)

    def _served_slots(self, demand: int) -> Places:
        """Return what lies somewhere for a demand's access point, one for each slot in which it is used."""
        own = self._served[self.graph.access_point[demand]]
        members = own[self.carrier_of[own] >= 0]
        return slots_of(members, self.carrier_of[members], self.slot_of[members], self._used[members])

    def _all_tuned(self, demand: int) -> Marks:
        """Say of each slot whether all transceivers of a demand's access point are taken."""
        tag = self.graph.access_point[demand]
        if tag < 0:
            return np.zeros(SLOT_PAIRS, dtype=np.bool_)
        taken: Marks = self._busy[tag] >= self.graph.transceivers[tag]
        return taken

    def free(self, demand: int) -> Marks:
        """Say of each carrier and slot whether a demand may lie there, as far as others are concerned.

        demand: one that lies nowhere.
        """
        free: Marks = self._blocked[demand] == 0
        if self._loads is not None and free.any():
            free &= self._loads.excess(demand) <= 0
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
        tuned = self._runs(demand)[:, : self.graph.uses[demand]]
        usable: Marks = np.all(self.free(demand)[:, self._runs(demand)], axis=2)
        usable &= ~np.any(self._all_tuned(demand)[tuned], axis=1)
        return usable

    def _runs(self, demand: int) -> Integers:
        """Return the slots of each run in which a demand may lie, shape (runs, its length)."""
        return self._run_slots[self.graph.lengths[demand], self.graph.uses[demand]]

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
        return Cell(carrier, int(self._runs(demand)[run, 0]))

    def make_room(self, demand: int, weight: Integers) -> tuple[Cell, list[int]]:
        """Take away what keeps a demand from the place where that weighs least; return both.

        demand: one that lies nowhere; weight: of each demand.
        """
        strained = None if self._loads is None else self._loads.strained(demand)
        cell = self._cheapest(demand, weight, strained)
        return cell, self._cleared(demand, cell, weight, strained)

    def _cheapest(self, demand: int, weight: Integers, strained: Places | None) -> Cell:
        """Return the place where what is in the way weighs least: an estimate."""
        price = self._weight_in_the_way(demand, weight)
        if strained:
            members, carriers, slots = strained
            np.add.at(price, (carriers, slots), weight[members])
        tuned = self._all_tuned(demand)
        if tuned.any():
            members, _, slots = self._served_slots(demand)
            lightest = np.full(SLOT_PAIRS, weight.max())
            np.minimum.at(lightest, slots, weight[members])
            price += np.where(tuned, lightest, 0)
        if self._loads is not None:
            excess = self._loads.excess(demand)
            price += np.where(excess > 0, 1 + excess // QUARTER, 0)
        return self._first_least(demand, price[:, self._runs(demand)].sum(axis=2))

    def _weight_in_the_way(self, demand: int, weight: Integers) -> Integers:
        """Return by carrier and slot the weight of all that may not lie beside a demand there."""
        found = np.zeros((self.graph.carriers, SLOT_PAIRS), dtype=np.int64)
        for away, lists in self.graph.near.items():
            near = lists[demand]
            there = np.tensordot(weight[near], self._lies[near], axes=1)
            if away == 0:
                found += there
            else:
                found[away:] += there[:-away]
                found[:-away] += there[away:]
        never = self.graph.never[demand]
        if never.size:
            found += weight[never] @ self._lies[never].any(axis=1)
        return found

    def _cleared(self, demand: int, cell: Cell, weight: Integers, strained: Places | None) -> list[int]:
        """Take away what keeps a demand from a place, and return it."""
        end = cell.slot + self.graph.lengths[demand]
        away: list[int] = []
        for member in self._in_the_way(demand, cell, strained):
            self._push(member, away)
        used = cell.slot + self.graph.uses[demand]
        while (tuned := self._all_tuned(demand)[cell.slot : used]).any():
            members, _, slots = self._served_slots(demand)
            there = members[slots == cell.slot + int(tuned.argmax())]
            self._push(min(there.tolist(), key=lambda other: (weight[other], other)), away)
        while self._loads is not None:
            excess = self._loads.excess(demand)[cell.carrier, cell.slot : end]
            if excess.max() <= 0:
                break
            slot = cell.slot + int(excess.argmax())
            on = (self.carrier_of == cell.carrier) & (self.slot_of <= slot)
            there = np.nonzero(on & (self.slot_of + self.lengths > slot))[0]
            self._push(self._loads.heaviest(demand, there, weight), away)
        return away

    def _in_the_way(self, demand: int, cell: Cell, strained: Places | None) -> list[int]:
        """Return what lies somewhere and keeps a demand from a place, in order."""
        end = cell.slot + self.graph.lengths[demand]
        then = (self.carrier_of >= 0) & (self.slot_of < end) & (self.slot_of + self.lengths > cell.slot)
        never = self.graph.never[demand]
        found = [never[then[never]]]
        for away, lists in self.graph.near.items():
            near = lists[demand]
            found.append(near[then[near] & (abs(self.carrier_of[near] - cell.carrier) == away)])
        if strained:
            members, carriers, slots = strained
            found.append(members[(carriers == cell.carrier) & (slots >= cell.slot) & (slots < end)])
        return sorted(set(np.concatenate(found).tolist()))

    def _push(self, demand: int, away: list[int]) -> None:
        self.take_away(demand)
        away.append(demand)

    def shares(self) -> Floats:
        """Return what each demand takes where it lies, in its worst slot at its worst end, of what it can.

        Shape (demands, 2): of carrier to interference, and of listening; zero where it is not judged.
        """
        return np.zeros((len(self.lengths), 2)) if self._loads is None else self._loads.shares()

    def quietest(self, demand: int) -> float:
        """Return the least share that a demand would hear of all others, in any run of its length.

        demand: one that lies somewhere and listens; its own run is among them.
        """
        length, heard = self.graph.lengths[demand], self._heard_by(demand)
        starts = SLOT_PAIRS - length + 1
        runs = np.stack([heard[:, step : step + starts] for step in range(length)])
        return float(max(runs.max(axis=0).min(), 0)) / ONE

    def _heard_by(self, demand: int) -> Integers:
        """Return by carrier and slot the share that a demand hears of all others; it may lie somewhere."""
        if self._loads is None:
            return np.zeros((self.graph.carriers, SLOT_PAIRS), dtype=np.int64)
        return self._loads.heard_by(demand)

    def quieten(self, demand: int) -> bool:
        """Lay a demand where it hears least among the places free for it; say whether it moved.

        demand: one that lies somewhere and listens.
        """
        before = Cell(int(self.carrier_of[demand]), int(self.slot_of[demand]))
        self.take_away(demand)
        by_slot = self._heard_by(demand)
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
        length, carriers = self.graph.lengths[like], self.graph.carriers
        free = self._blocked[like] == 0
        if self._loads is not None:
            free &= self._loads.excess(like) <= 0
            _, strained, slots = self._loads.strained(like)
            free[strained, slots] = False
        tag = self.graph.access_point[like]
        alike = [
            away
            for away, lists in self.graph.near.items()
            if away == 0 or any(self.graph.access_point[other] == tag for other in lists[like].tolist())
        ]

        def block(carrier: int, slot: int) -> None:
            for other in {carrier + sign * away for away in alike for sign in (-1, 1)}:
                if 0 <= other < carriers:
                    free[other, slot : slot + length] = False

        if self.carrier_of[like] >= 0:
            block(int(self.carrier_of[like]), int(self.slot_of[like]))
        count = 0
        for slot in range(SLOT_PAIRS - length + 1):
            for carrier in range(carriers):
                if count < most and free[carrier, slot : slot + length].all():
                    block(carrier, slot)
                    count += 1
        return count
