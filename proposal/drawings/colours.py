"""The colours of all drawings, and how lines of each kind of signal are drawn."""

from proposal.field_classes import dataclass

INK = "#1c2530"
MUTED = "#4a5563"
FRAME = "#77828f"
BAND = "#f0f3f6"
FURNITURE = "#dce3ea"
PAPER = "#ffffff"


@dataclass(frozen=True, slots=True)
class Stroke:
    """How lines of one kind are drawn; colour is never the only sign.

    style: `solid`, `dashed`, `dotted`, or lengths drawn and left, pt.
    width: of the line, pt.
    head: of its arrow, where lines have a direction.
    """

    colour: str
    style: str
    width: float
    head: str


PATHWAYS = {
    "tray": Stroke(MUTED, "solid", 2.4, ""),
    "conduit": Stroke(MUTED, "6 3", 1.2, ""),
    "hooks": Stroke(MUTED, "2 3", 1.8, ""),
    "sleeve": Stroke(MUTED, "solid", 4.0, ""),
}
"""How pathways of each kind are drawn."""
EXISTING_PATHWAY = Stroke(MUTED, "9 2 1.5 2 1.5 2", 0.8, "")
"""How a pathway of any kind is drawn that the building has already."""
OTHER_PATHWAY = Stroke(MUTED, "8 2 2 2", 1.2, "")

# Colours from a palette that readers with any colour vision tell apart, darkened to stand on white.
_STROKES = {
    "network": Stroke("#0a5a9c", "solid", 1.2, "normal"),
    "networked audio": Stroke("#0a5a9c", "solid", 1.2, "normal"),
    "fibre": Stroke("#5a5f00", "dashed", 1.6, "box"),
    "radio": Stroke("#00694f", "dotted", 1.8, "vee"),
    "analogue": Stroke("#1c2530", "solid", 0.8, "empty"),
    "usb": Stroke("#7b3f8c", "solid", 1.2, "diamond"),
    "loudspeaker line": Stroke("#a33d00", "solid", 2.0, "normal"),
}
_OTHER = Stroke(MUTED, "solid", 0.8, "open")


_DASHES = {"solid": "", "dashed": "5,2", "dotted": "1,3"}


def dash_of(drawn: Stroke) -> str:
    """Return the lengths of a line that are drawn and left, pt; empty for a whole line."""
    return _DASHES.get(drawn.style, drawn.style)


def stroke(signal: str) -> Stroke:
    """Return how lines that carry a signal are drawn."""
    return _STROKES.get(signal.casefold(), _OTHER)
