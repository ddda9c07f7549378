"""What git leaves in a file of a record where two branches both wrote it: a conflict, with both sides in it.

Records are folders of their own and never changed, so that this happens only where two branches issued
revisions of one name. One of them stays; the other is issued again, under a name that is free.
"""

import json
import re
from typing import NamedTuple

from proposal.errors import Place, Problem
from proposal.quantities.messages import printable

_MARK = re.compile(r"^(<{7}|\|{7}|={7}|>{7})(?: (.*))?$")
_SHORT = 8
"""Digits of a digest that tell two apart."""


class Conflict(NamedTuple):
    """A conflict of git in a text.

    line: of its first mark, from 1.
    sides: what git calls each side, and the text as that side has it.
    """

    line: int
    sides: tuple[tuple[str, str], tuple[str, str]]


def conflict_in(text: str) -> Conflict | None:
    """Return the conflict that git left in a text, None where there is none."""
    first = 0
    names = ["", ""]
    sides: tuple[list[str], list[str]] = ([], [])
    taken: tuple[list[str], ...] = sides
    for number, line in enumerate(text.splitlines(), start=1):
        mark = _MARK.match(line)
        if mark is None:
            for side in taken:
                side.append(line)
        elif mark[1].startswith("<"):
            first = first or number
            names[0], taken = mark[2] or "", sides[:1]
        elif mark[1].startswith("|"):
            taken = ()
        elif mark[1].startswith("="):
            taken = sides[1:]
        else:
            names[1], taken = mark[2] or "", sides
    if not first:
        return None
    ours, theirs = ("\n".join(side) for side in sides)
    return Conflict(first, ((names[0] or "ours", ours), (names[1] or "theirs", theirs)))


def record_conflict(text: str, file: str) -> Problem | None:
    """Return what is to be said of a conflict in a file of a record, None where there is none.

    text: of its manifest or register.  file: as the project names it, `issued/B/manifest.json`.
    """
    found = conflict_in(text)
    if found is None:
        return None
    folder, _, revision = file.rpartition("/")[0].rpartition("/")
    told = "; ".join(f"{printable(name)}: {_said(side)}" for name, side in found.sides if _said(side))
    record = f"{folder}/{revision}"
    message = (
        f"wanted one record; found a conflict of git: two branches issued a revision {revision}"
        + (f" ({told})" if told else "")
        + f". Keep one whole (git checkout --ours {record}  or  --theirs, then  git add {record}), and issue "
        "the other again under a name that is free"
    )
    return Problem(Place(file, found.line, 1), "", message)


def _said(side: str) -> str:
    """Return what a side's manifest says of itself, empty where it is none."""
    try:
        manifest = json.loads(side)
    except (ValueError, RecursionError):
        return ""
    if not isinstance(manifest, dict):
        return ""
    told = [manifest.get(key) for key in ("date", "purpose")]
    digest = manifest.get("digest")
    told += [f"digest {digest[:_SHORT]}"] if isinstance(digest, str) and digest else []
    return ", ".join(printable(one) for one in told if isinstance(one, str) and one)
