"""Small phrases that several pages build sentences from."""

import re
from collections.abc import Iterable

from proposal.quantities.code_runs import code_phrase as code_phrase  # beside the other phrases of pages
from proposal.quantities.code_runs import code_runs as code_runs
from proposal.quantities.formatting import listed


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
