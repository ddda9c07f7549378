"""Codes and names that end in a number, as phrases in which neighbours are joined."""

import re
from collections.abc import Iterable

from proposal.quantities.formatting import listed

_CODE = re.compile(r"((?:.*\D)?)(\d+)")
_SHORTEST_RUN = 3


def code_runs(codes: Iterable[str]) -> tuple[tuple[str, ...], ...]:
    """Return codes with neighbours joined: the first and the last of each run, or a code by itself."""
    runs: list[list[str]] = []
    for code in codes:
        if runs and _follows(runs[-1][-1], code):
            runs[-1].append(code)
        else:
            runs.append([code])
    ends: list[tuple[str, ...]] = []
    for run in runs:
        ends += [(run[0], run[-1])] if len(run) >= _SHORTEST_RUN else [(code,) for code in run]
    return tuple(ends)


def code_phrase(codes: Iterable[str]) -> str:
    """Return codes as a phrase in which neighbours are joined, `M1 to M4, M6 and M7`."""
    return listed([" to ".join(ends) for ends in code_runs(codes)])


def _follows(code: str, following: str) -> bool:
    before, after = _CODE.fullmatch(code), _CODE.fullmatch(following)
    if before is None or after is None or before[1] != after[1]:
        return False
    # `M09` then `M10`, but not `M9` then `M010`.
    return int(after[2]) == int(before[2]) + 1 and not (
        after[2].startswith("0") and len(after[2]) != len(before[2])
    )
