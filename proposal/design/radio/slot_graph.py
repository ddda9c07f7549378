"""Links as a plan of carriers sees them: their lengths, what they may not meet, what they tolerate."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import field
from functools import cached_property
from itertools import chain, combinations, pairwise

import numpy as np
from numpy.typing import NDArray

from proposal.design.radio.radio_neighbours import Interference, Link
from proposal.field_classes import dataclass
from proposal.standards.dect import ADJACENT_CARRIER_TOLERANCE_DB, SLOT_PAIRS, blocked_slot_pairs
from proposal.standards.levels import power_ratio, power_ratios

Floats = NDArray[np.float64]
Integers = NDArray[np.int64]
Shares = tuple[Integers, Integers, Floats]

SHARE_THAT_JOINS = 0.05
"""From this share of what a demand tolerates on, a disturber has to do with it."""


@dataclass(frozen=True)
class SlotGraph:
    """What has to be planned.

    carriers: of the region.
    lengths: slot pairs in a row that each demand takes, shape (demands,).
    access_point: number of the access point of each demand; -1 for none of ours.
    transceivers: of each access point, by number.
    conflicts: pairs, lower number first, that cannot meet in a slot on one carrier.
    near_far: by carriers apart, pairs that cannot meet in a slot so far apart.
    apart: pairs that cannot meet in a slot on any carrier: parts of one link.
    shares: disturbed and disturber, shape (pairs,); shares of what it can take, shape (pairs, ends).
    unlisted_share: share of a disturber that is not listed.
    tuned: slot pairs of a transceiver that each demand takes, as its length where left out; one that blocks
        more for a system out of step takes no more of its own access point.
    complete: whether every arrangement that the equipment allows is among those planned here.
    """

    carriers: int
    lengths: tuple[int, ...]
    access_point: tuple[int, ...]
    transceivers: tuple[int, ...]
    conflicts: frozenset[tuple[int, int]]
    near_far: Mapping[int, frozenset[tuple[int, int]]] = field(default_factory=dict)
    apart: frozenset[tuple[int, int]] = frozenset()
    shares: Shares | None = None
    unlisted_share: float = 0.0
    tuned: tuple[int, ...] = ()
    complete: bool = True

    @property
    def uses(self) -> tuple[int, ...]:
        """The slot pairs of its access point that each demand takes, from its first slot on."""
        return self.tuned or self.lengths

    @cached_property
    def near(self) -> Mapping[int, tuple[Integers, ...]]:
        """The demands that each demand cannot meet so many carriers apart, 0 for its own, in order."""
        held = {0: self.conflicts} | {away: pairs for away, pairs in sorted(self.near_far.items()) if pairs}
        return {away: _neighbours(len(self.lengths), pairs) for away, pairs in held.items()}

    @cached_property
    def never(self) -> tuple[Integers, ...]:
        """The demands that each demand cannot meet in a slot at all, in order."""
        return _neighbours(len(self.lengths), self.apart)

    def starts(self, demand: int) -> range:
        """Return the first slots at which a demand may lie.

        demand: its number.
        Runs of one length can be moved to lie side by side from slot 0: overlaps only become fewer. That does
        not hold for one that takes fewer slot pairs of its access point than it blocks.
        """
        length = self.lengths[demand]
        return range(0, SLOT_PAIRS - length + 1, length if self.uses[demand] == length else 1)

    def served(self) -> tuple[Integers, ...]:
        """Return the demands of each access point, in order."""
        tags = np.array(self.access_point, dtype=np.int64)
        return tuple(np.nonzero(tags == tag)[0] for tag in range(len(self.transceivers)))

    def components(self) -> list[list[int]]:
        """Return the demands in groups that have nothing to do with each other, each in order."""
        import networkx

        graph = networkx.Graph()
        graph.add_nodes_from(range(len(self.lengths)))
        for pairs in (self.conflicts, self.apart, *self.near_far.values()):
            graph.add_edges_from(pairs)
        if self.shares is not None:
            strong = self.shares[2].max(axis=1, initial=0.0) >= SHARE_THAT_JOINS
            graph.add_edges_from(zip(*(one[strong].tolist() for one in self.shares[:2]), strict=True))
        # Demands of one access point share its transceivers, also where they do not disturb each other.
        for own in self.served():
            graph.add_edges_from((own[0], other) for other in own[1:])
        return sorted(sorted(int(one) for one in part) for part in networkx.connected_components(graph))


def _neighbours(count: int, pairs: Iterable[tuple[int, int]]) -> tuple[Integers, ...]:
    """Return the other demand of each pair that a demand is in, in order, for every demand."""
    ends = np.fromiter(chain.from_iterable(pairs), dtype=np.int64).reshape(-1, 2)
    one, other = np.concatenate([ends, ends[:, ::-1]]).T
    order = np.lexsort((other, one))
    begins = np.searchsorted(one[order], np.arange(count + 1))
    return tuple(other[order[begin:end]] for begin, end in pairwise(begins.tolist()))


def slot_graph(
    disturbance: Interference, carriers: int, transceivers: Mapping[str, int]
) -> tuple[SlotGraph, tuple[int, ...]]:
    """Return what has to be planned, and the number of the link that each demand belongs to.

    disturbance: how links disturb each other.
    carriers: of the region.
    transceivers: of each access point by tag; another user's is not among them.
    A link in conflict with one that does not share its frame takes the slot pairs that it blocks for it. A
    link whose slot pairs may spread over carriers is planned slot pair by slot pair.
    """
    links = disturbance.links
    conflicts = disturbance.conflicts()
    groups = [link.group for link in links]
    sliding = set[int]()
    if len(set(groups)) > 1:
        sliding.update(*(pair for pair in conflicts if groups[pair[0]] != groups[pair[1]]))
    owner: list[int] = []
    lengths: list[int] = []
    tuned: list[int] = []
    for number, link in enumerate(links):
        for length, used in zip(_parts(link, number in sliding), _parts(link, False), strict=True):
            owner.append(number)
            lengths.append(length)
            tuned.append(used)
    parts: dict[int, list[int]] = {}
    for demand, number in enumerate(owner):
        parts.setdefault(number, []).append(demand)
    tags = sorted(transceivers)
    index = {tag: n for n, tag in enumerate(tags)}
    graph = SlotGraph(
        carriers=carriers,
        lengths=tuple(lengths),
        access_point=tuple(index.get(links[number].access_point, -1) for number in owner),
        transceivers=tuple(transceivers[tag] for tag in tags),
        conflicts=_expanded(conflicts, parts),
        near_far={
            away: _expanded(disturbance.near_far(away), parts) for away in ADJACENT_CARRIER_TOLERANCE_DB
        },
        apart=frozenset(pair for demands in parts.values() for pair in combinations(demands, 2)),
        shares=_shares(disturbance, parts),
        unlisted_share=power_ratio(-disturbance.reach_db),
        tuned=tuple(tuned),
        complete=all(link.in_a_row or not link.one_carrier for link in links),
    )
    return graph, tuple(owner)


def _parts(link: Link, sliding: bool) -> list[int]:
    """Return the lengths of the runs of slot pairs in which a link is planned."""
    if link.one_carrier:
        return [blocked_slot_pairs(link.slot_pairs, link.in_a_row) if sliding else link.slot_pairs]
    return [2 if sliding else 1] * link.slot_pairs


def _expanded(
    pairs: Iterable[tuple[int, int]], parts: Mapping[int, Sequence[int]]
) -> frozenset[tuple[int, int]]:
    if all(len(demands) == 1 for demands in parts.values()):
        return frozenset(pairs)  # demands have the numbers of their links
    return frozenset(
        (min(one, other), max(one, other)) for a, b in pairs for one in parts[a] for other in parts[b]
    )


def _shares(disturbance: Interference, parts: Mapping[int, Sequence[int]]) -> Shares:
    """Return the shares of what each demand tolerates that each other one takes."""
    disturbed, disturber = disturbance.disturbed, disturbance.disturber
    shares = power_ratios(disturbance.over_db)
    if all(len(demands) == 1 for demands in parts.values()):
        return disturbed, disturber, shares
    pairs = [
        (one, other, n)
        for n, (a, b) in enumerate(zip(disturbed.tolist(), disturber.tolist(), strict=True))
        for one in parts[a]
        for other in parts[b]
    ]
    one, other, n = np.array(pairs, dtype=np.int64).reshape(-1, 3).T
    return one, other, shares[n]
