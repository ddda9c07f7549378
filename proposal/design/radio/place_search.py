"""The best places of one room's access points among given ones, and whom each of them serves.

Each step of the objective is settled and held while the next is: by trying all sets of places where there are
not too many, else by an integer programme, which then gives the answer.
"""

import math
from collections.abc import Callable, Sequence

from proposal.design.radio.place_sets import PlaceSets, few_enough
from proposal.design.solving.halving import least
from proposal.design.solving.zero_one import Rows, covering

STEP_DB = 0.1
"""Margins are rounded to this."""


class Search:
    """The integer programme of one room: which places are opened by boxes of which size, who serves whom.

    Columns: a box of each size at each place, whole; then talker by place, which is whole by itself once the
    boxes are (a transport problem). Rows are gathered as lists and handed over at once.
    """

    def __init__(
        self,
        channels: Sequence[int],
        at: Sequence[tuple[float, float, float]],
        margins: Sequence[Sequence[float]],
        foreign: Sequence[float],
        spacing_m: float,
    ) -> None:
        """Prepare the search.

        channels: of each access point, in the order of their codes.
        at: positions of the places, m.
        margins: of each microphone at each place, dB.
        foreign: the strongest level of other users of the band at each place, dBm.
        spacing_m: least distance between access points, m.
        """
        self.channels, self.at, self.margins, self.spacing_m = channels, at, margins, spacing_m
        self.foreign = foreign
        self.sizes = sorted(set(channels), reverse=True)
        self.apart = _too_close(at, spacing_m)
        self.steps = sorted({value for row in margins for value in row})
        self.least_load = -(-len(margins) // len(channels))

    def solve(self) -> tuple[list[int], list[int]] | None:
        """Return each access point's place and each talker's access point, None where nothing will do."""
        if few_enough(len(self.at), len(self.channels)):
            levels = self._levels_of_all()
        else:
            levels = self._levels_by_programme()
        if levels is None:
            return None
        worst, second, least_load = levels
        for load in range(least_load, max(self.channels) + 1):
            found = self._run(worst, second, load)
            if found is not None:
                return self._quietest(worst, second, load) if len(set(self.foreign)) > 1 else found
        return None

    def _quietest(self, worst: float, second: float, load: int) -> tuple[list[int], list[int]] | None:
        """Return the answer in which others on the band are heard least where they are heard most."""
        levels = sorted({-level for level in self.foreign})
        best = self._highest(levels, lambda level: self._run(worst, second, load, -level))
        return None if best is None else self._run(worst, second, load, -best)

    def _levels_of_all(self) -> tuple[float, float, int] | None:
        """Return worst margin, second path and greatest load of the best sets of places, by trying all."""
        most = max(self.channels)
        tried = PlaceSets(self.margins, self.at, self.channels)
        sets = tried.kept_apart(self.spacing_m)
        worst = self._highest(self.steps, lambda level: len(tried.serving(sets, level, most)) or None)
        if worst is None:
            return None
        sets = tried.serving(sets, worst, most)
        second = self._highest(self.steps, lambda level: len(tried.second_paths(sets, level)) or None)
        if second is None:
            return None
        sets = tried.second_paths(sets, second)
        loads = range(self.least_load, most + 1)
        load = next((load for load in loads if len(tried.serving(sets, worst, load))), None)
        return None if load is None else (worst, second, load)

    def _levels_by_programme(self) -> tuple[float, float, int] | None:
        """Return worst margin and second path of the best sets, and the least load that may do."""
        # Whether these access points find room at all is asked first: proving it anew at every level is slow.
        if self._run(self.steps[0], -math.inf, None) is None:
            return None
        # No level is better than what the talker heard worst has from his best place, or from his second one.
        ordered = [sorted(row, reverse=True) for row in self.margins]
        worst = self._highest_below(
            min(row[0] for row in ordered), lambda level: self._run(level, -math.inf, None)
        )
        if worst is None:
            return None
        second = self._highest_below(
            min(row[1] if len(row) > 1 else -math.inf for row in ordered),
            lambda level: self._run(worst, level, None),
        )
        return worst, -math.inf if second is None else second, self.least_load

    def _highest_below(self, bound: float, attempt: Callable[[float], object | None]) -> float | None:
        """Return the highest level that is feasible and not above a bound, which is asked first."""
        steps = [step for step in self.steps if step <= bound]
        if steps and attempt(steps[-1]) is not None:
            return steps[-1]
        return self._highest(steps[:-1], attempt)

    def _highest(self, steps: Sequence[float], attempt: Callable[[float], object | None]) -> float | None:
        """Return the highest level that is feasible, by halving; None where not even the lowest is."""
        highest = least(-1, len(steps), lambda n: attempt(steps[n]) is None) - 1
        return steps[highest] if highest >= 0 else None

    def _run(
        self, worst: float, second: float, load: int | None, foreign: float = math.inf
    ) -> tuple[list[int], list[int]] | None:
        """Return an answer in which every margin reaches `worst` and every second path `second`.

        load: the most talkers of one access point; None asks for feasibility only, a number for the best sum.
        foreign: the greatest level of others at a place that is taken.
        """
        count, sizes = len(self.at), self.sizes
        rows = Rows()
        boxes = [[rows.column(whole=True) for _ in sizes] for _ in range(count)]
        for k, size in enumerate(sizes):
            wanted = self.channels.count(size)
            rows.add([(boxes[p][k], 1.0) for p in range(count)], wanted, wanted)
        loud = [box for p in range(count) if self.foreign[p] > foreign for box in boxes[p]]
        rows.add([(box, 1.0) for box in loud], 0, 0)
        for group in self.apart:
            rows.add([(box, 1.0) for p in group for box in boxes[p]], 0, 1)
        served: dict[tuple[int, int], int] = {}
        for m, row in enumerate(self.margins):
            near = [p for p in range(count) if row[p] >= worst]
            for p in near:
                served[m, p] = rows.column(whole=load is not None)
                rows.add([(served[m, p], 1.0), *((box, -1.0) for box in boxes[p])], -1, 0)
            rows.add([(served[m, p], 1.0) for p in near], 1, 1)
            if second > -math.inf:
                reached = [box for p in range(count) if row[p] >= second for box in boxes[p]]
                rows.add([(box, 1.0) for box in reached], 2, len(reached))
        talkers = range(len(self.margins))
        for p in range(count):
            group_of = [(served[m, p], 1.0) for m in talkers if (m, p) in served]
            holds = [(boxes[p][k], -float(min(size, load or size))) for k, size in enumerate(sizes)]
            rows.add([*group_of, *holds], -float(max(sizes)), 0)
        if load is not None:
            # Margins in tenths weigh most; among equal sums the earliest places are taken.
            order = 1.0 / (1 + count * len(self.channels))
            for (m, p), column in served.items():
                rows.cost[column] = -float(round(self.margins[m][p] / STEP_DB))
            for p in range(count):
                for box in boxes[p]:
                    rows.cost[box] = order * p
        values = rows.solved()
        if values is None:
            return None
        by_size: dict[int, list[int]] = {}
        for p in range(count):
            for k, size in enumerate(sizes):
                if values[boxes[p][k]] > 0.5:
                    by_size.setdefault(size, []).append(p)
        in_order = [by_size[size].pop(0) for size in self.channels]
        if load is None:
            return in_order, []
        place_of = {m: p for (m, p), column in served.items() if values[column] > 0.5}
        return in_order, [in_order.index(place_of[m]) for m in talkers]


def _too_close(at: Sequence[tuple[float, float, float]], spacing_m: float) -> list[list[int]]:
    """Return groups of places of which one at most may be taken; every pair too close is in some group."""
    places = range(len(at))
    close = [{q for q in places if q != p and math.dist(at[p], at[q]) < spacing_m - 1e-9} for p in places]
    return [*([p] for p in places), *covering(places, close)]
