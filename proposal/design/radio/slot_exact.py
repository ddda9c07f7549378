"""An exact plan of a few demands that have to do with each other, by one integer programme."""

from collections.abc import Iterator, Sequence

from proposal.design.radio.slot_board import Cell
from proposal.design.radio.slot_graph import SlotGraph
from proposal.design.solving.zero_one import Rows, Unsettled, covering
from proposal.standards.dect import SLOT_PAIRS

MOST_NUMBERS = 600
"""Numbers of a programme: demands times the places that each may take. More take long."""
MOST_ROWS = 8_000
MOST_NODES = 100


def exact_cells(graph: SlotGraph, component: Sequence[int]) -> list[Cell] | bool:
    """Return a plan of some demands, False where there is none, True where that is not settled.

    component: numbers of demands that have to do with nothing else.
    It has a number for each demand, carrier and first slot, and rows for what cannot be together.
    """
    # Runs of one length lie side by side. Mixed ones cannot.
    kinds = {graph.starts(demand) for demand in component}
    step = kinds.pop().step if len(kinds) == 1 else 1
    starts = {d: range(0, SLOT_PAIRS - graph.lengths[d] + 1, step) for d in component}
    slots, carriers = range(0, SLOT_PAIRS - step + 1, step), range(graph.carriers)
    if sum(len(one) for one in starts.values()) * graph.carriers > MOST_NUMBERS:
        return True
    rows = Rows()
    number = {
        (d, carrier, start): rows.column(whole=True)
        for d in component
        for carrier in carriers
        for start in starts[d]
    }

    def over(d: int, carrier: int, slot: int, length: int) -> list[int]:
        """Return the numbers of a demand that cover a slot on a carrier, so many slots from the first on."""
        return [number[d, carrier, start] for start in starts[d] if start <= slot < start + length]

    for d in component:
        rows.add([(number[d, carrier, start], 1.0) for carrier in carriers for start in starts[d]], 1, 1)
    for group in _near(graph, component):
        for carrier in range(graph.carriers - max(away for _, away in group)):
            for slot in slots:
                held = [n for d, away in group for n in over(d, carrier + away, slot, graph.lengths[d])]
                rows.add([(n, 1.0) for n in held], 0, 1)
    for members, most, lengths in _on_any_carrier(graph, component):
        for slot in slots:
            held = [n for d in members for carrier in carriers for n in over(d, carrier, slot, lengths[d])]
            rows.add([(n, 1.0) for n in held], 0, most)
    for d, shares in _sums(graph, component):
        together = sum(shares.values())
        weights = {**shares, d: together}
        for carrier in carriers:
            for slot in slots:
                taken = [
                    (n, w) for one, w in weights.items() for n in over(one, carrier, slot, graph.lengths[one])
                ]
                rows.add(taken, 0, 1 + together)
    if len(rows.lower) > MOST_ROWS:
        return True
    try:
        values = rows.solved(MOST_NODES)
    except Unsettled:
        return True
    if values is None:
        return not graph.complete
    cells = {d: Cell(carrier, start) for (d, carrier, start), n in number.items() if values[n] > 0.5}
    return [cells[d] for d in component]


def _near(graph: SlotGraph, component: Sequence[int]) -> Iterator[list[tuple[int, int]]]:
    """Yield demands of which one may be in a slot, each so many carriers above the first."""
    for group in covering(component, [set(one.tolist()) for one in graph.near[0]]):
        yield [(demand, 0) for demand in group]
    for away, lists in graph.near.items():
        for one in component if away else ():
            for other in lists[one].tolist():
                yield [(one, 0), (other, away)]


def _on_any_carrier(
    graph: SlotGraph, component: Sequence[int]
) -> Iterator[tuple[Sequence[int], int, Sequence[int]]]:
    """Yield demands, how many may be in a slot on all carriers together, and which lengths count."""
    inside = set(component)
    for own, most in zip(graph.served(), graph.transceivers, strict=True):
        if inside.intersection(own.tolist()) and sum(graph.uses[d] for d in own) > most:
            yield own.tolist(), most, graph.uses
    for pair in sorted(graph.apart):
        if pair[0] in inside:
            yield pair, 1, graph.lengths


def _sums(graph: SlotGraph, component: Sequence[int]) -> Iterator[tuple[int, dict[int, float]]]:
    """Yield a demand and what others take of all that it tolerates at one end, where it is more together."""
    if graph.shares is None:
        return
    heard: dict[int, dict[int, list[float]]] = {d: {} for d in component if graph.access_point[d] >= 0}
    for one, other, shares in zip(*(listed.tolist() for listed in graph.shares), strict=True):
        if one in heard:
            heard[one][other] = shares
    ends = graph.shares[2].shape[1]
    for d, listed in heard.items():
        alone = set(graph.near[0][d].tolist()) | {d}
        for end in range(ends):
            beside = {
                other: listed[other][end] if other in listed else graph.unlisted_share
                for other in component
                if other not in alone
            }
            if sum(beside.values()) > 1:
                yield d, {other: share for other, share in beside.items() if share}
