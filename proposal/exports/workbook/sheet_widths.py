"""How wide the columns of a sheet are: as their words need, and so that the sheet can be read on paper."""

from collections.abc import Sequence
from decimal import Decimal
from functools import lru_cache
from math import ceil
from textwrap import wrap

from proposal.document.quantities import WORDS
from proposal.exports.csv_files import heading
from proposal.exports.table import Column, Table, Value
from proposal.exports.workbook.cell_formats import CellFormats
from proposal.exports.workbook.print_set_up import (
    LINES,
    LINES_LARGE,
    SIGNS,
    SIGNS_LARGE,
    WIDEST,
    WIDEST_LARGE,
)
from proposal.field_classes import dataclass

_WIDEST = 90
_LONGEST_WORD = 24
"""Signs of the longest word that its column is widened for; longer ones are broken."""
_BESIDE = 3
"""Signs that a cell keeps free: its edges, and the button that filters in its head."""
_BOLD = 1.15
"""How much wider bold signs are."""
MOST_LINES = 12
"""Most lines that a cell shows on paper; it holds all of its text."""
_AS_GOOD = 1.15
"""How many times the fewest pages a sheet may take for larger print."""
_SMALL = (SIGNS, 145, 160, 178, WIDEST)
_LARGE = (215, 245, WIDEST_LARGE)
"""Signs beside each other that are tried on A4 or letter, and then on A3 or ANSI B."""


_WIDE = (2, 3, 4)
"""On how many pages beside each other the rest is tried."""
_REPEATED = 40
"""About how many signs of a row's name each of them repeats."""


@dataclass(frozen=True, slots=True)
class _Paper:
    """Lines that a page holds at its own size, and how many of A4 it is with those beside it."""

    lines: int
    size: int


@dataclass(frozen=True, slots=True)
class _Texts:
    """The columns of a table as they could be: their widths where nothing wraps, and the least ones."""

    whole: tuple[float, ...]
    least: tuple[float, ...]


def column_widths(table: Table, folded: frozenset[int], formats: CellFormats) -> tuple[float, ...]:
    """Return the width of each column in signs.

    Columns of words are narrowed, and go on in further lines, as far as it makes the sheet easier to print:
    on few pages, in large print, on small paper. No column is narrower than its figures or most words.

    folded: columns that are not shown.
    """
    values = [[row[n] for row in table.rows] for n in range(len(table.columns))]
    texts = _Texts(
        tuple(_whole(column, held, formats) for column, held in zip(table.columns, values, strict=True)),
        tuple(_least(column, held, formats) for column, held in zip(table.columns, values, strict=True)),
    )
    shown = [n for n in range(len(table.columns)) if n not in folded]
    tried: list[tuple[float, tuple[float, ...]]] = []
    for signs, full, sheet in (
        *((one, SIGNS, _Paper(LINES, 1)) for one in _SMALL),
        *((one, SIGNS_LARGE, _Paper(LINES_LARGE, 2)) for one in _LARGE),
        *(
            (n * WIDEST_LARGE - (n - 1) * _REPEATED, n * SIGNS_LARGE, _Paper(LINES_LARGE, 2 * n))
            for n in _WIDE
        ),
    ):
        widths = _fitted(texts, shown, signs)
        total = sum(widths[n] for n in shown)
        if total <= signs and widths not in (known for _, known in tried):
            scale = min(full / total, 1.0)
            height = sum(row_lines(table, row, widths) for row in table.rows)
            tried.append((ceil(height * scale / sheet.lines) * sheet.size, widths))
    if not tried:
        return texts.whole
    fewest = min(size for size, _ in tried)
    return next(widths for size, widths in tried if size <= fewest * _AS_GOOD)


def row_lines(table: Table, row: Sequence[Value], widths: Sequence[float]) -> int:
    """Return how many lines a row takes, with its texts wrapped.

    widths: of the columns, in signs.
    """
    lines = 1
    for column, value, width in zip(table.columns, row, widths, strict=True):
        if wraps(column, value) and len(str(value)) > width - 1:
            lines = max(lines, _text_lines(str(value), max(int(width) - 1, 1)))
    return min(lines, MOST_LINES)


@lru_cache(maxsize=4096)
def _text_lines(text: str, signs: int) -> int:
    return len(wrap(text, signs))


def head_lines(head: str, width: float) -> int:
    """Return how many lines a head takes, word by word, with room for the button that filters.

    width: of its column, in signs.
    """
    lines, left = 1, width - 2
    for word in head.split():
        if len(word) > left < width - 2:
            lines, left = lines + 1, width - 2
        left -= len(word) + 1
    return lines


def wraps(column: Column, value: Value) -> bool:
    """Say whether a cell holds words, which go on in the next line."""
    return column.quantity in WORDS and isinstance(value, str)


def _fitted(texts: _Texts, shown: Sequence[int], signs: float) -> tuple[float, ...]:
    """Return widths of columns so that those shown come to so many signs, or to as few as they can."""
    low, high = 0.0, max(texts.whole, default=0.0)

    def capped(cap: float) -> tuple[float, ...]:
        return tuple(
            max(least, min(whole, cap)) for whole, least in zip(texts.whole, texts.least, strict=True)
        )

    while high - low > 1:
        middle = float(int((low + high) / 2)) or 1.0
        if middle <= low:
            break
        if sum(capped(middle)[n] for n in shown) <= signs:
            low = middle
        else:
            high = middle
    widest = capped(high)
    return widest if sum(widest[n] for n in shown) <= signs else capped(low)


def _whole(column: Column, values: Sequence[Value], formats: CellFormats) -> float:
    """Return a width that holds each figure, most texts, and each word of the head."""
    longest = max((len(value) for value in values if isinstance(value, str)), default=0)
    return min(max(longest, _least_inside(column, values, formats)), _WIDEST) + _BESIDE


def _least(column: Column, values: Sequence[Value], formats: CellFormats) -> float:
    """Return the least width: of its figures, and of the longest words of texts that wrap."""
    texts = [value for value in values if isinstance(value, str)]
    held = (len(word) for value in texts if wraps(column, value) for word in value.split())
    longest = max(held, default=0)
    whole = max((len(value) for value in texts if not wraps(column, value)), default=0)
    inside = max(min(longest, _LONGEST_WORD), whole, _least_inside(column, values, formats))
    return min(inside, _WIDEST) + _BESIDE


def _least_inside(column: Column, values: Sequence[Value], formats: CellFormats) -> float:
    figures = [len(formats.shown(column.quantity, value)) for value in values if not isinstance(value, str)]
    if column.total:
        whole = sum((Decimal(str(value or 0)) for value in values), Decimal(0))
        figures.append(len(formats.shown(column.quantity, whole)) + 1)
    words = max(map(len, heading(column).split()), default=0)
    head = max(words * _BOLD, len(heading(column)) * _BOLD / 3)
    return max(head, *figures, 4)
