"""What each demand bears of all others in its slot together, as shares of what it bears at most.

`Sums` computes for given demands at once; `Loads` is kept up to date while demands are laid and taken away.
"""

from collections.abc import Collection

import numpy as np
from numpy.typing import NDArray

from proposal.design.radio.slot_graph import Integers, SlotGraph
from proposal.standards.dect import SLOT_PAIRS

ROUNDING_NOISE = 1e-9

ONE = 2**40
"""All that a demand bears. Loads are whole numbers, so that what was added is taken away without a trace."""
MOST_SHARE = 4.0
"""Shares are cut here, far above what anyone bears, so that sums of them stay whole numbers of 64 bits."""
UNJUDGED = 2**62


class Sums:
    """The sums of some demands of a graph."""

    def __init__(self, graph: SlotGraph, judged: Collection[int]) -> None:
        """Sort the shares of a graph by who is disturbed.

        graph: one that holds shares.
        judged: the demands whose sums will be asked for.
        """
        assert graph.shares is not None
        wanted = np.zeros(len(graph.lengths), dtype=np.bool_)
        wanted[list(judged)] = True
        chosen = wanted[graph.shares[0]]
        disturbed, disturber, up, down = (column[chosen].tolist() for column in graph.shares)
        self._listed: dict[int, dict[int, tuple[float, float]]] = {demand: {} for demand in judged}
        for i, j, u, d in zip(disturbed, disturber, up, down, strict=True):
            self._listed[i][j] = (u, d)
        self._unlisted = graph.unlisted_share

    def of(self, demand: int) -> dict[int, tuple[float, float]]:
        """Return the shares that listed disturbers take of a demand, at both ends."""
        return self._listed[demand]

    def share(self, demand: int, others: set[int]) -> float:
        """Return the greater of the shares of both ends that others take together.

        demand: number of the demand that is disturbed.
        others: numbers of those that disturb it.
        """
        listed = self._listed[demand]
        up, down, count = 0.0, 0.0, 0
        for other in sorted(others & listed.keys()):
            up += listed[other][0]
            down += listed[other][1]
            count += 1
        missing = (len(others) - count - (demand in others)) * self._unlisted
        return max(up, down) + missing


