"""Charts as pages show them: drawn for the width of the page, so that they are read without zooming in."""

import re
from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType

from proposal.drawings.colours import PAPER
from proposal.drawings.graph.svg import FONT_FAMILY
from proposal.drawings.legend import Foot, height_that_fits, legend_svg
from proposal.drawings.sheet import FOOT_MM, MM_PT, SheetPaper

PAGE_WIDTHS_MM: Mapping[str, float] = MappingProxyType({"page": 220.0, "narrow": 72.0})
"""Widths that charts are drawn in, for the column of a page and for that of a telephone.

On a window of 1440 pixels and on one of 390 these columns have 1152 and 356, so that letters of 7 pt have
12 pixels or more.
"""
NARROWER_MM = 120.0
"""Fields narrower than this one have one column."""
_GAP_PT, _BAR_PT = 8.0, 30.0
_OPENING = re.compile(r"<svg\b[^>]*>")


def paper_with_field(width_mm: float, height_mm: float) -> SheetPaper:
    """Return a paper whose field has a size.

    width_mm, height_mm: of the field.
    """
    around = 2 * SheetPaper("", 0.0, 0.0).margin_mm
    return SheetPaper("page", width_mm + around, height_mm + around + FOOT_MM)


def is_narrow(paper: SheetPaper) -> bool:
    """Return whether a chart has one column only."""
    return paper.field_mm[0] < NARROWER_MM


def is_page(paper: SheetPaper) -> bool:
    """Return whether a chart is drawn for a page and not for a sheet."""
    return paper.name == "page"


def with_legend_below(drawing: bytes, field_mm: tuple[float, float], foot: Foot) -> bytes:
    """Return a chart with its scale bar, legend and notes below.

    drawing: finished SVG of the field, with its text alternative.  field_mm: width and height of the field.
    foot: what stands below; nothing is said of a scale, which a screen does not keep.
    Raises ValueError where the chart has no size or no text alternative.
    """
    text = drawing.decode("utf-8")
    opening = _OPENING.search(text)
    described = text.find("</desc>")
    if opening is None or described < 0:
        raise ValueError("the chart has no size or no description")
    width, high = (size * MM_PT for size in field_mm)
    head, inside = text[opening.end() : described + 7], text[described + 7 : text.rindex("</svg>")]
    named = re.search(r'aria-labelledby="[^"]*"', opening[0])
    parts, top = [], high + _GAP_PT
    if foot.bar:
        parts.append(legend_svg(Foot(bar=foot.bar), _GAP_PT, top, width, _BAR_PT))
        top += _BAR_PT + _GAP_PT
    below = replace(foot, scale="", bar=None, pointing="")
    tall = height_that_fits(below, width - 2 * _GAP_PT)
    parts.append(legend_svg(below, _GAP_PT, top, width - 2 * _GAP_PT, tall))
    whole = top + tall + _GAP_PT
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
        f'width="{width:.2f}pt" height="{whole:.2f}pt" viewBox="0 0 {width:.2f} {whole:.2f}" role="img" '
        f'font-family="{FONT_FAMILY}" {named[0] if named else ""}>{head}\n'
        f'<rect width="{width:.2f}" height="{whole:.2f}" fill="{PAPER}"/>\n'
        f"<g>{inside}</g>\n<g>{''.join(parts)}</g>\n</svg>\n"
    ).encode()
