"""How wide the columns of a schedule are, and on which sheet it stands, so that none is cut off."""

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from proposal.paper.blocks import Inline, Span, Table
from proposal.paper.inline_text import breakable, words_of
from proposal.paper.signs import Fonts

USUAL_PT = 8.0
_SMALL_PT = 7.5
LEAST_PT = 7.0
"""Size of the smallest text on paper, pt."""
MARGIN_PT = 3.0
"""Of a cell, left and right, pt."""
_SPARE = 1.03  # pairs of signs are set a little farther apart, or nearer
_COMFORT_EM = 11.0
"""Width of a column of sentences in which a line holds two or three words, em."""
_LONGEST_EM = 22.0
"""Width of a word above which it may be broken, em."""
_WIDEST_EM = 0.75
"""Width of a wide letter, em."""
_SHORT_EM = 10.0
"""Width of a cell, such as a day or a sum, that is kept on one line where there is room, em."""
_FOR_SHORT = 0.92
"""Share of the page's width up to which columns are widened for that."""
_MOST_LINES = 20
"""Lines of a row above which it may be parted between two sheets."""


class Column(NamedTuple):
    """What a column needs.

    least: for its longest word that is not broken, em.  longest: for its longest word, em.
    wanted: to be read with ease, em.  whole: for every cell on one line, em.
    """

    least: float
    longest: float
    wanted: float
    whole: float


def columns_of(table: Table, fonts: Fonts) -> tuple[Column, ...]:
    """Return what each column of a schedule needs.

    fonts: measure its text.
    """
    count = len(table.numeric)
    longest, whole = [1.0] * count, [1.0] * count
    for row, bold in (
        *((row, False) for row in table.rows),
        (table.head, True),
        *((row, True) for row in table.foot),
    ):
        for n, cell in enumerate(row):
            if cell:
                is_bold = bold or n < table.names
                widest, all_of_it = _needed(cell, fonts, is_bold)
                longest[n] = max(longest[n], widest)
                whole[n] = max(whole[n], all_of_it)
    return tuple(
        Column(min(one, _LONGEST_EM), one, min(all_of_it, max(min(one, _LONGEST_EM), _COMFORT_EM)), all_of_it)
        for one, all_of_it in zip(longest, whole, strict=True)
    )


def _needed(cell: Inline, fonts: Fonts, bold: bool) -> tuple[float, float]:
    """Return the width of the longest word of a cell, and of its longest line, em."""
    if len(cell) == 1 and isinstance(cell[0], Span) and cell[0].style == "whole":
        width = max(fonts.width(line, bold=bold) for line in words_of(cell).split("\n"))
        return width, width
    lines = words_of(cell).split("\n")
    # Verdicts are set in bold.
    bold = bold or any(isinstance(part, Span) and part.style != "link" for part in cell)
    words = {word for line in lines for word in line.split(" ")}
    widest = max(fonts.width(word, bold=bold) for word in words)
    return widest, max(fonts.width(line, bold=bold) for line in lines)


def wants(columns: Sequence[Column]) -> float:
    """Return the width that a schedule wants so that it can be read with ease, pt.

    columns: what each needs.
    """
    return sum(one.wanted * USUAL_PT * _SPARE + 2 * MARGIN_PT for one in columns)


def takes(columns: Sequence[Column]) -> float:
    """Return the width that a schedule takes at least where no word is broken, in small text, pt.

    columns: what each needs.
    """
    return sum(_least_pt(one, _SMALL_PT) for one in columns)


def fitted(table: Table, columns: Sequence[Column], width_pt: float) -> Table:
    """Return a schedule with the widths of its columns, no wider than the page.

    columns: what each needs.  width_pt: of the page within its margins, pt.
    The text gets smaller where words would not fit, down to the smallest; then words are broken.
    """
    sizes = (USUAL_PT, _SMALL_PT, LEAST_PT)
    size = next((one for one in sizes if _sum([each.least for each in columns], one) <= width_pt), LEAST_PT)
    least, whole = [_least_pt(one, size) for one in columns], [_whole_pt(one, size) for one in columns]
    widths = _shared(_unbroken(least, whole, size, width_pt), whole, width_pt)
    room = [width - 2 * MARGIN_PT for width in widths]
    lines = [one.whole * size * _SPARE / most for one, most in zip(columns, room, strict=True)]
    narrow = {
        n: max(int(most / (size * _WIDEST_EM)), 1)
        for n, (one, most) in enumerate(zip(columns, room, strict=True))
        if one.longest * size > most
    }

    def row(cells: tuple[Inline, ...]) -> tuple[Inline, ...]:
        return tuple(breakable(cell, narrow[n]) if n in narrow else cell for n, cell in enumerate(cells))

    return replace(
        table,
        head=row(table.head),
        rows=tuple(map(row, table.rows)) if narrow else table.rows,
        foot=tuple(map(row, table.foot)),
        widths_pt=tuple(round(one, 2) for one in widths),
        size_pt=size,
        whole_rows=max(lines, default=0) < _MOST_LINES,
    )


def _sum(widths_em: Sequence[float], size_pt: float) -> float:
    return sum(one * size_pt * _SPARE + 2 * MARGIN_PT for one in widths_em)


def _least_pt(column: Column, size_pt: float) -> float:
    return column.least * size_pt * _SPARE + 2 * MARGIN_PT


def _whole_pt(column: Column, size_pt: float) -> float:
    return column.whole * size_pt * _SPARE + 2 * MARGIN_PT


def _unbroken(least: Sequence[float], whole: Sequence[float], size: float, width: float) -> list[float]:
    """Return the least widths, those of short cells so wide that none is broken, the narrowest first."""
    widths = list(least)
    for n in sorted(range(len(widths)), key=lambda n: whole[n]):
        short = whole[n] <= _SHORT_EM * size * _SPARE + 2 * MARGIN_PT
        if short and sum(widths) - widths[n] + whole[n] <= width * _FOR_SHORT:
            widths[n] = whole[n]
    return widths


def _shared(least: Sequence[float], whole: Sequence[float], width: float) -> list[float]:
    """Return widths between the least and the whole, that are together no more than there is."""
    if sum(whole) <= width:
        return list(whole)
    if sum(least) >= width:
        return [one * width / sum(least) for one in least]
    # Columns whose cells are short get all that they need; what is left is shared out by what is wanted.
    widths = list(least)
    left = width - sum(least)
    wanting = [max(most - one, 0.0) ** 0.7 for one, most in zip(least, whole, strict=True)]
    open_columns = [n for n, one in enumerate(wanting) if one > 0]
    while open_columns and left > 0.01:
        total = sum(wanting[n] for n in open_columns)
        full = [n for n in open_columns if left * wanting[n] / total >= whole[n] - widths[n]]
        if not full:
            for n in open_columns:
                widths[n] += left * wanting[n] / total
            break
        for n in full:
            left -= whole[n] - widths[n]
            widths[n] = whole[n]
        open_columns = [n for n in open_columns if n not in full]
    return widths
