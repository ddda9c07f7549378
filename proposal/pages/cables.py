"""Cables: totals and runs for everyone, the schedule of every cable for those who see it."""

from collections.abc import Sequence
from typing import ClassVar

from proposal.document.rows.cable_types import CableTypeRow
from proposal.document.rows.cabling import CableRow, CableTotal, RiserLine
from proposal.field_classes import dataclass
from proposal.pages import paths
from proposal.pages.markdown import Html, text
from proposal.pages.page_context import PageContext
from proposal.pages.part_page import PartPage, part_page
from proposal.pages.prose import prose_of
from proposal.pages.schedule_parts import SchedulePart, cable_parts, links_to_parts, run_parts
from proposal.pages.schedule_table import Field, fields_of, schedule
from proposal.quantities import formatting


@dataclass(frozen=True, slots=True, kw_only=True)
class CablesPage:
    """How much cable of which type, and from where to where it runs.

    run_parts: of many runs, the way to the page of each part and how many cables run there.
    """

    template: ClassVar[str] = "cables.md.jinja"
    prose: Html | None
    totals: Html
    runs: Html | None
    run_parts: tuple[Html, ...]
    types: Html | None
    every_cable: Html | None


def cables_page(here: PageContext) -> CablesPage:
    """Return the page of cable totals and runs."""
    document = here.document
    links = links_to_parts(
        run_parts(document),
        paths.CABLE_RUNS,
        here.to,
        lambda rows: formatting.count_of(sum(row.count for row in rows), "cable"),
    )
    return CablesPage(
        prose=prose_of(document, "cables", here.path),
        totals=_totals(here),
        runs=None if links else _runs(here, document.riser_lines),
        run_parts=links,
        types=_types(here) if document.cable_types else None,
        every_cable=here.to(paths.CABLE_SCHEDULE, "Every cable with its two ends")
        if document.cables
        else None,
    )


def cable_runs_page(here: PageContext, part: SchedulePart[RiserLine]) -> PartPage:
    """Return the page of a part of the runs.

    part: the runs that stand on it.
    """
    whole = paths.CABLES, "Cable totals and runs"
    return part_page(here, f"Cable runs, {part.title}", whole, _runs(here, part.rows))


def _totals(here: PageContext) -> Html:
    rows = here.document.cable_totals
    fields: list[Field[CableTotal]] = [
        *fields_of(here, CableTotal, "description", "type", "count", "length_m"),
    ]
    return schedule(
        "Cable of each type, slack included",
        fields,
        rows,
        mark=here.mark("cable_totals"),
        total="All cable",
    )


def _types(here: PageContext) -> Html:
    fields: list[Field[CableTypeRow]] = [
        *fields_of(here, CableTypeRow, "type", "description", "cores", "core", "colour", "jacket"),
        *fields_of(here, CableTypeRow, "diameter_m", "rest_radius_m", "pull_radius_m", "pull_n"),
        *fields_of(here, CableTypeRow, "propagation", "loss_db_per_km"),
        *fields_of(here, CableTypeRow, "label", "label_width_m", "label_height_m"),
    ]
    return schedule(
        "What to know of each type of cable and cord",
        fields,
        here.document.cable_types,
        mark=here.mark("cable_types"),
    )


def _runs(here: PageContext, rows: Sequence[RiserLine]) -> Html:
    fields: list[Field[RiserLine]] = [
        *fields_of(
            here, RiserLine, "room", "end", "signal", "description", "count", "shortest_m", "longest_m"
        ),
    ]
    return schedule(
        "How many cables run from where to where",
        fields,
        rows,
        row_heads=2,
        mark=here.mark("riser_lines"),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class CableSchedulePage:
    """Every cable, a line each, a table a storey, or where to find each storey.

    storeys: name of the storey on which the devices stand, what its cables add up to, and their schedule.
    parts: of a long schedule, the way to the page of each part and what its cables add up to.
    """

    template: ClassVar[str] = "cable-schedule.md.jinja"
    totals: Html
    storeys: tuple[tuple[Html, Html, Html], ...]
    parts: tuple[Html, ...]


def cable_schedule_page(here: PageContext) -> CableSchedulePage:
    """Return the schedule of every cable.

    here: the page and what it shows.
    """
    parts = cable_parts(here.document)
    links = links_to_parts(parts, paths.CABLE_SCHEDULE, here.to, lambda rows: _sum_of(here, rows))
    whole = () if links else parts
    return CableSchedulePage(
        totals=here.to(paths.CABLES, "Cable totals and runs"),
        storeys=tuple(
            (text(part.title), text(_sum_of(here, part.rows)), _cables(here, part)) for part in whole
        ),
        parts=links,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class CableSchedulePartPage:
    """The cables from devices of one storey, or a numbered part of them, and what they add up to."""

    template: ClassVar[str] = "cable-schedule-part.md.jinja"
    title: Html
    overview: Html
    sum: Html
    cables: Html


def cable_schedule_part_page(here: PageContext, part: SchedulePart[CableRow]) -> CableSchedulePartPage:
    """Return the page of a part of the cable schedule.

    here: the page and what it shows.
    part: the cables that stand on it.
    """
    return CableSchedulePartPage(
        title=text(part.title),
        overview=here.to(paths.CABLE_SCHEDULE, "All storeys"),
        sum=text(_sum_of(here, part.rows)),
        cables=_cables(here, part),
    )


def _sum_of(here: PageContext, cables: tuple[CableRow, ...]) -> str:
    length = here.quantity(sum(row.length_m for row in cables), "length")
    failing = sum(row.verdict == "fails" for row in cables)
    over = f"; {failing} over the limit" if failing else ""
    return f"{formatting.count_of(len(cables), 'cable')}, together {length}{over}."


def _cables(here: PageContext, part: SchedulePart[CableRow]) -> Html:
    fields: list[Field[CableRow]] = [
        *fields_of(
            here,
            CableRow,
            "identity",
            "verdict",
            "room",
            "signal",
            "from_tag",
            "from_port",
            "from_connector",
            "from_panel",
            "to_tag",
            "to_port",
            "to_connector",
            "to_storey",
            "type",
            "description",
            "jacket",
            "pathways",
            "route",
            "rises_at",
            "comes_down_at",
            "first_run_m",
            "last_run_m",
            "floor_m",
            "estimated_m",
            "slack_m",
            "length_from",
            "length_m",
            "cords_m",
            "channel_m",
            "limit_m",
            "margin_m",
            "temperature_c",
            "measured_on_site",
            "tested",
        ),
    ]
    return schedule(
        f"Cables from {part.title}",
        fields,
        part.rows,
        identity=lambda row: row.identity,
        mark=here.mark("cables"),
    )
