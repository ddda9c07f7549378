"""How each kind of device is marked on plans, at the same size on paper at any scale."""

import math

from proposal.drawings.canvas import Canvas, Point
from proposal.drawings.colours import INK, MUTED, PAPER

ORDER = (
    "access point",
    "loudspeaker",
    "charger",
    "breakout",
    "owner's device",
    "switch",
    "mixer",
    "amplifier",
    "rack",
    "microphone",
)
"""Kinds in the order of legends and tables; others follow."""
_COLOURS = {
    "access point": "#00694f",
    "charger": "#7b3f8c",
    "breakout": "#0a5a9c",
    "loudspeaker": "#a33d00",
    "microphone": INK,
}
_REACH = {"access point": 5.0, "charger": 4.2, "breakout": 5.0, "loudspeaker": 4.5, "microphone": 2.6}
_OTHER_REACH = 4.2


def reach_of(kind: str) -> float:
    """Return how far the mark of a kind of device reaches from its middle, pt."""
    return _REACH.get(kind, _OTHER_REACH)


def place_in_order(kind: str) -> tuple[int, str]:
    """Return what kinds of devices are sorted by."""
    return (ORDER.index(kind) if kind in ORDER else len(ORDER) - 2, kind)


def draw_symbol(canvas: Canvas, kind: str, at: Point) -> None:
    """Draw the mark of a device of a kind."""
    x, y = at
    r, colour = reach_of(kind), _COLOURS.get(kind, MUTED)
    if kind == "access point":
        canvas.polygon(((x, y - r), (x + r, y + r), (x - r, y + r)), colour, colour, 0.8)
    elif kind == "loudspeaker":
        canvas.circle(at, r, PAPER, colour, 1.2)
        canvas.circle(at, 1.6, colour)
    elif kind == "microphone":
        canvas.circle(at, r, colour)
    elif kind == "breakout":
        canvas.polygon(((x, y - r), (x + r, y), (x, y + r), (x - r, y)), colour, colour, 0.8)
    elif kind == "charger":
        canvas.polygon(_square(at, r), colour, colour, 0.8)
    elif kind == "owner's device":
        corners = [(math.sin(n * math.tau / 5) * r, math.cos(n * math.tau / 5) * r) for n in range(5)]
        canvas.polygon([(x + dx, y - dy) for dx, dy in corners], PAPER, colour, 1.2)
    elif kind == "rack":
        canvas.polygon(_square(at, r), INK, INK, 0.8)
    else:
        canvas.polygon(_square(at, r), PAPER, colour, 1.2)


def _square(at: Point, reach: float) -> tuple[Point, ...]:
    x, y = at
    return (x - reach, y - reach), (x + reach, y - reach), (x + reach, y + reach), (x - reach, y + reach)
