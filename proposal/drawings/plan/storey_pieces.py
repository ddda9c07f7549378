"""The plan of a storey that is too large for one sheet: the whole as a key, and its pieces a sheet each."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

from proposal.document.document import Document
from proposal.document.rows.sheets import SheetRow
from proposal.drawings.plan.storey_spec import (
    PlanPiece,
    PlanRoom,
    PlanRun,
    Point,
    StoreyPlanSpec,
)
from proposal.quantities.plan_pieces import Piece, pieces_of, place_of


def parted(spec: StoreyPlanSpec, document: Document, sheet: SheetRow) -> StoreyPlanSpec:
    """Return what a sheet of a storey shows: all of it on its only or first sheet, then piece by piece."""
    if sheet.parts < 2:
        return spec
    boxes = pieces_of([_reach(room.outline) for room in spec.rooms], [place.at for place in spec.places])
    numbers = {
        row.part: row.number
        for row in document.sheets
        if (row.kind, row.subject) == (sheet.kind, sheet.subject)
    }
    spec = replace(
        spec, pieces=tuple(PlanPiece(box, numbers.get(part, "")) for part, box in enumerate(boxes, 2))
    )
    return _piece(spec, boxes, sheet.part - 2) if 2 <= sheet.part < len(boxes) + 2 else spec


def _reach(points: Sequence[Point]) -> Piece:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def _piece(spec: StoreyPlanSpec, boxes: Sequence[Piece], number: int) -> StoreyPlanSpec:
    """Return a piece: rooms and what stands in them whole on the sheet of their middle, lines cut.

    boxes: of all pieces.  number: of this one, from 0.
    """
    box, wide = boxes[number], _opened(boxes, number)
    rooms = tuple(room for room in spec.rooms if place_of(_middle(room), boxes) == number)
    of_room = {mark.at: place_of(_middle(room), boxes) for room in spec.rooms for mark in room.marks}
    pathways = [
        replace(one, points=points, drop=one.drop if one.drop in points else None)
        for one in spec.pathways
        for points in (
            [one.points] if len(one.points) == 1 and place_of(one.points[0], boxes) == number
            else cut_line(one.points, wide)
        )
    ]  # fmt: skip
    return replace(
        spec,
        here=number,
        rooms=rooms,
        outer_walls=tuple(points for line in spec.outer_walls for points in cut_line(line, wide)),
        walls=tuple((tag, kind, points) for tag, kind, line in spec.walls for points in cut_line(line, wide)),
        places=tuple(place for place in spec.places if place_of(place.at, boxes) == number),
        nodes=tuple(node for node in spec.nodes if place_of(node.at, boxes) == number),
        passages=tuple(one for one in spec.passages if place_of(one[1], boxes) == number),
        pathways=tuple(pathways),
        runs=_runs(spec, boxes, number, box, of_room),
    )


def _middle(room: PlanRoom) -> Point:
    west, south, east, north = _reach(room.outline)
    return (west + east) / 2, (south + north) / 2


def _opened(boxes: Sequence[Piece], number: int) -> Piece:
    """Return a piece without an end on the sides where no other lies beyond it."""
    west, south, east, north = boxes[number]
    return (
        -math.inf if west <= min(box[0] for box in boxes) else west,
        -math.inf if south <= min(box[1] for box in boxes) else south,
        math.inf if east >= max(box[2] for box in boxes) else east,
        math.inf if north >= max(box[3] for box in boxes) else north,
    )


def cut_line(line: Sequence[Point], box: Piece) -> list[tuple[Point, ...]]:
    """Return the parts of a line that lie within a box, in the unit of both."""
    found: list[list[Point]] = []
    for one, two in pairwise(line):
        share = _within(one, two, box)
        if share is None:
            continue
        first, last = (
            (round(one[0] + (two[0] - one[0]) * at, 4), round(one[1] + (two[1] - one[1]) * at, 4))
            for at in share
        )
        if found and found[-1][-1] == first:
            found[-1].append(last)
        else:
            found.append([first, last])
    return [tuple(points) for points in found]


def _within(one: Point, two: Point, box: Piece) -> tuple[float, float] | None:
    """Return from which share of a line to which it lies in a box; None where it does not."""
    low, high = 0.0, 1.0
    for axis in (0, 1):
        far, least, most = two[axis] - one[axis], box[axis], box[axis + 2]
        if abs(far) < 1e-9:
            if not least <= one[axis] <= most:
                return None
            continue
        ends = sorted(((least - one[axis]) / far, (most - one[axis]) / far))
        low, high = max(low, ends[0]), min(high, ends[1])
    return (low, high) if high - low > 1e-6 else None


def _runs(
    spec: StoreyPlanSpec,
    boxes: Sequence[Piece],
    number: int,
    box: Piece,
    of_room: Mapping[Point, int],
) -> tuple[PlanRun, ...]:
    """Return the runs of a piece; what goes on beyond it ends at its edge and names the sheet there.

    of_room: number of the piece with the room of each device, by where the device is.
    """
    counted: dict[tuple[tuple[Point, Point], str, str], dict[str, int]] = {}
    for run in spec.runs:
        first, last = (of_room.get(at, place_of(at, boxes)) for at in run.ends)
        if number not in (first, last):
            continue
        start, end, goes_on, room = *run.ends, run.goes_on, run.room
        if last != number:
            end, goes_on, room = _held(end, box), f"on to {spec.pieces[last].number}", ""
        if first != number:
            start = _held(start, box)
        signals = counted.setdefault(((start, end), goes_on, room), {})
        for signal, cables in run.signals:
            signals[signal] = signals.get(signal, 0) + cables
    return tuple(
        PlanRun(ends, tuple(sorted(signals.items())), goes_on, room)
        for (ends, goes_on, room), signals in sorted(counted.items())
        if ends[0] != ends[1]
    )


def _held(at: Point, box: Piece) -> Point:
    west, south, east, north = box
    return round(min(max(at[0], west), east), 4), round(min(max(at[1], south), north), 4)
