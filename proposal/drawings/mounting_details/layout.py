"""A sheet of mounting details as SVG: a cell for each kind of device and place, with its section."""

from proposal.drawings.canvas import Canvas, Point
from proposal.drawings.colours import BAND, FRAME, INK, MUTED, PAPER
from proposal.drawings.drawing import figure_kind
from proposal.drawings.legend import Foot, symbol_entries
from proposal.drawings.lettering import wrapped
from proposal.drawings.mounting_details import CAUTIONS, MountingSpec, alternative, heights_in_words, spec_of
from proposal.drawings.mounting_details.detail import Detail
from proposal.drawings.mounting_details.support_sections import SECTIONS, hatch
from proposal.drawings.plan.field import FIELD, NORMAL, SMALL, empty_field
from proposal.drawings.plan.symbols import draw_symbol, reach_of

_COLUMNS, _ROWS = 4, 3
_SECTION = (112.0, 150.0)
_LEAST = 116.0
"""Width and height of a section, and its least height, pt."""
_STEP = 9.0


def render(spec: MountingSpec, prefix: str) -> bytes:
    """Return the sheet as SVG, the same bytes for equal specs.

    prefix: makes its ids its own.
    """
    canvas = empty_field()
    left, top, right, bottom = FIELD
    rows = min(_ROWS, max(2, -(-len(spec.details) // _COLUMNS)))
    wide, high = (right - left) / _COLUMNS, (bottom - top) / rows
    for n, detail in enumerate(spec.details):
        at = (left + n % _COLUMNS * wide, top + n // _COLUMNS * high)
        _cell(canvas, detail, at, (wide, high), spec.schedules)
    return canvas.finished(f"Sheet {spec.strip.number}: {spec.strip.title}", alternative(spec), prefix)


def _cell(canvas: Canvas, detail: Detail, at: Point, size: Point, schedules: str) -> None:
    """Draw a detail.

    at, size: upper left corner of its cell, width and height, pt.
    schedules: sheets that have the heights of each room where they are too many for the cell.
    """
    x, y = at
    wide, high = size
    canvas.line(
        ((x, y), (x + wide - 8, y), (x + wide - 8, y + high - 8), (x, y + high - 8), (x, y)), FRAME, 0.5
    )
    title = f"{detail.kind.capitalize()}, {detail.location}"
    canvas.text((x + 8, y + 15), wrapped(title, wide - 24, 1, 9)[0], 8.5, bold=True)
    section = (_SECTION[0], _SECTION[1] if high > _SECTION[1] + 60 else _LEAST)
    _section(canvas, detail, (x + 8, y + 24), section)
    room = wide - _SECTION[0] - 34
    lines = [f"{detail.count} in all"]
    for words in dict.fromkeys(
        f"{one.weight}: {one.model}" if one.weight else one.model for one in detail.models if one.model
    ):
        lines += wrapped(words, room, 3, NORMAL)
    for held_by in dict.fromkeys(one.held_by for one in detail.models if one.held_by):
        marked = f"b: {held_by}" if detail.location == "ceiling" else held_by
        lines += wrapped(marked, room, 9, NORMAL)
    for wire in dict.fromkeys(one.wire for one in detail.models if one.wire):
        lines += wrapped(f"a: safety wire {wire}, to an anchor of its own in the structure", room, 4, NORMAL)
    for behind in dict.fromkeys(one.behind for one in detail.models if one.behind):
        lines += wrapped(f"reaches {behind} above the ceiling", room, 2, NORMAL)
    most = int((high - 40) / _STEP)
    heights = [part for words in heights_in_words(detail.heights) for part in wrapped(words, room, 4, NORMAL)]
    if len(lines) + len(heights) > most:
        where = f"; by room: sheets {schedules}" if schedules else ""
        heights = list(wrapped(f"{detail.told_height}{where}", room, 2, NORMAL))
    for n, words in enumerate([*lines[: most - len(heights)], *heights]):
        canvas.text((x + _SECTION[0] + 20, y + 34 + n * _STEP), words, NORMAL)


def _section(canvas: Canvas, detail: Detail, at: Point, size: Point) -> None:
    """Draw the section: floor, what holds the device, the device, and its height from the floor."""
    if detail.location in SECTIONS:
        SECTIONS[detail.location](canvas, at, size)
        return
    x, y = at
    wide, high = size
    floor = y + high
    reach = reach_of(detail.kind)
    canvas.line(((x, floor), (x + wide, floor)), INK, 1.2)
    hatch(canvas, (x, floor), wide)
    middle = x + wide * 0.7
    if detail.location == "ceiling":
        device = _overhead(canvas, detail, (x, y), wide)
    elif detail.location == "wall":
        canvas.line(((x + wide, y), (x + wide, floor)), INK, 1.2)
        middle = x + wide - 3 - reach
        device = (middle, y + high * 0.35)
        canvas.line(((middle + reach, device[1]), (x + wide, device[1])), MUTED, 1.6)
    elif detail.location in ("floor", "cart", "stand"):
        device = (middle, floor - 2 - reach)
    else:
        board = y + high * 0.52
        corners = (
            (middle - 26, board), (middle + 26, board), (middle + 26, board + 5), (middle - 26, board + 5),
        )  # fmt: skip
        canvas.polygon(corners, BAND, FRAME, 0.8)
        leg = middle + 16
        canvas.line(((leg, board + 5), (leg, floor)), FRAME, 2.4)
        under = detail.location == "under table"
        device = (middle, board + 7 + reach if under else board - 2 - reach)
        if detail.location == "furniture":
            device = (middle, board + 2.5)
    draw_symbol(canvas, detail.kind, device)
    if detail.told_height and detail.location != "floor":
        line = x + 12
        under = detail.location == "under table"
        # Of what is under a table the height is that of the table's top.
        level, side = (y + high * 0.52, 29) if under else (device[1], reach + 3)
        canvas.line(((line, floor), (line, level)), MUTED, 0.5)
        canvas.line(((line - 3, level), (middle - side, level)), MUTED, 0.4)
        for end in (floor, level):
            canvas.line(((line - 2.5, end + 2.5), (line + 2.5, end - 2.5)), MUTED, 0.8)
        over = detail.location in ("ceiling", "wall", "furniture")
        told = f"top {detail.told_height}" if under else detail.told_height
        canvas.text((line + 3, level + (9 if over else -3)), told, SMALL)


def _overhead(canvas: Canvas, detail: Detail, at: Point, wide: float) -> Point:
    """Draw what is above a device at a ceiling, and return where its symbol stands.

    A safety wire (a) leads to an anchor in the structure beside the device; a mount (b) lies on the ceiling.
    """
    x, y = at
    reach = reach_of(detail.kind)
    slab, ceiling, middle = y + 8, y + 48, x + wide * 0.7
    canvas.line(((x, slab), (x + wide, slab)), INK, 1.2)
    hatch(canvas, (x, slab - 6), wide)
    canvas.line(((x, ceiling), (x + wide, ceiling)), MUTED, 0.8)
    for one in detail.models[:1]:
        canvas.line(((middle - 20, ceiling - 2), (middle + 20, ceiling - 2)), INK, 2.0)
        canvas.text((middle + 23, ceiling - 4), "b", SMALL)
        if one.behind:
            box = (
                (middle - 8, ceiling - 3), (middle + 8, ceiling - 3), (middle + 8, ceiling - 19),
                (middle - 8, ceiling - 19),
            )  # fmt: skip
            canvas.polygon(box, BAND, FRAME, 0.8)
        if one.wire:
            top = ceiling - (19 if one.behind else 3)
            canvas.line(((middle - 8, top), (middle - 24, slab)), INK, 0.7, "3 1.5")
            canvas.circle((middle - 24, slab + 2.4), 1.8, PAPER, INK, 0.8)
            canvas.text((middle - 30, slab + 18), "a", SMALL)
    return middle, ceiling + 3 + reach


def _foot(spec: MountingSpec) -> Foot:
    return Foot(
        entries=symbol_entries(*(one.kind for one in spec.details if one.location not in SECTIONS)),
        notes=CAUTIONS,
    )


KIND = figure_kind(spec_of, alternative, render, _foot)
