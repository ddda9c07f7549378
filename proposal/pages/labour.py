"""Labour: hours by trade and phase, by room and system, and line by line."""

from collections.abc import Sequence
from decimal import Decimal
from typing import ClassVar

from proposal.document.rows.labour import (
    ConditionRow,
    HoursSum,
    LabourRow,
    OvertimeRow,
    PhaseHours,
    RoomHours,
    SystemHours,
    TradeHoursRow,
    TradeRow,
    TravelRow,
)
from proposal.field_classes import dataclass
from proposal.pages import paths
from proposal.pages.markdown import Html, text
from proposal.pages.page_context import PageContext
from proposal.pages.phrases import capital
from proposal.pages.schedule_parts import SchedulePart, labour_parts, links_to_parts
from proposal.pages.schedule_table import Field, fields_of, grouped, schedule
from proposal.quantities import formatting

NOTHING = Decimal(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class LabourPage:
    """All hours together, by phase and trade, by room and by system, and what they rest on.

    total: all hours, in words.
    overtime, travel, conditions: None where there is nothing of it.
    lines: link to the lines.
    """

    template: ClassVar[str] = "labour.md.jinja"
    total: Html
    summary: Html
    overtime: Html | None
    travel: Html | None
    phases: Html
    rooms: Html
    systems: Html
    trades: Html
    conditions: Html | None
    lines: Html


def labour_page(here: PageContext) -> LabourPage:
    """Return the page of labour as it is charged."""
    document = here.document
    total = document.labour_hours or NOTHING
    return LabourPage(
        total=text(f"{formatting.number(total, here.cover.locale, 2)} h"),
        summary=_summary(here),
        overtime=_overtime(here) if document.overtime else None,
        travel=_travel(here) if document.travel else None,
        phases=_sums(here, "Hours by phase", PhaseHours, document.hours_by_phase),
        rooms=_sums(here, "Hours by room", RoomHours, document.hours_by_room),
        systems=_sums(here, "Hours by system", SystemHours, document.hours_by_system),
        trades=_trades(here),
        conditions=_conditions(here) if document.labour_conditions else None,
        lines=here.to(paths.LABOUR_LINES, "Every line of labour"),
    )


def _summary(here: PageContext) -> Html:
    rows = here.document.labour_summary
    fields: list[Field[TradeHoursRow]] = [
        *fields_of(
            here,
            TradeHoursRow,
            "phase",
            "trade",
            "line_hours",
            "call_hours",
            "hours",
            "overtime_hours",
            "person_days",
            *(("hours_a_day",) if any(row.hours_a_day is not None for row in rows) else ()),
            "cost",
            "price",
            "factors",
        ),
    ]
    return schedule("Hours by phase and trade", fields, rows, total="All", row_heads=2)


def _overtime(here: PageContext) -> Html:
    fields: list[Field[OvertimeRow]] = [
        *fields_of(here, OvertimeRow, "work", "phase", "trade", "rooms", "share", "hours"),
    ]
    caption = "Outside normal working time, for which the premium is paid"
    return schedule(caption, fields, here.document.overtime, total="All", row_heads=3)


def _travel(here: PageContext) -> Html:
    rows = here.document.travel
    fields: list[Field[TravelRow]] = [
        *fields_of(here, TravelRow, "trade", "days", "hours", "cost", "price"),
    ]
    return schedule("Coming to site, by trade", fields, rows, total="All")


def _sums(here: PageContext, caption: str, part: type[HoursSum], rows: Sequence[HoursSum]) -> Html:
    fields: list[Field[HoursSum]] = [
        *fields_of(here, part, "key", "hours", "share"),
    ]
    return schedule(caption, fields, rows, total="All")


def _trades(here: PageContext) -> Html:
    rows = here.document.trades
    fields: list[Field[TradeRow]] = [
        *fields_of(here, TradeRow, "trade", "crew", "minimum_call_hours", "hours", "cost", "selling"),
        *fields_of(here, TradeRow, "rule", "rule_value", "source"),
    ]
    return schedule("Trades", fields, rows, total="All")


def _conditions(here: PageContext) -> Html:
    fields: list[Field[ConditionRow]] = [
        *fields_of(here, ConditionRow, "name", "scope", "addition", "effect", "phases", "source"),
    ]
    return schedule("What makes work slower or quicker", fields, here.document.labour_conditions)


@dataclass(frozen=True, slots=True, kw_only=True)
class LabourLinesPage:
    """Every line of labour, a table a phase, or where to find those of each storey.

    phases: name of the phase and its lines.
    parts: of many lines, the way to the page of each part and how many stand there.
    """

    template: ClassVar[str] = "labour-lines.md.jinja"
    summary: Html
    phases: tuple[tuple[Html, Html], ...]
    parts: tuple[Html, ...]


def labour_lines_page(here: PageContext) -> LabourLinesPage:
    """Return the page of all lines of labour."""
    document = here.document
    links = links_to_parts(
        labour_parts(document),
        paths.LABOUR_LINES,
        here.to,
        lambda lines: formatting.count_of(len(lines), "line"),
    )
    return LabourLinesPage(
        summary=here.to(paths.LABOUR, "labour by phase and trade"),
        phases=() if links else _phases(here, document.labour),
        parts=links,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class LabourLinesPartPage:
    """The lines of labour of one storey, or a numbered part of them, a table a phase."""

    template: ClassVar[str] = "labour-lines-part.md.jinja"
    title: Html
    overview: Html
    phases: tuple[tuple[Html, Html], ...]


def labour_lines_part_page(here: PageContext, part: SchedulePart[LabourRow]) -> LabourLinesPartPage:
    """Return the page of a part of the lines of labour.

    part: the lines that stand on it.
    """
    return LabourLinesPartPage(
        title=text(part.title),
        overview=here.to(paths.LABOUR_LINES, "How hours are counted, and all lines"),
        phases=_phases(here, part.rows),
    )


def _phases(here: PageContext, lines: Sequence[LabourRow]) -> tuple[tuple[Html, Html], ...]:
    by_phase = grouped(lines, lambda row: row.phase)
    return tuple((text(capital(phase)), _lines(here, phase, rows)) for phase, rows in by_phase.items())


def _lines(here: PageContext, phase: str, rows: Sequence[LabourRow]) -> Html:
    fields: list[Field[LabourRow]] = [
        *fields_of(
            here, LabourRow, "number", "room", "task", "trade", "model", "units", "unit", "hours_a_unit"
        ),
        *fields_of(here, LabourRow, "pulled_together", "additions"),
        *fields_of(here, LabourRow, "hours", "charged_hours", "storey", "system", "causes"),
    ]
    return schedule(
        f"Labour, {phase}",
        fields,
        rows,
        identity=lambda row: row.number,
        total="Sum",
        mark=here.mark("labour"),
    )
