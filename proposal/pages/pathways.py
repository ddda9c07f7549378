"""Pathways and conduits: what lies in each, how full it is, and how cables are pulled through."""

from dataclasses import dataclass
from typing import ClassVar

from proposal.document import formatting
from proposal.document.pathway_rows import ContentRow, NodeRow, PathwayRow, PullRow
from proposal.pages.here import Here, verdict
from proposal.pages.markdown import Cell, Column, Html, join, text
from proposal.pages.phrases import capital
from proposal.pages.schedule import Field, schedule

FARTHEST_PULL_M = 30.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PathwaysPage:
    """Every pathway, what lies in each, conduits as cables are pulled through them, and nodes.

    contents: None where no cable takes a pathway.
    conduits: which cables lie in each conduit and sleeve; None where there are none.
    farthest: how far pull points should stand apart at most (TIA-569).
    pulls: None where the building has no conduit with cables.
    sections: links to the drawings of the fullest conduits, None where there are none.
    """

    template: ClassVar[str] = "pathways.md.jinja"
    pathways: Html
    contents: Html | None
    conduits: Html | None
    pulls: Html | None
    farthest: Html
    sections: Html | None
    nodes: Html


def pathways_page(here: Here) -> PathwaysPage:
    """Return the page of pathways and conduits."""
    document = here.document
    sections = [
        here.drawing(sheet.number, f"{sheet.number} {sheet.title}")
        for sheet in document.detail_sheets
        if sheet.kind == "conduit sections"
    ]
    return PathwaysPage(
        pathways=_pathways(here),
        contents=_contents(here) if document.pathway_contents else None,
        conduits=_conduits(here),
        pulls=_pulls(here) if document.pulls else None,
        farthest=text(here.short_quantity(FARTHEST_PULL_M, "length")),
        sections=join(sections, ", ") if sections else None,
        nodes=_nodes(here),
    )


def size_words(row: PathwayRow, units: str, locale: str) -> str:
    """Return the size of a pathway: trade size, width and depth of a tray, or model of its hooks."""
    name = f"trade size {row.size}" if row.internal_diameter_m is not None else row.size
    sides = [
        formatting.short_quantity(value, "short_length", units, locale)
        for value in (row.width_m, row.depth_m)
        if value is not None
    ]
    return ", ".join(part for part in (name, " × ".join(sides)) if part)


def _pathways(here: Here) -> Html:
    cover = here.cover

    def share(value: float | None) -> Cell | None:
        return here.cell(value, "fraction")

    def length(title: str) -> Column:
        return Column(title, numeric=True, unit=here.unit("length"))

    percent = here.unit("fraction")
    fields: list[Field[PathwayRow]] = [
        Field("Pathway", lambda row: row.tag),
        Field("Verdict", lambda row: verdict(row.verdict)),
        Field("Kind", lambda row: capital(row.kind)),
        Field("From", lambda row: f"{row.from_node} ({row.from_storey})"),
        Field("To", lambda row: f"{row.to_node} ({row.to_storey})"),
        Field("Space", lambda row: row.space),
        Field(
            Column("Air", numeric=True, unit=here.unit("temperature")),
            lambda row: here.cell(row.temperature_c, "temperature"),
        ),
        Field(length("Length"), lambda row: here.cell(row.length_m, "length")),
        Field("Size", lambda row: size_words(row, cover.units, cover.locale)),
        Field(
            Column("Inside", numeric=True, unit=here.unit("short_length")),
            lambda row: here.cell(row.internal_diameter_m, "short_length"),
        ),
        Field("Size from", lambda row: ("program" if row.chosen else "designer") if row.size else ""),
        Field(Column("Cables", numeric=True), lambda row: here.count(len(row.cables))),
        Field(Column("With power", numeric=True), lambda row: here.count(row.powered or None)),
        Field(Column("Filled", numeric=True, unit=percent), lambda row: share(row.fill)),
        Field(Column("Limit", numeric=True, unit=percent), lambda row: share(row.limit)),
        Field(Column("Room for", numeric=True), lambda row: here.count(row.spare)),
        Field(
            Column("Jam ratio", numeric=True),
            lambda row: None if row.jam_ratio is None else here.figure(row.jam_ratio, "-"),
        ),
        Field("Bends", lambda row: ", ".join(here.quantity(bend, "angle") for bend in row.bends)),
        Field(
            Column("Radius", numeric=True, unit=here.unit("short_length")),
            lambda row: here.cell(row.radius_m, "short_length"),
        ),
        Field(Column("Pull points", numeric=True), lambda row: here.count(row.pull_points or None)),
    ]
    return schedule(
        "Pathways, in order of tags",
        fields,
        here.document.pathways,
        identity=lambda row: row.tag,
        mark=here.mark("pathways"),
    )


