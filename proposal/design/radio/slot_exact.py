"""An exact plan of a few demands that have to do with each other, by one integer programme."""

from collections.abc import Sequence

from proposal.design.radio.slot_board import Cell
from proposal.design.radio.slot_graph import SlotGraph
from proposal.design.solving.zero_one import Rows, Unsettled, covering
from proposal.standards.dect import SLOT_PAIRS

MOST_NUMBERS = 600
"""Numbers of a programme: demands times the places that each may take. More take long."""
MOST_ROWS = 8_000
MOST_NODES = 100
MOST_REPEATS = 10
_Key = tuple[int, int, int]


def exact_cells(graph: SlotGraph, component: Sequence[int]) -> list[Cell] | bool:
    """Return a plan of some demands, False where there is none, True where that is not settled.

    component: numbers of demands that have to do with nothing else.
    """
    # Runs of one length lie side by side. Mixed ones cannot.
    kinds = {graph.starts(demand) for demand in component}
    step = kinds.pop().step if len(kinds) == 1 else 1
    starts = {d: range(0, SLOT_PAIRS - graph.lengths[d] + 1, step) for d in component}
    if sum(len(one) for one in starts.values()) * graph.carriers > MOST_NUMBERS:
        return True
    programme = _Programme(graph, component, starts, range(0, SLOT_PAIRS - step + 1, step))
    for _ in range(MOST_REPEATS):
        if len(programme.rows.lower) > MOST_ROWS:
            return True
        try:
            values = programme.rows.solved(MOST_NODES)
        except Unsettled:
            return True
        if values is None:
            return not graph.complete
        cells = {key[0]: Cell(key[1], key[2]) for key, n in programme.number.items() if values[n] > 0.5}
        if not programme.limited(cells):
            return [cells[demand] for demand in component]
    return True


class _Programme:
    """One number for each demand, carrier and first slot; rows for whatever cannot be together."""

    def __init__(
        self, graph: SlotGraph, component: Sequence[int], starts: dict[int, range], slots: range
    ) -> None:
        self.graph, self.starts, self.slots = graph, starts, slots
        self.rows = Rows()
        self.number = {
            (demand, carrier, start): self.rows.column(whole=True)
            for demand in component
            for carrier in range(graph.carriers)
            for start in starts[demand]
        }
        carriers = range(graph.carriers)
        for demand in component:
            self._together([(demand, c, s) for c in carriers for s in starts[demand]], 1, least=1)
        neighbours = [set(one.tolist()) for one in graph.near[0]]
        for group in covering(component, neighbours):
            self._each_slot([(demand, 0) for demand in group], 1)
        for away, lists in graph.near.items():
            for one in component if away else ():
                for other in lists[one].tolist():
                    self._each_slot([(one, 0), (other, away)], 1)
        for own, most in zip(graph.served(), graph.transceivers, strict=True):
            if own[0:1].tolist() and int(own[0]) in starts and sum(graph.uses[d] for d in own) > most:
                self._any_carrier(own.tolist(), most, graph.uses)
        for pair in sorted(graph.apart):
            if pair[0] in starts:
                self._any_carrier(pair, 1, graph.lengths)
        inside = set(component)
        self._bears: dict[int, dict[int, list[float]]] = {}
        if graph.shares is not None:
            for i, j, shares in zip(*(one.tolist() for one in graph.shares), strict=True):
                if i in inside and graph.access_point[i] >= 0:
                    self._bears.setdefault(i, {})[j] = shares
        self._limited: set[int] = set()

    def _over(self, demand: int, carrier: int, slot: int, used: int | None = None) -> list[_Key]:
        """Return the keys of a demand that cover a slot on a carrier, so many slots from the first on."""
        length = used or self.graph.lengths[demand]
        return [(demand, carrier, start) for start in self.starts[demand] if start <= slot < start + length]

    def _together(self, keys: Sequence[_Key], most: int, *, least: int = 0) -> None:
        self.rows.add([(self.number[key], 1.0) for key in keys], least, most)

    def _each_slot(self, members: Sequence[tuple[int, int]], most: int) -> None:
        """Add that of demands on carriers so many steps on no more than so many meet in a slot."""
        for carrier in range(self.graph.carriers - max(away for _, away in members)):
            for slot in self.slots:
                self._together([k for d, away in members for k in self._over(d, carrier + away, slot)], most)

    def _any_carrier(self, members: Sequence[int], most: int, lengths: Sequence[int]) -> None:
        for slot in self.slots:
            carriers = range(self.graph.carriers)
            keys = [k for d in members for c in carriers for k in self._over(d, c, slot, lengths[d])]
            self._together(keys, most)

    def limited(self, cells: dict[int, Cell]) -> bool:
        """Add that demands which do not tolerate the sum of the others here do; say whether there are such.

        Sums are asked for only of those that miss them: the others' rows would be many and idle.
        """
        unlisted = self.graph.unlisted_share
        strained = set()
        for demand, cell in cells.items():
            for slot in range(cell.slot, cell.slot + self.graph.lengths[demand]):
                meet = [
                    other
                    for other, there in cells.items()
                    if other != demand and there.carrier == cell.carrier
                    and there.slot <= slot < there.slot + self.graph.lengths[other]
                ]  # fmt: skip
                listed = self._bears.get(demand, {})
                shares = [listed.get(other, [unlisted]) for other in meet]
                if self.graph.access_point[demand] >= 0 and any(
                    sum(one[min(end, len(one) - 1)] for one in shares) > 1 + 1e-9 for end in range(4)
                ):
                    strained.add(demand)
        for demand in sorted(strained - self._limited):
            self._limit(demand)
        new = bool(strained - self._limited)
        self._limited |= strained
        return new or bool(strained)

    def _limit(self, demand: int) -> None:
        """Add that a demand tolerates the sum of the others at each end, wherever it lies."""
        listed = self._bears.get(demand, {})
        others = [other for other in self.starts if other != demand]
        ends = max((len(one) for one in listed.values()), default=1)
        for end in range(ends):
            # What lies above one is in conflict anyway.
            weights = {
                other: min(listed[other][end] if other in listed else self.graph.unlisted_share, 1.0)
                for other in others
            }
            most = sum(weights.values())
            for carrier in range(self.graph.carriers if most > 1 else 0):
                for slot in self.slots:
                    terms = [
                        (self.number[key], weights[other])
                        for other in others
                        for key in self._over(other, carrier, slot)
                        if weights[other]
                    ]
                    own = [(self.number[key], most) for key in self._over(demand, carrier, slot)]
                    self.rows.add([*terms, *own], 0, 1 + most)
