"""Schedules of labour and price: hours, offer, build-up, margins, payments, cash flow."""

from collections.abc import Sequence
from decimal import Decimal

from proposal.document.labour_rows import (
    ConditionRow,
    HoursSum,
    LabourRow,
    TradeHoursRow,
    TradeRow,
    TravelRow,
)
from proposal.document.price_rows import (
    CashRow,
    ExchangeRow,
    OfferRow,
    PaymentRow,
    PriceLineRow,
    PriceSum,
    SurchargeRow,
    TaxRow,
    UnitPriceRow,
    YearlyRow,
)
from proposal.editions import Edition
from proposal.exports.table import Column, Table, Wanted, table_of

_ONE = Decimal(1)


def labour_tables(edition: Edition) -> tuple[Table, ...]:
    """Return the schedules of labour; empty ones too."""
    document = edition.document
    sums = (
        ("hours-by-room", "Hours by room", "Room", document.hours_by_room),
        ("hours-by-system", "Hours by system", "System", document.hours_by_system),
        ("hours-by-phase", "Hours by phase", "Phase", document.hours_by_phase),
    )
    return (
        table_of(edition, "labour", "Labour", LabourRow, document.labour, _LABOUR),
        table_of(
            edition, "labour-summary", "Labour summary", TradeHoursRow, document.labour_summary, _SUMMARY
        ),
        table_of(edition, "travel", "Travel", TravelRow, document.travel, _TRAVEL),
        table_of(edition, "trades", "Trades", TradeRow, document.trades, _TRADES),
        *(
            table_of(edition, name, title, HoursSum, rows, _hours_by(heading))
            for name, title, heading, rows in sums
        ),
        table_of(
            edition,
            "labour-conditions",
            "Labour conditions",
            ConditionRow,
            document.labour_conditions,
            _CONDITIONS,
        ),
    )


def price_tables(edition: Edition) -> tuple[Table, ...]:
    """Return the schedules of the price; empty ones too.

    Prices, taxes and sums are formulas, rounded to the smallest unit of the project's currency.
    """
    document = edition.document
    counted = [row for row in document.offer if row.counted]
    contained = [row for row in document.offer if not row.counted]
    views = (
        ("price-by-room", "Price by room", "Room", document.room_prices),
        ("price-by-system", "Price by system", "System", document.system_prices),
        ("price-by-phase", "Price by phase", "Phase", document.phase_prices),
        ("price-by-kind", "Price by kind of cost", "Kind", document.group_prices),
    )
    return (
        table_of(edition, "price-items", "What the price contains", OfferRow, counted, _OFFER),
        table_of(edition, "price-shared", "What the shares contain", OfferRow, contained, _OFFER),
        *(
            table_of(edition, name, title, PriceSum, rows, _price_by(heading))
            for name, title, heading, rows in views
        ),
        _margin(edition, [(heading, rows) for _, _, heading, rows in views]),
        table_of(edition, "price-build-up", "Price build-up", PriceLineRow, document.price_lines, _LINES),
        table_of(edition, "surcharges", "Surcharges", SurchargeRow, document.surcharges, _SURCHARGES),
        table_of(edition, "taxes", "Taxes", TaxRow, document.taxes, _TAXES),
        table_of(edition, "payments", "Payments", PaymentRow, document.payments, _PAYMENTS),
        table_of(edition, "cash-flow", "Cash flow", CashRow, document.cash_flow, _CASH),
        table_of(edition, "unit-prices", "Unit prices", UnitPriceRow, document.unit_prices, _UNIT_PRICES),
        table_of(edition, "yearly", "Each year", YearlyRow, document.yearly, _YEARLY),
        table_of(edition, "exchange-rates", "Exchange rates", ExchangeRow, document.exchange_rates, _RATES),
    )


def _margin(edition: Edition, views: Sequence[tuple[str, Sequence[PriceSum]]]) -> Table:
    """Return the margins of every view in one table; no columns where the edition may not see them.

    views: what each is by, and its sums.
    """
    tables = [(by, table_of(edition, "margin", "Margin", PriceSum, rows, _MARGIN)) for by, rows in views]
    columns = tables[0][1].columns
    if not any(column.name == "margin" for column in columns):
        return Table(name="margin", title="Margin", columns=(), rows=())
    return Table(
        name="margin",
        title="Margin",
        columns=(Column(name="by", heading="By"), *columns),
        rows=tuple((by, *row) for by, table in tables for row in table.rows),
    )


def _hours_by(heading: str) -> tuple[Wanted, ...]:
    return (
        Wanted(field="key", heading=heading, value=lambda row: row.key or "building"),
        Wanted(field="hours", heading="Hours", kind="hours", total=True),
    )


