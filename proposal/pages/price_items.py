"""What the price contains, line by line for each room, and unit prices for changes."""

from collections.abc import Sequence
from decimal import Decimal
from typing import ClassVar

from proposal.document.rows.price import OfferRow, UnitPriceRow
from proposal.document.rows.price_build_up import UnitCostRow
from proposal.field_classes import dataclass
from proposal.pages import paths
from proposal.pages.markdown import Html, text
from proposal.pages.page_context import PageContext
from proposal.pages.phrases import capital
from proposal.pages.price import SHARED
from proposal.pages.schedule_table import Field, fields_of, grouped, schedule
from proposal.quantities import formatting

NOTHING = Decimal(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceItemsPage:
    """Every line of the offer, a table a room.

    rooms: name of the room and its lines; total: of all lines.
    """

    template: ClassVar[str] = "price-items.md.jinja"
    price: Html
    rooms: tuple[tuple[Html, Html], ...]
    total: Html


def price_items_page(here: PageContext) -> PriceItemsPage:
    """Return the page of the lines of the offer."""
    offer = here.document.offer
    by_room = grouped(offer, lambda row: row.room)
    whole = sum((row.price for row in offer), NOTHING)
    return PriceItemsPage(
        price=here.to(paths.PRICE, "the price"),
        rooms=tuple(
            (text(_heading(here, room)), _lines(here, f"Lines of {_heading(here, room)}", rows))
            for room, rows in by_room.items()
        ),
        total=text(formatting.money(whole, here.cover.currency, here.cover.locale)),
    )


def _heading(here: PageContext, room: str) -> str:
    return here.room_name(room) if room else SHARED


def _lines(here: PageContext, caption: str, rows: Sequence[OfferRow]) -> Html:
    taxed = bool(here.document.taxes)
    fields: list[Field[OfferRow]] = [
        *fields_of(here, OfferRow, "number", "description", "item", "quantity", "unit"),
        *fields_of(here, OfferRow, "unit_price", "price", *(("tax",) if taxed else ()), "group"),
    ]
    return schedule(
        caption,
        fields,
        rows,
        identity=lambda row: row.number,
        total="Sum",
        mark=here.mark("offer"),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitPricesPage:
    """What one more of something is charged for, a table for each sort of it.

    sorts: heading and prices; compared: the same beside what the rules would make of it, for the house.
    """

    template: ClassVar[str] = "unit-prices.md.jinja"
    sorts: tuple[tuple[Html, Html], ...]
    compared: tuple[tuple[Html, Html], ...]


_HEADINGS = {
    "device": "One more device, installed",
    "metre of cable": "One more metre of cable, pulled",
    "foot of cable": "One more foot of cable, pulled",
    "ends of a cable": "Both ends of one more cable, terminated and labelled",
    "hour": "One more hour",
}


def unit_prices_page(here: PageContext) -> UnitPricesPage:
    """Return the page of unit prices for changes."""
    by_sort = grouped(here.document.unit_prices, lambda row: row.to)
    return UnitPricesPage(
        sorts=tuple(
            (text(_HEADINGS.get(sort, capital(sort))), _prices(here, _HEADINGS.get(sort, sort), rows))
            for sort, rows in by_sort.items()
        ),
        compared=tuple(
            (text(_HEADINGS.get(sort, capital(sort))), _costs(here, _HEADINGS.get(sort, sort), rows))
            for sort, rows in grouped(here.document.unit_costs, lambda row: row.to).items()
        ),
    )


def _prices(here: PageContext, caption: str, rows: Sequence[UnitPriceRow]) -> Html:
    fields: list[Field[UnitPriceRow]] = [
        *fields_of(here, UnitPriceRow, "description", "item", "price"),
    ]
    return schedule(caption, fields, rows)


def _costs(here: PageContext, caption: str, rows: Sequence[UnitCostRow]) -> Html:
    fields: list[Field[UnitCostRow]] = [
        *fields_of(
            here, UnitCostRow, "description", "item", "tasks", "hours", "supply", "work", "computed", "stated"
        ),
    ]
    return schedule(f"{caption}: by the rules, and as stated", fields, rows)
