"""Outer walls of a storey on its plan, as far as the sheet shows them; marks tell where they go on to."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from proposal.drawings.canvas import Point
from proposal.drawings.label_ground import Box
from proposal.drawings.label_placement import Label
from proposal.drawings.plan.coordinates import ASIDE_PT
from proposal.drawings.plan.field import FIELD, Scaled
from proposal.drawings.plan.storey_pieces import cut_line
from proposal.drawings.plan.storey_spec import StoreyPlanSpec
from proposal.field_classes import dataclass
from proposal.quantities import formatting

BREAK_PT = 5.0
"""How far the mark reaches where an outer wall goes on beyond the sheet, pt."""
_SAME_PT = 0.01


@dataclass(frozen=True, slots=True)
class WallBreak:
    """Where an outer wall is cut: the place, and the corner beyond the sheet that it goes on to, on paper."""

    at: Point
    corner: Point

    @property
    def upright(self) -> bool:
        """Return whether the wall runs up the sheet there."""
        return abs(self.corner[1] - self.at[1]) > abs(self.corner[0] - self.at[0])


@dataclass(frozen=True, slots=True)
class OuterWalls:
    """Outer walls on a sheet: the lines that it shows, and where they are cut."""

    shown: tuple[tuple[Point, ...], ...]
    breaks: tuple[WallBreak, ...]


def walls_on_sheet(spec: StoreyPlanSpec, scale: Scaled, head_pt: float) -> OuterWalls:
    """Return the outer walls of a storey on paper, as far as they lie between heading and ticks.

    head_pt: height of the heading.
    """
    left, top, right, bottom = FIELD
    near = (left + ASIDE_PT[0], top + head_pt, right, bottom - ASIDE_PT[1])
    return _within([scale.all_on_paper(line) for line in spec.outer_walls], near)


def _within(lines: Sequence[Sequence[Point]], near: Box) -> OuterWalls:
    """Return the outer walls that a sheet shows.

    lines: on paper.  near: what the plan may fill, pt.
    They are not among what the scale is chosen by: where nothing stands, a part of the building may be cut.
    """
    walls = [wall for line in lines for wall in pairwise(line)]
    return OuterWalls(
        shown=tuple(part for line in lines for part in cut_line(line, near)),
        breaks=tuple(one for wall in walls for one in _breaks(wall, near)),
    )


def _breaks(wall: tuple[Point, Point], near: Box) -> Iterator[WallBreak]:
    for first, last in cut_line(wall, near):
        for at, corner in ((first, wall[0]), (last, wall[1])):
            if max(abs(at[0] - corner[0]), abs(at[1] - corner[1])) > _SAME_PT:
                yield WallBreak(at, corner)


def break_labels(spec: StoreyPlanSpec, scale: Scaled, breaks: Sequence[WallBreak]) -> list[Label]:
    """Return a label for the places where walls are cut, one for all that go on to one line.

    scale: of the plan.
    """
    found: dict[str, Label] = {}
    for one in breaks:
        x, y = scale.in_building(one.corner)
        ways, far = ("NS", y) if one.upright else ("EW", x)
        told = formatting.short_quantity(abs(far), "length", spec.units, spec.locale)
        words = f"on to {told} {ways[far < -_SAME_PT]}"
        found.setdefault(words, Label((words,), one.at, (BREAK_PT, BREAK_PT)))
    return list(found.values())
