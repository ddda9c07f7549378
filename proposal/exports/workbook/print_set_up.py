"""How sheets are printed: paper, landscape, columns on as few pages as can be read, heads, head and foot."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from math import ceil
from typing import Any

from proposal.document.rows.terms import Cover
from proposal.field_classes import dataclass
from proposal.quantities import formatting

_A4, _A3, _LETTER, _TABLOID = 9, 8, 1, 3
"""Papers by their numbers in the file format (ECMA-376, part 1, 18.3.1.63); tabloid is ANSI B."""
_LONGEST = 200
"""Most signs of a name in a head or a foot, which hold 255 with the signs that place them."""
WIDEST, WIDEST_LARGE = 200, 290
"""Most signs beside each other on A4 or letter, and on A3 or ANSI B: more would print smaller than 7 pt."""
_MARGINS = {"left": 0.4, "right": 0.4, "top": 0.75, "bottom": 0.75}
"""Inches, as the file format has them."""
LONG = 600
"""Rows of a sheet that is printed without an area where it can be.

LibreOffice breaks an area of 870 rows into 87 pages, where the same cells without one take 63, and leaves
blank ones; areas of up to 530 rows take no page more. Each sheet that repeats columns has it break every
sheet without an area into pages anew, down to the last row that a sheet may have: with areas on hardly any
sheet, the estimator's workbook took three times as long to open.
"""

LINES, LINES_LARGE = 33, 49
"""Lines that fit on a page in landscape at its own size: of A4 or letter, and of A3 or ANSI B."""
SIGNS, SIGNS_LARGE = 130, 190
"""Signs that fit beside each other at their own size."""


@dataclass(frozen=True, slots=True)
class PrintSetUp:
    """What is printed on every page of a workbook, and on which paper: that of the pages of the site.

    cover: names the project, its revision and its units.
    """

    cover: Cover

    def apply(
        self,
        sheet: Any,
        title: str,
        last_row: int,
        last_column: int,
        heads: int | None = 0,
        widths: Sequence[float] = (),
        named: int = 1,
        beside: bool = True,
    ) -> None:
        """Set a sheet up for print.

        sheet: of xlsxwriter.  title: of the sheet.
        last_row, last_column: of what is printed; workings beside it are not.
        heads: row of the heads, which every page repeats; None for none.
        widths: of the columns that are shown, in signs, where there may be many. What is too wide for A4 or
            letter is printed on A3 or ANSI B, as drawings are; what is too wide for that over several pages
            side by side.
        named: how many of the first columns say what a row is of; pages side by side repeat them.
        beside: whether anything stands beside or below that is not printed. Where nothing does, long sheets
            have no area.
        """
        cover, revision = self.cover, self.cover.revision
        sheet.set_landscape()
        small, large = (_LETTER, _TABLOID) if cover.units == "us_customary" else (_A4, _A3)
        sheet.set_paper(large if sum(widths) > WIDEST else small)
        sheet.set_margins(**_MARGINS)
        pages = pages_wide(widths, named)
        sheet.fit_to_pages(pages, 0)
        if pages > 1:
            sheet.print_across()
            sheet.repeat_columns(0, named - 1)
        if beside or last_row < LONG:
            sheet.print_area(0, 0, last_row, last_column)
        if heads is not None:
            sheet.repeat_rows(heads)
        name = f"{cover.number} {cover.name}".strip()
        sheet.set_header(f"&L{_told(name)}&R{_told(title)}")
        issued = f"Revision {revision.identity}, {formatting.date(revision.date, cover.locale)}"
        sheet.set_footer(f"&L{_told(issued)}&R&P / &N")


def pages_wide(widths: Sequence[float], named: int = 1) -> int:
    """Return on how many pages beside each other columns are printed.

    widths: of the columns, in signs.  named: how many of the first ones each page repeats.
    """
    if sum(widths) <= WIDEST_LARGE:
        return 1
    repeated = sum(widths[:named])
    return ceil((sum(widths) - repeated) / (WIDEST_LARGE - repeated))


def page_breaks(parts: Sequence[int], lines: Mapping[int, int]) -> Iterator[int]:
    """Yield the rows before which a page begins, so that no part is broken that one page would hold.

    parts: first row of each, and the one behind the last.  lines: of rows that are higher than one.
    """
    begun = 0
    for first, end in pairwise(parts):
        if sum(lines.get(row, 1) for row in range(begun, end)) > LINES and begun < first:
            yield first
            begun = first


def _told(text: str) -> str:
    """Return a text for a head or a foot, in which & begins a sign of its own."""
    return text[:_LONGEST].replace("&", "&&")
