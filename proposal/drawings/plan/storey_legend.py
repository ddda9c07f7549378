"""What the legend of a storey's plan explains besides devices, each with what draws a sample of it."""

from collections.abc import Callable, Collection, Sequence
from functools import partial

from proposal.drawings.canvas import Canvas, Point
from proposal.drawings.plan.match_lines import draw_match_line, match_lines
from proposal.drawings.plan.storey_marks import (
    draw_box,
    draw_cables,
    draw_edge,
    draw_fed_line,
    draw_furniture_sample,
    draw_grid_line,
    draw_outer_wall,
    draw_passage,
    draw_pathway,
    draw_ring,
    draw_riser,
    draw_room_wall,
    draw_wall,
)
from proposal.drawings.plan.storey_spec import StoreyPlanSpec

LOUDSPEAKER_LINE = "loudspeaker line"


def legend_entries(
    spec: StoreyPlanSpec, seen: Collection[str]
) -> list[tuple[str, Callable[[Canvas, Point], None]]]:
    """Return what else the legend explains, with what draws a sample of it.

    seen: signals of the runs that marks do not hide.
    """
    entries: list[tuple[str, Callable[[Canvas, Point], None]]] = []
    if any(room.doors for room in spec.rooms):
        entries.append(("wall of a room, door", draw_room_wall))
    if any(room.furniture for room in spec.rooms):
        entries.append(("furniture", draw_furniture_sample))
    if any(room.levels for room in spec.rooms):
        entries.append(("edge of a level", partial(_whole_line, draw_edge)))
    if any(room.grid for room in spec.rooms):
        entries.append(("grid of the ceiling", partial(_whole_line, draw_grid_line)))
    if spec.outer_walls:
        entries.append(("outer wall", partial(_whole_line, draw_outer_wall)))
    if spec.walls:
        kinds = ", ".join(sorted({construction for _, construction, _ in spec.walls}))
        entries.append((f"wall: {kinds}", partial(_whole_line, draw_wall)))
    for kind in sorted({pathway.kind for pathway in spec.pathways if len(pathway.points) > 1}):
        entries.append((kind, partial(_sample, draw_pathway, kind)))
    for way in sorted({pathway.way for pathway in spec.pathways if len(pathway.points) == 1}):
        entries.append((f"leaves the storey {way}wards".replace(" wards", ""), partial(_riser_sample, way)))
    if spec.passages:
        entries.append(("opening in a wall", partial(draw_passage, upright=False)))
    entries += [(kind, draw_box) for kind in sorted({node.kind for node in spec.nodes})]
    for signal in sorted(seen):
        drawn = draw_fed_line if signal == LOUDSPEAKER_LINE else draw_cables
        entries.append((f"{signal}, no pathway", partial(_sample, drawn, signal)))
    if any(run.goes_on for run in spec.runs) or any(one.drop for one in spec.pathways):
        entries.append(
            ("goes up, down or on to another sheet" if spec.pieces else "goes up or down", draw_ring)
        )
    if match_lines(spec):
        entries.append(("match line", lambda canvas, at: draw_match_line(canvas, _across(at))))
    return entries


def _riser_sample(way: str, canvas: Canvas, at: Point) -> None:
    draw_riser(canvas, way, at)


def _whole_line(draw: Callable[[Canvas, Sequence[Point]], None], canvas: Canvas, at: Point) -> None:
    draw(canvas, _across(at))


def _sample(
    draw: Callable[[Canvas, str, Sequence[Point]], None], kind: str, canvas: Canvas, at: Point
) -> None:
    draw(canvas, kind, _across(at))


def _across(at: Point) -> tuple[Point, Point]:
    return (at[0] - 9, at[1]), (at[0] + 9, at[1])
