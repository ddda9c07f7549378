"""What the author's texts say now that they did not, and say no longer, sentence by sentence."""

import html
import re
from collections.abc import Iterator, Mapping

from proposal.differences.changes import Changes
from proposal.document.document import Document

_TITLES: Mapping[str, str] = {
    "assumptions": "Assumptions",
    "cables": "Cables",
    "cautions": "Cautions",
    "clarifications": "Clarifications",
    "drawings": "List of drawings",
    "equipment": "Equipment by model",
    "exclusions": "What is not included",
    "handover": "What is handed over",
    "price": "Price and payments",
    "programme": "Programme",
    "responsibilities": "Who does what",
    "rooms": "List of rooms",
    "scope": "Scope of work",
    "summary": "Summary",
    "system": "System description",
}
_ROOM = "room-"
_PRICE = "price"
_BLOCK = re.compile(r"\n\s*\n|\n(?=\s*(?:[-*+]|\d+\.) )")
_SENTENCE = re.compile(r"(?<=[^\d][.!?:]) (?=[A-Z“])")
_MARKUP = re.compile(r"^\s*(?:[-*+]|\d+\.|#+|>)\s+|\*\*|(?<!\w)[*_]|[*_](?!\w)|`")
_LINK = re.compile(r"!?\[([^\]]*)\]\([^)]*\)")


def rewritten_texts(changes: Changes) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Yield where each text stands that reads otherwise now, and what is new and gone in it.

    changes: of one reader.
    """
    before, after = _texts(changes.before.document), _texts(changes.after.document)
    titles = {f"{_ROOM}{sheet.key}": sheet.title for sheet in changes.after.document.room_sheets}
    for name in sorted({*before, *after}):
        old, new = sentences_of(before.get(name, "")), sentences_of(after.get(name, ""))
        come, gone = [one for one in new if one not in old], [one for one in old if one not in new]
        if come or gone:
            title = (
                _TITLES.get(name) or titles.get(name) or name.replace("-", " ").replace("_", " ").capitalize()
            )
            yield title, (*(f"New: {one}" for one in come), *(f"No longer: {one}" for one in gone))


def _texts(document: Document) -> Mapping[str, str]:
    return {**document.wording, **({_PRICE: document.price_wording} if document.price_wording else {})}


def sentences_of(markdown: str) -> tuple[str, ...]:
    """Return the sentences of a text, and what stands alone in a list, without markup.

    markdown: as the author wrote it.
    """
    blocks = (" ".join(block.split()) for block in _BLOCK.split(markdown))
    sentences = (one for block in blocks for one in _SENTENCE.split(_LINK.sub(r"\1", block)))
    return tuple(plain for one in sentences if (plain := html.unescape(_MARKUP.sub("", one)).strip()))
