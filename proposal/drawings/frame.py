"""The frame of every sheet: a drawing placed on the whole paper, with its legend and its title block."""

import re
from dataclasses import replace

from proposal.drawings.colours import INK, PAPER
from proposal.drawings.graph.svg import FONT_FAMILY
from proposal.drawings.legend import Foot, LegendEntry, MarkSample, legend_svg
from proposal.drawings.revision_marks import CHANGE, MOST_MARKS, marks_svg
from proposal.drawings.sheet import FOOT_MM, MM_PT, TITLE_MM, TitleBlock
from proposal.drawings.title_block import title_block_svg

_INSET_MM = 3.0
_AS_GOOD_AS_WHOLE = 0.002
# By how much what is not to scale is enlarged at most.
_LARGEST = 1.25
_NUMBER = r"-?\d+(?:\.\d+)?"
_OPENING = re.compile(r"<svg\b[^>]*>")
_BOX = re.compile(rf'\bviewBox="({_NUMBER}) ({_NUMBER}) ({_NUMBER}) ({_NUMBER})"')


def _within(inside: str, more: str) -> str:
    """Return a drawing with more in its outermost group, which moves what a layout engine drew."""
    end = inside.rfind("</g>")
    return inside + more if end < 0 else f"{inside[:end]}{more}{inside[end:]}"


def framed(drawing: bytes, strip: TitleBlock, foot: Foot) -> bytes:
    """Return a sheet: the paper in its full size, in points, with the drawing in its field.

    drawing: finished SVG, with its text alternative.  strip: what the title block says.
    foot: what stands beside it.
    A drawing that is larger than the field is scaled down to it; a smaller one that is not to scale is
    enlarged a little.
    Raises ValueError where the drawing has no size or no text alternative.
    """
    text = drawing.decode("utf-8")
    opening = _OPENING.search(text)
    box = _BOX.search(opening[0]) if opening else None
    described = text.find("</desc>")
    if opening is None or box is None or described < 0:
        raise ValueError("the drawing has no viewBox or no description")
    left, top, width, height = (float(part) for part in box.groups())
    head, inside = text[opening.end() : described + 7], text[described + 7 : text.rindex("</svg>")]
    beside = marks_svg(inside, strip.changed) if strip.changed else ()
    if strip.new:
        told = f"The whole sheet is new in revision {strip.revision}; nothing on it is marked."
        foot = replace(foot, notes=(*foot.notes, told))
    elif len(beside) > MOST_MARKS:
        told = f"Much of this sheet is new or changed in revision {strip.revision}."
        foot = replace(foot, notes=(*foot.notes, told))
    elif beside:
        inside = _within(inside, "".join(beside))
        entry = LegendEntry(MarkSample(CHANGE), f"new or changed in revision {strip.revision}")
        foot = replace(foot, entries=(*foot.entries, entry))
    paper = strip.paper
    margin, field = paper.margin_mm * MM_PT, [size * MM_PT for size in paper.field_mm]
    scale = min(1.0 if foot.scale else _LARGEST, field[0] / width, field[1] / height)
    if abs(scale - 1.0) < _AS_GOOD_AS_WHOLE:
        scale = 1.0
    x = margin + (field[0] - width * scale) / 2 - left * scale
    y = margin + (field[1] - height * scale) / 2 - top * scale
    wide, high = paper.width_mm * MM_PT, paper.height_mm * MM_PT
    named = re.search(r'aria-labelledby="[^"]*"', opening[0])
    sized = f" scale({scale:.5f})" if scale != 1 else ""
    inset = _INSET_MM * MM_PT
    foot_top = high - margin - FOOT_MM * MM_PT
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
        f'width="{wide:.2f}pt" height="{high:.2f}pt" viewBox="0 0 {wide:.2f} {high:.2f}" role="img" '
        f'font-family="{FONT_FAMILY}" {named[0] if named else ""}>{head}\n'
        f'<rect width="{wide:.2f}" height="{high:.2f}" fill="{PAPER}"/>\n'
        f'<g transform="translate({x:.2f} {y:.2f}){sized}">{inside}</g>\n'
        f'<g><rect x="{margin:.2f}" y="{margin:.2f}" width="{wide - 2 * margin:.2f}" '
        f'height="{high - 2 * margin:.2f}" fill="none" stroke="{INK}" stroke-width="1.4"/>'
        f'<path d="M{margin:.2f} {foot_top:.2f}H{wide - margin:.2f}" fill="none" '
        f'stroke="{INK}" stroke-width="0.7"/>'
        + legend_svg(
            foot,
            margin + inset,
            foot_top + inset,
            wide - 2 * margin - TITLE_MM * MM_PT - 2 * inset,
            FOOT_MM * MM_PT - 2 * inset,
        )
        + title_block_svg(strip, foot.scale, wide - margin, high - margin)
        + "</g>\n</svg>\n"
    ).encode()
