"""How the price is built up, what margin it leaves, and when money comes and goes: for the house alone."""

from collections.abc import Sequence
from decimal import Decimal
from typing import ClassVar

from proposal.document.rows.price import (
    GroupPrice,
    PhasePrice,
    PriceSum,
    PriceTotal,
    RoomPrice,
    SystemPrice,
    margin_share,
)
from proposal.document.rows.price_build_up import CashRow, PriceLineRow, SurchargeRow
from proposal.document.rows.price_inputs import PriceInputRow
from proposal.field_classes import dataclass
from proposal.pages import paths
from proposal.pages.fact_list import fact_list, facts_of
from proposal.pages.markdown import Html, text
from proposal.pages.page_context import PageContext
from proposal.pages.part_page import PartPage, part_page
from proposal.pages.schedule_parts import SchedulePart, links_to_parts, price_line_parts, room_margin_parts
from proposal.pages.schedule_table import Field, fields_of, grouped, schedule
from proposal.quantities.formatting import count_of

NOTHING = Decimal(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class BuildUpPage:
    """Every line of the price from cost to tax, a table a room, or where to find those of each storey.

    places: name of the room, equipment room or building, and its lines.
    parts: of many lines, the way to the page of each part and how many stand there.
    margin: link to what the margins are.
    """

    template: ClassVar[str] = "price-build-up.md.jinja"
    margin: Html
    places: tuple[tuple[Html, Html], ...]
    parts: tuple[Html, ...]


def build_up_page(here: PageContext) -> BuildUpPage:
    """Return the page of the build-up of the price."""
    parts = price_line_parts(here.document)
    links = links_to_parts(parts, paths.BUILD_UP, here.to, lambda lines: count_of(len(lines), "line"))
    return BuildUpPage(
        margin=here.to(paths.MARGIN, "Margins by room, system and phase"),
        places=() if links else _places(here, here.document.price_lines),
        parts=links,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class BuildUpPartPage:
    """The lines of the price of one storey, or a numbered part of them, a table a room."""

    template: ClassVar[str] = "price-build-up-part.md.jinja"
    title: Html
    overview: Html
    places: tuple[tuple[Html, Html], ...]


def build_up_part_page(here: PageContext, part: SchedulePart[PriceLineRow]) -> BuildUpPartPage:
    """Return the page of a part of the build-up of the price.

    part: the lines that stand on it.
    """
    return BuildUpPartPage(
        title=text(part.title),
        overview=here.to(paths.BUILD_UP, "All lines"),
        places=_places(here, part.rows),
    )


def _places(here: PageContext, lines: Sequence[PriceLineRow]) -> tuple[tuple[Html, Html], ...]:
    by_room = grouped(lines, lambda row: row.room)
    order = [room for room in by_room if room] + [room for room in by_room if not room]
    return tuple((text(_place(here, room)), _lines(here, room, by_room[room])) for room in order)


def _place(here: PageContext, room: str) -> str:
    return here.room_name(room) if room else "Building"


def _lines(here: PageContext, room: str, rows: Sequence[PriceLineRow]) -> Html:
    fields: list[Field[PriceLineRow]] = [
        *fields_of(here, PriceLineRow, "number", "description", "quantity", "unit", "unit_cost"),
        *fields_of(here, PriceLineRow, "cost_of_wholes", "cost", "cost_from"),
        *fields_of(
            here,
            PriceLineRow,
            "rule",
            "rule_value",
            "rule_from",
            "unit_price",
            "wholes",
            "spread",
            "price",
            "tax",
        ),
        *fields_of(here, PriceLineRow, "list_price", "reserve", "group", "kind", "item", "system", "phase"),
        *fields_of(here, PriceLineRow, "tax_place", "tax_kind", "rate", "causes"),
    ]
    caption = f"Build-up of the price, {_place(here, room)}"
    return schedule(
        caption, fields, rows, identity=lambda row: row.number, total="Sum", mark=here.mark("price_lines")
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class MarginPage:
    """What the price leaves over the cost, as a whole and seen in several ways.

    rooms: of many rooms, the way to the page of each storey and how many stand there.
    views: heading and table; surcharges, inputs: None where there are none.
    """

    template: ClassVar[str] = "margin.md.jinja"
    whole: Html
    rooms: tuple[Html, ...]
    views: tuple[tuple[Html, Html], ...]
    surcharges: Html | None
    inputs: Html | None


def margin_page(here: PageContext, price: PriceTotal) -> MarginPage:
    """Return the page of margins.

    price: the whole of it.
    """
    document = here.document
    rooms = links_to_parts(
        room_margin_parts(document), paths.MARGIN, here.to, lambda rows: count_of(len(rows), "room")
    )
    views = (
        ("By room", RoomPrice, () if rooms else document.room_prices),
        ("By system", SystemPrice, document.system_prices),
        ("By phase", PhasePrice, document.phase_prices),
        ("By kind of cost", GroupPrice, document.group_prices),
    )
    return MarginPage(
        whole=_whole(here, price),
        rooms=rooms,
        views=tuple(
            (text(heading), _margins(here, f"Margin {heading[:1].lower()}{heading[1:]}", part, rows))
            for heading, part, rows in views
            if rows
        ),
        surcharges=_surcharges(here) if document.surcharges else None,
        inputs=_inputs(here) if document.price_inputs else None,
    )


def margin_part_page(here: PageContext, part: SchedulePart[RoomPrice]) -> PartPage:
    """Return the page of the margins of one storey, or of a numbered part of it.

    part: the rooms that stand on it.
    """
    caption = f"Margin by room, {part.title}"
    return part_page(here, caption, (paths.MARGIN, "Margin"), _margins(here, caption, RoomPrice, part.rows))


def _whole(here: PageContext, price: PriceTotal) -> Html:
    names = ("price", "cost", "margin", "margin_share", "reserve", "margin_at_least")
    return fact_list("Margin of the whole", facts_of(here, price, *names))


def _margins(here: PageContext, caption: str, part: type[PriceSum], rows: Sequence[PriceSum]) -> Html:
    costs = sum((row.cost or NOTHING for row in rows), NOTHING)
    prices = sum((row.price for row in rows), NOTHING)
    fields: list[Field[PriceSum]] = [
        *fields_of(here, part, "key", "cost", "price", "margin", "margin_share", "reserve", "tax", "total"),
    ]
    totals = {"margin_share": here.share(margin_share(costs, prices))}
    return schedule(caption, fields, rows, total="Total", totals=totals)


def _surcharges(here: PageContext) -> Html:
    fields: list[Field[SurchargeRow]] = [
        *fields_of(here, SurchargeRow, "name", "share", "steps", "of", "each", "count", "counted_by"),
        *fields_of(here, SurchargeRow, "phases", "covers", "way", "cost", "price"),
    ]
    return schedule("What is added on top", fields, here.document.surcharges)


def _inputs(here: PageContext) -> Html:
    fields: list[Field[PriceInputRow]] = [
        *fields_of(
            here, PriceInputRow, "what", "subject", "value", "unit", "per", "holds_for", "layer", "key"
        ),
    ]
    return schedule("What the price rests on", fields, here.document.price_inputs)


@dataclass(frozen=True, slots=True, kw_only=True)
class CashFlowPage:
    """Money in and out in order of days."""

    template: ClassVar[str] = "cash-flow.md.jinja"
    outcome: Html
    payments: Html
    days: Html


def cash_flow_page(here: PageContext) -> CashFlowPage:
    """Return the page of the cash flow."""
    names = ("lowest_balance", "lowest_balance_on", "last_balance")
    return CashFlowPage(
        outcome=fact_list("Outcome", facts_of(here, here.document, *names)),
        payments=here.to(paths.PRICE, "payments"),
        days=_days(here, here.document.cash_flow),
    )


def _days(here: PageContext, rows: Sequence[CashRow]) -> Html:
    fields: list[Field[CashRow]] = [
        *fields_of(here, CashRow, "date", "what", "incoming", "outgoing", "balance"),
    ]
    totals = {"balance": here.money(rows[-1].balance)}
    return schedule(
        "Money in and out, in order of days", fields, rows, total="All", totals=totals, row_heads=2
    )
