"""Checks of pathways across fields: kind, ends, storeys and lengths."""

import math
from collections.abc import Iterator, Mapping
from typing import Any

from pydantic import BaseModel, ValidationError

from proposal.model.pathways.pathways import ROUND_KINDS, Node, Pathway
from proposal.model.project import Path
from proposal.model.reading.project_tree import Untyped, mapping_at
from proposal.model.room_shape import Point
from proposal.quantities.level_ways import level_way_m
from proposal.quantities.messages import shown

# Fields that mean something for some kinds only; elsewhere they would be passed over without a word.
_ONLY_FOR: Mapping[str, tuple[str, ...]] = {
    "size": ROUND_KINDS,
    "bends": ("conduit",),
    "bend_radius": ("conduit",),
    "pull_points": ("conduit",),
    "drops_at": ("conduit",),
    "width": ("tray",),
    "depth": ("tray",),
    "support": ("hooks",),
}
# A drawn length may be rounded; a pathway shorter than the straight line by more than this is wrong.
_ROUNDING_M = 0.05


def wrong_pathways(tree: Untyped) -> Iterator[tuple[Path, str]]:
    """Yield path and message of pathways that are impossible or contradict themselves.

    tree: the untyped project; what is malformed is passed over, since validation reports it.
    """
    nodes = {tag: _valid(Node, node) for tag, node in mapping_at(tree, "building", "nodes").items()}
    for tag, written in mapping_at(tree, "building", "pathways").items():
        path: Path = ("building", "pathways", tag)
        pathway = _valid(Pathway, written)
        if not isinstance(pathway, Pathway):
            continue
        for field, kinds in _ONLY_FOR.items():
            if field in written and pathway.kind not in kinds:
                yield (*path, field), f"wanted this for {' or '.join(kinds)} only; found {pathway.kind}"
        if pathway.kind == "tray" and (pathway.width is None or pathway.depth is None):
            yield path, "wanted width and depth of a tray; found none"
        if pathway.owner_cables and not pathway.existing:
            message = "wanted this of a pathway that is there already (existing) only"
            yield (*path, "owner_cables"), f"{message}; found it of a new one"
        start, end = (nodes.get(name) for name in pathway.between)
        if pathway.between[0] == pathway.between[1]:
            message = f"wanted two nodes; found {shown(pathway.between[0])} twice"
            yield (*path, "between"), message
        elif isinstance(start, Node) and isinstance(end, Node):
            yield from _wrong_ends(path, pathway, start, end)
            if pathway.drops_at is not None:
                yield from _wrong_drop(path, pathway.drops_at, start, end)
    for tag, node in nodes.items():
        if isinstance(node, Node) and node.box and node.kind == "junction":
            yield (
                ("building", "nodes", tag, "box"),
                "wanted this for floor box or pull box only; found junction",
            )


def _wrong_ends(path: Path, pathway: Pathway, start: Node, end: Node) -> Iterator[tuple[Path, str]]:
    if start.storey != end.storey and pathway.kind in ("tray", "hooks"):
        message = "wanted both nodes on one storey, or a riser shaft, conduit or sleeve"
        yield (*path, "between"), f"{message}; found {shown(start.storey)} and {shown(end.storey)}"
    elif start.storey == end.storey:
        # Heights may rest on defaults that are not known here; the plan alone is the least it can be.
        straight_m = math.dist(start.at, end.at)
        way_m = straight_m if pathway.drops_at is None else level_way_m(start.at, pathway.drops_at, end.at)
        if straight_m + abs((start.height or 0.0) - (end.height or 0.0)) == 0:
            yield (*path, "between"), "wanted nodes that stand apart; found two in one place"
        elif pathway.length is not None and pathway.length < way_m - _ROUNDING_M:
            way = (
                "straight line between its nodes"
                if pathway.drops_at is None
                else "level way between its nodes"
            )
            message = f"wanted at least the {way}, {way_m:.2f} m"
            yield (*path, "length"), f"{message}; found {pathway.length:g} m"


def _wrong_drop(path: Path, at: Point, start: Node, end: Node) -> Iterator[tuple[Path, str]]:
    """Yield what is wrong about where a conduit changes its height.

    at: the place, m.
    """
    if start.storey != end.storey:
        message = "wanted this of a conduit on one storey only"
        yield (*path, "drops_at"), f"{message}; found {shown(start.storey)} and {shown(end.storey)}"
    elif start.height is not None and start.height == end.height:
        message = "wanted this between nodes at two heights only"
        yield (*path, "drops_at"), f"{message}; found both at {start.height:g} m"


def _valid(model: type[BaseModel], written: Any) -> BaseModel | None:
    """Return a part of the tree as its model, or None where it is wrong."""
    try:
        return model.model_validate(written)
    except ValidationError:
        return None
