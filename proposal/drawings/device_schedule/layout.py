"""A sheet of the devices and cables of a storey as SVG: a table in columns of one width on all sheets."""

from proposal.drawings.canvas import Canvas
from proposal.drawings.colours import BAND, FRAME, INK, MUTED
from proposal.drawings.device_schedule import (
    COLUMNS,
    LETTERS_PT,
    NOTES,
    DeviceScheduleSpec,
    ScheduleLine,
    alternative,
    spec_of,
)
from proposal.drawings.drawing import figure_kind
from proposal.drawings.legend import Foot
from proposal.drawings.plan.field import FIELD, empty_field

_STEP = 8.6
_GAP = 3.2


def render(spec: DeviceScheduleSpec, prefix: str) -> bytes:
    """Return the sheet as SVG, the same bytes for equal specs.

    prefix: makes its ids its own.
    """
    canvas = empty_field()
    left, top, _, _ = FIELD
    canvas.text((left, top + 10), f"{spec.where}: devices and cables", 10.5, bold=True)
    y = top + 22
    x = left
    for heading, width in COLUMNS:
        canvas.text((x + 2, y + 8), heading, LETTERS_PT, bold=True)
        x += width
    y += _STEP + _GAP
    canvas.line(((left, y), (x, y)), INK, 0.8)
    for line in spec.lines:
        y = _drawn(canvas, line, left, x, y)
    return canvas.finished(f"Sheet {spec.strip.number}: {spec.strip.title}", alternative(spec), prefix)


def _drawn(canvas: Canvas, line: ScheduleLine, left: float, right: float, top: float) -> float:
    """Draw a line of the table and return where the next one begins."""
    bottom = top + line.lines * _STEP + _GAP
    if line.heading:
        canvas.polygon(((left, top), (right, top), (right, bottom), (left, bottom)), BAND)
        canvas.text((left + 2, top + 8.2), line.heading, LETTERS_PT, bold=True)
        return bottom
    x = left
    for n, ((_, width), cell) in enumerate(zip(COLUMNS, line.cells, strict=True)):
        for row, words in enumerate(cell):
            canvas.text(
                (x + 2, top + 8 + row * _STEP),
                words,
                LETTERS_PT,
                bold=n == 0,
                colour=INK if n != 1 else MUTED,
            )
        x += width
    canvas.line(((left, bottom), (right, bottom)), FRAME, 0.4)
    return bottom


def _foot(_: DeviceScheduleSpec) -> Foot:
    return Foot(notes=NOTES)


KIND = figure_kind(spec_of, alternative, render, _foot)