_LABOUR = (
    Wanted(field="number", heading="Line"),
    Wanted(field="phase", heading="Phase"),
    Wanted(field="room", heading="Room", value=lambda row: row.room or "building"),
    Wanted(field="task", heading="Task"),
    Wanted(field="trade", heading="Trade"),
    Wanted(field="storey", heading="Storey"),
    Wanted(field="system", heading="System"),
    Wanted(field="model", heading="Model"),
    Wanted(field="units", heading="Units", kind="number"),
    Wanted(field="unit", heading="Unit"),
    Wanted(field="hours_a_unit", heading="A unit takes, h", kind="number"),
    Wanted(field="group_factor", heading="Pulled together", kind="number"),
    Wanted(
        field="additions",
        heading="Additions",
        kind="number",
        value=lambda row: sum((share for _, share in row.additions), Decimal(0)),
    ),
    Wanted(
        field="hours",
        heading="Hours",
        kind="hours",
        formula="{units}*{hours_a_unit}*{group_factor}*(1+{additions})",
        total=True,
    ),
    Wanted(field="charged_hours", heading="Charged", kind="hours", total=True),
    Wanted(
        field="additions",
        name="conditions",
        heading="Conditions",
        value=lambda row: ", ".join(name for name, _ in row.additions),
    ),
    Wanted(field="causes", heading="For", value=lambda row: ", ".join(row.causes)),
)


def _factor(row: TradeHoursRow) -> Decimal:
    product = _ONE
    for _, factor in row.factors:
        product *= factor
    return product


_SUMMARY = (
    Wanted(field="phase", heading="Phase"),
    Wanted(field="trade", heading="Trade"),
    Wanted(field="line_hours", heading="Lines", kind="hours", total=True),
    Wanted(field="factors", heading="Factor", kind="number", value=_factor),
    Wanted(field="call_hours", heading="Minimum call adds", kind="hours"),
    Wanted(
        field="hours",
        heading="Charged",
        kind="hours",
        formula="{line_hours}*{factors}+{call_hours}",
        total=True,
    ),
    Wanted(field="overtime_hours", heading="Of these overtime", kind="hours", total=True),
    Wanted(field="person_days", heading="Person days on site", kind="count", total=True),
    Wanted(field="cost", heading="Cost", kind="money", total=True),
    Wanted(field="price", heading="Price", kind="money", total=True),
    Wanted(
        field="factors",
        name="conditions",
        heading="Conditions of the project",
        value=lambda row: ", ".join(name for name, _ in row.factors),
    ),
)
_TRAVEL = (
    Wanted(field="trade", heading="Trade"),
    Wanted(field="days", heading="Person days", kind="count", total=True),
    Wanted(field="hours", heading="Under way", kind="hours", total=True),
    Wanted(field="cost", heading="Cost", kind="money", total=True),
    Wanted(field="price", heading="Price", kind="money", total=True),
)
_TRADES = (
    Wanted(field="trade", heading="Trade"),
    Wanted(field="crew", heading="Most at once", kind="count"),
    Wanted(field="minimum_call_hours", heading="Minimum call", kind="hours"),
    Wanted(field="hours", heading="Charged, travel included", kind="hours", total=True),
    Wanted(field="cost", heading="Cost of an hour", kind="unit_money"),
    Wanted(field="selling", heading="Price of an hour", kind="unit_money"),
    Wanted(field="rule", heading="By"),
    Wanted(field="rule_value", heading="Share or rate", kind="number"),
    Wanted(field="source", heading="Source"),
)
_CONDITIONS = (
    Wanted(field="name", heading="Condition"),
    Wanted(field="scope", heading="Holds for"),
    Wanted(field="addition", heading="Addition", kind="share"),
    Wanted(field="effect", heading="How"),
    Wanted(field="phases", heading="Phases", value=lambda row: ", ".join(row.phases)),
    Wanted(field="source", heading="Source"),
)


_OFFER = (
    Wanted(field="number", heading="Line"),
    Wanted(field="room", heading="Room", value=lambda row: row.room or "shared by several rooms"),
    Wanted(field="group", heading="Kind"),
    Wanted(field="description", heading="Description"),
    Wanted(field="item", heading="Model"),
    Wanted(field="quantity", heading="Quantity", kind="number"),
    Wanted(field="unit", heading="Unit"),
    Wanted(field="unit_price", heading="Unit price", kind="unit_money"),
    Wanted(
        field="price",
        heading="Before tax",
        kind="money",
        formula="{quantity}*{unit_price}",
        total=True,
    ),
    Wanted(field="tax", heading="Tax", kind="money", total=True),
)


def _price_by(heading: str) -> tuple[Wanted, ...]:
    return (
        Wanted(field="key", heading=heading, value=lambda row: row.key or "shared by several rooms"),
        Wanted(field="price", heading="Before tax", kind="money", total=True),
        Wanted(field="tax", heading="Tax", kind="money", total=True),
        Wanted(field="total", heading="With tax", kind="money", formula="{price}+{tax}", total=True),
    )


def _left(row: PriceSum) -> Decimal | None:
    """Return the margin as a share of the price."""
    if not row.price or row.margin is None:
        return None
    return row.margin / row.price