def _contents(here: Here) -> Html:
    fields: list[Field[ContentRow]] = [
        Field("Pathway", lambda row: here.tag(row.pathway)),
        Field("Signal", lambda row: capital(row.signal)),
        Field("Cable", lambda row: here.model(row.type)),
        Field(Column("Cables", numeric=True), lambda row: here.count(row.count)),
        Field(
            Column("Outside diameter", numeric=True, unit=here.unit("short_length")),
            lambda row: here.cell(row.diameter_m, "short_length"),
        ),
    ]
    return schedule(
        "Cables of each type in each pathway",
        fields,
        here.document.pathway_contents,
        row_heads=2,
        mark=here.mark("pathway_contents"),
    )


def _conduits(here: Here) -> Html | None:
    """Return which cables lie in each piece of tubing; which trays a cable takes the cable schedule tells."""
    rows = [row for row in here.document.pathways if row.internal_diameter_m is not None and row.cables]
    fields: list[Field[PathwayRow]] = [
        Field("Conduit", lambda row: here.tag(row.tag)),
        Field(Column("Cables", numeric=True), lambda row: here.count(len(row.cables))),
        Field("Which", lambda row: here.tags(row.cables)),
    ]
    return schedule("Cables in conduits and sleeves", fields, rows) if rows else None


def _nodes(here: Here) -> Html:
    def length(title: str) -> Column:
        return Column(title, numeric=True, unit=here.unit("length"))

    fields: list[Field[NodeRow]] = [
        Field("Node", lambda row: row.tag),
        Field("Kind", lambda row: capital(row.kind)),
        Field("Storey", lambda row: here.tag(row.storey)),
        Field(length("East"), lambda row: here.cell(row.at[0], "length")),
        Field(length("North"), lambda row: here.cell(row.at[1], "length")),
        Field(length("Above the floor"), lambda row: here.cell(row.height_m, "length")),
    ]
    return schedule("Nodes, from the building's origin", fields, here.document.nodes, mark=here.mark("nodes"))


def _pulls(here: Here) -> Html:
    def newtons(title: str) -> Column:
        return Column(title, numeric=True, unit=here.unit("force"))

    fields: list[Field[PullRow]] = [
        Field("Conduits", lambda row: here.tags(row.conduits)),
        Field("Verdict", lambda row: verdict(row.verdict)),
        Field("From", lambda row: row.from_node),
        Field("To", lambda row: row.to_node),
        Field(Column("Cables", numeric=True), lambda row: here.count(row.cables)),
        Field(
            Column("Length", numeric=True, unit=here.unit("length")),
            lambda row: here.cell(row.length_m, "length"),
        ),
        Field(Column("Bends", numeric=True, unit="°"), lambda row: here.cell(row.degrees, "angle")),
        Field(Column("Pull points", numeric=True), lambda row: here.count(row.pull_points)),
        Field(Column("Better with", numeric=True), lambda row: here.count(row.wanted_points)),
        Field(
            Column("Most bends of a pull", numeric=True, unit="°"),
            lambda row: here.cell(row.worst_degrees, "angle"),
        ),
        Field(
            Column("Longest pull", numeric=True, unit=here.unit("length")),
            lambda row: here.cell(row.longest_m, "length"),
        ),
        Field(newtons("Tension"), lambda row: here.cell(row.tension_n, "force")),
        Field(newtons("Cables bear"), lambda row: here.cell(row.tension_limit_n, "force")),
    ]
    return schedule(
        "Conduits as cables are pulled through them", fields, here.document.pulls, mark=here.mark("pulls")
    )
