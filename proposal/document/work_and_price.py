"""Take-off, labour and price: the second part of a document."""

from decimal import Decimal
from typing import Annotated

from pydantic import Field

from proposal.document.rows.disclosure import DisclosureRow
from proposal.document.rows.findings import FindingRow
from proposal.document.rows.labour import (
    ConditionRow,
    LabourRow,
    OvertimeRow,
    PhaseHours,
    RoomHours,
    SystemHours,
    TradeHoursRow,
    TradeRow,
    TravelRow,
)
from proposal.document.rows.price import (
    ExchangeRow,
    GroupPrice,
    OfferRow,
    PaymentRow,
    PhasePrice,
    PriceTotal,
    RoomPrice,
    SystemPrice,
    TaxRow,
    UnitPriceRow,
    YearlyRow,
)
from proposal.document.rows.price_build_up import CashRow, PriceLineRow, SurchargeRow, UnitCostRow
from proposal.document.rows.price_inputs import PriceInputRow
from proposal.document.rows.reels import ReelOrderRow
from proposal.document.rows.takeoff import PurchaseRow, TakeoffRow
from proposal.document.schedule import BUYERS, CHECKERS, HOUSE, NOT_CLIENT, Row, Shows


class WorkAndPrice(Row):
    """What a document says of material, labour and price."""

    takeoff: Annotated[tuple[TakeoffRow, ...], Shows("take_off", NOT_CLIENT, "rows")] = Field(
        default=(), description="Lines of the take-off."
    )
    purchases: Annotated[tuple[PurchaseRow, ...], Shows("what_is_bought", NOT_CLIENT, "rows")] = Field(
        default=(), description="What is bought besides devices, in wholes."
    )
    reel_orders: Annotated[tuple[ReelOrderRow, ...], Shows("reels_to_order", NOT_CLIENT, "rows")] = Field(
        default=(), description="Reels to order, by type of cable."
    )
    materials_cost: Annotated[Decimal | None, Shows("materials_cost", HOUSE, "money", subject="price")] = (
        Field(default=None, description="What all lines of the take-off cost us, equipment included.")
    )
    labour: Annotated[tuple[LabourRow, ...], Shows("labour", CHECKERS, "rows")] = Field(
        default=(), description="Labour, line by line."
    )
    labour_summary: Annotated[
        tuple[TradeHoursRow, ...], Shows("labour_summary", CHECKERS, "rows", follows=True)
    ] = Field(default=(), description="Hours by phase and trade, as they are charged.")
    overtime: Annotated[tuple[OvertimeRow, ...], Shows("overtime", CHECKERS, "rows", follows=True)] = Field(
        default=(), description="Work outside normal working time, by what it is, phase and trade."
    )
    travel: Annotated[tuple[TravelRow, ...], Shows("travel", CHECKERS, "rows")] = Field(
        default=(), description="Coming to site, by trade."
    )
    trades: Annotated[tuple[TradeRow, ...], Shows("trades", CHECKERS, "rows")] = Field(
        default=(), description="Trades, and what they charge."
    )
    hours_by_room: Annotated[
        tuple[RoomHours, ...], Shows("hours_by_room", CHECKERS, "rows", follows=True)
    ] = Field(default=(), description="All hours by room.")
    hours_by_system: Annotated[
        tuple[SystemHours, ...], Shows("hours_by_system", CHECKERS, "rows", follows=True)
    ] = Field(default=(), description="All hours by system.")
    hours_by_phase: Annotated[
        tuple[PhaseHours, ...], Shows("hours_by_phase", CHECKERS, "rows", follows=True)
    ] = Field(default=(), description="All hours by phase.")
    labour_conditions: Annotated[tuple[ConditionRow, ...], Shows("labour_conditions", CHECKERS, "rows")] = (
        Field(default=(), description="What makes work slower or quicker.")
    )
    labour_hours: Annotated[
        Decimal | None, Shows("labour_travel_included", CHECKERS, "hours", subject="labour")
    ] = Field(default=None, description="All hours charged, travel included, h.")
    price_wording: Annotated[str, Shows("price_wording", BUYERS, subject="price")] = Field(
        default="", description="The author's prose about the price in Markdown, wording/price.md."
    )
    price: Annotated[PriceTotal | None, Shows("the_whole_price", BUYERS, "rows")] = Field(
        default=None, description="The whole price."
    )
    offer: Annotated[tuple[OfferRow, ...], Shows("what_the_price_contains", BUYERS, "rows")] = Field(
        default=(), description="What the price contains, as finely as the client reads it, by room."
    )
    room_prices: Annotated[tuple[RoomPrice, ...], Shows("room_prices", HOUSE, "rows", follows=True)] = Field(
        default=(), description="The price of what each room takes, by room."
    )
    system_prices: Annotated[tuple[SystemPrice, ...], Shows("system_prices", HOUSE, "rows", follows=True)] = (
        Field(default=(), description="The same by system.")
    )
    phase_prices: Annotated[tuple[PhasePrice, ...], Shows("phase_prices", HOUSE, "rows", follows=True)] = (
        Field(default=(), description="The same by phase.")
    )
    group_prices: Annotated[tuple[GroupPrice, ...], Shows("group_prices", HOUSE, "rows", follows=True)] = (
        Field(default=(), description="The same by equipment, materials, labour, travel and what is added.")
    )
    taxes: Annotated[tuple[TaxRow, ...], Shows("taxes", BUYERS, "rows")] = Field(
        default=(), description="Taxes by place and kind."
    )
    payments: Annotated[tuple[PaymentRow, ...], Shows("payments", BUYERS, "rows")] = Field(
        default=(), description="Payments in order."
    )
    unit_prices: Annotated[tuple[UnitPriceRow, ...], Shows("unit_prices", BUYERS, "rows", follows=True)] = (
        Field(default=(), description="What further things are charged for, where it is stated.")
    )
    unit_costs: Annotated[tuple[UnitCostRow, ...], Shows("unit_prices_by_rule", HOUSE, "rows")] = Field(
        default=(), description="What further things come to by the proposal's own rules."
    )
    yearly: Annotated[tuple[YearlyRow, ...], Shows("each_year", BUYERS, "rows")] = Field(
        default=(), description="What recurs each year and is not in the price."
    )
    exchange_rates: Annotated[tuple[ExchangeRow, ...], Shows("exchange_rates", BUYERS, "rows")] = Field(
        default=(), description="Exchange rates that the price rests on."
    )
    price_lines: Annotated[tuple[PriceLineRow, ...], Shows("price_build_up", HOUSE, "rows")] = Field(
        default=(), description="How every line's price is built up."
    )
    price_inputs: Annotated[tuple[PriceInputRow, ...], Shows("inputs_of_the_price", HOUSE, "rows")] = Field(
        default=(), description="Every figure that the price rests on, as it is written."
    )
    surcharges: Annotated[tuple[SurchargeRow, ...], Shows("surcharges", HOUSE, "rows")] = Field(
        default=(), description="What is added on top, as lines or in them."
    )
    cash_flow: Annotated[tuple[CashRow, ...], Shows("cash_flow", HOUSE, "rows", follows=True)] = Field(
        default=(), description="Money in and out, in order of days."
    )
    disclosure: Annotated[tuple[DisclosureRow, ...], Shows("open_to_the_client", HOUSE, "rows")] = Field(
        default=(), description="How far costs, margins and hours stay open to a client."
    )
    house_findings: Annotated[tuple[FindingRow, ...], Shows("findings_of_the_price", HOUSE, "rows")] = Field(
        default=(), description="Findings about the price, errors first."
    )
