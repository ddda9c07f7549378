"""Match lines between the pieces of a storey, and the key plan that shows which piece a sheet has."""

from dataclasses import replace
from itertools import combinations

from proposal.drawings.canvas import Canvas, Point
from proposal.drawings.colours import BAND, FRAME, INK, MUTED, PAPER
from proposal.drawings.label_ground import Box
from proposal.drawings.label_placement import Label
from proposal.drawings.letter_widths import letters_pt
from proposal.drawings.plan.field import SMALL, Scaled
from proposal.drawings.plan.storey_spec import StoreyPlanSpec
from proposal.quantities.plan_pieces import Piece

Line = tuple[Point, Point]
_KEY_PT = (170.0, 50.0)
_DASHES = "14 3 3 3"


def match_lines(spec: StoreyPlanSpec) -> tuple[tuple[Line, str], ...]:
    """Return the match lines of a sheet, m, each with the sheet beyond it; on the whole storey without."""
    found: list[tuple[Line, str]] = []
    for one, two in combinations(range(len(spec.pieces)), 2):
        if spec.here >= 0 and spec.here not in (one, two):
            continue
        line = _shared(spec.pieces[one].box, spec.pieces[two].box)
        if line is not None:
            beyond = two if spec.here == one else one
            found.append((line, spec.pieces[beyond].number if spec.here >= 0 else ""))
    return tuple(found)


def _shared(one: Piece, two: Piece) -> Line | None:
    """Return the piece of edge that two pieces share; None where they do not touch."""
    for axis in (0, 1):
        other = 1 - axis
        low, high = max(one[other], two[other]), min(one[other + 2], two[other + 2])
        edges = {one[axis], one[axis + 2]} & {two[axis], two[axis + 2]}
        if edges and high - low > 0.01:
            at = edges.pop()
            return ((at, low), (at, high)) if axis == 0 else ((low, at), (high, at))
    return None


def draw_match_line(canvas: Canvas, points: tuple[Point, ...] | list[Point]) -> None:
    """Draw a match line.  points: on paper."""
    canvas.line(points, INK, 1.3, _DASHES)


def piece_labels(spec: StoreyPlanSpec, scale: Scaled) -> list[Label]:
    """Return the labels of match lines, or on the plan of the whole storey those of its pieces.

    scale: of the plan.
    """
    if spec.here < 0:
        return [
            Label(
                (f"piece {piece.number}",),
                scale.on_paper((piece.box[0], piece.box[3])),
                (4.0, 4.0),
                8.0,
                bold=True,
                anchors=(scale.on_paper((piece.box[2], piece.box[1])),),
            )
            for piece in spec.pieces
        ]
    labels = []
    for (start, end), beyond in match_lines(spec):
        one, two = scale.on_paper(start), scale.on_paper(end)
        label = Label((f"match line, {beyond} beyond",), one, (1.0, 1.0))
        width, height = label.extent
        where: list[Point] = []
        for share in (0.5, 0.3, 0.7, 0.15, 0.85, 0.05, 0.95):
            x, y = one[0] + (two[0] - one[0]) * share, one[1] + (two[1] - one[1]) * share
            if abs(one[0] - two[0]) < 1:
                where += [(x + 4, y - height / 2), (x - 4 - width, y - height / 2)]
            else:
                where += [(x - width / 2, y - 4 - height), (x - width / 2, y + 4)]
        middle = ((one[0] + two[0]) / 2, (one[1] + two[1]) / 2)
        labels.append(replace(label, at=middle, where=tuple(where), anchors=(one, two)))
    return labels


def draw_key_plan(canvas: Canvas, spec: StoreyPlanSpec, corner: Point) -> None:
    """Draw the pieces of a storey small, that of this sheet filled.

    corner: upper right one of the place for it, pt.
    """
    boxes = [piece.box for piece in spec.pieces]
    west, south = min(box[0] for box in boxes), min(box[1] for box in boxes)
    east, north = max(box[2] for box in boxes), max(box[3] for box in boxes)
    metre = min(_KEY_PT[0] / (east - west), _KEY_PT[1] / (north - south))
    left = corner[0] - (east - west) * metre

    def on_paper(box: Piece) -> Box:
        return (
            left + (box[0] - west) * metre,
            corner[1] + (north - box[3]) * metre,
            left + (box[2] - west) * metre,
            corner[1] + (north - box[1]) * metre,
        )

    for n, piece in enumerate(spec.pieces):
        x1, y1, x2, y2 = on_paper(piece.box)
        fill = BAND if n == spec.here else PAPER
        canvas.polygon(((x1, y1), (x2, y1), (x2, y2), (x1, y2)), fill, INK if n == spec.here else FRAME, 0.8)
        if letters_pt(piece.number, SMALL) + 4 < x2 - x1 and y2 - y1 > SMALL + 4:
            at = ((x1 + x2) / 2, (y1 + y2) / 2 + 0.36 * SMALL)
            canvas.text(at, piece.number, SMALL, anchor="middle", bold=n == spec.here)
    canvas.text((left - 4, corner[1] + 8), "Key plan", SMALL, anchor="end", colour=MUTED)
