"""An exact plan of the links that have to do with each other, by integer programme."""

from collections.abc import Sequence

from proposal.design.radio.slot_graph import Clique, SlotGraph
from proposal.design.radio.slot_grid import Cell
from proposal.design.radio.slot_interference import ROUNDING_NOISE, Sums
from proposal.design.solving.zero_one import Rows, Unsettled
from proposal.standards.dect import SLOT_PAIRS

MOST_NUMBERS = 9_000
MOST_ROWS = 60_000
MOST_NODES = 400
MOST_REPEATS = 25


def exact_cells(graph: SlotGraph, component: Sequence[int]) -> list[Cell] | Clique | None:
    """Return a plan of one component, the proof that there is none, or None where it is not settled."""
    lengths = {graph.lengths[demand] for demand in component}
    # Runs of one length can be moved to lie side by side: overlaps only become fewer. Mixed ones cannot.
    starts = {
        demand: range(
            0, SLOT_PAIRS - graph.lengths[demand] + 1, graph.lengths[demand] if len(lengths) == 1 else 1
        )
        for demand in component
    }
    if sum(len(one) for one in starts.values()) * graph.carriers > MOST_NUMBERS:
        return None
    programme = _Programme(graph, component, starts)
    if len(programme.rows.lower) > MOST_ROWS:
        return None
    sums = Sums(graph, component) if graph.shares is not None else None
    for _ in range(MOST_REPEATS):
        try:
            values = programme.rows.solved(MOST_NODES)
        except Unsettled:
            return None
        if values is None:
            proof = Clique("search", tuple(component), len(component), 0, "links")
            return proof if graph.exact else None
        cells = programme.read(values)
        strained = _strained(graph, component, cells, sums) if sums else []
        if not strained:
            return cells
        # Sums are asked for only of those that miss them: the others' rows would be many and idle.
        if sums is None or not programme.limit(strained, sums):
            return None
    return None


def _strained(graph: SlotGraph, component: Sequence[int], cells: Sequence[Cell], sums: Sums) -> list[int]:
    """Return the demands that do not bear the sum of the others in some slot."""
    members: dict[tuple[int, int], set[int]] = {}
    for demand, cell in zip(component, cells, strict=True):
        for slot in range(cell.slot, cell.slot + graph.lengths[demand]):
            members.setdefault((cell.carrier, slot), set()).add(demand)
    found = {
        demand
        for together in members.values()
        for demand in together
        if graph.access_point[demand] >= 0 and sums.share(demand, together - {demand}) > 1 + ROUNDING_NOISE
    }
    return sorted(found)


class _Programme:
    """The integer programme of one component: one number for each demand, carrier and first slot."""

    def __init__(self, graph: SlotGraph, component: Sequence[int], starts: dict[int, range]) -> None:
        self.graph, self.component, self.starts = graph, component, starts
        self.rows = Rows()
        self._limited: set[int] = set()
        self.number = {
            (demand, carrier, slot): self.rows.column(whole=True)
            for demand in component
            for carrier in range(graph.carriers)
            for slot in starts[demand]
        }
        step = graph.lengths[component[0]] if len({graph.lengths[d] for d in component}) == 1 else 1
        self.slots = range(0, SLOT_PAIRS - step + 1, step)
        for demand in component:
            self._at_most(
                [(demand, c, s) for c in range(graph.carriers) for s in starts[demand]], exactly=True
            )
        self._groups()
        inside = set(component)
        for tag, most in enumerate(graph.transceivers):
            own = [demand for demand in component if graph.access_point[demand] == tag]
            if sum(graph.lengths[d] for d in own) > most:
                for slot in self.slots:
                    keys = [k for d in own for c in range(graph.carriers) for k in self._over(d, c, slot)]
                    self.rows.add([(self.number[key], 1.0) for key in keys], 0, most)
        for one, other in sorted(graph.apart):
            if one in inside:
                for slot in self.slots:
                    keys = [
                        k for d in (one, other) for c in range(graph.carriers) for k in self._over(d, c, slot)
                    ]
                    self._at_most(keys)

    def _groups(self) -> None:
        """Add that demands of a group cannot meet, on one carrier and on those too near."""
        graph, carriers = self.graph, range(self.graph.carriers)
        for group in _covering(self.component, graph.neighbours):
            for carrier in carriers:
                for slot in self.slots:
                    self._at_most([k for d in group for k in self._over(d, carrier, slot)])
        for away, lists in graph.beside.items():
            for one in self.component:
                for other in sorted(lists[one]):
                    for carrier in carriers:
                        if other in lists[one] and 0 <= carrier + away < graph.carriers:
                            for slot in self.slots:
                                here = self._over(one, carrier, slot)
                                self._at_most([*here, *self._over(other, carrier + away, slot)])

    def _over(self, demand: int, carrier: int, slot: int) -> list[tuple[int, int, int]]:
        """Return the numbers of a demand that cover a slot on a carrier."""
        length = self.graph.lengths[demand]
        return [(demand, carrier, start) for start in self.starts[demand] if start <= slot < start + length]

    def _at_most(self, keys: Sequence[tuple[int, int, int]], *, exactly: bool = False) -> None:
        self.rows.add([(self.number[key], 1.0) for key in keys], 1 if exactly else 0, 1)

    def limit(self, demands: Sequence[int], sums: Sums) -> bool:
        """Add that demands bear the sum of the others; False where that was asked of all before."""
        new = [demand for demand in demands if demand not in self._limited]
        self._limited |= set(new)
        for demand in new:
            shares = sums.of(demand)
            others = [other for other in self.component if other in shares]
            for end in (0, 1):
                # What lies above one is in conflict anyway.
                weights = {other: min(shares[other][end], 1.0) for other in others}
                most = sum(weights.values())
                if most <= 1:
                    continue
                for carrier in range(self.graph.carriers):
                    for slot in self.slots:
                        terms = [
                            (self.number[key], weights[other])
                            for other in others
                            for key in self._over(other, carrier, slot)
                        ]
                        own = [(self.number[key], most) for key in self._over(demand, carrier, slot)]
                        self.rows.add([*terms, *own], 0, 1 + most)
        return bool(new)

    def read(self, values: Sequence[float]) -> list[Cell]:
        """Return the place of each demand of the component."""
        places = {key[0]: Cell(key[1], key[2]) for key, column in self.number.items() if values[column] > 0.5}
        return [places[demand] for demand in self.component]


def _covering(members: Sequence[int], neighbours: Sequence[frozenset[int]]) -> list[list[int]]:
    """Return cliques among members that hold every pair in conflict between them."""
    covered: set[tuple[int, int]] = set()
    groups = []
    inside = set(members)
    for one in members:
        for other in sorted(neighbours[one] & inside):
            if one < other and (one, other) not in covered:
                group = [one, other]
                for third in sorted(neighbours[one] & neighbours[other] & inside):
                    if all(third in neighbours[member] for member in group):
                        group.append(third)
                group.sort()
                covered |= {(a, b) for n, a in enumerate(group) for b in group[n + 1 :]}
                groups.append(group)
    return groups
