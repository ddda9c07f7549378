"""The title block of every sheet, in the lower right corner of its frame."""

from proposal.drawings.colours import FRAME, INK, MUTED
from proposal.drawings.legend import said
from proposal.drawings.lettering import wrapped
from proposal.drawings.sheet import FOOT_MM, MM_PT, TITLE_MM, TitleBlock

_NAME_PT = 7.0
_INSET_MM = 1.2
# The table of revisions: where its columns begin, and the rows below its head.
_COLUMNS_MM, _ROW_MM, _ROWS = (0.0, 8.0, 31.0, 53.0, 72.0), 4.4, 7
# Bold letters are at most a ninth wider.
_BOLD = 9 / 10


def title_block_svg(strip: TitleBlock, scale: str, right: float, bottom: float) -> str:
    """Return the title block as SVG.

    scale: as written; empty where the drawing is not to scale.
    right, bottom: its corner, pt.
    """
    left, top = right - TITLE_MM * MM_PT, bottom - FOOT_MM * MM_PT
    first = _COLUMNS_MM[-1]
    cells = (
        (first, 0.0, 58.0, 10.0, _named("Project", strip.project_number), strip.project, 8.0, False),
        (first + 58, 0.0, 30.0, 10.0, "Client", strip.client, 7.5, False),
        (first + 88, 0.0, 30.0, 10.0, "Integrator", strip.integrator, 7.5, False),
        (first, 10.0, 88.0, 9.0, "Title", strip.title, 10.0, True),
        (first + 88, 10.0, 30.0, 9.0, f"Sheet, {_part(strip)}", strip.number, 13.0, True),
        (first, 19.0, 48.0, 9.5, "Issued for", strip.purpose, 8.0, False),
        (first + 48, 19.0, 14.0, 9.5, "Revision", strip.revision, 9.0, True),
        (first + 62, 19.0, 26.0, 9.5, "Date", strip.date, 8.0, False),
        (first + 88, 19.0, 30.0, 9.5, "Scale", scale or "not to scale", 8.0, False),
        (first, 28.5, 34.0, 7.5, "Drawn by", strip.drawn, 8.0, False),
        (first + 34, 28.5, 28.0, 7.5, "Checked by", strip.checked, 8.0, False),
        (first + 62, 28.5, 26.0, 7.5, "Lengths in", strip.units, 8.0, False),
        (first + 88, 28.5, 30.0, 7.5, "Sheet size", strip.paper.name, 8.0, False),
    )
    parts = [_box(left, top, TITLE_MM, FOOT_MM, 1.2)]
    for x, y, width, height, name, value, size, bold in cells:
        parts.append(_cell(left + x * MM_PT, top + y * MM_PT, (width, height), name, value, size, bold=bold))
    parts.append(_revisions(strip, left, top))
    return "".join(parts)


def _named(name: str, further: str) -> str:
    return f"{name} {further}".rstrip()


def _part(strip: TitleBlock) -> str:
    return f"part {strip.part}" if strip.part else "part 1 of 1"


def _box(x: float, y: float, width_mm: float, height_mm: float, weight: float) -> str:
    return (
        f'<rect x="{x:.2f}" y="{y:.2f}" width="{width_mm * MM_PT:.2f}" height="{height_mm * MM_PT:.2f}" '
        f'fill="none" stroke="{INK}" stroke-width="{weight:g}"/>'
    )


def _cell(
    x: float, y: float, box_mm: tuple[float, float], name: str, value: str, size: float, *, bold: bool
) -> str:
    """Return a field of the block: its name above its value, or above a line to fill in."""
    width_mm, height_mm = box_mm
    inset, room = _INSET_MM * MM_PT, (width_mm - 2 * _INSET_MM) * MM_PT
    parts = [
        _box(x, y, width_mm, height_mm, 0.5),
        said(wrapped(name, room, 1, _NAME_PT)[0], x + inset, y + 7.2, _NAME_PT, MUTED),
    ]
    if not value.strip():
        foot = y + (height_mm - 1.4) * MM_PT
        parts.append(
            f'<path d="M{x + inset:.2f} {foot:.2f}h{room:.2f}" fill="none" stroke="{FRAME}" '
            'stroke-width="0.6"/>'
        )
        return "".join(parts)
    free = height_mm * MM_PT - 8.4
    words = room * (_BOLD if bold else 1.0)
    letters, lines = _fitted(value, words, free, size)
    below = y + 8.4 + (free - len(lines) * letters * 1.12) / 2
    for place, line in enumerate(lines):
        base = below + (place + 0.86) * letters * 1.12
        parts.append(said(line, x + inset, base, letters, bold=bold))
    return "".join(parts)


def _fitted(value: str, room: float, free: float, size: float) -> tuple[float, tuple[str, ...]]:
    """Return a value as large as it fits its field, and its lines."""
    letters = size
    while True:
        most = max(1, int(free / (letters * 1.12)))
        lines = wrapped(value, room, most, letters)
        if letters <= _NAME_PT or not any(line.endswith("…") for line in lines) or value.endswith("…"):
            return letters, lines
        letters = max(_NAME_PT, letters - 0.5)


def _revisions(strip: TitleBlock, left: float, top: float) -> str:
    """Return the table of revisions, the latest at its head, as many as there is room for."""
    heads = ("Rev.", "dated", "for", "drawn by")
    lines = [(one.identity, one.date, one.purpose, one.drawn) for one in reversed(strip.revisions)]
    kept = lines if len(lines) <= _ROWS else lines[: _ROWS - 1]
    parts = []
    for place, row in enumerate((heads, *kept)):
        y = top + place * _ROW_MM * MM_PT
        for n, words in enumerate(row):
            room = (_COLUMNS_MM[n + 1] - _COLUMNS_MM[n] - 2 * _INSET_MM) * MM_PT
            shown = wrapped(words, room, 1, _NAME_PT)[0] if words else ""
            x = left + (_COLUMNS_MM[n] + _INSET_MM) * MM_PT
            parts.append(said(shown, x, y + 3.2 * MM_PT, _NAME_PT, MUTED if place == 0 else INK))
        parts.append(_rule(left, y + _ROW_MM * MM_PT, _COLUMNS_MM[-1]))
    if len(lines) > len(kept):
        y = top + (1 + len(kept)) * _ROW_MM * MM_PT + 3.2 * MM_PT
        earlier = f"{len(lines) - len(kept)} earlier: see the cover"
        parts.append(said(earlier, left + _INSET_MM * MM_PT, y, _NAME_PT, MUTED))
    return "".join(parts)


def _rule(x: float, y: float, width_mm: float) -> str:
    return (
        f'<path d="M{x:.2f} {y:.2f}h{width_mm * MM_PT:.2f}" stroke="{FRAME}" stroke-width="0.4" fill="none"/>'
    )
