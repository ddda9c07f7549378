"""The take-off, and the reels to order."""

from collections import Counter
from collections.abc import Sequence
from typing import ClassVar

from proposal.document.rows.reels import ReelOrderRow, ReelRow
from proposal.document.rows.takeoff import PurchaseRow, TakeoffRow
from proposal.document.rows.takeoff_sums import TakeoffSum
from proposal.field_classes import dataclass
from proposal.pages import paths
from proposal.pages.markdown import Html, text
from proposal.pages.page_context import PageContext
from proposal.pages.phrases import capital
from proposal.pages.prose import prose_of
from proposal.pages.schedule_parts import SchedulePart, links_to_parts, takeoff_parts
from proposal.pages.schedule_table import Field, fields_of, grouped, schedule
from proposal.quantities.formatting import count_of, money

MOST_SUMS = 200
"""Most rooms or drawings that are added up on the page; files hold all of them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeoffPage:
    """Every line of the take-off, a table a section, or where to find those of each storey.

    sections: heading and lines of each.
    parts: of many lines, the way to the page of each part and how many stand there.
    sums: the same added up by phase, system, storey and so on, as far as there are not too many of them.
    purchases: what is bought besides devices; None where nothing is.
    total: what all lines cost, where the edition knows.
    labour: link to the labour, where the edition holds it.
    """

    template: ClassVar[str] = "takeoff.md.jinja"
    prose: Html | None
    sections: tuple[tuple[Html, Html], ...]
    parts: tuple[Html, ...]
    sums: Html
    purchases: Html | None
    total: Html | None
    labour: Html | None


def takeoff_page(here: PageContext) -> TakeoffPage:
    """Return the page of the take-off."""
    document = here.document
    total = document.materials_cost
    links = links_to_parts(
        takeoff_parts(document), paths.TAKEOFF, here.to, lambda lines: count_of(len(lines), "line")
    )
    return TakeoffPage(
        prose=prose_of(document, "takeoff", here.path),
        sections=() if links else _sections(here, document.takeoff),
        parts=links,
        sums=_sums(here),
        purchases=_purchases(here, document.purchases) if document.purchases else None,
        total=None if total is None else text(money(total, here.cover.currency, here.cover.locale)),
        labour=here.to(paths.LABOUR, "labour") if document.labour else None,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeoffPartPage:
    """The lines of the take-off of one storey, or a numbered part of them, a table a section."""

    template: ClassVar[str] = "takeoff-part.md.jinja"
    title: Html
    overview: Html
    sections: tuple[tuple[Html, Html], ...]


def takeoff_part_page(here: PageContext, part: SchedulePart[TakeoffRow]) -> TakeoffPartPage:
    """Return the page of a part of the take-off.

    part: the lines that stand on it.
    """
    return TakeoffPartPage(
        title=text(part.title),
        overview=here.to(paths.TAKEOFF, "How it is counted, and what is bought"),
        sections=_sections(here, part.rows),
    )


def _sums(here: PageContext) -> Html:
    rows = here.document.takeoff_sums
    count = Counter(row.by for row in rows)
    fields: list[Field[TakeoffSum]] = [
        *fields_of(here, TakeoffSum, "by", "key", "lines", "cost", "hours"),
    ]
    shown = [row for row in rows if count[row.by] <= MOST_SUMS]
    return schedule("Take-off, added up", fields, shown, row_heads=2)


def _sections(here: PageContext, lines: Sequence[TakeoffRow]) -> tuple[tuple[Html, Html], ...]:
    by_section = grouped(lines, lambda row: row.section)
    return tuple((text(capital(name)), _lines(here, name, rows)) for name, rows in by_section.items())


def _lines(here: PageContext, section: str, rows: Sequence[TakeoffRow]) -> Html:
    fields: list[Field[TakeoffRow]] = [
        *fields_of(
            here,
            TakeoffRow,
            "number",
            "room",
            "storey",
            "system",
            "phase",
            "item",
            "description",
            "quantity",
            "unit",
            "spacing_m",
            "plan_m",
            "vertical_m",
            "slack_start_m",
            "slack_end_m",
            "ends_m",
            "cut_m",
            "count",
            "terminations",
            "reels",
            "waste",
            "unit_cost",
            "wholes",
            "cost",
            "worked_by",
            "base_hours",
            "condition_factor",
            "hours",
            "labour_cost",
            "causes",
        ),
    ]
    return schedule(
        f"Take-off, {section}",
        fields,
        rows,
        identity=lambda row: row.number,
        total="Sum" if any(row.cost is not None or row.hours is not None for row in rows) else "",
        mark=here.mark("takeoff"),
    )


def _purchases(here: PageContext, rows: Sequence[PurchaseRow]) -> Html:
    fields: list[Field[PurchaseRow]] = [
        *fields_of(here, PurchaseRow, "section", "item", "description", "need", "unit"),
        *fields_of(here, PurchaseRow, "sold_as", "pieces", "bought", "furnished_by", "unit_cost", "cost"),
        *fields_of(here, PurchaseRow, "cost_from", "supplier", "article", "priced"),
        *fields_of(here, PurchaseRow, "lead_time_days", "needed_by", "order_by"),
        *fields_of(here, PurchaseRow, "list_price", "unit_price", "price"),
    ]
    return schedule(
        "What is bought",
        fields,
        rows,
        total="Sum" if any(row.cost is not None for row in rows) else "",
        mark=here.mark("purchases"),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class ReelsPage:
    """The reels of every type of cable.

    orders: heading, what to order, and what is cut from which reel.
    """

    template: ClassVar[str] = "reels.md.jinja"
    summary: Html
    orders: tuple[tuple[Html, Html], ...]


def reels_page(here: PageContext) -> ReelsPage:
    """Return the page of reels."""
    orders = here.document.reel_orders
    return ReelsPage(
        summary=_summary(here, orders),
        orders=tuple((text(f"{order.type} {order.description}"), _reels(here, order)) for order in orders),
    )


def _summary(here: PageContext, orders: Sequence[ReelOrderRow]) -> Html:
    fields: list[Field[ReelOrderRow]] = [
        *fields_of(here, ReelOrderRow, "type", "description", "counts", "spare", "ordered"),
        *fields_of(here, ReelOrderRow, "supplier", "needed_by", "order_by", "proof"),
        *fields_of(here, ReelOrderRow, "tolerance", "lead_and_tail_m", "cut_m"),
        *fields_of(here, ReelOrderRow, "remnant_m", "set_ups", "by_percentage", "too_long", "cost", "bound"),
    ]
    return schedule("Reels to order", fields, orders, mark=here.mark("reel_orders"))


def _reels(here: PageContext, order: ReelOrderRow) -> Html:
    fields: list[Field[ReelRow]] = [
        *fields_of(
            here, ReelRow, "number", "stock", "container", "weight_kg", "groups", "remnant_m", "lengths"
        ),
    ]
    return schedule(f"Cut plan of {order.type}", fields, order.reels)
