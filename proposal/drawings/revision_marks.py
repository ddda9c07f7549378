"""What changed on a sheet since the last issue, and the marks beside it."""

import dataclasses
import re
from collections.abc import Iterator
from html import unescape
from typing import Any

from proposal.document.rows.sheets import SheetRow
from proposal.drawings.lettering import width_pt
from proposal.drawings.symbol_table import SYMBOLS, symbol_svg
from proposal.editions import Edition

CHANGE = "change"
_TEXT = re.compile(r"<text\b([^>]*)>([^<]*)</text>")
_SHARE_LEFT = {"start": 0.0, "middle": 0.5, "end": 1.0}
_BESIDE_PT = 2.0
MOST_MARKS = 24
"""Above which a sheet says in words that much of it changed, and marks nothing."""
# Fields of specs by which nothing is known: others have the same.
_SHARED = frozenset(("start", "end", "signal", "kind", "type", "model"))


def edition_before(edition: Edition) -> Edition | None:
    """Return what the same reader saw of the last issue; None before the first."""
    changes = edition.changes
    return None if changes is None else Edition(reader=edition.reader, document=changes.before.document)


def sheet_before(before: Edition, sheet: SheetRow) -> SheetRow | None:
    """Return the same sheet of the last issue, by what it shows; None where it is new.

    before: the edition of the last issue.
    """
    document = before.document
    rows = (*document.sheets, *document.detail_sheets, *document.check_sheets)
    same = (sheet.kind, sheet.subject, sheet.part)
    return next((row for row in rows if (row.kind, row.subject, row.part) == same), None)


def changed_names(before: object, after: object) -> tuple[tuple[str, ...], ...]:
    """Return what a sheet shows otherwise than before, each thing as the texts that it may stand under.

    before, after: what the sheet showed and shows, as specs; title blocks are not looked at.
    What holds something that changed is not told itself.
    """
    known = {repr(part) for part in _parts(before)}
    found: dict[tuple[str, ...], None] = {}
    for part in _parts(after):
        if repr(part) in known or any(repr(one) not in known for one in _inner(part)):
            continue
        told = [getattr(part, one.name) for one in dataclasses.fields(part) if one.name not in _SHARED]
        found[tuple(value for value in told if isinstance(value, str) and value)] = None
    return tuple(names for names in found if names)


def _parts(value: object) -> Iterator[Any]:
    """Yield the parts of a spec, the whole left out."""
    for one in _inner(value):
        yield one
        yield from _parts(one)


def _inner(value: object) -> Iterator[Any]:
    """Yield the parts that a part holds itself."""
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        for field in dataclasses.fields(value):
            if field.name not in ("strip", "legend"):
                yield from _held(getattr(value, field.name))


def _held(value: object) -> Iterator[Any]:
    if dataclasses.is_dataclass(value):
        yield value
    elif isinstance(value, tuple):
        for one in value:
            yield from _held(one)


def marks_svg(inside: str, changed: tuple[tuple[str, ...], ...]) -> tuple[str, ...]:
    """Return a mark before the text of each thing that changed, as SVG in the units of the drawing.

    inside: the drawing.  changed: as `changed_names` returns it.
    """
    texts: dict[str, list[str]] = {}
    for attributes, words in _TEXT.findall(inside):
        texts.setdefault(unescape(words).strip(), []).append(attributes)
    drawn: dict[str, None] = {}
    for names in changed:
        shown = next((name for name in names if name in texts), "")
        if shown:
            drawn |= {_mark(attributes, shown): None for attributes in texts[shown]}
    return tuple(drawn)


def _mark(attributes: str, words: str) -> str:
    x, y = (_number(rf'\b{name}="(-?[\d.]+)"', attributes) for name in "xy")
    size = _number(r'font-size(?:="|: ?)([\d.]+)', attributes)
    anchor = re.search(r'text-anchor(?:="|: ?)(\w+)', attributes)
    left = x - _SHARE_LEFT.get(anchor[1] if anchor else "start", 0.0) * width_pt(words, size)
    symbol = SYMBOLS[CHANGE]
    return symbol_svg(symbol, left - _BESIDE_PT - symbol.size_pt / 2, y - 0.35 * size)


def _number(pattern: str, text: str) -> float:
    found = re.search(pattern, text)
    return float(found[1]) if found else 0.0
