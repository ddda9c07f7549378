"""The symbols of all drawings: one table, from which plans, maps, charts and legends draw."""

import math

from proposal.drawings.colours import INK, MUTED, PAPER
from proposal.field_classes import dataclass


@dataclass(frozen=True, slots=True)
class Symbol:
    """How one thing is marked on every sheet.

    shape: triangle, flag, square, circle, loudspeaker, diamond, pentagon, ring, or a ring with
        an arrow head up or down.
    size_pt: width.  hollow: whether only its edge is drawn.
    """

    shape: str
    colour: str
    size_pt: float
    hollow: bool = False


SYMBOLS: dict[str, Symbol] = {
    "access point": Symbol("triangle", "#00694f", 10.0),
    "loudspeaker": Symbol("loudspeaker", "#a33d00", 9.0, hollow=True),
    "charger": Symbol("square", "#7b3f8c", 8.4),
    "breakout": Symbol("diamond", "#0a5a9c", 10.0),
    "owner's device": Symbol("pentagon", MUTED, 8.4, hollow=True),
    "data outlet": Symbol("square", "#0a5a9c", 4.8),
    "rack": Symbol("square", INK, 8.4),
    "microphone": Symbol("circle", INK, 5.2),
    "wired microphone": Symbol("circle", INK, 6.0, hollow=True),
    "assistive device": Symbol("flag", "#7a5c00", 9.0, hollow=True),
    "equipment room": Symbol("square", INK, 8.4),
    "pathway up": Symbol("up", MUTED, 10.0, hollow=True),
    "pathway down": Symbol("down", MUTED, 10.0, hollow=True),
    "weakest microphone": Symbol("ring", INK, 13.0),
    "milestone": Symbol("diamond", INK, 8.5, hollow=True),
    "change": Symbol("triangle", "#8f1d1d", 6.5, hollow=True),
    "critical": Symbol("flag", "#8f1d1d", 5.5),
}
"""What each thing is marked with, by its name in the legend, in the order of the legend."""

OTHER_DEVICE = Symbol("square", MUTED, 8.4, hollow=True)
"""What devices of kinds without a symbol of their own are marked with."""
EDGE_PT = 1.2
"""Width of the edge of a hollow symbol, pt."""
DOT_SHARE = 0.36
"""Of the width of a loudspeaker that the dot in its middle has."""


def symbol_of(name: str) -> Symbol:
    """Return what something is marked with.

    name: of it.
    """
    return SYMBOLS.get(name, OTHER_DEVICE)


def corners(shape: str, size_pt: float) -> list[tuple[float, float]]:
    """Return the corners of a shape around its middle, pt, y downwards; none for round ones.

    size_pt: width of the shape.
    """
    half = size_pt / 2
    turns = [math.tau * n / 5 for n in range(5)]
    return {
        "square": [(-half, -half), (half, -half), (half, half), (-half, half)],
        "triangle": [(0.0, -half), (half, half), (-half, half)],
        "flag": [(0.0, half), (-half, -half), (half, -half)],
        "diamond": [(0.0, -half), (half, 0.0), (0.0, half), (-half, 0.0)],
        "pentagon": [(math.sin(turn) * half, -math.cos(turn) * half) for turn in turns],
    }.get(shape, [])


def filling(symbol: Symbol) -> str:
    """Return with what the middle of a symbol is filled; `none` where what lies below is to be seen."""
    if symbol.shape == "ring":
        return "none"
    return PAPER if symbol.hollow else symbol.colour


def symbol_svg(symbol: Symbol, x: float, y: float) -> str:
    """Return a symbol as SVG; x, y: its middle, pt."""
    fill = filling(symbol)
    drawn = f'fill="{fill}" stroke="{symbol.colour}" stroke-width="{EDGE_PT:g}"'
    if found := corners(symbol.shape, symbol.size_pt):
        points = " ".join(f"{x + dx:.2f},{y + dy:.2f}" for dx, dy in found)
        return f'<polygon points="{points}" {drawn}/>'
    half = symbol.size_pt / 2
    round_one = f'<circle cx="{x:.2f}" cy="{y:.2f}" r="{half:.2f}" {drawn}/>'
    if symbol.shape == "loudspeaker":
        dot = half * DOT_SHARE
        return f'{round_one}<circle cx="{x:.2f}" cy="{y:.2f}" r="{dot:.2f}" fill="{symbol.colour}"/>'
    if head := arrow_head(symbol.shape, symbol.size_pt):
        points = " ".join(f"{x + dx:.2f},{y + dy:.2f}" for dx, dy in head)
        return f'{round_one}<polygon points="{points}" fill="{symbol.colour}"/>'
    return round_one


def arrow_head(shape: str, size_pt: float) -> list[tuple[float, float]]:
    """Return the corners of the arrow head in a ring, around its middle, pt; none for other shapes.

    shape: up, down or another.  size_pt: width of the ring.
    """
    if shape not in ("up", "down"):
        return []
    way, half = (1 if shape == "up" else -1), size_pt / 2
    return [(0.0, -0.7 * half * way), (0.6 * half, 0.45 * half * way), (-0.6 * half, 0.45 * half * way)]
