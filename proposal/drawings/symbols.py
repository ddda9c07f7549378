"""The symbols of all drawings: one table, from which plans, maps, charts and legends draw."""

import math
from dataclasses import dataclass

from proposal.drawings.colours import INK, MUTED, PAPER


@dataclass(frozen=True, slots=True)
class Symbol:
    """How one thing is marked on every sheet.

    shape: triangle, flag, square, circle, diamond, pentagon, crossed or ring.
    size_pt: width.  hollow: whether only its edge is drawn.
    """

    shape: str
    colour: str
    size_pt: float
    hollow: bool = False


SYMBOLS: dict[str, Symbol] = {
    "access point": Symbol("triangle", "#00694f", 7.0),
    "charger": Symbol("square", "#7b3f8c", 6.0),
    "breakout": Symbol("diamond", "#0a5a9c", 6.5),
    "loudspeaker": Symbol("circle", "#a33d00", 5.0, hollow=True),
    "microphone": Symbol("circle", INK, 3.5),
    "owner's device": Symbol("pentagon", "#5a5a5a", 6.5),
    "equipment room": Symbol("square", INK, 8.0),
    "rising pathway": Symbol("crossed", MUTED, 8.0),
    "seat": Symbol("square", MUTED, 5.5, hollow=True),
    "weakest microphone": Symbol("ring", INK, 13.0),
    "milestone": Symbol("diamond", INK, 7.0, hollow=True),
    "critical": Symbol("flag", "#8f1d1d", 5.5),
}
"""What each thing is marked with, by its name in the legend, in the order of the legend."""

EDGE_PT = 1.0
"""Width of the edge of a hollow symbol, pt."""
_CORNERS = {"triangle": (3, -90.0), "flag": (3, 90.0), "diamond": (4, -90.0), "pentagon": (5, -90.0)}


def corners(shape: str, size_pt: float) -> list[tuple[float, float]]:
    """Return the corners of a shape around its middle, pt, y downwards; none for round ones.

    size_pt: width of the shape.
    """
    half = size_pt / 2
    if shape == "square":
        return [(-half, -half), (half, -half), (half, half), (-half, half)]
    if shape not in _CORNERS:
        return []
    count, first = _CORNERS[shape]
    around = half * (1.15 if count == 3 else 1.0)
    turns = [math.radians(first + 360 * n / count) for n in range(count)]
    return [(around * math.cos(turn), around * math.sin(turn)) for turn in turns]


def filling(symbol: Symbol) -> str:
    """Return with what the middle of a symbol is filled; `none` where what lies below is to be seen."""
    if symbol.shape == "ring":
        return "none"
    return PAPER if symbol.hollow or symbol.shape == "crossed" else symbol.colour


def symbol_svg(symbol: Symbol, x: float, y: float) -> str:
    """Return a symbol as SVG; x, y: its middle, pt."""
    fill = filling(symbol)
    drawn = f'fill="{fill}" stroke="{symbol.colour}" stroke-width="{EDGE_PT:g}"'
    if found := corners(symbol.shape, symbol.size_pt):
        points = " ".join(f"{x + dx:.2f},{y + dy:.2f}" for dx, dy in found)
        return f'<polygon points="{points}" {drawn}/>'
    half = symbol.size_pt / 2
    round_one = f'<circle cx="{x:.2f}" cy="{y:.2f}" r="{half:.2f}" {drawn}/>'
    if symbol.shape != "crossed":
        return round_one
    arm = half * math.sqrt(0.5)
    cross = "".join(
        f'<path d="M{x - arm:.2f} {y - way * arm:.2f}L{x + arm:.2f} {y + way * arm:.2f}" '
        f'stroke="{symbol.colour}" stroke-width="{EDGE_PT:g}"/>'
        for way in (1, -1)
    )
    return round_one + cross
