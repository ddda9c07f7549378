"""Groups of demands of which no two can meet, and the arithmetic of what they want against what there is."""

from collections.abc import Iterator, Sequence
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from proposal.design.radio.slot_graph import SlotGraph
from proposal.field_classes import dataclass
from proposal.standards.dect import SLOT_PAIRS

ProofKind = Literal["carrier", "neighbouring", "transceivers", "search"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Clique:
    """Demands of which no two can meet, and how many slot pairs they want and have.

    kind: carrier where no two can share one; neighbouring where not even carriers next to each other will do;
        transceivers where one access point serves them all; search where an exact search found no plan.
    members: numbers of demands, in order: where too many are long, the long ones.
    length: slot pairs of the shortest of them; carriers: that they can use, or transceivers.
    wanted, held: slot pairs; of a carrier as many are held as whole runs of that length take.
    """

    kind: ProofKind
    members: tuple[int, ...]
    length: int
    carriers: int
    wanted: int
    held: int

    @property
    def over(self) -> int:
        """Return how many slot pairs are wanted beyond those that there are."""
        return max(self.wanted - self.held, 0)


def fullness(
    lengths: Sequence[int], members: Sequence[int], carriers: int, kind: ProofKind = "carrier"
) -> Clique:
    """Return what demands that exclude each other want of so many carriers: where they are fullest.

    lengths: of all demands; members: numbers of those that exclude each other.
    carriers: number of carriers, or of transceivers.
    kind: why they exclude each other.
    The demands of each length and above are counted against their runs on the carriers, and all together.
    """
    found = []
    for length in sorted({lengths[demand] for demand in members} | {1}, reverse=True):
        long = tuple(sorted(demand for demand in members if lengths[demand] >= length))
        # Longer ones take as many runs of this length as lie in them whole.
        wanted = sum(lengths[demand] // length for demand in long) * length
        held = carriers * (SLOT_PAIRS // length) * length
        found.append(
            Clique(kind=kind, members=long, length=length, carriers=carriers, wanted=wanted, held=held)
        )
    return max(found, key=lambda one: (one.wanted - one.held, len(one.members)))


def proof_of_impossible(graph: SlotGraph) -> Clique | None:
    """Return the fullest group of demands that proves that no plan exists, or None where none was found.

    Looked for in order: access points with too few transceivers, demands that exclude each other on one
    carrier, and such that exclude each other on neighbouring carriers too.
    """
    own = [
        fullness(graph.uses, members.tolist(), graph.transceivers[tag], "transceivers")
        for tag, members in enumerate(graph.served())
    ]
    worst = _fullest(own) or _fullest(
        fullness(graph.lengths, one, graph.carriers) for one in cliques(graph, 1)
    )
    for apart in range(2, len(graph.near) + 1):
        worst = worst or _fullest(
            fullness(graph.lengths, one, -(-graph.carriers // apart), "neighbouring")
            for one in cliques(graph, apart)
        )
    return worst


def _fullest(found: Iterator[Clique] | Sequence[Clique]) -> Clique | None:
    return max((one for one in found if one.over), key=lambda one: one.over, default=None)


def cliques(graph: SlotGraph, apart: int) -> Iterator[tuple[int, ...]]:
    """Yield heavy groups of demands that exclude each other on carriers nearer than so many steps.

    apart: 1 for those on one carrier, 2 where they exclude each other on the next one as well.
    Each access point is a seed with all its demands, and so is that one of them with the most neighbours;
    the access point of which most fits is added until none fits. Not every such group is found so.
    """
    excluded, lengths = _excluded(graph, apart), np.array(graph.lengths, dtype=np.int64)
    tags = np.array(graph.access_point, dtype=np.int64)
    # Who has no access point of ours is a group by itself.
    group = np.where(tags < 0, len(graph.transceivers) + np.arange(len(tags)), tags)
    seen: set[tuple[int, ...]] = set()
    for number in np.unique(group).tolist():
        members = np.nonzero(group == number)[0]
        most = excluded[members].sum(axis=1).argmax()
        for seeds in (members, members[[most]]):
            clique: list[int] = []
            left = np.ones(len(tags), dtype=np.bool_)
            while seeds.size:
                for demand in seeds.tolist():
                    if left[demand]:
                        clique.append(demand)
                        left &= excluded[demand]
                heaviest = np.bincount(group[left], weights=lengths[left], minlength=1).argmax()
                seeds = np.nonzero(left & (group == heaviest))[0]
            clique.sort()
            if tuple(clique) not in seen:
                seen.add(tuple(clique))
                yield tuple(clique)


def _excluded(graph: SlotGraph, apart: int) -> NDArray[np.bool_]:
    """Return which demands each demand excludes on all carriers nearer than so many steps."""
    times = np.zeros((len(graph.lengths),) * 2, dtype=np.uint8)
    for away in range(apart):
        for demand, near in enumerate(graph.near.get(away, ())):
            times[demand, near] += 1
    for demand, never in enumerate(graph.never):
        times[demand, never] = apart  # parts of one link exclude each other however far apart
    excluded: NDArray[np.bool_] = times == apart
    return excluded
