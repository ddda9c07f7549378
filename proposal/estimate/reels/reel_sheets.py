"""Over how many sheets the cut plan goes.

A sheet holds 211 mm of it at full size on A3 and on ANSI B. Heights and widths below are those of the
drawing, with the numbers before the cables and their lengths taken as long as they can be in any units.
"""

from collections.abc import Iterator, Sequence
from itertools import groupby

from proposal.design.sheets.splitting import Part
from proposal.estimate.reels.cut_plan import Reel

_SHEET_MM = 211.0
_TRIED = 40
_HEAD_MM = 9.0
_REEL_MM = 8.6
_LINE_MM = 3.8
_LIST_MM = 344.0
_SIGN_MM = 0.64 * 7.0 * 25.4 / 72
_NUMBERS = len("100 ·  · 1,000.7")


def cut_plan_parts(plans: Sequence[tuple[str, Sequence[Reel]]]) -> tuple[Part, ...]:
    """Return the sheets of the cut plan.

    plans: code of each cable type and its reels, in the order they are drawn.
    Each part has the types on it as its members, the first reel of the first and the last reel of the last,
    counted from 1 in the plan of the type. There are as few sheets as hold them, filled alike.
    """
    heights = list(_heights(plans))
    sheets = _shared_out(heights, _SHEET_MM)
    for parts in range(_TRIED, 0, -1):
        fewer = _shared_out(heights, _SHEET_MM * parts / _TRIED)
        if len(fewer) > len(sheets):
            break
        sheets = fewer
    return tuple(
        Part(tuple(dict.fromkeys(code for code, _ in sheet)), sheet[0][1], sheet[-1][1]) for sheet in sheets
    )


def _shared_out(heights: Sequence[tuple[str, int, float]], most_mm: float) -> list[list[tuple[str, int]]]:
    """Return the reels of each sheet, by type and number; none is higher than it may be, but of one reel.

    heights: of the reels.  most_mm: that a sheet holds.
    """
    sheets: list[list[tuple[str, int]]] = []
    filled = most_mm
    for code, number, height in heights:
        begins = not sheets or sheets[-1][-1][0] != code
        if not sheets or filled + height + (_HEAD_MM if begins else 0.0) > most_mm:
            sheets.append([])
            filled = 0.0
            begins = True
        sheets[-1].append((code, number))
        filled += height + (_HEAD_MM if begins else 0.0)
    return sheets


def _heights(plans: Sequence[tuple[str, Sequence[Reel]]]) -> Iterator[tuple[str, int, float]]:
    """Yield each reel by its type and number, with the height it takes, mm."""
    for code, reels in plans:
        longest = max((len(cut.identity) for reel in reels for cut in reel.cuts), default=0) + _NUMBERS
        columns = max(1, int(_LIST_MM / (longest * _SIGN_MM + 3.0)))
        for number, reel in enumerate(reels, 1):
            groups = (len(list(cuts)) for _, cuts in groupby(reel.cuts, key=lambda cut: cut.group))
            yield code, number, _REEL_MM + _LINE_MM * sum(-(-count // columns) for count in groups)
