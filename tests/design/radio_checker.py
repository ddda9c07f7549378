"""A checker of radio plans that knows nothing of how they are made.

It takes what the plan says and what disturbs what, looks at every slot of every carrier, and returns in words
everything that is wrong.
"""

import math
from collections.abc import Mapping, Sequence
from itertools import combinations

FRAME_PAIRS = 12


def slots_of(cell: tuple[int, int], length: int) -> set[int]:
    return set(range(cell[1], cell[1] + length))


def wrong(
    *,
    carriers: int,
    lengths: Sequence[int],
    cells: Sequence[tuple[int, int] | None],
    conflicts: set[tuple[int, int]],
    near_far: Mapping[int, set[tuple[int, int]]],
    apart: set[tuple[int, int]],
    access_point: Sequence[int],
    transceivers: Sequence[int],
    over_db: Mapping[tuple[int, int], tuple[float, float]] | None = None,
    uses: Sequence[int] | None = None,
) -> list[str]:
    """Return what is wrong with a plan, nothing where it is good.

    cells: carrier and first slot pair of each demand.
    uses: slot pairs that each takes of its access point, from its first one on; its length where left out.
    over_db: by (disturbed, disturber), how far the unwanted level lies above the tolerance of the disturbed.
    """
    found = []
    for number, cell in enumerate(cells):
        if cell is None:
            found.append(f"{number} is not planned")
        elif not 0 <= cell[0] < carriers or cell[1] < 0 or cell[1] + lengths[number] > FRAME_PAIRS:
            found.append(f"{number} lies outside the frame")
    if found:
        return found
    placed = [(cell, slots_of(cell, lengths[n])) for n, cell in enumerate(cells) if cell is not None]
    for a, b in combinations(range(len(placed)), 2):
        (one, slots), (other, others) = placed[a], placed[b]
        if not slots & others:
            continue
        away = abs(one[0] - other[0])
        if away == 0 and (a, b) in conflicts:
            found.append(
                f"{a} and {b} are in conflict and share carrier {one[0]} in {sorted(slots & others)}"
            )
        if away and (a, b) in near_far.get(away, set()):
            found.append(f"{a} and {b} are too near to be {away} carriers apart")
        if (a, b) in apart:
            found.append(f"{a} and {b} are parts of one link in one slot")
    for tag, most in enumerate(transceivers):
        for slot in range(FRAME_PAIRS):
            tuned = [
                n
                for n, (_, slots) in enumerate(placed)
                if access_point[n] == tag and slot in sorted(slots)[: (uses or lengths)[n]]
            ]
            if len(tuned) > most:
                found.append(
                    f"access point {tag} holds {len(tuned)} bearers in slot {slot} with {most} transceivers"
                )
    if over_db is not None:
        for number, (cell, slots) in enumerate(placed):
            if access_point[number] < 0:
                continue
            for slot in slots:
                others = [
                    n for n, (there, run) in enumerate(placed)
                    if n != number and there[0] == cell[0] and slot in run
                ]  # fmt: skip
                for end in (0, 1):
                    levels = [over_db[number, n][end] for n in others if (number, n) in over_db]
                    total = sum(10 ** (level / 10) for level in levels)
                    if total > 1 + 1e-6:
                        excess = 10 * math.log10(total)
                        found.append(f"{number} hears {excess:.1f} dB too much in slot {slot}, end {end}")
    return found
