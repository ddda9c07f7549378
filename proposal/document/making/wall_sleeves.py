"""Sleeves and holes for what passes walls, conduit for what goes up in them: sized once all rows are made."""

import math
from collections.abc import Iterator

from proposal.design.connections.cable_choice import cable_entries
from proposal.design.pathways.fill import LOUDSPEAKER_LINE
from proposal.design.pathways.sleeves import SLEEVED_KINDS, Load, sizes_sold, sleeves_for
from proposal.document.document import Document
from proposal.document.rows.cabling import CableRow
from proposal.document.rows.pathways import PathwayRow
from proposal.document.wall_passages import openings_on
from proposal.model.pathways.pathways import ROUND_KINDS
from proposal.model.project import Project
from proposal.quantities import formatting
from proposal.quantities.wall_openings import Point, WallOpening
from proposal.standards.nfpa70 import TUBING

_ROUND_A_TRAY_M = {"metric": 0.025, "us_customary": 0.0254}
"""What a hole leaves free on each side of a tray, m: common practice, until a firestop system is chosen."""
_ROUND_A_SLEEVE_M = {"metric": 0.006, "us_customary": 0.00635}
"""The same round a sleeve or a conduit."""
_STEP_M = {"metric": 0.001, "us_customary": 0.003175}
"""Holes for sleeves are told in whole steps, the next wider one, m: a millimetre, an eighth of an inch."""


def with_wall_sleeves(project: Project, document: Document) -> Document:
    """Return a document whose storeys tell the sleeves and holes of each opening in their walls.

    document: with all other rows.
    """
    storeys = tuple(
        row.model_copy(update={"wall_sleeves": tuple(_on(project, document, row.tag))})
        for row in document.storeys
    )
    return document.model_copy(update={"storeys": storeys})


def with_wall_conduits(project: Project, document: Document) -> Document:
    """Return a document whose cables tell the conduit in the wall where they go up or come down.

    document: with all other rows. What goes up or comes down at one place shares its conduit.
    """
    wide_m = {code: entry.outside_diameter for code, entry in cable_entries(project).items()}
    places: dict[tuple[str, Point, Load], list[float]] = {}
    lying: dict[str, tuple[str, Point, Load]] = {}
    for cable in document.cables:
        at = cable.rises_at or cable.comes_down_at
        if at is not None and cable.type in wide_m:
            lying[cable.identity] = place = (cable.room, at, _load(cable))
            places.setdefault(place, []).append(wide_m[cable.type])
    words = {
        place: ", ".join(one.words for one in sleeves_for(across, place[2], sizes_sold(project)))
        for place, across in places.items()
    }
    cables = tuple(
        row.model_copy(update={"conduit": words[lying[row.identity]]}) if row.identity in lying else row
        for row in document.cables
    )
    return document.model_copy(update={"cables": cables})


def _load(cable: CableRow) -> Load:
    return "loudspeaker line" if cable.signal == LOUDSPEAKER_LINE else "cable"


def _on(project: Project, document: Document, storey: str) -> Iterator[tuple[str, str]]:
    wide_m = {code: entry.outside_diameter for code, entry in cable_entries(project).items()}
    for opening in openings_on(document, storey):
        passing = [row for row in document.pathways if row.tag in opening.names]
        words = [*_sleeves(project, document, opening, passing, wide_m)]
        words += [hole for row in passing if (hole := _hole(document, row) or _bored(document, row))]
        if words:
            yield opening.tag, ", ".join(words)


def _sleeves(
    project: Project,
    document: Document,
    opening: WallOpening,
    passing: list[PathwayRow],
    wide_m: dict[str, float],
) -> Iterator[str]:
    """Yield the sleeves for cables that pass alone, or on hooks."""
    hooked = {name for row in passing if row.kind in SLEEVED_KINDS for name in row.cables}
    loads: dict[Load, list[float]] = {"cable": [], "loudspeaker line": []}
    for cable in document.cables:
        if cable.type in wide_m and (cable.identity in opening.names or cable.identity in hooked):
            loads[_load(cable)].append(wide_m[cable.type])
    for load, across in loads.items():
        for one in sleeves_for(across, load, sizes_sold(project)):
            yield f"{one.words} in a {_bore(document, _outside_m(project, one.size))}"


def _bored(document: Document, row: PathwayRow) -> str:
    """Return the hole that a sleeve or a conduit passes; empty for other pathways."""
    if row.kind not in ROUND_KINDS or row.size not in TUBING:
        return ""
    return f"{_bore(document, TUBING[row.size].outside_diameter_m)} for {row.tag}"


def _outside_m(project: Project, size: str) -> float:
    return next(one.outside_diameter_m for one in sizes_sold(project) if one.trade_size == size)


def _bore(document: Document, across_m: float) -> str:
    """Return the hole to bore for tubing: as wide as that with what is free on both sides.

    across_m: its outside diameter, m.
    """
    units, locale = document.cover.units, document.cover.locale
    step_m = _STEP_M[units]
    # A hundredth of a step above a whole one is that step: it is a remainder of binary fractions.
    steps = math.ceil((across_m + 2 * _ROUND_A_SLEEVE_M[units]) / step_m - 0.01)
    return f"hole of {formatting.short_quantity(steps * step_m, 'short_length', units, locale)}"


def _hole(document: Document, row: PathwayRow) -> str:
    """Return the hole that a tray passes; empty for other pathways."""
    if row.width_m is None or row.depth_m is None:
        return ""
    units, locale = document.cover.units, document.cover.locale
    wide, high = (
        formatting.short_quantity(size + 2 * _ROUND_A_TRAY_M[units], "short_length", units, locale)
        for size in (row.width_m, row.depth_m)
    )
    return f"hole {wide.split()[0] if units == 'metric' else wide} × {high} for {row.tag}"
