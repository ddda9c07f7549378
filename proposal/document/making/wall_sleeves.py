"""Sleeves and holes for what passes walls, conduit for what goes up in them: sized once all rows are made."""

from collections.abc import Iterator

from proposal.design.connections.cable_choice import cable_entries
from proposal.design.pathways.fill import LOUDSPEAKER_LINE
from proposal.design.pathways.sleeves import SLEEVED_KINDS, Load, sizes_sold, sleeves_for
from proposal.document.document import Document
from proposal.document.rows.cabling import CableRow
from proposal.document.rows.pathways import PathwayRow
from proposal.document.wall_passages import openings_on
from proposal.model.project import Project
from proposal.quantities import formatting
from proposal.quantities.wall_openings import Point, WallOpening

_ROUND_A_TRAY_M = {"metric": 0.025, "us_customary": 0.0254}
"""What a hole leaves free on each side of a tray, m: common practice, until a firestop system is chosen."""


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
        words += [hole for row in passing if (hole := _hole(document, row))]
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
        yield from (one.words for one in sleeves_for(across, load, sizes_sold(project)))


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
