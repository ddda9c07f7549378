"""Labour: hours by trade and phase, by room and system, and line by line."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import ClassVar

from proposal.document.rows.labour import (
    ConditionRow,
    HoursSum,
    LabourRow,
    TradeHoursRow,
    TradeRow,
    TravelRow,
)
from proposal.pages import here as paths
from proposal.pages.here import Here
from proposal.pages.markdown import Cell, Column, Html, join, text
from proposal.pages.phrases import capital
from proposal.pages.schedule import Field, fields_of, grouped, schedule
from proposal.quantities import formatting

NOTHING = Decimal(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class LabourPage:
    """All hours together, by phase and trade, by room and by system, and what they rest on.

    total: all hours, in words.
    travel, conditions: None where there is nothing of it.
    lines: link to the lines.
    """

    template: ClassVar[str] = "labour.md.jinja"
    total: Html
    summary: Html
    travel: Html | None
    phases: Html
    rooms: Html
    systems: Html
    trades: Html
    conditions: Html | None
    lines: Html


def labour_page(here: Here) -> LabourPage:
    """Return the page of labour as it is charged."""
    document = here.document
    total = document.labour_hours or NOTHING
    return LabourPage(
        total=text(f"{formatting.number(total, here.cover.locale, 2)} h"),
        summary=_summary(here),
        travel=_travel(here) if document.travel else None,
        phases=_sums(here, "Hours by phase", "Phase", document.hours_by_phase, tags=False),
        rooms=_sums(here, "Hours by room", "Room", document.hours_by_room, tags=True),
        systems=_sums(here, "Hours by system", "System", document.hours_by_system, tags=False),
        trades=_trades(here),
        conditions=_conditions(here) if document.labour_conditions else None,
        lines=here.to(paths.LABOUR_LINES, "Every line of labour"),
    )


def _hours(title: str) -> Column:
    return Column(title, numeric=True, unit="h")


def _summary(here: Here) -> Html:
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
            "cost",
            "price",
        ),
        Field("Factors", lambda row: _factors(here, row.factors)),
    ]
    return schedule("Hours by phase and trade", fields, rows, total="All", row_heads=2)


def _factors(here: Here, factors: Sequence[tuple[str, Decimal]]) -> Cell | None:
    """Return the factors of the whole project in words; the first decides the order."""
    if not factors:
        return None
    words = (f"{name} × {formatting.short_number(factor, here.cover.locale, 4)}" for name, factor in factors)
    return Cell(", ".join(words), float(factors[0][1]))


def _travel(here: Here) -> Html:
    rows = here.document.travel
    fields: list[Field[TravelRow]] = [
        *fields_of(here, TravelRow, "trade", "days", "hours", "cost", "price"),
    ]
    return schedule("Coming to site, by trade", fields, rows, total="All")


def _sums(here: Here, caption: str, title: str, rows: Sequence[HoursSum], *, tags: bool) -> Html:
    def name(row: HoursSum) -> object:
        if not tags:
            return capital(row.key)
        return here.tag(row.key, here.room_name(row.key)) if row.key else "Building"

    whole = sum((row.hours for row in rows), NOTHING)
    fields: list[Field[HoursSum]] = [
        Field(title, name),
        *fields_of(here, HoursSum, "hours"),
        Field(
            Column("Share", numeric=True),
            lambda row: here.share(formatting.rounded(row.hours / whole, 3)) if whole else None,
        ),
    ]
    return schedule(caption, fields, rows, total="All")


def _trades(here: Here) -> Html:
    rows = here.document.trades
    fields: list[Field[TradeRow]] = [
        *fields_of(here, TradeRow, "trade", "crew", "minimum_call_hours", "hours", "cost", "selling"),
        Field("By", lambda row: rule_words(here, row.rule, row.rule_value) if row.rule else None),
        *fields_of(here, TradeRow, "source"),
    ]
    return schedule("Trades", fields, rows, total="All")


def rule_words(here: Here, rule: str, value: Decimal | None) -> Cell:
    """Return how a cost becomes a price, in words, as a cell that sorts by the size of the rule."""
    if value is None:
        return Cell(rule, rule)
    if rule == "stated":
        return Cell("as stated", float(value))
    if rule == "rate":
        amount = formatting.unit_money(value, here.cover.currency, here.cover.locale)
        return Cell(f"rate {amount}", float(value))
    return Cell(f"{rule} {formatting.percentage(value, here.cover.locale)}", float(value))


def _conditions(here: Here) -> Html:
    fields: list[Field[ConditionRow]] = [
        *fields_of(here, ConditionRow, "name", "scope", "addition", "effect", "phases", "source"),
    ]
    return schedule("What makes work slower or quicker", fields, here.document.labour_conditions)


@dataclass(frozen=True, slots=True, kw_only=True)
class LabourLinesPage:
    """Every line of labour, a table a phase.

    phases: name of the phase and its lines.
    """

    template: ClassVar[str] = "labour-lines.md.jinja"
    summary: Html
    phases: tuple[tuple[Html, Html], ...]


def labour_lines_page(here: Here) -> LabourLinesPage:
    """Return the page of all lines of labour."""
    by_phase = grouped(here.document.labour, lambda row: row.phase)
    return LabourLinesPage(
        summary=here.to(paths.LABOUR, "labour by phase and trade"),
        phases=tuple((text(capital(phase)), _lines(here, phase, rows)) for phase, rows in by_phase.items()),
    )


def _lines(here: Here, phase: str, rows: Sequence[LabourRow]) -> Html:
    fields: list[Field[LabourRow]] = [
        *fields_of(
            here, LabourRow, "number", "room", "task", "trade", "model", "units", "unit", "hours_a_unit"
        ),
        Field(
            Column("Pulled together", numeric=True),
            lambda row: here.hours(row.group_factor if row.group_factor != 1 else None),
        ),
        Field("Additions", lambda row: _additions(here, row.additions)),
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


def _additions(here: Here, additions: Sequence[tuple[str, Decimal]]) -> Cell | None:
    if not additions:
        return None
    locale = here.cover.locale
    words = (
        f"{name} {'−' if share < 0 else '+'}{formatting.percentage(abs(share), locale)}"
        for name, share in additions
    )
    whole = sum((share for _, share in additions), NOTHING)
    return Cell(", ".join(words), float(whole))


_MOST_CAUSES = 3


def causes(here: Here, found: Sequence[str]) -> Html:
    """Return what a line is for: the first few with links, and how many more."""
    shown = [here.subject(cause) for cause in found[:_MOST_CAUSES]]
    more = len(found) - len(shown)
    return join([*shown, *([text(f"and {more} more")] if more else [])], ", ")
