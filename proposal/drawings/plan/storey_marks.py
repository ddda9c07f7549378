"""How the marks and lines of a storey's plan are drawn, each the same in the plan and in its legend."""

from collections.abc import Sequence

from proposal.drawings.canvas import Canvas, Point
from proposal.drawings.colours import (
    EXISTING_PATHWAY,
    FRAME,
    FURNITURE,
    INK,
    MUTED,
    OTHER_PATHWAY,
    PAPER,
    PATHWAYS,
    Stroke,
    dash_of,
    stroke,
)
from proposal.drawings.label_ground import Box
from proposal.drawings.plan.field import Scaled
from proposal.drawings.plan.pathway_words import EXISTING
from proposal.drawings.plan.run_routes import arrow_along
from proposal.drawings.plan.storey_labels import END_PT, NODE_PT, PASSAGE_PT, rack_half
from proposal.drawings.plan.storey_spec import PlanPlace
from proposal.drawings.plan.symbols import draw_symbol

_FRONT_PT = 2.0
"""How far from a rack the bar before its front is, pt."""
WALL_PT, OUTER_WALL_PT, ROOM_WALL_PT = 3.6, 2.6, 1.6
"""Widths of walls that are given, of outer walls and of walls of rooms, pt."""


def draw_pathway(canvas: Canvas, kind: str, points: Sequence[Point]) -> None:
    """Draw a pathway through points, in the line of its kind, or of what exists.

    kind: tray, conduit and so on, `existing` before it where the building has it.  points: on paper, pt.
    """
    one = _stroke_of(kind)
    canvas.line(points, one.colour, one.width, dash_of(one))


def draw_ring(canvas: Canvas, at: Point) -> None:
    """Draw where a run goes on off its plan."""
    canvas.circle(at, END_PT, PAPER, INK, 0.8)


def draw_furniture(canvas: Canvas, points: Sequence[Point]) -> None:
    """Draw a piece of furniture.

    points: its corners on paper, pt.
    """
    canvas.polygon(points, FURNITURE)


def draw_furniture_sample(canvas: Canvas, at: Point) -> None:
    """Draw a sample of furniture."""
    left, top, right, bottom = around(at, 4.5)
    draw_furniture(canvas, ((left, top), (right, top), (right, bottom), (left, bottom)))


def pathway_width(kind: str) -> float:
    """Return how wide the line of a pathway is drawn, pt.

    kind: tray, conduit and so on.
    """
    return _stroke_of(kind).width


def _stroke_of(kind: str) -> Stroke:
    return EXISTING_PATHWAY if kind.startswith(EXISTING) else PATHWAYS.get(kind, OTHER_PATHWAY)


def draw_edge(canvas: Canvas, points: Sequence[Point]) -> None:
    """Draw the edge of a level.

    points: on paper, pt.
    """
    canvas.line(points, MUTED, 0.6, "6 2")


def draw_grid_line(canvas: Canvas, points: Sequence[Point]) -> None:
    """Draw a line of the grid of a ceiling.

    points: on paper, pt.
    """
    canvas.line(points, FRAME, 0.25)


def draw_outer_wall(canvas: Canvas, points: Sequence[Point]) -> None:
    """Draw outer walls of the building.

    points: on paper, pt.
    """
    canvas.line(points, MUTED, OUTER_WALL_PT)


def draw_break(canvas: Canvas, at: Point, *, upright: bool) -> None:
    """Draw where an outer wall goes on beyond the sheet: two strokes aslant across it.

    upright: whether the wall runs up the sheet there.
    """
    x, y = at
    for off in (-1.6, 1.6):
        dx, dy = (0.0, off) if upright else (off, 0.0)
        canvas.line(((x + dx - 3.2, y + dy + 3.2), (x + dx + 3.2, y + dy - 3.2)), INK, 0.9)


def draw_wall(canvas: Canvas, points: Sequence[Point]) -> None:
    """Draw a wall that is given.

    points: on paper, pt.
    """
    canvas.line(points, FRAME, WALL_PT)


def draw_riser(canvas: Canvas, way: str, at: Point) -> None:
    """Draw a pathway that leaves the storey.

    way: up or down.
    """
    draw_symbol(canvas, f"pathway {way or 'up'}", at)


def draw_passage(canvas: Canvas, at: Point, *, upright: bool) -> None:
    """Draw an opening in a wall: a gap with its two edges.

    upright: whether the wall runs from south to north.
    """
    (x, y), half, edge = at, PASSAGE_PT - 0.6, 2.8
    corners = ((x - half, y - edge), (x + half, y - edge), (x + half, y + edge), (x - half, y + edge))
    if upright:
        corners = ((x - edge, y - half), (x + edge, y - half), (x + edge, y + half), (x - edge, y + half))
    canvas.polygon(corners, PAPER, INK, 0.8)


def draw_rack(canvas: Canvas, place: PlanPlace, scale: Scaled) -> None:
    """Draw a rack, as large as it is where that is larger than its symbol, with a bar before its front.

    scale: of the plan.
    """
    at = scale.on_paper(place.at)
    draw_symbol(canvas, "rack", at)
    half = rack_half(place, scale)
    x, y = at
    if place.size:
        corners = ((-1, -1), (1, -1), (1, 1), (-1, 1), (-1, -1))
        canvas.line([(x + half[0] * dx, y + half[1] * dy) for dx, dy in corners], INK, 0.8)
    if place.faces:
        across, up = {"north": (0, -1), "south": (0, 1), "east": (1, 0), "west": (-1, 0)}[place.faces]
        middle = x + across * (half[0] + _FRONT_PT), y + up * (half[1] + _FRONT_PT)
        ends = [
            (middle[0] + way * abs(up) * half[0], middle[1] + way * abs(across) * half[1]) for way in (-1, 1)
        ]
        canvas.line(ends, INK, 1.2)


def draw_box(canvas: Canvas, at: Point) -> None:
    """Draw a box that cables pass or come out of."""
    left, top, right, bottom = around(at, NODE_PT)
    canvas.polygon(((left, top), (right, top), (right, bottom), (left, bottom)), PAPER, MUTED, 1.2)


def draw_cables(canvas: Canvas, signal: str, points: Sequence[Point]) -> None:
    """Draw a run of cables.

    signal: that they carry.  points: on paper, pt.
    """
    one = stroke(signal)
    canvas.line(points, one.colour, max(0.6, one.width * 0.6), dash_of(one))


def draw_fed_line(canvas: Canvas, signal: str, points: Sequence[Point]) -> None:
    """Draw a run of loudspeaker line with an arrow away from the amplifier.

    signal: that it carries.  points: on paper, pt.
    """
    draw_cables(canvas, signal, points)
    canvas.polygon(arrow_along(tuple(points)), stroke(signal).colour)


def around(at: Point, reach: float) -> Box:
    """Return the box around a point.

    reach: to each side, pt.
    """
    return at[0] - reach, at[1] - reach, at[0] + reach, at[1] + reach


def draw_room_wall(canvas: Canvas, at: Point) -> None:
    """Draw a sample of the wall of a room with a door in it."""
    x, y = at
    canvas.line(((x - 9, y + 3), (x - 3, y + 3)), INK, 1.6)
    canvas.line(((x + 4, y + 3), (x + 9, y + 3)), INK, 1.6)
    canvas.line(((x - 3, y + 3), (x - 3, y - 4)), INK, 0.8)
    canvas.line(((x - 3, y - 4), (x + 1, y - 3), (x + 3.4, y), (x + 4, y + 3)), MUTED, 0.5)
