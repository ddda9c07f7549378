"""Where the author's own prose stands, by the name of its file in `wording/`; `docs/wording.md` lists it."""

from collections.abc import Mapping
from posixpath import dirname

from proposal.document.document import Document
from proposal.pages.author_prose import prose
from proposal.pages.markdown import Html, text

PLACED = frozenset(
    {"summary", "rooms", "system", "drawings", "equipment", "cables", "scope", "handover"}
) | frozenset({"assumptions", "clarifications", "exclusions", "responsibilities", "cautions", "programme"})
"""Names of files that have a page or a place of their own."""
_ROOM = "room-"
ORDER = ("training", "warranty", "support", "terms")
"""Parts of the page of scope and terms: a reader expects to learn what is offered before how it is paid."""


def prose_of(document: Document, name: str, path: str, *, level: int = 2) -> Html | None:
    """Return the author's prose of one name for a page, None where there is none.

    path: of the page, for links relative to the root of the site.
    level: of the author's highest heading.
    """
    words = document.wording.get(name, "")
    if not words.strip():
        return None
    return prose(words, level=level, base="../" if dirname(path) else "")


def room_prose_name(key: str) -> str:
    """Return the name of the prose that stands on the page of a kind of room.

    key: of the kind of room.
    """
    return _ROOM + key


def parts_of_scope(document: Document, path: str) -> Mapping[str, tuple[Html, Html]]:
    """Return heading and prose of what the author wrote that has no place of its own, by name.

    path: of the page that they stand on.
    """
    kinds = {room_prose_name(sheet.key) for sheet in document.room_sheets}
    names = [name for name in document.wording if name not in PLACED and name not in kinds]
    ranks = {name: rank for rank, name in enumerate(ORDER)}
    parts: dict[str, tuple[Html, Html]] = {}
    for name in sorted(names, key=lambda name: (ranks.get(name, len(ranks)), name)):
        words = document.wording[name]
        if words.strip():
            heading = name.replace("-", " ").replace("_", " ").strip().capitalize()
            parts[name] = (text(heading), prose(words, level=3, base="../" if dirname(path) else ""))
    return parts
