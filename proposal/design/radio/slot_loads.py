"""What demands that are laid on carriers and slots take of all others, and how much more they would.

Loads are what a demand takes of all others in its slot together, as whole parts of what it takes at most, so
that what was added is taken away without a trace.
"""

import numpy as np
from numpy.typing import NDArray

from proposal.design.radio.slot_graph import Floats, Integers, SlotGraph
from proposal.standards.dect import SLOT_PAIRS

Marks = NDArray[np.bool_]
Places = tuple[Integers, Integers, Integers]
"""Demands, carriers and slots, side by side."""

ONE = 2**40
"""All that a demand tolerates."""
MOST_SHARE = 4.0
"""Shares are cut here, far above what anyone tolerates, so that sums stay whole numbers of 64 bits."""
UNJUDGED = 2**61
ROUNDING_NOISE = 1e-9


def slots_of(members: Integers, carriers: Integers, first: Integers, lengths: Integers) -> Places:
    """Return members, carriers and slots, one for each slot in which a member lies.

    carriers, first, lengths: of each member, with its first slot.
    """
    step = np.arange(lengths.sum()) - np.repeat(np.cumsum(lengths) - lengths, lengths)
    return np.repeat(members, lengths), np.repeat(carriers, lengths), np.repeat(first, lengths) + step


class SlotLoads:
    """What each demand takes in each carrier and slot.

    unlisted: what a demand adds to all that do not hear it by name.
    """

    def __init__(self, graph: SlotGraph, carrier_of: Integers, slot_of: Integers, lengths: Integers) -> None:
        """Begin with nothing that is laid.

        graph: what is to be planned.
        carrier_of, slot_of: where each demand lies, carrier -1 for nowhere; the board keeps them.
        lengths: of each demand, slots.
        """
        self._near = graph.near[0]
        self._carrier_of, self._slot_of, self._lengths = carrier_of, slot_of, lengths
        count, nobody = len(lengths), np.zeros(0, dtype=np.int64)
        disturbed, disturber, shares = graph.shares or (nobody, nobody, np.zeros((0, 2)))
        parts = np.rint(np.minimum(shares, MOST_SHARE) * ONE).astype(np.int64)
        # By disturber: whom it disturbs, and by how much. By disturbed: who does, at its worst end.
        self._hears = _by(disturber, disturbed, parts, count)
        self._heard = _by(disturbed, disturber, parts.max(axis=1, initial=0), count)
        self.unlisted = round(graph.unlisted_share * ONE) if graph.shares else 0
        # Another user's reception is not ours to judge.
        judged = np.array(graph.access_point, dtype=np.int64) >= 0
        self._most = np.where(judged, int((1 + ROUNDING_NOISE) * ONE), UNJUDGED)
        self._load = np.zeros((count, graph.carriers, SLOT_PAIRS, parts.shape[1]), dtype=np.int64)
        self._there = np.zeros((graph.carriers, SLOT_PAIRS), dtype=np.int64)
        # How much more each demand that lies somewhere tolerates in its worst slot, at its worst end.
        self._least_spare = np.full(count, UNJUDGED, dtype=np.int64)

    def change(self, demand: int, carrier: int, slot: int, by: int) -> None:
        """Add a demand to what others take, or take it away.

        by: 1 where it was laid there, -1 where it was taken away.
        """
        end = slot + self._lengths[demand]
        hearing, parts = self._hears[demand]
        self._load[hearing, carrier, slot:end] += by * (parts - self.unlisted)[:, None, :]
        self._there[carrier, slot:end] += by
        touched = (self._carrier_of == carrier) & (self._slot_of < end)
        touching = np.nonzero(touched & (self._slot_of + self._lengths > slot))[0]
        (members, _, _), spare = self._spare(touching)
        self._least_spare[touching] = self._least_spare[demand] = UNJUDGED
        np.minimum.at(self._least_spare, members, spare.min(axis=1, initial=UNJUDGED))

    def _spare(self, members: Integers) -> tuple[Places, Integers]:
        """Return the slots of some demands that lie somewhere, and how much more each tolerates there."""
        lengths = self._lengths[members]
        places = slots_of(members, self._carrier_of[members], self._slot_of[members], lengths)
        found, carriers, slots = places
        others = (self._there[carriers, slots] - 1) * self.unlisted
        return places, (self._most[found] - others)[:, None] - self._load[places]

    def strained(self, demand: int) -> Places:
        """Return members, carriers and slots of what lies there and would not tolerate a demand as well.

        What may share no carrier and slot with it anyway is not asked.
        """
        hearing, parts = self._hears[demand]
        # Of those that do not hear it by name, only what is nearly full does not tolerate it.
        asked = self._least_spare < self.unlisted
        asked[hearing] = self._carrier_of[hearing] >= 0
        asked[self._near[demand]] = asked[demand] = False
        share = np.full((len(asked), parts.shape[1]), self.unlisted)
        share[hearing] = parts
        (members, carriers, slots), spare = self._spare(np.nonzero(asked)[0])
        over: Marks = np.any(share[members] > spare, axis=1)
        return members[over], carriers[over], slots[over]

    def excess(self, demand: int) -> Integers:
        """Return by carrier and slot how far what lies there is above what a demand can take, or below it."""
        excess: Integers = self._load[demand].max(axis=2) + self._there * self.unlisted - self._most[demand]
        return excess

    def heaviest(self, demand: int, among: Integers, weight: Integers) -> int:
        """Return which of some demands adds most to what one takes, for its weight.

        weight: of each demand.
        """
        share = np.full(len(self._lengths), float(self.unlisted))
        disturber, parts = self._heard[demand]
        share[disturber] = parts
        return int(among[(share[among] / weight[among]).argmax()])

    def shares(self) -> Floats:
        """Return what each demand takes where it lies, in its worst slot at its worst end, of what it can.

        Shape (demands, 2): of carrier to interference, and of listening; zero where it is not judged.
        """
        found = np.zeros((len(self._lengths), 2))
        judged = (self._carrier_of >= 0) & (self._most < UNJUDGED)
        (members, _, _), spare = self._spare(np.nonzero(judged)[0])
        taken = (self._most[members, None] - spare) / ONE
        for column, ends in enumerate((slice(0, 2), slice(2, None))):
            np.maximum.at(found[:, column], members, taken[:, ends].max(axis=1, initial=0.0))
        return found

    def heard_by(self, demand: int) -> Integers:
        """Return by carrier and slot the share that a demand hears of all others; it may lie somewhere."""
        there = self._there.copy()
        if (carrier := self._carrier_of[demand]) >= 0:
            slot = self._slot_of[demand]
            there[carrier, slot : slot + self._lengths[demand]] -= 1
        loads = self._load[demand, :, :, 2:] + there[:, :, None] * self.unlisted
        heard: Integers = loads.max(axis=2, initial=0)
        return heard


def _by(one: Integers, other: Integers, parts: Integers, count: int) -> list[tuple[Integers, Integers]]:
    """Return for each demand that is one of pairs the other ones, in order, and the parts of these pairs."""
    order = np.lexsort((other, one))
    cuts = np.searchsorted(one[order], np.arange(1, count))
    return list(zip(np.split(other[order], cuts), np.split(parts[order], cuts), strict=True))
