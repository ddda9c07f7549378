"""What changed on a sheet since the last issue, and the marks beside it."""

import dataclasses
import re
from collections.abc import Iterator, Sequence
from html import unescape
from typing import Any

from proposal.document.rows.sheets import SheetRow
from proposal.drawings.label_ground import Box, Ground
from proposal.drawings.letter_widths import letters_pt
from proposal.drawings.symbol_table import EDGE_PT, SYMBOLS, symbol_svg
from proposal.editions import Edition

CHANGE = "change"
_SIZE, _AT_Y = r'font-size(?:="|: ?)([\d.]+)', r'\by="(-?[\d.]+)"'
_TEXT = re.compile(r"<text\b([^>]*)>([^<]*)</text>")
_SHARE_LEFT = {"start": 0.0, "middle": 0.5, "end": 1.0}
# How far from its text a mark stands, the nearest free place first.
_AWAY_PT = (2.0, 5.0, 9.0)
# What is no larger is kept off as a whole, as symbols are.
_SMALL_PT, _FAR_PT = 14.0, 1e5
MOST_MARKS = 24
"""Above which a sheet says in words that much of it changed, and marks nothing."""
# Fields of specs by which nothing is known: others have the same.
_SHARED = frozenset(("start", "end", "signal", "kind", "type", "model", "code"))
_MOST_LINES = 3
"""Lines in which a name may stand on its sheet."""


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
    What holds something that changed is not told itself, unless the thing is called as others are that did
    not change: as M1 of a room, of which every room has one.
    """
    known = {repr(part) for part, _ in _parts(before)}
    parts = [(part, above, repr(part) in known) for part, above in _parts(after)]
    unchanged = {name for part, _, same in parts if same for name in _names(part)}
    found: dict[tuple[str, ...], None] = {}
    for part, above, same in parts:
        if same or any(repr(one) not in known for one in _inner(part)):
            continue
        told = (
            tuple(name for name in _names(one) if name not in unchanged) for one in (part, *reversed(above))
        )
        found[next((names for names in told if names), ())] = None
    return tuple(names for names in found if names)


def _names(part: Any) -> list[str]:
    """Return what a part may be called on its sheet."""
    said = [getattr(part, one.name) for one in dataclasses.fields(part) if one.name not in _SHARED]
    return [value for value in said if isinstance(value, str) and value]


def _parts(value: object, above: tuple[Any, ...] = ()) -> Iterator[tuple[Any, tuple[Any, ...]]]:
    """Yield the parts of a spec, the whole left out, each with those that hold it, the outermost first."""
    for one in _inner(value):
        yield one, above
        yield from _parts(one, (*above, one))


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
    """Return a mark beside the text of each thing that changed, as SVG in the units of the drawing.

    inside: the drawing.  changed: as `changed_names` returns it.
    A mark stands before its text, or where it touches nothing around it.
    """
    texts = [(attributes, unescape(words).strip(), words) for attributes, words in _TEXT.findall(inside)]
    named: dict[str, list[Box]] = {}
    for n, (attributes, _, words) in enumerate(texts):
        for name in _names_from(texts[n : n + _MOST_LINES]):
            named.setdefault(name, []).append(_box(attributes, words))
    shown = dict.fromkeys(next((name for name in names if name in named), "") for names in changed)
    marked = dict.fromkeys(box for name in shown if name for box in named[name])
    if not marked:
        return ()
    ground = _ground(inside, [_box(attributes, words) for attributes, _, words in texts])
    return tuple(_mark(box, ground) for box in marked)


def _names_from(texts: Sequence[tuple[str, str, str]]) -> Iterator[str]:
    """Yield what a text says, alone and with the lines below it that it may go on in.

    texts: attributes, what is said and how it is written of it and those after it.
    """
    (attributes, said, _), *further = texts
    yield said
    for below, more, _ in further:
        step = _number(_AT_Y, below) - _number(_AT_Y, attributes)
        size = _number(_SIZE, attributes)
        if _number(_SIZE, below) != size or not 0.9 * size < step < 1.6 * size:
            return
        said, attributes = f"{said} {more}", below
        yield said


def _box(attributes: str, words: str) -> Box:
    """Return the box of a text."""
    x, y = (_number(rf'\b{name}="(-?[\d.]+)"', attributes) for name in "xy")
    size = _number(_SIZE, attributes)
    anchor = re.search(r'text-anchor(?:="|: ?)(\w+)', attributes)
    bold = re.search(r'font-weight(?:="|: ?)(?:bold|[6-9]00)', attributes) is not None
    wide = letters_pt(words, size, bold=bold)
    left = x - _SHARE_LEFT.get(anchor[1] if anchor else "start", 0.0) * wide
    return left, y - 0.72 * size, left + wide, y + 0.21 * size


def _mark(text: Box, ground: Ground) -> str:
    """Return a mark at the first place beside a text that is free: before it where none is."""
    symbol = SYMBOLS[CHANGE]
    half = symbol.size_pt / 2
    left, top, right, bottom = text
    middle = (top + bottom) / 2 - 0.06 * (bottom - top)
    places = []
    for away in _AWAY_PT:
        far = half + away
        places += [(left - far, middle), (right + far, middle)]
        places += [(x, y) for y in (top - far, bottom + far) for x in (left + half, right - half)]
        places += [(x, y) for y in (top - far, bottom + far) for x in (left - far, right + far)]
    reach = half + EDGE_PT / 2
    boxes = [(x - reach, y - reach, x + reach, y + reach) for x, y in places]
    free = next((n for n, box in enumerate(boxes) if ground.free(box)), 0)
    ground.fill(boxes[free])
    return symbol_svg(symbol, *places[free])


def _ground(inside: str, texts: Sequence[Box]) -> Ground:
    """Return what marks stand clear of: texts, small shapes, lines; all of a drawing has one scale."""
    ground = Ground((-_FAR_PT, -_FAR_PT, _FAR_PT, _FAR_PT))
    for box in texts:
        ground.fill(box)
    for attributes in re.findall(r"<circle\b([^>]*)>", inside):
        x, y, radius = (_number(rf'\b{name}="(-?[\d.]+)"', attributes) for name in ("cx", "cy", "r"))
        ground.fill((x - radius, y - radius, x + radius, y + radius))
    for attributes in re.findall(r"<use\b([^>]*)>", inside):
        x, y = (_number(rf'\b{name}="(-?[\d.]+)"', attributes) for name in "xy")
        ground.fill((x - _SMALL_PT / 2, y - _SMALL_PT / 2, x + _SMALL_PT / 2, y + _SMALL_PT / 2))
    without = re.sub(r"<defs>.*?</defs>", "", inside, flags=re.DOTALL)
    for drawn in re.findall(r"<(?:polygon|polyline|path)\b[^>]*>", without):
        said = re.search(r'\s(?:points|d)="([^"]*)"', drawn)
        edged = re.search(r'stroke(?:="|: ?)(?!none)#', drawn) is not None
        for line in re.split("[Mm]", said[1] if said else ""):
            numbers = [float(number) for number in re.findall(r"-?\d+(?:\.\d+)?", line)]
            points = list(zip(numbers[::2], numbers[1::2], strict=False))
            if len(points) < 2:
                continue
            xs, ys = zip(*points, strict=True)
            if max(xs) - min(xs) <= _SMALL_PT and max(ys) - min(ys) <= _SMALL_PT:
                ground.fill((min(xs), min(ys), max(xs), max(ys)))
            elif edged:
                shut = drawn.startswith("<polygon") or "z" in line
                ground.rule([*points, points[0]] if shut else points)
    return ground


def _number(pattern: str, text: str) -> float:
    found = re.search(pattern, text)
    return float(found[1]) if found else 0.0
