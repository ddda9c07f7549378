"""A sheet of mounting details as SVG: a cell for each kind of device and place, with its section."""

from proposal.drawings.canvas import Canvas, Point
from proposal.drawings.colours import BAND, FRAME, INK, MUTED
from proposal.drawings.drawing import figure_kind
from proposal.drawings.legend import Foot, symbol_entries
from proposal.drawings.lettering import wrapped
from proposal.drawings.mounting_details import (
    CAUTIONS,
    Detail,
    MountingSpec,
    alternative,
    heights_in_words,
    spec_of,
)
from proposal.drawings.plan.field import FIELD, NORMAL, SMALL, empty_field
from proposal.drawings.plan.symbols import draw_symbol, reach_of

_COLUMNS, _ROWS = 4, 3
_SECTION = (112.0, 116.0)
_STEP = 9.0


def render(spec: MountingSpec, prefix: str) -> bytes:
    """Return the sheet as SVG, the same bytes for equal specs.

    prefix: makes its ids its own.
    """
    canvas = empty_field()
    left, top, right, bottom = FIELD
    wide, high = (right - left) / _COLUMNS, (bottom - top) / _ROWS
    for n, detail in enumerate(spec.details):
        at = (left + n % _COLUMNS * wide, top + n // _COLUMNS * high)
        _cell(canvas, detail, at, (wide, high))
    return canvas.finished(f"Sheet {spec.strip.number}: {spec.strip.title}", alternative(spec), prefix)


def _cell(canvas: Canvas, detail: Detail, at: Point, size: Point) -> None:
    x, y = at
    wide, high = size
    canvas.line(
        ((x, y), (x + wide - 8, y), (x + wide - 8, y + high - 8), (x, y + high - 8), (x, y)), FRAME, 0.5
    )
    title = f"{detail.kind.capitalize()}, {detail.location}"
    canvas.text((x + 8, y + 15), wrapped(title, wide - 24, 1, 9)[0], 8.5, bold=True)
    _section(canvas, detail, (x + 8, y + 24))
    room = wide - _SECTION[0] - 34
    lines = [f"{detail.count} in all"]
    for held_by in dict.fromkeys(one.held_by for one in detail.models):
        for one in detail.models:
            if one.held_by == held_by:
                words = f"{one.weight}: {one.model}" if one.weight else one.model
                lines += wrapped(words, room, 3, NORMAL)
        lines += wrapped(held_by, room, 3, NORMAL)
    most = int((high - 40) / _STEP)
    heights = [part for words in heights_in_words(detail.heights) for part in wrapped(words, room, 4, NORMAL)]
    if len(lines) + len(heights) > most:
        heights = list(wrapped(f"{detail.told_height}; see the schedule of devices", room, 2, NORMAL))
    for n, words in enumerate([*lines[: most - len(heights)], *heights]):
        canvas.text((x + _SECTION[0] + 20, y + 34 + n * _STEP), words, NORMAL)


def _section(canvas: Canvas, detail: Detail, at: Point) -> None:
    """Draw the section: floor, what holds the device, the device, and its height from the floor."""
    x, y = at
    wide, high = _SECTION
    floor = y + high
    reach = reach_of(detail.kind)
    canvas.line(((x, floor), (x + wide, floor)), INK, 1.2)
    _hatch(canvas, (x, floor), wide)
    middle = x + wide * 0.7
    if detail.location == "ceiling":
        canvas.line(((x, y + 4), (x + wide, y + 4)), INK, 1.2)
        canvas.line(((x, y + 26), (x + wide, y + 26)), MUTED, 0.8)
        canvas.line(((middle, y + 4), (middle, y + 26)), MUTED, 0.8, "2 1.5")
        device = (middle, y + 28 + reach)
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
        canvas.line(((line, floor), (line, device[1])), MUTED, 0.5)
        canvas.line(((line - 3, device[1]), (middle - reach - 3, device[1])), MUTED, 0.4)
        for end in (floor, device[1]):
            canvas.line(((line - 2.5, end + 2.5), (line + 2.5, end - 2.5)), MUTED, 0.8)
        over = detail.location in ("ceiling", "wall", "under table", "furniture")
        canvas.text((line + 3, device[1] + (9 if over else -3)), detail.told_height, SMALL)


def _hatch(canvas: Canvas, at: Point, wide: float) -> None:
    x, y = at
    for n in range(int(wide // 10)):
        canvas.line(((x + n * 10 + 8, y), (x + n * 10 + 2, y + 6)), MUTED, 0.4)


def _foot(spec: MountingSpec) -> Foot:
    return Foot(entries=symbol_entries(*(detail.kind for detail in spec.details)), notes=CAUTIONS)


KIND = figure_kind(spec_of, alternative, render, _foot)
