"""A sheet of the devices and cables of a storey as SVG: a table in columns of one width on all sheets."""

from collections.abc import Sequence
from itertools import takewhile

from proposal.drawings.canvas import Canvas
from proposal.drawings.colours import BAND, FRAME, INK, MUTED
from proposal.drawings.device_schedule import (
    CABLE_COLUMN,
    COLUMNS,
    LETTERS_PT,
    DeviceScheduleSpec,
    ScheduleLine,
    alternative,
    spec_of,
)
from proposal.drawings.device_schedule.notes import (
    FLOOR_NOTE,
    NOTES,
    OPENING_NOTE,
    TEST_NOTE,
    TILE_NOTE,
)
from proposal.drawings.device_schedule.pathways_and_openings import OPENINGS, PATHWAYS
from proposal.drawings.drawing import figure_kind
from proposal.drawings.legend import Foot
from proposal.drawings.letter_widths import letters_pt
from proposal.drawings.lettering import wrapped
from proposal.drawings.plan.field import FIELD, empty_field

_STEP = 8.6
_GAP = 3.2


def render(spec: DeviceScheduleSpec, prefix: str) -> bytes:
    """Return the sheet as SVG, the same bytes for equal specs.

    prefix: makes its ids its own.
    """
    canvas = empty_field()
    left, top, _, _ = FIELD
    title = f"{spec.where}: devices and cables"
    canvas.text((left, top + 10), title, 10.5, bold=True)
    beside = left + letters_pt(title, 10.5, bold=True) + 24
    for n, words in enumerate(spec.holds[:2]):
        (held,) = wrapped(words, FIELD[2] - beside, 1, 8)
        canvas.text((beside, top + (10 if len(spec.holds) == 1 else 5 + 10 * n)), held, 8, bold=True)
    y = top + 22
    x = left
    # A column that no line of the sheet fills is left out.
    shown = [n for n in range(len(COLUMNS)) if any(line.cells and line.cells[n] for line in spec.lines)]
    # Pathways and openings have names of columns of their own.
    devices = any(line.cells for line in takewhile(lambda line: not line.names, spec.lines))
    for n in shown:
        heading, width = COLUMNS[n]
        canvas.text((x + 2, y + 8), heading if devices else "", LETTERS_PT, bold=True)
        x += width
    y += _STEP + _GAP
    canvas.line(((left, y), (x, y)), INK, 0.8)
    for line in spec.lines:
        y = _drawn(canvas, line, shown, (left, x), y)
    return canvas.finished(f"Sheet {spec.strip.number}: {spec.strip.title}", alternative(spec), prefix)


def _drawn(
    canvas: Canvas, line: ScheduleLine, shown: Sequence[int], sides: tuple[float, float], top: float
) -> float:
    """Draw a line of the table and return where the next one begins.

    shown: numbers of the columns.  sides: left and right of the table, pt.
    """
    left, right = sides
    bottom = top + line.lines * _STEP + _GAP
    if line.heading:
        canvas.polygon(((left, top), (right, top), (right, bottom), (left, bottom)), BAND)
        canvas.text((left + 2, top + 8.2), line.heading, LETTERS_PT, bold=True)
        return bottom
    for row, words in enumerate(line.told):
        canvas.text((left + 2, top + 8 + row * _STEP), words, LETTERS_PT)
    x = left
    for n in shown if line.cells else ():
        for row, words in enumerate(line.cells[n]):
            canvas.text(
                (x + 2, top + 8 + row * _STEP),
                words,
                LETTERS_PT,
                bold=n == 0 or line.names,
                colour=INK if n != 1 or line.names else MUTED,
            )
        x += COLUMNS[n][1]
    canvas.line(((left, bottom), (right, bottom)), FRAME, 0.4)
    return bottom


def _foot(spec: DeviceScheduleSpec) -> Foot:
    openings = any(line.heading == OPENINGS for line in spec.lines)
    cabled = any(line.cells and line.cells[CABLE_COLUMN] and not line.names for line in spec.lines)
    owed = " ".join((OPENING_NOTE, spec.ratings)).strip() if openings else ""
    floor = FLOOR_NOTE if spec.floor else ""
    tiled = TILE_NOTE if spec.tiled else ""
    more = " ".join(note for note in (spec.fixings, floor, tiled) if note)
    laid = any(line.heading.startswith((OPENINGS, PATHWAYS)) for line in spec.lines)
    others = (spec.by_others,) if laid and spec.by_others else ()
    tests = (TEST_NOTE,) if cabled else ()
    return Foot(notes=tuple(note for note in (*NOTES, more, owed, *tests, *others) if note))


KIND = figure_kind(spec_of, alternative, render, _foot)
