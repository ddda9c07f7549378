"""The assumptions that a client can judge best, and that matter most where they are wrong."""

from collections.abc import Mapping, Sequence

from proposal.document.headings import Words
from proposal.model.project import Assumption

MOST = 10
_ORDER = (
    *("takeoff.price_pathways", "pathways.rated_floors", "ceiling_space", "programme.approval_days"),
    *(
        "programme.holidays",
        "programme.working_days",
        "room_temperature",
        "cabling.halogen_free",
        "mains.breaker",
    ),
    *("review.microphones_a_spare", "radio.walls", "access_point_height", "switch", "charging_height"),
    *("spares_paired", "mains.usual_days", "charging.docked_share", "at", "pathway_height"),
)
"""Ends of their paths, the foremost first: what others build and pay, days, the building, then the use."""
_SAID = (
    *("takeoff.price_pathways", "pathways.rated_floors", "ceiling_space", "programme.approval_days"),
    *("cabling.halogen_free", "mains.breaker", "review.microphones_a_spare", "radio.walls"),
)
"""Ends of those that a client reads as a sentence of its own."""


def foremost(assumptions: Sequence[Assumption]) -> Mapping[tuple[str, ...], int]:
    """Return the places, from 1, of the ten assumptions that matter most, by their paths.

    assumptions: all of them; of several that say the same, the first counts.
    """
    first: dict[str, Assumption] = {}
    for one in assumptions:
        first.setdefault(one.title, one)
    ranked = sorted(
        (place, number, one)
        for number, one in enumerate(first.values())
        if (place := _place(".".join(map(str, one.path)))) is not None
    )
    return {tuple(map(str, one.path)): n for n, (_, _, one) in enumerate(ranked[:MOST], 1)}


def in_words(one: Assumption, words: Words) -> str:
    """Return an assumption as a client says it; empty where the words have none for it."""
    path = ".".join(map(str, one.path))
    end = next((end for end in _SAID if path.endswith(f".{end}")), "")
    if not end:
        return ""
    if isinstance(one.value, bool):
        return words.text(f"assumed.{end}.{'yes' if one.value else 'no'}")
    return words.text(f"assumed.{end}", value=str(one.value))


def _place(path: str) -> int | None:
    return next((n for n, end in enumerate(_ORDER) if path.endswith(f".{end}")), None)
