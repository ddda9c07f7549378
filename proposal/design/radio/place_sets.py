"""Which sets of places for access points will do, found out of all sets at once where they are few enough."""

import math
from bisect import bisect_right
from collections.abc import Sequence
from itertools import combinations, permutations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Integers = NDArray[np.int64]
Marks = NDArray[np.bool_]

MOST_SETS = 60_000
PLACES_EACH = 3
MOST_TOGETHER = 6
"""Access points in one set: orders of their sizes and groups of them are tried, which grow fast with it."""


def few_enough(places: int, access_points: int) -> bool:
    """Return whether so many access points may hang in few enough sets of places to try all.

    places: how many.
    access_points: how many.
    """
    return access_points <= MOST_TOGETHER and math.comb(places, access_points) <= MOST_SETS


def most_places(access_points: int) -> int:
    """Return how many places may be looked at for so many access points, so that the work is bounded.

    access_points: how many.
    As many as there may be to try all sets of them; of more than are tried so, a few places for each.
    """
    if access_points > MOST_TOGETHER:
        return PLACES_EACH * access_points
    counts = range(access_points, MOST_SETS + 1)
    return counts[bisect_right(counts, MOST_SETS, key=lambda places: math.comb(places, access_points)) - 1]


class PlaceSets:
    """All sets of places of one room, and which of them will do."""

    def __init__(
        self, margins: Sequence[Sequence[float]], at: Sequence[tuple[float, ...]], channels: Sequence[int]
    ) -> None:
        """Gather the sets.

        margins: of each microphone at each place, dB.
        at: positions of the places, m.
        channels: of each access point.
        """
        self._margins: Floats = np.array(margins)
        self._apart_m = np.array([[math.dist(one, other) for other in at] for one in at])
        self._sizes = sorted(set(permutations(channels)))
        members = list(combinations(range(len(at)), len(channels)))
        self._sets: Integers = np.array(members, dtype=np.int64).reshape(-1, len(channels))

    def kept_apart(self, spacing_m: float) -> Integers:
        """Return the sets, shape (sets, access points), in which no two places are nearer than a spacing.

        spacing_m: the least distance, m.
        """
        near = np.zeros(len(self._sets), dtype=np.bool_)
        for a, b in combinations(range(self._sets.shape[1]), 2):
            near |= self._apart_m[self._sets[:, a], self._sets[:, b]] < spacing_m - 1e-9
        kept: Integers = self._sets[~near]
        return kept

    def serving(self, sets: Integers, worst_db: float, load: int) -> Integers:
        """Return the sets that can serve every microphone well enough.

        sets: to choose from, shape (sets, access points).
        worst_db: least margin of a microphone to the access point that serves it.
        load: most microphones of one access point.
        By Hall's theorem they can where no access points together have more microphones that hear no other
        than they have channels.
        """
        hear = (self._margins >= worst_db)[:, sets]
        held = range(sets.shape[1])
        alone: dict[tuple[int, ...], Integers] = {}
        for count in range(len(held) + 1):
            for group in combinations(held, count):
                others = [n for n in held if n not in group]
                alone[group] = (~hear[:, :, others].any(axis=2)).sum(axis=0)
        good = np.zeros(len(sets), dtype=np.bool_)
        for sizes in self._sizes:
            these = np.ones(len(sets), dtype=np.bool_)
            for group, microphones in alone.items():
                these &= microphones <= sum(min(sizes[n], load) for n in group)
            good |= these
        kept: Integers = sets[good]
        return kept

    def second_paths(self, sets: Integers, second_db: float) -> Integers:
        """Return the sets in which every microphone reaches two places so well.

        sets: to choose from; second_db: least margin to the second-best place.
        """
        reached = (self._margins >= second_db)[:, sets].sum(axis=2)
        kept: Integers = sets[(reached >= 2).all(axis=0)]
        return kept
