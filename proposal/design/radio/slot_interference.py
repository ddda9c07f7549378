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
        order = np.lexsort((disturbed, disturber))
        both = np.minimum(np.stack([up, down], axis=1)[order], MOST_SHARE)
        ends = np.searchsorted(disturber[order], np.arange(1, count))
        self._unlisted = round(graph.unlisted_share * ONE)
        self._hears: list[Integers] = np.split(disturbed[order], ends)
        self._shares: list[Integers] = np.split(np.rint(both * ONE).astype(np.int64), ends)
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
        # The members of each place that do not bear one more that is not listed, and where to look again.
        self._full: dict[tuple[int, int], Integers] = {}
        self._all_full: tuple[Integers, Integers, Integers] = (np.zeros(0, dtype=np.int64),) * 3
        self._changed: set[tuple[int, int]] = set()
        self._marked = np.zeros(count, dtype=np.bool_)
        # A step of the repair asks for one demand several times before anything moves.
        self._asked: tuple[int, tuple[Integers, Integers, Integers]] | None = None

    def change(self, demand: int, carrier: int, slot: int, by: int) -> None:
        """Count a demand in at a place, or out of it.

        demand, carrier, slot: their numbers.
        by: 1 for in, -1 for out.
        """
        self._asked = None
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
        here: Integers = self._above[demand].max(axis=2) + self._there * self._unlisted - self._most[demand]
        return here

    def strained(self, demand: int) -> tuple[Integers, Integers, Integers]:
        """Return carriers, slots and numbers of what lies there and would not bear a demand as well."""
        if self._asked is None or self._asked[0] != demand:
            self._asked = demand, self._strained(demand)
        return self._asked[1]

    def _strained(self, demand: int) -> tuple[Integers, Integers, Integers]:
        hearing, shares = self._hears[demand], self._shares[demand]
        laid = self._carrier[hearing] >= 0
        hearing, shares = hearing[laid], shares[laid]
        found = []
        for step in range(int(self._lengths[hearing].max(initial=0))):
            if step:
                longer = self._lengths[hearing] > step
                hearing, shares = hearing[longer], shares[longer]
            carriers, slots = self._carrier[hearing], self._slot[hearing] + step
            bad = (shares > self._room(hearing, carriers, slots)).any(axis=1)
            found.append((carriers[bad], slots[bad], hearing[bad]))
        carriers, slots, members = self._full_members()
        if len(members):
            self._marked[self._hears[demand]] = True
            unlisted = ~self._marked[members]
            self._marked[self._hears[demand]] = False
            found.append((carriers[unlisted], slots[unlisted], members[unlisted]))
        if not found:
            return self._all_full
        carriers, slots, members = (np.concatenate(column) for column in zip(*found, strict=True))
        return carriers, slots, members

    def _room(self, members: Integers, carriers: Integers, slots: Integers) -> Integers:
        """Return how much more each member bears where it lies, at both ends."""
        others = (self._there[carriers, slots] - 1) * self._unlisted
        room: Integers = (self._most[members] - others)[:, None] - self._above[members, carriers, slots]
        return room

    def _full_members(self) -> tuple[Integers, Integers, Integers]:
        """Return carriers, slots and numbers of those that do not bear one more that is not listed."""
        if self._changed:
            for carrier, slot in self._changed:
                members = np.array(sorted(self._members[carrier][slot]), dtype=np.int64)
                room = self._room(members, np.full_like(members, carrier), np.full_like(members, slot))
                full = members[(room < self._unlisted).any(axis=1)]
                self._full.pop((carrier, slot), None)
                if len(full):
                    self._full[carrier, slot] = full
            self._changed.clear()
            places = sorted(self._full)
            sizes = [len(self._full[place]) for place in places]
            carriers, slots = np.repeat(np.array(places, dtype=np.int64).reshape(-1, 2), sizes, axis=0).T
            full = np.concatenate([self._full[place] for place in places]) if places else carriers
            self._all_full = carriers, slots, full
        return self._all_full

    def worst(self, demand: int, carrier: int, slot: int, weight: Integers) -> int:
        """Return which of those at a place takes most of what a demand bears, for its weight.

        demand, carrier, slot: their numbers.
        weight: of each demand.
        """

        def taken(other: int) -> float:
            hearing = self._hears[other]
            at = int(np.searchsorted(hearing, demand))
            listed = at < len(hearing) and hearing[at] == demand
            share = int(self._shares[other][at].max()) if listed else self._unlisted
            return share / int(weight[other])

        return max(sorted(self._members[carrier][slot]), key=taken)