class Loads:
    """The sums of all demands on all carriers and slots, for what lies there at the moment.

    Each demand's load is kept for every place, also where it does not lie, as far as listed disturbers take
    more than one that is not listed; those count by how many lie there.
    """

    def __init__(self, graph: SlotGraph, carrier_of: Integers, slot_of: Integers) -> None:
        """Start with nothing laid.

        graph: one that holds shares.
        carrier_of, slot_of: where each demand lies, carrier -1 for nowhere, as the board keeps it.
        """
        assert graph.shares is not None
        disturbed, disturber, up, down = graph.shares
        count = len(graph.lengths)
        both = np.rint(np.minimum(np.stack([up, down], axis=1), MOST_SHARE) * ONE).astype(np.int64)
        order = np.lexsort((disturbed, disturber))
        ends = np.searchsorted(disturber[order], np.arange(1, count))
        self._unlisted = round(graph.unlisted_share * ONE)
        self._hears: list[Integers] = np.split(disturbed[order], ends)
        self._shares: list[Integers] = np.split(both[order], ends)
        # The same the other way round, the worse end alone: who disturbs a demand.
        order = np.lexsort((disturber, disturbed))
        ends = np.searchsorted(disturbed[order], np.arange(1, count))
        self._heard: list[Integers] = np.split(disturber[order], ends)
        self._taken: list[Integers] = np.split(both[order].max(axis=1), ends)
        # Another user's reception is not ours to judge.
        judged = np.array(graph.access_point, dtype=np.int64) >= 0
        self._most = np.where(judged, int((1 + ROUNDING_NOISE) * ONE), UNJUDGED)
        self._lengths = np.array(graph.lengths, dtype=np.int64)
        self._above = np.zeros((count, graph.carriers, SLOT_PAIRS, 2), dtype=np.int64)
        self._carrier, self._slot = carrier_of, slot_of
        self._there = np.zeros((graph.carriers, SLOT_PAIRS), dtype=np.int64)
        self._members: list[list[set[int]]] = [
            [set() for _ in range(SLOT_PAIRS)] for _ in range(graph.carriers)
        ]
        # How much more each demand bears in each of its slots, at both ends; all there is where it has none.
        longest = int(self._lengths.max(initial=0))
        self._room = np.full((count, longest, 2), UNJUDGED, dtype=np.int64)
        # Whether it does not bear one more there that is not listed, and where that was found to be so.
        self._full = np.zeros((count, longest), dtype=np.bool_)
        self._all_full: tuple[Integers, Integers, Integers] | None = None
        # Carriers and slots where something changed since both were found out.
        self._changed: set[tuple[int, int]] = set()
        self._marked = np.zeros(count, dtype=np.bool_)
        # A step of the repair asks for one demand several times before anything moves.
        self._asked: tuple[int, tuple[Integers, Integers, Integers]] | None = None

    def change(self, demand: int, carrier: int, slot: int, by: int) -> None:
        """Count a demand in at a place where it was just laid, or out of it before it is taken away.

        demand, carrier, slot: their numbers.
        by: 1 for in, -1 for out.
        """
        self._asked = None
        self._all_full = None
        run = range(slot, slot + int(self._lengths[demand]))
        more = by * (self._shares[demand] - self._unlisted)
        self._above[self._hears[demand], carrier, slot : run.stop] += more[:, None, :]
        self._there[carrier, slot : run.stop] += by
        for at in run:
            members = self._members[carrier][at]
            if by > 0:
                members.add(demand)
            else:
                members.discard(demand)
            self._changed.add((carrier, at))
        if by < 0:
            self._room[demand], self._full[demand] = UNJUDGED, False

    def _measure(self) -> None:
        """Find out how much more everything bears that lies where something changed."""
        found: list[int] = []
        slots: list[int] = []
        for carrier, at in self._changed:
            here = self._members[carrier][at]
            found += here
            slots += [at] * len(here)
        self._changed.clear()
        members, at_slots = np.array(found, dtype=np.int64), np.array(slots, dtype=np.int64)
        carriers = self._carrier[members]
        most = self._most[members] - (self._there[carriers, at_slots] - 1) * self._unlisted
        room = most[:, None] - self._above[members, carriers, at_slots]
        step = at_slots - self._slot[members]
        self._room[members, step] = room
        self._full[members, step] = np.minimum(room[:, 0], room[:, 1]) < self._unlisted

    def bearable(self, demand: int) -> NDArray[np.bool_]:
        """Say of each carrier and slot whether a demand bears what is there and is borne by each there.

        demand: not laid itself.
        """
        good: NDArray[np.bool_] = self.excess(demand) <= 0
        carriers, slots, _ = self.strained(demand)
        good[carriers, slots] = False
        return good

    def excess(self, demand: int) -> Integers:
        """Return by carrier and slot how far what lies there is above what a demand bears, or below it."""
        above = self._above[demand]
        worse = np.maximum(above[:, :, 0], above[:, :, 1])
        here: Integers = worse + self._there * self._unlisted - self._most[demand]
        return here

    def strained(self, demand: int) -> tuple[Integers, Integers, Integers]:
        """Return carriers, slots and numbers of what lies there and would not bear a demand as well."""
        if self._asked is None or self._asked[0] != demand:
            self._asked = demand, self._strained(demand)
        return self._asked[1]

    def _strained(self, demand: int) -> tuple[Integers, Integers, Integers]:
        if self._changed:
            self._measure()
        hearing = self._hears[demand]
        over = self._shares[demand][:, None, :] > self._room.take(hearing, axis=0)
        which, steps = self._numbers_and_steps(over[:, :, 0] | over[:, :, 1])
        members = hearing[which]
        carriers, slots = self._carrier[members], self._slot[members] + steps
        full_carriers, full_slots, full = self._full_members()
        if not len(full):
            return carriers, slots, members
        self._marked[hearing] = True
        unlisted = ~self._marked[full]
        self._marked[hearing] = False
        return (
            np.concatenate([carriers, full_carriers[unlisted]]),
            np.concatenate([slots, full_slots[unlisted]]),
            np.concatenate([members, full[unlisted]]),
        )

    def _full_members(self) -> tuple[Integers, Integers, Integers]:
        """Return carriers, slots and numbers of those that do not bear one more that is not listed."""
        if self._all_full is None:
            members, steps = self._numbers_and_steps(self._full)
            self._all_full = self._carrier[members], self._slot[members] + steps, members
        return self._all_full

    def _numbers_and_steps(self, marks: NDArray[np.bool_]) -> tuple[Integers, Integers]:
        """Return where marks of shape (demands, slots of a demand) are set; flat, which is faster by far."""
        found = marks.ravel().nonzero()[0]
        if not len(found):
            return found, found
        which, steps = np.divmod(found, marks.shape[1])
        return which, steps

    def worst(self, demand: int, carrier: int, slot: int, weight: Integers) -> int:
        """Return which of those at a place takes most of what a demand bears, for its weight.

        demand, carrier, slot: their numbers.
        weight: of each demand.
        """
        members = np.array(sorted(self._members[carrier][slot]), dtype=np.int64)
        heard, taken = self._heard[demand], self._taken[demand]
        share = np.full(len(members), self._unlisted)
        at = np.searchsorted(heard, members)
        inside = np.nonzero(at < len(heard))[0]
        listed = inside[heard[at[inside]] == members[inside]]
        share[listed] = taken[at[listed]]
        # Of equal ones the first.
        return int(members[(share / weight[members]).argmax()])
