"""Links as a plan of carriers and slots sees them: how long each is, what it cannot meet, what it bears."""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import combinations
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from proposal.design.radio.radio_neighbours import Interference, Link
from proposal.standards.dect import ADJACENT_CARRIER_TOLERANCE_DB, SLOT_PAIRS, blocked_slot_pairs
from proposal.standards.levels import power_ratio, power_ratios

Floats = NDArray[np.float64]
Integers = NDArray[np.int64]

MOST_CLIQUES = 3_000
SMALL_COMPONENT = 150


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
    shares: disturbed, disturber and the shares of what the disturbed bears, at both ends, shape (pairs,).
    unlisted_share: share of a disturber that is not listed.
    exact: whether every arrangement that the equipment allows is among those planned here.
    """

    carriers: int
    lengths: tuple[int, ...]
    access_point: tuple[int, ...]
    transceivers: tuple[int, ...]
    conflicts: frozenset[tuple[int, int]]
    near_far: Mapping[int, frozenset[tuple[int, int]]] = field(default_factory=dict)
    apart: frozenset[tuple[int, int]] = frozenset()
    shares: tuple[Integers, Integers, Floats, Floats] | None = None
    unlisted_share: float = 0.0
    exact: bool = True

    @cached_property
    def neighbours(self) -> tuple[frozenset[int], ...]:
        """The demands that each demand cannot meet on its carrier."""
        return _neighbours(len(self.lengths), self.conflicts)

    @cached_property
    def beside(self) -> Mapping[int, tuple[frozenset[int], ...]]:
        """The same for carriers so many steps apart."""
        return {
            away: _neighbours(len(self.lengths), pairs)
            for away, pairs in sorted(self.near_far.items())
            if pairs
        }

    @cached_property
    def never(self) -> tuple[frozenset[int], ...]:
        """The demands that each demand cannot meet in a slot at all."""
        return _neighbours(len(self.lengths), self.apart)

    def components(self, least_share: float = math.inf) -> list[list[int]]:
        """Return the demands in groups that have nothing to do with each other, each in order.

        least_share: from this share of what a demand bears on, a disturber has to do with it too.
        """
        count = len(self.lengths)
        joined = [set(near) for near in self.neighbours]
        for lists in (self.never, *self.beside.values()):
            for own, others in zip(joined, lists, strict=True):
                own |= others
        # Demands of one access point share its transceivers, also where they do not disturb each other.
        last: dict[int, int] = {}
        for demand, tag in enumerate(self.access_point):
            if tag >= 0:
                before = last.get(tag, demand)
                joined[before].add(demand)
                joined[demand].add(before)
                last[tag] = demand
        if self.shares is not None and least_share < math.inf:
            disturbed, disturber, up, down = self.shares
            strong = np.maximum(up, down) >= least_share
            for one, other in zip(disturbed[strong].tolist(), disturber[strong].tolist(), strict=True):
                joined[one].add(other)
                joined[other].add(one)
        unseen = set(range(count))
        found = []
        for demand in range(count):
            if demand in unseen:
                found.append(sorted(_reached(demand, joined, unseen)))
        return found


def _reached(start: int, joined: Sequence[set[int]], unseen: set[int]) -> set[int]:
    """Return what is joined with a demand, itself among it, and take that from what was not seen before."""
    reached = {start}
    unseen.discard(start)
    waiting = [start]
    while waiting:
        new = joined[waiting.pop()] & unseen
        unseen -= new
        reached |= new
        waiting += new
    return reached


def _networkx() -> Any:
    import networkx

    return networkx


def _neighbours(count: int, pairs: Iterable[tuple[int, int]]) -> tuple[frozenset[int], ...]:
    found: list[set[int]] = [set() for _ in range(count)]
    for one, other in pairs:
        found[one].add(other)
        found[other].add(one)
    return tuple(frozenset(one) for one in found)


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
    sliding = {
        number for pair in conflicts if links[pair[0]].group != links[pair[1]].group for number in pair
    }
    owner: list[int] = []
    lengths: list[int] = []
    for number, link in enumerate(links):
        for length in _parts(link, number in sliding):
            owner.append(number)
            lengths.append(length)
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
        exact=all(link.in_a_row or not link.one_carrier for link in links),
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


def _shares(
    disturbance: Interference, parts: Mapping[int, Sequence[int]]
) -> tuple[Integers, Integers, Floats, Floats]:
    """Return the shares of what each demand bears that each other one takes."""
    disturbed, disturber = disturbance.disturbed, disturbance.disturber
    up, down = power_ratios(disturbance.up_db), power_ratios(disturbance.down_db)
    if all(len(demands) == 1 for demands in parts.values()):
        return disturbed, disturber, up, down
    pairs = [
        (one, other, n)
        for n, (a, b) in enumerate(zip(disturbed.tolist(), disturber.tolist(), strict=True))
        for one in parts[a]
        for other in parts[b]
    ]
    one, other, n = np.array(pairs, dtype=np.int64).reshape(-1, 3).T
    return one, other, up[n], down[n]


@dataclass(frozen=True, slots=True)
class Clique:
    """Demands of which no two can meet, and how many slot pairs they want and have.

    kind: carrier where no two can share one; neighbouring where not even neighbouring carriers will do;
        transceivers where one access point serves them all; search where an exact search found no plan.
    members: numbers of demands, in order.
    wanted, held: slot pairs, or links where `unit` says so.
    """

    kind: Literal["carrier", "neighbouring", "transceivers", "search"]
    members: tuple[int, ...]
    wanted: int
    held: int
    unit: Literal["slot pairs", "links"] = "slot pairs"


def cliques(graph: SlotGraph, component: Sequence[int]) -> Iterator[tuple[int, ...]]:
    """Yield cliques of conflicts in a component: the maximal ones of a small one, the heavy ones of a large.

    In a large component access points are joined whose links all exclude each other; each such group, with
    the single links that fit, is a clique, though not every maximal clique is found so.
    """
    if len(component) <= SMALL_COMPONENT:
        yield from _maximal(component, graph.neighbours)
        return
    bundles: dict[int, list[int]] = {}
    for demand in component:
        tag = graph.access_point[demand]
        bundles.setdefault(tag if tag >= 0 else -2 - demand, []).append(demand)
    names = sorted(bundles, key=lambda name: bundles[name][0])
    sets = [set(bundles[name]) for name in names]
    common = [set.intersection(*(set(graph.neighbours[d]) | {d} for d in members)) for members in sets]
    number = {demand: n for n, members in enumerate(sets) for demand in members}
    joined: list[set[int]] = [set() for _ in names]
    for a, shared in enumerate(common):
        # Whatever else is there has nothing to do with this access point.
        for b in {number[demand] for demand in shared if demand in number} - {a}:
            if sets[b] <= shared:
                joined[a].add(b)
                joined[b].add(a)
    for group in _maximal(range(len(names)), [frozenset(one) for one in joined]):
        members = {demand for n in group for demand in sets[n]}
        # What is common to the access points excludes all their links; only among itself it need not.
        extras: list[int] = []
        for extra in sorted(set.intersection(*(common[n] for n in group)) - members):
            if graph.neighbours[extra].issuperset(extras):
                extras.append(extra)
        yield tuple(sorted((*members, *extras)))


def _maximal(members: Sequence[int], neighbours: Sequence[frozenset[int]]) -> Iterator[tuple[int, ...]]:
    """Yield maximal cliques among members, at most so many."""
    networkx = _networkx()
    inside = set(members)
    graph = networkx.Graph()
    graph.add_nodes_from(members)
    graph.add_edges_from((one, other) for one in members for other in sorted(neighbours[one] & inside))
    for number, clique in enumerate(networkx.find_cliques(graph)):
        if number >= MOST_CLIQUES:
            return
        yield tuple(sorted(clique))


def overfull(graph: SlotGraph, members: Sequence[int], carriers: int, kind: str) -> Clique | None:
    """Return the proof that demands which exclude each other do not fit on so many carriers, or None.

    members: numbers of the demands.
    carriers: number of carriers.
    kind: what the proof is called in a message.
    The longest demands are counted against their places on the carriers, then all slot pairs together.
    """
    lengths = [graph.lengths[demand] for demand in members]
    label: Any = kind
    for length in sorted(set(lengths), reverse=True):
        count = sum(one >= length for one in lengths)
        if count > carriers * (SLOT_PAIRS // length):
            longest = tuple(d for d in members if graph.lengths[d] >= length)
            return Clique(label, longest, count, carriers * (SLOT_PAIRS // length), "links")
    if sum(lengths) > carriers * SLOT_PAIRS:
        return Clique(label, tuple(members), sum(lengths), carriers * SLOT_PAIRS)
    return None


def proof_of_impossible(graph: SlotGraph) -> Clique | None:
    """Return a group of demands that proves that no plan exists, or None where none was found.

    Looked for in order: access points with too few transceivers, cliques of conflicts, cliques that exclude
    neighbouring carriers too.
    """
    by_access_point: dict[int, list[int]] = {}
    for demand, tag in enumerate(graph.access_point):
        if tag >= 0:
            by_access_point.setdefault(tag, []).append(demand)
    for tag, members in sorted(by_access_point.items()):
        found = overfull(graph, members, graph.transceivers[tag], "transceivers")
        if found:
            return found
    # Neighbours on a carrier and on the next one too.
    both = [near & graph.neighbours[n] for n, near in enumerate(graph.beside.get(1, ()))]
    for component in graph.components():
        worst: Clique | None = None
        for some in cliques(graph, component):
            found = overfull(graph, some, graph.carriers, "carrier")
            if found and (worst is None or found.wanted - found.held > worst.wanted - worst.held):
                worst = found
        if worst:
            return worst
        if both and graph.carriers > 1:
            paired = [demand for demand in component if both[demand]]
            if len(paired) > SMALL_COMPONENT:
                continue
            for some in _maximal(paired, both):
                found = overfull(graph, some, (graph.carriers + 1) // 2, "neighbouring")
                if found:
                    return found
    return None
