"""Pathways on the plans of a storey: which of them a plan shows, what lies in them, and where they lead."""

from collections.abc import Mapping, Sequence

from proposal.document.document import Document
from proposal.document.rows.pathways import NodeRow, PathwayRow
from proposal.drawings.plan.pathway_words import kind_of, placed_at, size_of, way_words
from proposal.drawings.plan.storey_spec import Level, PlanPathway, Point
from proposal.drawings.plan.tubing_beside_tubing import centre_aside, steps_from_racks
from proposal.quantities import formatting
from proposal.quantities.level_ways import level_parts

HIGH_M = 1.0
"""Ends of pathways above this height are on the ceiling plan, lower ones on the floor plan."""


def drawn_pathways(document: Document, storey: str, level: Level) -> list[PathwayRow]:
    """Return the pathways of a storey that lie high, or low, and those that leave it."""
    nodes = {node.tag: node for node in document.nodes}
    found = []
    for row in document.pathways:
        if not {row.from_node, row.to_node} <= nodes.keys():
            continue
        ends = [nodes[row.from_node], nodes[row.to_node]]
        here = [node for node in ends if node.storey == storey]
        within = len(here) == len(ends)
        high = [node.height_m > HIGH_M for node in here]
        if here and (not within or any(one == (level == "ceiling") for one in high)):
            found.append(row)
    return found


def pathways_of(document: Document, storey: str, level: Level) -> tuple[PlanPathway, ...]:
    """Return the pathways of a plan with what lies in them; those that leave the storey as a point."""
    nodes = {node.tag: node for node in document.nodes}
    names = {row.tag: row.name for row in document.storeys}
    carried = _carried(document)
    steps = steps_from_racks(document)
    found = []
    for row in drawn_pathways(document, storey, level):
        ends = [nodes[row.from_node], nodes[row.to_node]]
        here = [node for node in ends if node.storey == storey]
        lines = [" ".join(part for part in (row.tag, kind_of(row), size_of(document, row)) if part)]
        points = tuple(dict.fromkeys(node.at for node in here))
        drop = None
        if len(here) == len(ends):
            drop = row.drops_at
            points, told = _on_level(document, row, (ends[0], ends[1]), level) if drop else (points, ())
            lines += told or placed_at(document, ends[0], ends[1])
        if not row.straight:
            lines.append(way_words(row))
        lines += _centre_words(document, row, ends, steps)
        for away in ends:
            if away not in here:
                way = towards(document, storey, away.storey).replace("storey ", "")
                lines.append(f"{way} {names.get(away.storey, '')}".strip())
        lines += [
            f"{one.tag}: {one.crosses} {one.fire_rating or 'fire-rated'}"
            for one in document.penetrations
            if one.pathway == row.tag and (one.crosses == "floor" or one.storey == storey)
        ]
        lines += carried.get(row.tag, ())
        there = next((node.storey for node in ends if node not in here), storey)
        found.append(PlanPathway(kind_of(row), points, tuple(lines), _way_of(document, storey, there), drop))
    return tuple(found)


def _centre_words(
    document: Document, row: PathwayRow, ends: Sequence[NodeRow], steps: Mapping[str, int]
) -> list[str]:
    """Return where the middle of tubing lies that has other tubing beside it, as far north or east.

    ends: its nodes.  steps: from the racks to each node.
    """
    aside = centre_aside(document, row, steps)
    units, locale = document.cover.units, document.cover.locale
    return [
        f"middle {formatting.short_quantity(ends[0].at[axis] + aside[axis], 'length', units, locale)} {way}"
        for axis, way in ((0, "E"), (1, "N"))
        if aside[axis]
    ]


def _on_level(
    document: Document, row: PathwayRow, ends: tuple[NodeRow, NodeRow], level: Level
) -> tuple[tuple[Point, ...], tuple[str, ...]]:
    """Return the points of the part of a conduit that lies high, or low, and where it changes its height.

    ends: its nodes.
    """
    one, two = ends
    parts = level_parts((one.at, two.at), (one.height_m, two.height_m), row.drops_at)
    high = [part for part in parts if ((part.height_m or 0.0) > HIGH_M) == (level == "ceiling")]
    part = next(iter(high or parts))
    place = row.drops_at or one.at
    other = "down" if level == "ceiling" else "up"
    told = f"at {_length(document, part.height_m or 0.0)}, {other} at {_place(document, place)}"
    return part.points, (told,)


def _place(document: Document, at: Point) -> str:
    return f"{_length(document, at[0])} E, {_length(document, at[1])} N"


def _length(document: Document, value_m: float) -> str:
    return formatting.short_quantity(value_m, "length", document.cover.units, document.cover.locale)


def _carried(document: Document) -> Mapping[str, tuple[str, ...]]:
    """Return what lies in each pathway: cables by their signal."""
    counts: dict[str, dict[str, int]] = {}
    for row in document.pathway_contents:
        signals = counts.setdefault(row.pathway, {})
        signals[row.signal] = signals.get(row.signal, 0) + row.count
    return {
        tag: tuple(f"{count} × {signal}" for signal, count in sorted(signals.items()))
        for tag, signals in counts.items()
    }


def towards(document: Document, here: str, there: str) -> str:
    """Return the way from a storey to another in words: where no pathway is given, to its tag alone.

    here, there: tags of the two storeys.
    """
    heights = {storey.tag: storey.height_m for storey in document.storeys}
    if here == there:
        return ""
    return f"{'up' if heights[there] > heights[here] else 'down'} to storey {there}"


def _way_of(document: Document, here: str, there: str) -> str:
    words = towards(document, here, there)
    return words.split()[0] if words else ""
