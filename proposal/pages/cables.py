"""Cables: totals and runs for everyone, the schedule of every cable for those who see it."""

from dataclasses import dataclass
from typing import ClassVar

from proposal.document import formatting
from proposal.document.rows import CableRow, CableTotal, RiserLine
from proposal.pages import here as paths
from proposal.pages.here import Here, verdict
from proposal.pages.markdown import Cell, Column, Html, text
from proposal.pages.phrases import capital
from proposal.pages.prose import prose_of
from proposal.pages.schedule import Field, grouped, schedule


@dataclass(frozen=True, slots=True, kw_only=True)
class CablesPage:
    """How much cable of which type, and from where to where it runs."""

    template: ClassVar[str] = "cables.md.jinja"
    prose: Html | None
    totals: Html
    runs: Html
    every_cable: Html | None


def cables_page(here: Here) -> CablesPage:
    """Return the page of cable totals and runs."""
    document = here.document
    return CablesPage(
        prose=prose_of(document, "cables", here.path),
        totals=_totals(here),
        runs=_runs(here),
        every_cable=here.to(paths.CABLE_SCHEDULE, "Every cable with its two ends")
        if document.cables
        else None,
    )


def _totals(here: Here) -> Html:
    rows = here.document.cable_totals
    length_m = sum(row.length_m for row in rows)
    fields: list[Field[CableTotal]] = [
        Field("Cable", lambda row: row.description),
        Field("Model", lambda row: here.model(row.type)),
        Field(Column("Cables", numeric=True), lambda row: here.count(row.count)),
        Field(
            Column("Length", numeric=True, unit=here.unit("length")),
            lambda row: here.cell(row.length_m, "length"),
        ),
    ]
    return schedule(
        "Cable of each type, slack included",
        fields,
        rows,
        mark=here.mark("cable_totals"),
        totals={
            "Cable": "All cable",
            "Cables": here.count(sum(row.count for row in rows)),
            "Length": here.cell(length_m, "length"),
        },
    )


def _runs(here: Here) -> Html:
    fields: list[Field[RiserLine]] = [
        Field("Room", lambda row: here.tag(row.room)),
        Field("Ends in", lambda row: here.tag(row.end)),
        Field("Signal", lambda row: capital(row.signal)),
        Field("Cable", lambda row: row.description),
        Field(Column("Cables", numeric=True), lambda row: here.count(row.count)),
        Field(
            Column("Shortest", numeric=True, unit=here.unit("length")),
            lambda row: here.cell(row.shortest_m, "length"),
        ),
        Field(
            Column("Longest", numeric=True, unit=here.unit("length")),
            lambda row: here.cell(row.longest_m, "length"),
        ),
    ]
    return schedule(
        "How many cables run from where to where",
        fields,
        here.document.riser_lines,
        row_heads=2,
        mark=here.mark("riser_lines"),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class CableSchedulePage:
    """Every cable, a line each, a table a storey.

    storeys: name of the storey on which the devices stand, what its cables add up to, and their schedule.
    """

    template: ClassVar[str] = "cable-schedule.md.jinja"
    totals: Html
    storeys: tuple[tuple[Html, Html, Html], ...]


def cable_schedule_page(here: Here) -> CableSchedulePage:
    """Return the schedule of every cable."""
    document = here.document
    by_storey = grouped(document.cables, lambda row: row.from_storey)
    names = {row.tag: f"{row.tag} {row.name}" for row in document.storeys}
    known = [row.tag for row in document.storeys if row.tag in by_storey]
    others = [tag for tag in by_storey if tag not in names]
    return CableSchedulePage(
        totals=here.to(paths.CABLES, "Cable totals and runs"),
        storeys=tuple(
            (
                text(names.get(tag, tag)),
                text(_sum_of(here, by_storey[tag])),
                _cables(here, names.get(tag, tag), by_storey[tag]),
            )
            for tag in (*known, *others)
        ),
    )


def _sum_of(here: Here, cables: tuple[CableRow, ...]) -> str:
    length = here.quantity(sum(row.length_m for row in cables), "length")
    failing = sum(row.verdict == "fails" for row in cables)
    over = f"; {failing} over the limit" if failing else ""
    return f"{formatting.count_of(len(cables), 'cable')}, together {length}{over}."


def _cables(here: Here, storey: str, cables: tuple[CableRow, ...]) -> Html:
    def length(title: str) -> Column:
        return Column(title, numeric=True, unit=here.unit("length"))

    def metres(value: float | None) -> Cell | None:
        return here.cell(value, "length")

    fields: list[Field[CableRow]] = [
        Field("Cable", lambda row: row.identity),
        Field("Verdict", lambda row: verdict(row.verdict)),
        Field("Room", lambda row: here.tag(row.room)),
        Field("Signal", lambda row: capital(row.signal)),
        Field("From", lambda row: here.tag(row.from_tag)),
        Field("From port", lambda row: row.from_port),
        Field("From connector", lambda row: row.from_connector),
        Field("To", lambda row: here.tag(row.to_tag)),
        Field("To port", lambda row: row.to_port),
        Field("To connector", lambda row: row.to_connector),
        Field("To storey", lambda row: here.tag(row.to_storey)),
        Field("Type", lambda row: here.model(row.type)),
        Field("Description", lambda row: row.description),
        Field("Jacket", lambda row: row.jacket),
        Field("Pathways", lambda row: here.tags(row.pathways)),
        Field("Route", lambda row: row.route),
        Field(length("Routed"), lambda row: metres(row.estimated_m)),
        Field(length("Slack"), lambda row: metres(row.slack_m)),
        Field("Length from", lambda row: "measured" if row.measured else "estimate"),
        Field(length("Permanent link"), lambda row: metres(row.length_m)),
        Field(length("Cords"), lambda row: metres(row.cords_m)),
        Field(length("Channel"), lambda row: metres(row.channel_m)),
        Field(length("Limit of the link"), lambda row: metres(row.limit_m)),
        Field(length("Margin"), lambda row: metres(row.margin_m)),
        Field(
            Column("Temperature", numeric=True, unit=here.unit("temperature")),
            lambda row: here.cell(row.temperature_c, "temperature"),
        ),
        Field("Measured on site", lambda row: None, keep=True),
        Field("Tested by, date", lambda row: None, keep=True),
    ]
    return schedule(
        f"Cables from {storey}", fields, cables, identity=lambda row: row.identity, mark=here.mark("cables")
    )
