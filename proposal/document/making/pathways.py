"""The document's rows about pathways, made from the design."""

from typing import TypedDict

from proposal.design.design import Design
from proposal.design.numbers.numbering import natural
from proposal.design.pathways.fill import PathwayDesign
from proposal.design.pathways.known_ways import goes_straight
from proposal.design.pathways.pathway_graph import node_height_m
from proposal.design.pathways.penetrations import Penetration, furnishes_fire_stopping
from proposal.design.pathways.pulling import PullRun
from proposal.design.pathways.sleeves import sizes_sold
from proposal.document.rows.pathways import ContentRow, NodeRow, PathwayRow, PenetrationRow, PullRow
from proposal.model.project import Project
from proposal.standards.cable_pulling import PULL_ANGLE_LIMIT
from proposal.standards.nfpa70 import permitted_fill


class PathwayParts(TypedDict):
    """The rows of pathways."""

    nodes: tuple[NodeRow, ...]
    pathway_contents: tuple[ContentRow, ...]
    pathways: tuple[PathwayRow, ...]
    penetrations: tuple[PenetrationRow, ...]
    pulls: tuple[PullRow, ...]


def pathway_parts(project: Project, design: Design) -> PathwayParts:
    """Return the fields of the document that hold rows about pathways, by name."""
    points: dict[str, int] = {}
    for run in design.pull_runs:
        for tag in run.pull_points:
            points[tag] = points.get(tag, 0) + 1
    return {
        "nodes": tuple(
            NodeRow(
                tag=tag,
                kind=node.kind,
                storey=node.storey,
                at=node.at,
                height_m=node_height_m(project, tag),
                box=node.box,
            )
            for tag, node in sorted(project.building.nodes.items(), key=lambda item: natural(item[0]))
        ),
        "pathway_contents": tuple(row for one in design.pathways for row in _contents(one)),
        "pathways": tuple(_pathway(project, one, points.get(one.tag, 0)) for one in design.pathways),
        "penetrations": tuple(_penetration(project, one) for one in design.penetrations),
        "pulls": tuple(_pull(run) for run in design.pull_runs if run.cables),
    }


def _spacing_m(project: Project, model: str) -> float | None:
    """Return how far supports of a pathway are apart, m, by the model of its tray or of its hooks."""
    library = project.library
    if model in library.supports:
        return library.supports[model].spacing
    return library.trays[model].support_spacing if model in library.trays else None


def _pathway(project: Project, one: PathwayDesign, pull_points: int) -> PathwayRow:
    building = project.building
    start, end = building.nodes[one.start], building.nodes[one.end]
    space = building.spaces.get(one.space)
    warm = space.temperature if space is not None and space.temperature is not None else None
    warmed = one.bundle is not None and one.bundle.rise is not None
    checked = one.fill is not None or one.hung_n is not None or warmed
    return PathwayRow(
        tag=one.tag,
        kind=one.kind,
        from_node=one.start,
        to_node=one.end,
        from_storey=start.storey,
        to_storey=end.storey,
        space=space.name if space else "",
        temperature_c=building.ceiling_temperature if warm is None else warm,
        drops_at=building.pathways[one.tag].drops_at,
        length_m=one.length_m,
        size=one.size,
        tray=project.library.trays[one.size].form if one.size in project.library.trays else "",
        chosen=one.chosen,
        existing=building.pathways[one.tag].existing,
        straight=goes_straight(project, one.tag),
        owner_cables=len(one.owner_cables_m),
        divided=building.pathways[one.tag].divided,
        barrier=building.pathways[one.tag].barrier,
        width_m=one.width_m,
        depth_m=one.depth_m,
        internal_diameter_m=one.tubing.internal_diameter_m if one.tubing else None,
        outside_diameter_m=one.tubing.outside_diameter_m if one.tubing else None,
        spacing_m=_spacing_m(project, one.size),
        cables=tuple(cable.identity for cable in one.cables),
        powered=one.powered,
        tied=one.bundle.tied if one.bundle else None,
        rise_k=one.bundle.rise_k if one.bundle else None,
        fill=one.fill.result if one.fill else None,
        limit=one.fill.limit if one.fill else None,
        spare=one.spare,
        jam_ratio=one.jam.result if one.jam else None,
        bends=building.pathways[one.tag].bends,
        radius_m=one.radius_m,
        pull_points=pull_points,
        verdict=("holds" if one.holds else "fails") if checked and one.cables else "",
    )


def _penetration(project: Project, one: Penetration) -> PenetrationRow:
    sizes = {size.trade_size: size for size in sizes_sold(project)}
    return PenetrationRow(
        tag=one.tag,
        pathway=one.pathway,
        crosses=one.crosses,
        fire_rating=one.fire_rating,
        storey=one.storey,
        kind=one.kind,
        size=one.size,
        width_m=one.width_m,
        depth_m=one.depth_m,
        cables=len(one.cables),
        sleeves=tuple(sleeve.words for sleeve in one.sleeves),
        insides_m=tuple(sizes[sleeve.size].internal_diameter_m for sleeve in one.sleeves),
        limits=tuple(permitted_fill(sleeve.cables) for sleeve in one.sleeves),
        closed=one.closed,
        closed_by="us" if furnishes_fire_stopping(project) else "others",
    )


def _contents(one: PathwayDesign) -> list[ContentRow]:
    counts: dict[tuple[str, str, float], int] = {}
    for cable in one.cables:
        key = (cable.signal, cable.model, cable.diameter_m)
        counts[key] = counts.get(key, 0) + 1
    return [
        ContentRow(pathway=one.tag, type=model, signal=signal, count=count, diameter_m=diameter_m)
        for (signal, model, diameter_m), count in sorted(counts.items())
    ]


def _pull(run: PullRun) -> PullRow:
    hardest = max(run.pulls, key=lambda pull: min(pull.forward_n, pull.backward_n)).tension
    worst = max(pull.degrees for pull in run.pulls)
    holds = hardest is not None and hardest.verdict != "fails" and worst <= PULL_ANGLE_LIMIT.value
    return PullRow(
        conduits=run.conduits,
        from_node=run.start,
        to_node=run.end,
        cables=len(run.cables),
        length_m=sum(pull.length_m for pull in run.pulls),
        degrees=sum(pull.degrees for pull in run.pulls),
        pull_points=len(run.pull_points),
        wanted_points=run.wanted_points,
        worst_degrees=worst,
        longest_m=max(pull.length_m for pull in run.pulls),
        tension_n=hardest.result if hardest else None,
        tension_limit_n=hardest.limit if hardest else None,
        verdict="holds" if holds else "fails",
    )
