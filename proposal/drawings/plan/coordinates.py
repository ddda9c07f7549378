"""Coordinates of the building on a plan: ticks at two edges of its sheet, and a mark at the origin."""

from proposal.drawings.canvas import Canvas, Point
from proposal.drawings.colours import INK, MUTED, PAPER
from proposal.drawings.label_ground import Box
from proposal.drawings.letter_widths import letters_pt
from proposal.drawings.plan.field import FIELD, HEIGHT, SMALL, Scaled
from proposal.field_classes import dataclass
from proposal.quantities import formatting

ASIDE_PT = (34.0, 10.0)
"""What ticks and their texts take of the field at its left and at its bottom, pt."""
ORIGIN_PT = 5.0
"""How far the mark of the origin reaches, pt."""
_TICK_PT = 5.0
_LEAST_PT = 52.0
"""Least distance of two ticks, pt."""
_TOP_PT = 58.0
"""What the heading takes of the field, pt."""
_STEPS_M = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0)
_FOOT_M = 0.3048
_STEPS_FT = (4.0, 10.0, 20.0, 40.0, 100.0, 200.0, 400.0, 1000.0, 2000.0)


@dataclass(frozen=True, slots=True)
class Tick:
    """A tick at an edge: its line, and its text with the box that this fills, pt."""

    line: tuple[Point, Point]
    words: str
    at: Point
    box: Box


def ticks(scale: Scaled, units: str, locale: str) -> tuple[Tick, ...]:
    """Return the ticks of a plan: distances east along its bottom, north along its left.

    scale: of the plan.  units, locale: of the project.
    """
    left, top, right, _ = FIELD
    steps = [one * _FOOT_M for one in _STEPS_FT] if units == "us_customary" else _STEPS_M
    step = next((one for one in steps if one * scale.pt_a_metre >= _LEAST_PT), steps[-1])
    found = []
    for number in _multiples(scale.west + (left + ASIDE_PT[0] - scale.left) / scale.pt_a_metre, step):
        x, _ = scale.on_paper((number * step, scale.south))
        words = _said(number * step, "EW", units, locale)
        half = letters_pt(words, SMALL) / 2
        if x + half > right:
            break
        line = ((x, HEIGHT), (x, HEIGHT - _TICK_PT))
        box = (x - half, HEIGHT - _TICK_PT - 2 - SMALL, x + half, HEIGHT - _TICK_PT)
        found.append(Tick(line, words, (x - half, HEIGHT - _TICK_PT - 2), box))
    lowest = scale.south + (scale.bottom - (HEIGHT - 2 * _TICK_PT - 2 * SMALL)) / scale.pt_a_metre
    for number in _multiples(lowest, step):
        _, y = scale.on_paper((scale.west, number * step))
        if y < top + _TOP_PT:
            break
        words = _said(number * step, "NS", units, locale)
        at = (_TICK_PT + 2, y + 0.36 * SMALL)
        box = (_TICK_PT, y - SMALL / 2, at[0] + letters_pt(words, SMALL), y + SMALL / 2)
        found.append(Tick(((0.0, y), (_TICK_PT, y)), words, at, box))
    return tuple(found)


def _multiples(least: float, step: float) -> range:
    """Return the numbers of steps from a coordinate on, as many as any sheet may hold."""
    first = int(-(-least // step))
    return range(first, first + 200)


def _said(value_m: float, ways: str, units: str, locale: str) -> str:
    """Return a coordinate as it is written at its tick.

    ways: letters of the two ways from the origin.
    """
    told = formatting.short_quantity(abs(value_m), "length", units, locale)
    return f"{told} {ways[value_m < 0]}"


def draw_ticks(canvas: Canvas, shown: tuple[Tick, ...]) -> None:
    """Draw ticks with their texts."""
    for one in shown:
        canvas.line(one.line, INK, 0.8)
        canvas.text(one.at, one.words, SMALL, colour=MUTED)


def origin_on_paper(scale: Scaled) -> Point | None:
    """Return where the origin is on paper, pt; None where the sheet does not reach it."""
    x, y = scale.on_paper((0.0, 0.0))
    left, top, right, bottom = FIELD
    within = left + ASIDE_PT[0] < x < right - 8 and top + _TOP_PT < y < bottom - ASIDE_PT[1] - 8
    return (x, y) if within else None


def draw_origin(canvas: Canvas, at: Point) -> None:
    """Draw the mark of the origin: a cross in a ring."""
    x, y = at
    canvas.circle(at, 0.6 * ORIGIN_PT, PAPER, INK, 0.8)
    canvas.line(((x - ORIGIN_PT, y), (x + ORIGIN_PT, y)), INK, 0.6)
    canvas.line(((x, y - ORIGIN_PT), (x, y + ORIGIN_PT)), INK, 0.6)


def note_on_ticks(origin: str) -> str:
    """Return what the heading of a plan says of its ticks.

    origin: where the building's origin is, in words of the project; empty where it does not say.
    """
    told = "Ticks: distances from the building's origin"
    return f"{told}, {origin}." if origin else f"{told}; ask where that is on site."
