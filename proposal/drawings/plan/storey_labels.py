"""Labels of the floor plan or the ceiling plan of a storey: what each says, and where it may stand."""

import math
from collections.abc import Callable, Iterable, Sequence, Set
from dataclasses import replace
from itertools import pairwise

from proposal.drawings.canvas import Point
from proposal.drawings.label_ground import Box, Ground
from proposal.drawings.label_placement import Label, Placed, placed_labels
from proposal.drawings.lettering import plain, wrapped
from proposal.drawings.plan.coordinates import ORIGIN_PT, origin_on_paper
from proposal.drawings.plan.field import SMALL, Scaled
from proposal.drawings.plan.marking import labels_of
from proposal.drawings.plan.match_lines import piece_labels
from proposal.drawings.plan.run_routes import Route
from proposal.drawings.plan.storey_spec import PlanPathway, PlanPlace, PlanRoom, PlanRun, StoreyPlanSpec

RISER_PT, NODE_PT, END_PT, PASSAGE_PT = 5.0, 3.0, 2.2, 4.0
"""How far the marks of risers, boxes, ends of runs and openings in walls reach, pt."""
END_CLEAR_PT = 9.0
"""From the end of a line, where other things are marked, to the end of a leader to it, pt."""
_ON_WALL_M = 0.05
"""What is as near to the wall of a room as this is on it, m."""
_TOLD_ONCE_PT = 60.0
"""Ends of runs that lead to one thing, no farther from each other, share a label."""
_SHORT = 46.0
"""Longest leader of a device, pt."""
_RACK_PT, _BEFORE_RACK_PT = 4.2, 2.6
"""How far the symbol of a rack reaches, and what the bar before its front takes, pt."""
_SHIFTED = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9)
AROUND = 4
"""Walls of so many points run round a room, which has a label of its own."""
_ALONG = (0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9)


def labels_on_storey(
    spec: StoreyPlanSpec,
    scale: Scaled,
    ways: Sequence[Route],
    ground: Callable[[], Ground],
    *,
    brief: bool,
    others: Sequence[Label] = (),
) -> tuple[tuple[Placed, ...], list[Label]]:
    """Return the labels where they stand, and those that fit nowhere.

    scale: of the plan.  ways: of its runs, on paper.  ground: makes what labels stand clear of.
    brief: whether the scale is too small for more than names and pathways.  others: further labels.
    Where not all devices of a room can be labelled, its own plan does so, and none are labelled here.
    """
    crowded: set[str] = set()
    foremost: set[Label] = set()
    while True:
        labels = [*_labels(spec, scale, ways, crowded, brief=brief), *((None, one) for one in others)]
        placed, left_out = placed_labels([label for _, label in labels], ground(), foremost)
        missed = {id(label) for label in left_out}
        further = {
            room.tag
            for room, label in labels
            if room and room.enlarged and room.tag not in crowded and id(label) in missed
        }
        if left_out and not foremost:
            foremost = set(left_out)
        elif further:
            crowded |= further
        else:
            return placed, list(left_out)


def _labels(
    spec: StoreyPlanSpec, scale: Scaled, ways: Sequence[Route], crowded: Set[str], *, brief: bool
) -> list[tuple[PlanRoom | None, Label]]:
    """Return every label, with the room that it belongs to.

    ways: of its runs, on paper.  crowded: tags of rooms whose devices are labelled elsewhere.
    brief: whether the scale is too small for more than names and pathways.
    """
    found: list[tuple[PlanRoom | None, Label]] = []
    for room in spec.rooms:
        found.append((room, _room_label(room, scale, crowded=room.tag in crowded, brief=brief)))
        if room.tag not in crowded:
            found += [
                (room, replace(label, led=_SHORT)) for label in labels_of(room.marks, scale, room.outline)
            ]
    for place in spec.places:
        front = (f"front to the {place.faces}",) if place.faces else ()
        lines = (
            *wrapped(f"{place.tag} {place.name}", 150, 2, 8),
            *wrapped(", ".join((*place.racks, *front)), 150, 2, 8),
        )
        named = Label(lines, scale.on_paper(place.at), _rack_reach(place, scale), 8.0, bold=True)
        found.append((None, _round_about(named)))
    for node in spec.nodes:
        found.append((None, Label((plain(node.tag),), scale.on_paper(node.at), (NODE_PT, NODE_PT))))
    for tag, at_wall, _ in spec.passages:
        found.append((None, Label((plain(tag),), scale.on_paper(at_wall), (PASSAGE_PT, PASSAGE_PT))))
    found += [(None, label) for label in _pathway_labels(spec.pathways, scale)]
    found += [(None, label) for label in piece_labels(spec, scale)]
    if at_origin := origin_on_paper(scale):
        found.append((None, Label(("origin",), at_origin, (ORIGIN_PT, ORIGIN_PT))))
    for tag, _, points in spec.walls:
        longest = max(pairwise(scale.all_on_paper(points)), key=_length, default=None)
        if longest and len(points) < AROUND:
            found.append((None, _along(Label((plain(tag),), _between(*longest, 0.5), (1.8, 1.8)), longest)))
    for run, points in zip(spec.runs, ways, strict=True):
        lines = tuple(f"{cables} × {signal}" for signal, cables in run.signals)
        if any(cables > 1 for _, cables in run.signals) and not _told_before(lines, run, spec):
            longest = max(pairwise(points), key=_length)
            found.append((None, _along(Label(lines, _between(*longest, 0.5), (1.0, 1.0)), longest)))
    ends = {(_goes_on(run, spec), run.ends[-1]) for run in spec.runs if run.goes_on}
    told: list[tuple[str, Point]] = []
    for words, at in sorted(ends):
        # Ends beside each other in a room, such as those of devices in a row, are told once.
        near_m = _TOLD_ONCE_PT / scale.pt_a_metre
        if not any(
            words == other and math.dist(at, there) <= near_m and _in_one_room(spec, at, there)
            for other, there in told
        ):
            told.append((words, at))
    found += [(None, Label((plain(words),), scale.on_paper(at), (END_PT, END_PT))) for words, at in told]
    return found


