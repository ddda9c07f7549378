"""Pathways and conduits: what lies in each, how full it is, and how cables are pulled through."""

from collections.abc import Sequence
from typing import ClassVar

from proposal.document.rows.pathways import ContentRow, NodeRow, PathwayRow, PenetrationRow, PullRow
from proposal.document.rows.rooms import StoreyRow
from proposal.document.rows.sheets import CONDUIT_SECTIONS
from proposal.field_classes import dataclass
from proposal.pages import paths
from proposal.pages.drawing_pages import sheets_of_kind
from proposal.pages.markdown import Html, join, text
from proposal.pages.page_context import PageContext
from proposal.pages.part_page import PartPage, part_page
from proposal.pages.schedule_parts import SchedulePart, links_to_parts, pathway_parts
from proposal.pages.schedule_table import Field, fields_of, schedule
from proposal.pages.tables import Column
from proposal.quantities.formatting import count_of

FARTHEST_PULL_M = 30.0
HIGHEST_RISE_K = 15.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PathwaysPage:
    """Every pathway, what lies in each, conduits as cables are pulled through them, and nodes.

    parts: of many pathways, the way to the page of each part and how many stand there.
    contents: None where no cable takes a pathway.
    conduits: which cables lie in each conduit and sleeve; None where there are none.
    farthest: how far pull points should stand apart at most (TIA-569).
    warmest: by how much power over Ethernet may warm a bundle at most (TIA TSB-184-A).
    pulls: None where the building has no conduit with cables.
    penetrations: openings through rated walls and floors; None where there are none.
    walls: sleeves and holes in walls; None where there are none.
    sections: links to the drawings of the fullest conduits, None where there are none.
    """

    template: ClassVar[str] = "pathways.md.jinja"
    pathways: Html | None
    parts: tuple[Html, ...]
    contents: Html | None
    conduits: Html | None
    pulls: Html | None
    farthest: Html
    warmest: Html
    sections: Html | None
    penetrations: Html | None
    walls: Html | None
    nodes: Html


def pathways_page(here: PageContext) -> PathwaysPage:
    """Return the page of pathways and conduits."""
    document = here.document
    sections = [
        here.drawing(sheet.number, f"{sheet.number} {sheet.title}")
        for sheet in sheets_of_kind(document, CONDUIT_SECTIONS)
    ]
    links = links_to_parts(
        pathway_parts(document), paths.PATHWAY_LIST, here.to, lambda rows: count_of(len(rows), "pathway")
    )
    return PathwaysPage(
        pathways=None if links else _pathways(here, document.pathways),
        parts=links,
        contents=_contents(here) if document.pathway_contents else None,
        conduits=_conduits(here),
        pulls=_pulls(here) if document.pulls else None,
        farthest=text(here.short_quantity(FARTHEST_PULL_M, "length")),
        warmest=text(here.short_quantity(HIGHEST_RISE_K, "temperature_rise")),
        sections=join(sections, ", ") if sections else None,
        penetrations=_penetrations(here) if document.penetrations else None,
        walls=_walls(here) if any(row.wall_sleeves for row in document.storeys) else None,
        nodes=_nodes(here),
    )


def pathways_part_page(here: PageContext, part: SchedulePart[PathwayRow]) -> PartPage:
    """Return the page of a part of the pathways.

    part: the pathways that stand on it.
    """
    whole = paths.PATHWAYS, "Pathways and conduits"
    return part_page(here, f"Pathways, {part.title}", whole, _pathways(here, part.rows))


def _pathways(here: PageContext, rows: Sequence[PathwayRow]) -> Html:
    fields: list[Field[PathwayRow]] = [
        *fields_of(here, PathwayRow, "tag", "verdict", "kind", "begins_at", "ends_at", "space"),
        *fields_of(here, PathwayRow, "temperature_c", "drops_at", "length_m", "size", "spacing_m", "tray"),
        *fields_of(here, PathwayRow, "width_m", "depth_m"),
        *fields_of(
            here,
            PathwayRow,
            "internal_diameter_m",
            "outside_diameter_m",
            "size_from",
            "existing",
            "straight",
            "divided",
            "barrier",
        ),
        *fields_of(here, PathwayRow, "owner_cables"),
        Field(Column(here.heading("cables"), numeric=True), lambda row: here.count(len(row.cables))),
        *fields_of(
            here,
            PathwayRow,
            "powered",
            "tied",
            "rise_k",
            "fill",
            "limit",
            "spare",
            "jam_ratio",
            "bends",
            "radius_m",
            "pull_points",
        ),
    ]
    return schedule(
        "Pathways, in order of tags",
        fields,
        rows,
        identity=lambda row: row.tag,
        mark=here.mark("pathways"),
    )


def _contents(here: PageContext) -> Html:
    fields: list[Field[ContentRow]] = [
        *fields_of(here, ContentRow, "pathway", "signal", "type", "count", "diameter_m"),
    ]
    return schedule(
        "Cables of each type in each pathway",
        fields,
        here.document.pathway_contents,
        row_heads=2,
        mark=here.mark("pathway_contents"),
    )


def _conduits(here: PageContext) -> Html | None:
    """Return which cables lie in each piece of tubing; which trays a cable takes the cable schedule tells."""
    rows = [row for row in here.document.pathways if row.internal_diameter_m is not None and row.cables]
    fields: list[Field[PathwayRow]] = [
        *fields_of(here, PathwayRow, "tag"),
        Field(Column(here.heading("cables"), numeric=True), lambda row: here.count(len(row.cables))),
        *fields_of(here, PathwayRow, "cables"),
    ]
    return schedule("Cables in conduits and sleeves", fields, rows) if rows else None


def _nodes(here: PageContext) -> Html:
    fields: list[Field[NodeRow]] = [
        *fields_of(here, NodeRow, "tag", "kind", "storey", "at", "height_m", "box"),
    ]
    return schedule("Nodes, from the building's origin", fields, here.document.nodes, mark=here.mark("nodes"))


def _pulls(here: PageContext) -> Html:

    fields: list[Field[PullRow]] = [
        *fields_of(
            here,
            PullRow,
            "conduits",
            "verdict",
            "from_node",
            "to_node",
            "cables",
            "length_m",
            "degrees",
            "pull_points",
            "wanted_points",
            "worst_degrees",
            "longest_m",
            "tension_n",
            "tension_limit_n",
        ),
    ]
    return schedule(
        "Conduits as cables are pulled through them", fields, here.document.pulls, mark=here.mark("pulls")
    )


def _walls(here: PageContext) -> Html:
    fields: list[Field[StoreyRow]] = [*fields_of(here, StoreyRow, "tag", "wall_sleeves")]
    rows = tuple(row for row in here.document.storeys if row.wall_sleeves)
    return schedule("Sleeves and holes in walls", fields, rows)


def _penetrations(here: PageContext) -> Html:
    fields: list[Field[PenetrationRow]] = [
        *fields_of(here, PenetrationRow, "tag", "pathway", "crosses", "fire_rating", "storey", "kind"),
        *fields_of(
            here, PenetrationRow, "size", "width_m", "depth_m", "cables", "sleeves", "closed", "closed_by"
        ),
    ]
    return schedule(
        "Openings through rated walls and floors, in order of pathways",
        fields,
        here.document.penetrations,
        identity=lambda row: row.tag,
        mark=here.mark("penetrations"),
    )
