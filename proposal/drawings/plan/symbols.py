"""How each kind of device is marked on plans, at the same size on paper at any scale."""

from proposal.drawings.canvas import Canvas, Point
from proposal.drawings.symbol_table import DOT_SHARE, EDGE_PT, arrow_head, corners, filling, symbol_of

ORDER = (
    "access point",
    "loudspeaker",
    "charger",
    "breakout",
    "owner's device",
    "data outlet",
    "switch",
    "mixer",
    "amplifier",
    "rack",
    "assistive device",
    "wired microphone",
    "microphone",
)
"""Kinds in the order of legends and tables; others follow."""


def reach_of(kind: str) -> float:
    """Return how far the mark of a kind of device reaches from its middle, pt."""
    return symbol_of(kind).size_pt / 2


def place_in_order(kind: str) -> tuple[int, str]:
    """Return what kinds of devices are sorted by."""
    return (ORDER.index(kind) if kind in ORDER else len(ORDER) - 2, kind)


def draw_symbol(canvas: Canvas, kind: str, at: Point) -> None:
    """Draw the mark of a device of a kind."""
    symbol = symbol_of(kind)
    x, y = at
    fill = filling(symbol)
    if found := corners(symbol.shape, symbol.size_pt):
        canvas.polygon([(x + dx, y + dy) for dx, dy in found], fill, symbol.colour, EDGE_PT)
        return
    canvas.circle(at, symbol.size_pt / 2, fill, symbol.colour, EDGE_PT)
    if head := arrow_head(symbol.shape, symbol.size_pt):
        canvas.polygon([(x + dx, y + dy) for dx, dy in head], symbol.colour)
    if symbol.shape == "loudspeaker":
        canvas.circle(at, symbol.size_pt / 2 * DOT_SHARE, symbol.colour)