def _goes_on(run: PlanRun, spec: StoreyPlanSpec) -> str:
    """Return where a run goes on, with its room where runs of several rooms on the sheet name their codes."""
    if not run.room or len({other.room for other in spec.runs if other.room}) < 2:
        return run.goes_on
    way, _, codes = run.goes_on.partition(" to ")
    return f"{way} to {run.room}-{codes}"


def _in_one_room(spec: StoreyPlanSpec, one: Point, two: Point) -> bool:
    """Return whether two points lie in one room or on its walls, m."""
    return any(
        min(values) - _ON_WALL_M <= min(pair) and max(pair) <= max(values) + _ON_WALL_M
        and min(others) - _ON_WALL_M <= min(across) and max(across) <= max(others) + _ON_WALL_M
        for room in spec.rooms
        for values, others in (tuple(zip(*room.outline, strict=True)),)
        for pair, across in (tuple(zip(one, two, strict=True)),)
    )  # fmt: skip


def _told_before(lines: Sequence[str], run: PlanRun, spec: StoreyPlanSpec) -> bool:
    """Return whether a pathway that a run goes on from tells of the very same cables.

    lines: what would be told of the run.
    """
    return any(
        pathway.lines[-len(lines) :] == tuple(lines)
        for pathway in spec.pathways
        if any(_lies_on(at, pathway.points) for at in run.ends)
    )


def _lies_on(at: Point, points: Sequence[Point]) -> bool:
    """Return whether a point lies on a pathway, m."""
    return any(
        math.dist(one, at) + math.dist(at, two) - math.dist(one, two) < _ON_WALL_M
        for one, two in pairwise(points)
    )


def rack_half(place: PlanPlace, scale: Scaled) -> Point:
    """Return half the width and half the height of a rack as drawn: of its symbol where that is larger, pt.

    scale: of the plan.
    """
    wide, high = place.size or (0.0, 0.0)
    return max(wide / 2 * scale.pt_a_metre, _RACK_PT), max(high / 2 * scale.pt_a_metre, _RACK_PT)


def _rack_reach(place: PlanPlace, scale: Scaled) -> Point:
    """Return how far a rack reaches with the bar before its front, from its middle to the side and up, pt.

    scale: of the plan.
    """
    half = rack_half(place, scale)
    return half[0] + _BEFORE_RACK_PT, half[1] + _BEFORE_RACK_PT


def rack_box(place: PlanPlace, scale: Scaled) -> Box:
    """Return the box around a rack with the bar before its front, pt.

    scale: of the plan.
    """
    (x, y), (wide, high) = scale.on_paper(place.at), _rack_reach(place, scale)
    return x - wide, y - high, x + wide, y + high


def _round_about(label: Label) -> Label:
    """Return a label with places close around its symbol, shifted along each side of it."""
    (x, y), (width, height) = label.at, label.extent
    where: list[Point] = []
    for gap in (2.0, 5.0, 10.0, 16.0):
        right, left = x + label.reach[0] + gap, x - label.reach[0] - gap - width
        above, below = y - label.reach[1] - gap - height, y + label.reach[1] + gap
        where += [(at, y - height / 2) for at in (right, left)]
        where += [(x - share * width, at) for at in (above, below) for share in _SHIFTED]
        where += [(at, y - share * height) for at in (right, left) for share in (0.2, 0.8, 0.0, 1.0)]
    return replace(label, where=tuple(where))


