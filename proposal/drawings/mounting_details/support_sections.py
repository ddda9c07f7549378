"""Sections of how cables are held: hooks below the structure, a ladder in a shaft, conduit in a wall."""

from collections.abc import Callable, Mapping

from proposal.drawings.canvas import Canvas, Point
from proposal.drawings.colours import BAND, FRAME, INK, MUTED, PAPER
from proposal.drawings.mounting_details.cable_supports import CONDUIT, CONDUIT_LOW, SHAFT, STRUCTURE, TRAY
from proposal.drawings.plan.field import SMALL

_CABLE_PT = 1.9


def hatch(canvas: Canvas, at: Point, wide: float) -> None:
    """Draw the hatching of what is cut: a floor below a line, or a slab above one.

    at: where it begins, upper left, pt.  wide: how far it goes, pt.
    """
    x, y = at
    for n in range(int(wide // 10)):
        canvas.line(((x + n * 10 + 8, y), (x + n * 10 + 2, y + 6)), MUTED, 0.4)


def _hooks(canvas: Canvas, at: Point, size: Point) -> None:
    """Draw hooks on rods below the structure, with cables in them, clear of the ceiling."""
    x, y = at
    wide, high = size
    slab, ceiling = y + 8, y + min(high - 10, 84.0)
    canvas.line(((x, slab), (x + wide, slab)), INK, 1.2)
    hatch(canvas, (x, slab - 6), wide)
    canvas.line(((x, ceiling), (x + wide, ceiling)), MUTED, 0.8)
    canvas.text((x + 2, ceiling + 9), "ceiling, if any", SMALL)
    low = ceiling - 26
    places = (x + wide * 0.25, x + wide * 0.75)
    for place in places:
        canvas.line(((place, slab), (place, low - 12)), FRAME, 1.2)
        hook = ((place, low - 12), (place - 7, low - 8), (place - 7, low), (place, low + 4), (place + 7, low))
        canvas.line((*hook, (place + 7, low - 5)), INK, 1.4)
        for n in (-3.0, 1.0):
            canvas.circle((place + n, low), _CABLE_PT, BAND, INK, 0.7)
    canvas.line(((places[0], low + 10), (places[1], low + 10)), MUTED, 0.5)
    for place in places:
        canvas.line(((place - 2.5, low + 12.5), (place + 2.5, low + 7.5)), MUTED, 0.8)
    canvas.text((places[0] + 14, low + 19), "one spacing", SMALL)


def _tray(canvas: Canvas, at: Point, size: Point) -> None:
    """Draw a tray on a bar between two rods below the structure, cut across, with a divider and cables."""
    x, y = at
    wide, high = size
    slab, ceiling = y + 8, y + min(high - 10, 96.0)
    canvas.line(((x, slab), (x + wide, slab)), INK, 1.2)
    hatch(canvas, (x, slab - 6), wide)
    canvas.line(((x, ceiling), (x + wide, ceiling)), MUTED, 0.8)
    canvas.text((x + 2, ceiling + 9), "ceiling, if any", SMALL)
    bar, left, right = ceiling - 20, x + wide * 0.22, x + wide * 0.78
    for rod in (left - 6, right + 6):
        canvas.line(((rod, slab), (rod, bar + 3)), FRAME, 1.2)
    canvas.line(((left - 10, bar), (right + 10, bar)), FRAME, 2.4)
    canvas.line(((left, bar - 16), (left, bar - 2), (right, bar - 2), (right, bar - 16)), INK, 1.4)
    divider = x + wide * 0.6
    canvas.line(((divider, bar - 14), (divider, bar - 2)), INK, 1.0)
    for cable in (left + 6, left + 12, left + 18, left + 24, divider + 6, divider + 12):
        canvas.circle((cable, bar - 5), _CABLE_PT, BAND, INK, 0.7)
    canvas.line(((divider, bar - 15), (divider, bar - 26)), MUTED, 0.5)
    canvas.text((divider - 12, bar - 29), "divider", SMALL)


def _ladder(canvas: Canvas, at: Point, size: Point) -> None:
    """Draw a ladder on the wall of a shaft through a floor, with straps."""
    x, y = at
    wide, high = size
    left, right = x + wide * 0.35, x + wide * 0.65
    floor = y + high * 0.5
    for rail in (left, right):
        canvas.line(((rail, y), (rail, y + high)), FRAME, 1.6)
    for n in range(5):
        rung = y + high * (0.08 + n * 0.2)
        canvas.line(((left, rung), (right, rung)), FRAME, 1.0)
    for n in range(4):
        cable = left + 6 + n * (right - left - 12) / 3
        canvas.line(((cable, y), (cable, y + high)), INK, 1.0)
    for n in (0, 2, 4):
        strap = y + high * (0.08 + n * 0.2)
        canvas.line(((left + 3, strap), (right - 3, strap)), INK, 2.4)
    for start, end in ((x, left - 4), (right + 4, x + wide)):
        canvas.line(((start, floor), (end, floor)), INK, 1.2)
        hatch(canvas, (start, floor), end - start)
    canvas.text((x + 2, floor - 4), "floor", SMALL)
    canvas.text((right + 5, y + high * 0.08 + 3), "strap", SMALL)


def _conduit(canvas: Canvas, at: Point, size: Point) -> None:
    """Draw conduit in a wall from above the ceiling to a box, and the cable along furniture to its outlet."""
    _in_wall(canvas, at, size, on_floor=False)


def _conduit_to_floor(canvas: Canvas, at: Point, size: Point) -> None:
    """Draw conduit in a wall down to a box at the floor, and the cable over the floor to its outlet."""
    _in_wall(canvas, at, size, on_floor=True)


def _in_wall(canvas: Canvas, at: Point, size: Point, *, on_floor: bool) -> None:
    x, y = at
    wide, high = size
    floor, ceiling, wall, board = y + high, y + 26, x + wide - 14, y + high * 0.62
    canvas.line(((x, floor), (x + wide, floor)), INK, 1.2)
    hatch(canvas, (x, floor), wide)
    canvas.line(((x, ceiling), (wall, ceiling)), MUTED, 0.8)
    canvas.polygon(((wall, y), (wall + 14, y), (wall + 14, floor), (wall, floor)), PAPER, INK, 1.0)
    foot, away = (floor - 4, 26) if on_floor else (board, 0)
    canvas.polygon(
        ((wall + 4, y + 10), (wall + 9, y + 10), (wall + 9, foot - 8), (wall + 4, foot - 8)),
        BAND,
        FRAME,
        0.8,
    )
    box = ((wall, foot - 8), (wall + 10, foot - 8), (wall + 10, foot + 2), (wall, foot + 2))
    canvas.polygon(box, PAPER, INK, 1.0)
    near = wall - 3 - away
    corners = ((wall - 70, board), (near, board), (near, board + 5), (wall - 70, board + 5))
    canvas.polygon(corners, BAND, FRAME, 0.8)
    for leg in (wall - 64, near - 7):
        canvas.line(((leg, board + 5), (leg, floor)), FRAME, 2.4)
    outlet = wall - 48 - away / 4
    way = ((near + 3, foot), (near + 3, board - 3)) if on_floor else ()
    canvas.line(((wall + 6.5, y + 10), (wall + 6.5, foot - 3), *way, (outlet + 8, board - 3)), INK, 1.0)
    canvas.polygon(
        ((outlet, board - 8), (outlet + 8, board - 8), (outlet + 8, board), (outlet, board)), PAPER, INK, 1.0
    )
    canvas.text((outlet - 9, board - 4), "a", SMALL)
    canvas.text((x + 2, ceiling - 4), "ceiling", SMALL)


SECTIONS: Mapping[str, Callable[[Canvas, Point, Point], None]] = {
    STRUCTURE: _hooks,
    TRAY: _tray,
    SHAFT: _ladder,
    CONDUIT: _conduit,
    CONDUIT_LOW: _conduit_to_floor,
}
"""How to draw the section of each way in which cables are held: canvas, upper left, width and height, pt."""
