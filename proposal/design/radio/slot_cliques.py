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
    the access point of which most demands fit is added until none fits. Not every such group is found so.
    """
    excluded = _excluded(graph, apart)
    groups = [members.tolist() for members in graph.served()]
    groups += [[demand] for demand, tag in enumerate(graph.access_point) if tag < 0]
    masks = [_bits(members, len(excluded)) for members in groups]
    group_of = {demand: number for number, members in enumerate(groups) for demand in members}
    seen: set[int] = set()
    for number, members in enumerate(groups):
        if not members:
            continue
        most = max(members, key=lambda demand: (excluded[demand].bit_count(), -demand))
        beside = sorted({group_of[demand] for demand in _members(excluded[most], len(excluded))} - {number})
        for seeds in (members, [most]):
            clique, left = _with(seeds, 0, -1, excluded)
            while True:
                best = max(
                    (g for g in [number, *beside] if masks[g] & left),
                    key=lambda g: ((masks[g] & left).bit_count() * graph.lengths[groups[g][0]], -g),
                    default=None,
                )
                if best is None:
                    break
                clique, left = _with(
                    [demand for demand in groups[best] if left >> demand & 1], clique, left, excluded
                )
            if clique not in seen:
                seen.add(clique)
                yield tuple(_members(clique, len(excluded)))


def _with(members: Sequence[int], clique: int, left: int, excluded: Sequence[int]) -> tuple[int, int]:
    """Return a group with as many of the members as exclude each other, and what all of it excludes."""
    for demand in members:
        if left >> demand & 1:
            clique |= 1 << demand
            left &= excluded[demand]
    return clique, left


def _excluded(graph: SlotGraph, apart: int) -> list[int]:
    """Return, as the bits of one number for each demand, the demands that it excludes so many steps apart."""
    count = len(graph.lengths)
    nobody = (np.zeros(0, dtype=np.int64),) * count
    lists = [graph.near.get(away, nobody) for away in range(apart)]
    found = []
    for n in range(count):
        times = np.zeros(count, dtype=np.uint8)
        for near in lists:
            times[near[n]] += 1
        times[graph.never[n]] = apart  # parts of one link exclude each other however far apart
        found.append(_number(times == apart))
    return found


def _bits(members: Sequence[int], count: int) -> int:
    """Return numbers as the bits of one."""
    marks = np.zeros(count, dtype=np.bool_)
    marks[np.array(members, dtype=np.int64)] = True
    return _number(marks)


def _members(bits: int, count: int) -> list[int]:
    """Return the numbers below a count whose bits are set, in order."""
    held = np.frombuffer(bits.to_bytes(-(-count // 8), "little"), dtype=np.uint8)
    numbers: list[int] = np.nonzero(np.unpackbits(held, bitorder="little"))[0].tolist()
    return numbers


def _number(marks: NDArray[np.bool_]) -> int:
    return int.from_bytes(np.packbits(marks, bitorder="little").tobytes(), "little")
