"""Tubing side by side between the same ends: where the middle of each lies, and how far they are apart."""

import math
from collections.abc import Mapping

from proposal.document.document import Document
from proposal.document.rows.pathways import PathwayRow
from proposal.quantities import formatting

LOUDSPEAKER_LINE = "loudspeaker line"
_BETWEEN_M = {"metric": 0.05, "us_customary": 0.0508}
"""What is free between conduits or sleeves side by side, m: room to close round each (common practice)."""
_ROUND_KINDS = ("conduit", "sleeve")
_WAYS: Mapping[str, tuple[int, int]] = {"E": (1, 0), "W": (-1, 0), "N": (0, 1), "S": (0, -1)}


def _twins(document: Document, row: PathwayRow) -> list[PathwayRow]:
    """Return the tubing between the ends of a pathway, itself among it; nothing for other kinds."""
    ends = {row.from_node, row.to_node}
    if row.kind not in _ROUND_KINDS:
        return []
    return [
        one
        for one in document.pathways
        if {one.from_node, one.to_node} == ends and one.kind in _ROUND_KINDS and one.existing == row.existing
    ]


def twins_words(document: Document, row: PathwayRow) -> list[str]:
    """Return which tubing lies beside a pathway, between the same ends, and what is left free between."""
    beside = [one.tag for one in _twins(document, row) if one.tag != row.tag]
    units, locale = document.cover.units, document.cover.locale
    between = formatting.short_quantity(_BETWEEN_M[units], "short_length", units, locale)
    return [f"beside {', '.join(beside)}, {between} between"] if beside and not row.existing else []


def centre_aside(document: Document, row: PathwayRow, steps: Mapping[str, int]) -> tuple[float, float]:
    """Return how far east and north of the line between its nodes the middle of a pathway lies, m.

    steps: from the racks to each node.
    Tubing side by side is spread evenly about that line, with what carries loudspeaker lines on the side on
    which the divided tray before or behind it has them, else in the south or west; nothing for what is alone.
    """
    places = {node.tag: node.at for node in document.nodes}
    twins = _twins(document, row)
    known = all(one.outside_diameter_m and one.straight for one in twins)
    if len(twins) < 2 or row.existing or not known or not {row.from_node, row.to_node} <= places.keys():
        return 0.0, 0.0
    east, north = (places[row.to_node][axis] - places[row.from_node][axis] for axis in (0, 1))
    first, last = ("N", "S") if abs(east) >= abs(north) else ("E", "W")
    sides = [
        side
        for one in document.pathways
        if {one.from_node, one.to_node} & {row.from_node, row.to_node}
        and (side := speaker_side(document, one, steps)) in (first, last)
    ]
    if sides and sides[0] == first:
        first, last = last, first
    speaking = {one.pathway for one in document.pathway_contents if one.signal == LOUDSPEAKER_LINE}
    ordered = sorted(twins, key=lambda one: one.tag in speaking)
    between_m = _BETWEEN_M[document.cover.units]
    wide_m = [one.outside_diameter_m or 0.0 for one in ordered]
    at = [one.tag for one in ordered].index(row.tag)
    whole_m = sum(wide_m) + between_m * (len(ordered) - 1)
    far_m = whole_m / 2 - sum(wide_m[:at]) - between_m * at - wide_m[at] / 2
    way = _WAYS[first]
    return way[0] * far_m, way[1] * far_m


def speaker_side(document: Document, row: PathwayRow, steps: Mapping[str, int]) -> str:
    """Return the side of a divider on which loudspeaker lines lie; empty for a pathway without one.

    steps: from the racks to each node.
    It is the right-hand side as one looks away from the racks, so that it is kept round corners.
    """
    places = {node.tag: node.at for node in document.nodes}
    if not row.divided or not {row.from_node, row.to_node} <= places.keys():
        return ""
    near, far = sorted((row.from_node, row.to_node), key=lambda tag: steps.get(tag, len(steps)))
    east, north = (places[far][axis] - places[near][axis] for axis in (0, 1))
    return ("S" if east > 0 else "N") if abs(east) >= abs(north) else ("E" if north > 0 else "W")


def steps_from_racks(document: Document) -> dict[str, int]:
    """Return how many pathways lie between the racks and each node."""
    ends = {row.tag: (row.from_node, row.to_node) for row in document.pathways}
    racks = {rack for place in document.equipment_rooms for rack in place.racks}
    places = {node.tag: node.at for node in document.nodes}
    reached: dict[str, int] = {}
    for cable in document.cables:
        last = [tag for tag in ends.get(cable.pathways[-1], ()) if tag in places] if cable.pathways else []
        if last and cable.turns and cable.to_tag in racks:
            reached[min(last, key=lambda tag: math.dist(places[tag], cable.turns[-1]))] = 0
    waiting = list(reached)
    for tag in waiting:
        for pair in ends.values():
            for beyond in pair:
                if tag in pair and beyond not in reached:
                    reached[beyond] = reached[tag] + 1
                    waiting.append(beyond)
    return reached