def _room_label(room: PlanRoom, scale: Scaled, *, crowded: bool, brief: bool) -> Label:
    """Return the label of a room: its tag and name, what is told of it, and the sheet of its own plan.

    crowded: whether its devices are labelled there alone.  brief: whether tag and sheet are all there is
    room for.
    """
    points = scale.all_on_paper(room.outline)
    xs, ys = [x for x, _ in points], [y for _, y in points]
    wide = max(60.0, max(xs) - min(xs) - 8)
    lines = [plain(room.tag), *wrapped(room.name, wide, 2, 8)]
    for told in room.told:
        lines += wrapped(told, wide, 2, 8)
    if room.enlarged:
        lines.append(f"devices labelled on {room.enlarged}" if crowded else f"room plan {room.enlarged}")
    if brief:
        lines = [plain(room.tag), *([room.enlarged] if room.enlarged else [])]
    low, high = (min(xs), min(ys)), (max(xs), max(ys))
    corner, *others = (
        (_between(low, high, across)[0], _between(low, high, down)[1])
        for down in (0.08, 0.92) for across in (0.08, 0.92)
    )  # fmt: skip
    label = Label(tuple(lines), corner, (1.0, 1.0), SMALL, bold=True, anchors=tuple(others), led=_SHORT)
    width, height = label.extent
    low_x, high_x, low_y, high_y = min(xs) + 3, max(xs) - width - 3, min(ys) + 3, max(ys) - height - 3
    if high_x < low_x or high_y < low_y:
        return label
    across, down = _steps(low_x, high_x, 8), _steps(low_y, high_y, 4)
    # Corners first, then along the walls, then anywhere.
    where = sorted(
        ((x, y) for y in down for x in across),
        key=lambda at: (
            (at[0] not in (low_x, high_x)) + (at[1] not in (low_y, high_y)),
            at[1],
            at[0],
        ),
    )
    return replace(label, where=tuple(where))


def _steps(low: float, high: float, step: float) -> list[float]:
    count = int((high - low) // step)
    return sorted({*(low + n * step for n in range(count + 1)), high})


def _pathway_labels(pathways: Iterable[PlanPathway], scale: Scaled) -> list[Label]:
    """Return the labels of pathways."""
    labels: list[Label] = []
    for pathway in pathways:
        points = scale.all_on_paper(pathway.points)
        lines = tuple(plain(line) for line in pathway.lines)
        if len(points) == 1:
            continue
        longest = max(pairwise(points), key=_length)
        labels.append(_along(Label(lines, _between(*longest, 0.5), (1.0, 1.0)), longest))
    labels += [
        Label(tuple(plain(line) for line in pathway.lines), at, (RISER_PT, RISER_PT))
        for pathway, at in rising_on_paper(pathways, scale)
    ]
    return labels


def rising_on_paper(pathways: Iterable[PlanPathway], scale: Scaled) -> tuple[tuple[PlanPathway, Point], ...]:
    """Return the pathways that leave the storey, and where each is marked: side by side at one point.

    scale: of the plan.
    """
    found: list[tuple[PlanPathway, Point]] = []
    counts: dict[Point, int] = {}
    for pathway in pathways:
        if len(pathway.points) == 1:
            x, y = scale.on_paper(pathway.points[0])
            counts[x, y] = counts.get((x, y), 0) + 1
            found.append((pathway, (x + (counts[x, y] - 1) * (2 * RISER_PT + 1.5), y)))
    return tuple(found)


def _along(label: Label, line: tuple[Point, Point]) -> Label:
    """Return a label with its places beside a line: over and under it, or at the sides of an upright one."""
    width, height = label.extent
    where: list[Point] = []
    upright = abs(line[1][1] - line[0][1]) > abs(line[1][0] - line[0][0])
    for share in _ALONG:
        x, y = _between(*line, share)
        if upright:
            where += [(x + 4, y - height / 2), (x - 4 - width, y - height / 2)]
        else:
            where += [(x - width / 2, y - 4 - height), (x - width / 2, y + 4)]
    # A leader ends clear of what stands at the ends of the line.
    clear = END_CLEAR_PT / max(_length(line), 1.0)
    anchors = tuple(_between(*line, share) for share in _ALONG[1:] if clear < share < 1 - clear)
    return replace(label, where=tuple(where), anchors=anchors)


def _between(one: Point, two: Point, share: float) -> Point:
    return one[0] + (two[0] - one[0]) * share, one[1] + (two[1] - one[1]) * share


def _length(line: tuple[Point, Point]) -> float:
    return abs(line[1][0] - line[0][0]) + abs(line[1][1] - line[0][1])
