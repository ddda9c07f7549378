"""Carriers and slots on which demands are laid one by one, what is free beside them, and what is in the way.

Loads are what a demand bears of all others in its slot together, as whole parts of what it bears at most, so
that what was added is taken away without a trace.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from proposal.design.radio.slot_graph import Floats, Integers, SlotGraph
from proposal.standards.dect import SLOT_PAIRS

Marks = NDArray[np.bool_]
Places = tuple[Integers, Integers, Integers]
"""Demands, carriers and slots, side by side."""

ONE = 2**40
"""All that a demand bears."""
MOST_SHARE = 4.0
"""Shares are cut here, far above what anyone bears, so that sums of them stay whole numbers of 64 bits."""
UNJUDGED = 2**61
ROUNDING_NOISE = 1e-9
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
        count, longest = len(graph.lengths), max(graph.lengths, default=1)
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
        pairs = np.zeros(0, dtype=np.int64)
        disturbed, disturber, shares = graph.shares or (pairs, pairs, np.zeros((0, 2)))
        parts = np.rint(np.minimum(shares, MOST_SHARE) * ONE).astype(np.int64)
        ends = parts.shape[1]
        # By disturber: whom it disturbs, and by how much. By disturbed: who does, at its worst end.
        order = np.lexsort((disturbed, disturber))
        cuts = np.searchsorted(disturber[order], np.arange(1, count))
        self._hears = list(zip(np.split(disturbed[order], cuts), np.split(parts[order], cuts), strict=True))
        order = np.lexsort((disturber, disturbed))
        cuts = np.searchsorted(disturbed[order], np.arange(1, count))
        worst = parts.max(axis=1, initial=0)
        self._heard = list(zip(np.split(disturber[order], cuts), np.split(worst[order], cuts), strict=True))
        self._unlisted = round(graph.unlisted_share * ONE) if graph.shares else 0
        # Another user's reception is not ours to judge.
        judged = np.array(graph.access_point, dtype=np.int64) >= 0
        self._most = np.where(judged, int((1 + ROUNDING_NOISE) * ONE), UNJUDGED)
        self._load = np.zeros((count, graph.carriers, SLOT_PAIRS, ends), dtype=np.int64)
        self._there = np.zeros((graph.carriers, SLOT_PAIRS), dtype=np.int64)
        # How much more each demand bears in each of its slots, at each end, where it lies.
        self._spare = np.full((count, longest, ends), UNJUDGED, dtype=np.int64)

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
        self._spare[demand] = UNJUDGED
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
        if self.graph.shares is None:
            return
        hearing, parts = self._hears[demand]
        self._load[hearing, cell.carrier, cell.slot : end] += by * (parts - self._unlisted)[:, None, :]
        self._there[cell.carrier, cell.slot : end] += by
        touched = (self.carrier_of == cell.carrier) & (self.slot_of < end)
        members, _, slots = self._slots(np.nonzero(touched & (self.slot_of + self.lengths > cell.slot))[0])
        others = (self._there[cell.carrier, slots] - 1) * self._unlisted
        borne = self._load[members, cell.carrier, slots] + others[:, None]
        self._spare[members, slots - self.slot_of[members]] = self._most[members, None] - borne

    def _slots(
        self, members: Integers, carriers: Integers | None = None, lengths: Integers | None = None
    ) -> Places:
        """Return members, carriers and slots, one for each slot in which a member lies.

        carriers: of each member, its own where left out; lengths: of all demands, theirs where left out.
        """
        count = (self.lengths if lengths is None else lengths)[members]
        step = np.arange(count.sum()) - np.repeat(np.cumsum(count) - count, count)
        own = self.carrier_of[members] if carriers is None else carriers
        return (
            np.repeat(members, count),
            np.repeat(own, count),
            np.repeat(self.slot_of[members], count) + step,
        )

    def _strained(self, demand: int) -> Places:
        """Return members, carriers and slots of what lies there and would not bear a demand as well.

        What may share no carrier and slot with it anyway is not asked.
        """
        share = np.full((len(self.lengths), self._spare.shape[2]), self._unlisted)
        hearing, parts = self._hears[demand]
        share[hearing] = parts
        share[demand] = 0
        share[self.graph.near[0][demand]] = -UNJUDGED
        over: Marks = np.any(share[:, None, :] > self._spare, axis=2)
        members, steps = np.nonzero(over)
        return members, self.carrier_of[members], self.slot_of[members] + steps

    def _excess(self, demand: int) -> Integers:
        """Return by carrier and slot how far what lies there is above what a demand bears, or below it."""
        excess: Integers = self._load[demand].max(axis=2) + self._there * self._unlisted - self._most[demand]
        return excess

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
        if self.graph.shares is not None and free.any():
            free &= self._excess(demand) <= 0
            _, carriers, slots = self._strained(demand)
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
        strained = None if self.graph.shares is None else self._strained(demand)
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
            own = self._served[self.graph.access_point[demand]]
            members, _, slots = self._slots(own[self.carrier_of[own] >= 0], lengths=self._used)
            lightest = np.full(SLOT_PAIRS, weight.max())
            np.minimum.at(lightest, slots, weight[members])
            price += np.where(tuned, lightest, 0)
        if self.graph.shares is not None:
            excess = self._excess(demand)
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
            own = self._served[self.graph.access_point[demand]]
            members, _, slots = self._slots(own[self.carrier_of[own] >= 0], lengths=self._used)
            there = members[slots == cell.slot + int(tuned.argmax())]
            self._push(min(there.tolist(), key=lambda other: (weight[other], other)), away)
        while self.graph.shares is not None:
            excess = self._excess(demand)[cell.carrier, cell.slot : end]
            if excess.max() <= 0:
                break
            slot = cell.slot + int(excess.argmax())
            on = (self.carrier_of == cell.carrier) & (self.slot_of <= slot)
            there = np.nonzero(on & (self.slot_of + self.lengths > slot))[0]
            share = np.full(len(self.lengths), float(self._unlisted))
            disturber, parts = self._heard[demand]
            share[disturber] = parts
            self._push(int(there[(share[there] / weight[there]).argmax()]), away)
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
        """Return what each demand bears where it lies, in its worst slot at its worst end, of what it can.

        Shape (demands, 2): of carrier to interference, and of listening; zero where it is not judged.
        """
        found = np.zeros((len(self.lengths), 2))
        if self.graph.shares is None:
            return found
        members, carriers, slots = self._slots(
            np.nonzero((self.carrier_of >= 0) & (self._most < UNJUDGED))[0]
        )
        others = (self._there[carriers, slots] - 1) * self._unlisted
        load = np.where(self._there[carriers, slots, None] > 1, self._load[members, carriers, slots], 0)
        borne = np.maximum(load + others[:, None], 0) / ONE
        for column, ends in enumerate((slice(0, 2), slice(2, None))):
            np.maximum.at(found[:, column], members, borne[:, ends].max(axis=1, initial=0.0))
        return found

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
        there = self._there.copy()
        if (carrier := self.carrier_of[demand]) >= 0:
            slot = self.slot_of[demand]
            there[carrier, slot : slot + self.graph.lengths[demand]] -= 1
        heard: Integers = (self._load[demand, :, :, 2:] + there[:, :, None] * self._unlisted).max(axis=2)
        return heard

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
        free = (self._blocked[like] == 0) & (self._excess(like) <= 0)
        if self.graph.shares is not None:
            _, strained, slots = self._strained(like)
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
