"""How a problem in the input is worded: what was found, what was meant, what was wanted."""

from collections.abc import Iterable
from difflib import get_close_matches

from pydantic_core import PydanticCustomError

from proposal.errors import printable as printable  # every message needs it

LONGEST_SHOWN = 60
LONGEST_CHOICE = 12
MOST_COMPARED = 300


def shown(text: str) -> str:
    """Return text from a file on one line, printable and short enough to stand in a message."""
    if not text.strip():
        return "an empty text"
    return printable(text[:LONGEST_SHOWN]) + ("…" if len(text) > LONGEST_SHOWN else "")


def nearest(name: str, known: Iterable[str]) -> str | None:
    """Return the known name that looks most like a wrong one, or None where none is near."""
    candidates = list(known)
    name = name[:200]
    folded = {candidate.casefold(): candidate for candidate in reversed(candidates)}
    if name.casefold() in folded:
        return folded[name.casefold()]
    # Comparing takes long; beyond a few hundred names only the case may differ.
    close = get_close_matches(name.casefold(), list(folded)[:MOST_COMPARED], n=1, cutoff=0.6)
    return folded[close[0]] if close else None


def wanted_one_of(name: str, known: Iterable[str], what: str = "") -> str:
    """Return `wanted one of …; found …`, with the nearest known name where one is near.

    what: what the names name, such as `a storey of building.yaml`.
    """
    names = [shown(each) for each in known]
    listed = ", ".join(names[:LONGEST_CHOICE])
    if len(names) > LONGEST_CHOICE:
        listed = f"one of {listed} and {len(names) - LONGEST_CHOICE} more"
    elif len(names) > 1:
        listed = f"one of {listed}"
    elif not names:
        return f"wanted {what or 'no name'}; found {shown(name)}, and there is none"
    near = nearest(name, names)
    meant = f" (did you mean {near}?)" if near and len(names) > 1 else ""
    return f"wanted {f'{what}: {listed}' if what else listed}; found {shown(name)}{meant}"


def refusal(wanted: str, found: str) -> PydanticCustomError:
    """Return the error that makes pydantic say `wanted …; found …`."""
    # One placeholder only: the found text may itself hold braces.
    return PydanticCustomError("wanted", "{message}", {"message": f"wanted {wanted}; found {found}"})


def shape(value: object) -> str:
    """Return what a value that is no text is called in a message."""
    if isinstance(value, dict):
        return "a mapping"
    if isinstance(value, list | tuple):
        return "a list"
    return "nothing" if value is None else shown(str(value))