_MARGIN = (
    Wanted(field="key", heading="What", value=lambda row: row.key or "shared by several rooms"),
    Wanted(field="price", heading="Price", kind="money"),
    Wanted(field="cost", heading="Cost", kind="money"),
    Wanted(field="margin", heading="Margin", kind="money", formula="{price}-{cost}"),
    Wanted(
        field="margin",
        name="share",
        heading="Of the price",
        kind="share",
        value=_left,
        formula="{margin}/{price}",
    ),
    Wanted(field="reserve", heading="Reserve", kind="money"),
)


_LINES = (
    Wanted(field="number", heading="Line"),
    Wanted(field="room", heading="Room", value=lambda row: row.room or "building"),
    Wanted(field="group", heading="Group"),
    Wanted(field="kind", heading="Kind"),
    Wanted(field="item", heading="Item"),
    Wanted(field="description", heading="Description"),
    Wanted(field="system", heading="System"),
    Wanted(field="phase", heading="Phase"),
    Wanted(field="quantity", heading="Quantity", kind="number"),
    Wanted(field="unit", heading="Unit"),
    Wanted(field="unit_cost", heading="Unit cost", kind="unit_money"),
    Wanted(
        field="cost",
        heading="Cost",
        kind="money",
        formula="{quantity}*{unit_cost}",
        total=True,
    ),
    Wanted(field="list_price", heading="List price", kind="unit_money"),
    Wanted(field="rule", heading="Rule"),
    Wanted(field="rule_value", heading="Share or amount", kind="number"),
    Wanted(field="reserve", heading="Reserve", kind="money", total=True),
    Wanted(field="unit_price", heading="Unit price", kind="unit_money"),
    Wanted(
        field="price",
        heading="Price",
        kind="money",
        formula="{quantity}*{unit_price}",
        total=True,
    ),
    Wanted(field="tax_place", heading="Taxed in"),
    Wanted(field="tax_kind", heading="As"),
    Wanted(field="tax_rate", heading="Rate", kind="share"),
    Wanted(
        field="tax",
        heading="Tax",
        kind="money",
        formula="{price}*{tax_rate}",
        total=True,
    ),
    Wanted(field="causes", heading="For", value=lambda row: ", ".join(row.causes)),
)


_SURCHARGES = (
    Wanted(field="name", heading="What"),
    Wanted(field="share", heading="Share", kind="share"),
    Wanted(field="of", heading="Of the cost of", value=lambda row: ", ".join(row.of)),
    Wanted(field="way", heading="How"),
    Wanted(field="cost", heading="Cost", kind="money", total=True),
    Wanted(field="price", heading="Price", kind="money", total=True),
)
_TAXES = (
    Wanted(field="place", heading="Place"),
    Wanted(field="name", heading="Tax"),
    Wanted(field="kind", heading="On"),
    Wanted(field="rate", heading="Rate", kind="share"),
    Wanted(field="price", heading="Price taxed", kind="money", total=True),
    # Rounded line by line: the sum is no product of its rate.
    Wanted(field="tax", heading="Tax, line by line", kind="money", total=True),
)
_PAYMENTS = (
    Wanted(field="number", heading="No."),
    Wanted(field="name", heading="Payment"),
    Wanted(field="share", heading="Share", kind="share"),
    Wanted(field="event", heading="Due upon"),
    Wanted(field="event_date", heading="By the programme", kind="date"),
    Wanted(field="days", heading="Days to pay", kind="count"),
    Wanted(field="due_date", heading="To be paid by", kind="date"),
    Wanted(field="price", heading="Before tax", kind="money", total=True),
    Wanted(field="tax", heading="Tax", kind="money", total=True),
    Wanted(field="retained", heading="Retained", kind="money", total=True),
    Wanted(field="due", heading="To be paid", kind="money", total=True),
)
_CASH = (
    Wanted(field="date", heading="Day", kind="date"),
    Wanted(field="what", heading="What"),
    Wanted(field="incoming", heading="In", kind="money", total=True),
    Wanted(field="outgoing", heading="Out", kind="money", total=True),
    Wanted(field="balance", heading="Balance", kind="money"),
)
_UNIT_PRICES = (
    Wanted(field="to", heading="One more"),
    Wanted(field="description", heading="What"),
    Wanted(field="item", heading="Model"),
    Wanted(field="supply", heading="Supply", kind="unit_money"),
    Wanted(field="work", heading="Work", kind="unit_money"),
    Wanted(field="price", heading="Price", kind="unit_money", formula="{supply}+{work}"),
    Wanted(field="hours", heading="Hours", kind="number"),
)
_YEARLY = (
    Wanted(field="item", heading="Model"),
    Wanted(field="description", heading="For"),
    Wanted(field="quantity", heading="Quantity", kind="count"),
    Wanted(field="unit_price", heading="One, a year", kind="unit_money"),
    Wanted(field="price", heading="All, a year", kind="money", formula="{quantity}*{unit_price}", total=True),
    Wanted(field="unit_cost", heading="Cost of one", kind="unit_money"),
)
_RATES = (
    Wanted(field="currency", heading="Currency"),
    Wanted(field="rate", heading="One of it", kind="number"),
    Wanted(field="date", heading="Rate of", kind="date"),
    Wanted(field="source", heading="Published by"),
)
