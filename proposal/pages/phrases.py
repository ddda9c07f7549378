"""Small phrases that several pages build sentences from."""

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


def natural(code: str) -> tuple[object, ...]:
    """Return what codes are sorted by, so that M2 comes before M10.

    code: a tag, a number or a model code.
    """
    return tuple(
        (0, int(part), "") if part.isdigit() else (1, 0, part) for part in re.split(r"(\d+)", code) if part
    )


def forms(counts: Iterable[tuple[str, int]]) -> str:
    """Return counted forms of microphones as a phrase, `6 gooseneck and 2 handheld`.

    counts: form and number of each.
    """
    return listed([f"{count} {form}" for form, count in counts if count])


def plural(noun: str) -> str:
    """Return a noun in the plural, `boundaries` or `breakouts`."""
    if noun.endswith("y") and not noun.endswith(("ay", "ey", "oy")):
        return f"{noun[:-1]}ies"
    return f"{noun}es" if noun.endswith(("s", "x", "ch", "sh")) else f"{noun}s"


def capital(words: str) -> str:
    """Return words with a capital at the start, the rest as it is."""
    return words[:1].upper() + words[1:]
