"""The mark of a drawing that is not issued: a word across it, and the same in its text alternative."""

import math
import re

DRAFT = "Draft, not issued"
_WORD = "DRAFT"
# Of the diagonal that the word takes, and of its size that its letters are wide on average in bold capitals.
_SHARE, _WIDTH = 0.62, 0.72


def marked(svg: bytes) -> bytes:
    """Return a drawing with the mark over all else, light enough to read what lies below.

    svg: a finished drawing.
    Raises ValueError where it has no size or no text alternative.
    """
    text = said_of(svg, DRAFT).decode("utf-8")
    box = re.search(r'<svg\b[^>]*?\bviewBox="([^"]*)"', text)
    if box is None:
        raise ValueError("the drawing has no viewBox or no description")
    left, top, width, height = (float(part) for part in box[1].split())
    size = _SHARE * math.hypot(width, height) / (_WIDTH * len(_WORD))
    turn = -math.degrees(math.atan2(height, width))
    x, y = left + width / 2, top + height / 2
    mark = (
        f'<text x="{x:.2f}" y="{y:.2f}" transform="rotate({turn:.2f} {x:.2f} {y:.2f})" text-anchor="middle" '
        f'dominant-baseline="central" font-size="{size:.2f}" font-weight="bold" fill="#a51d16" '
        'fill-opacity="0.12" stroke="#a51d16" stroke-opacity="0.45" stroke-width="1" '
        f'pointer-events="none" aria-hidden="true">{_WORD}</text>\n'
    )
    end = text.rindex("</svg>")
    return f"{text[:end]}{mark}{text[end:]}".encode()


def said_of(svg: bytes, state: str) -> bytes:
    """Return a drawing whose text alternative begins with the state it is in.

    svg: a finished drawing.  state: such as `Draft, not issued`.
    Raises ValueError where it has no text alternative.
    """
    text = svg.decode("utf-8")
    told = re.search(r"<desc\b[^>]*>", text)
    if told is None:
        raise ValueError("the drawing has no viewBox or no description")
    return f"{text[: told.end()]}{state}. {text[told.end() :]}".encode()
