"""Rows of the price: what clients buy, and, for the house alone, how every price is built up."""

import datetime
from decimal import Decimal
from typing import Annotated

from pydantic import Field

from proposal.document.quantities import Holds
from proposal.document.readers import Buyers, House, Shown

NOTHING = Decimal(0)


class PriceTotal(Shown):
    """The whole price."""

    currency: Annotated[Buyers[str], Holds("text")] = Field(
        default="", description="Currency, by its code of ISO 4217."
    )
    price: Annotated[Buyers[Decimal], Holds("money")] = Field(default=NOTHING, description="Before tax.")
    tax: Annotated[Buyers[Decimal], Holds("money")] = Field(
        default=NOTHING, description="All taxes together."
    )
    total: Annotated[Buyers[Decimal], Holds("money")] = Field(default=NOTHING, description="With tax.")
    room_view: Annotated[Buyers[str], Holds("text")] = Field(
        default="", description="What becomes of shared items by room: building group or shared out."
    )
    retention: Annotated[Buyers[Decimal], Holds("share")] = Field(
        default=NOTHING, description="Share of each payment kept until later."
    )
    cost: Annotated[House[Decimal | None], Holds("money")] = Field(
        default=None, description="What all of it costs us."
    )
    reserve: Annotated[House[Decimal | None], Holds("money")] = Field(
        default=None, description="Cost of what is spread over the lines, such as contingency."
    )
    margin: Annotated[House[Decimal | None], Holds("money")] = Field(
        default=None, description="Price less cost."
    )


class OfferRow(Shown):
    """One line of the offer, as a client reads it: equipment by model, materials and work by room."""

    number: Annotated[Buyers[str], Holds("tag")] = Field(default="", description="Number, such as A101-C12.")
    room: Annotated[Buyers[str], Holds("tag")] = Field(
        default="", description="Room; empty for what serves several."
    )
    group: Annotated[Buyers[str], Holds("text")] = Field(
        default="", description="equipment, materials, labour, travel, surcharge, allowance or share."
    )
    description: Annotated[Buyers[str], Holds("text")] = Field(default="", description="What it is.")
    item: Annotated[Buyers[str], Holds("tag")] = Field(default="", description="Model code of equipment.")
    quantity: Annotated[Buyers[Decimal], Holds("how many")] = Field(default=NOTHING, description="How many.")
    unit: Annotated[Buyers[str], Holds("unit")] = Field(
        default="", description="each, or lot for several things priced together."
    )
    unit_price: Annotated[Buyers[Decimal], Holds("unit price")] = Field(
        default=NOTHING, description="Of one, before tax."
    )
    price: Annotated[Buyers[Decimal], Holds("money")] = Field(default=NOTHING, description="Before tax.")
    tax: Annotated[Buyers[Decimal], Holds("money")] = Field(default=NOTHING, description="Tax on it.")
    counted: Annotated[Buyers[bool], Holds("flag")] = Field(
        default=False, description="Whether it adds to the total; otherwise shares in rooms contain it."
    )


class PriceSum(Shown):
    """The price of one room, system, phase or group."""

    key: Annotated[Buyers[str], Holds("tag")] = Field(
        default="", description="Tag or name; empty for what serves several rooms."
    )
    price: Annotated[Buyers[Decimal], Holds("money")] = Field(default=NOTHING, description="Before tax.")
    tax: Annotated[Buyers[Decimal], Holds("money")] = Field(default=NOTHING, description="Tax.")
    total: Annotated[Buyers[Decimal], Holds("money")] = Field(default=NOTHING, description="With tax.")
    cost: Annotated[House[Decimal | None], Holds("money")] = Field(
        default=None, description="What it costs us."
    )
    reserve: Annotated[House[Decimal | None], Holds("money")] = Field(
        default=None, description="Cost of what is spread over it."
    )
    margin: Annotated[House[Decimal | None], Holds("money")] = Field(
        default=None, description="Price less cost."
    )


class TaxRow(Shown):
    """Tax at one place on one kind of line."""

    place: Annotated[Buyers[str], Holds("text")] = Field(default="", description="Place.")
    name: Annotated[Buyers[str], Holds("text")] = Field(default="", description="What the tax is called.")
    kind: Annotated[Buyers[str], Holds("text")] = Field(default="", description="goods, services or exempt.")
    rate: Annotated[Buyers[Decimal], Holds("share")] = Field(default=NOTHING, description="Rate, 0 to 1.")
    price: Annotated[Buyers[Decimal], Holds("money")] = Field(
        default=NOTHING, description="Price that is taxed."
    )
    tax: Annotated[Buyers[Decimal], Holds("money")] = Field(
        default=NOTHING, description="Tax, the sum of that of every line."
    )


class PaymentRow(Shown):
    """One payment, and when it is due."""

    number: Annotated[Buyers[str], Holds("tag")] = Field(
        default="", description="Key of the payment in the project."
    )
    name: Annotated[Buyers[str], Holds("text")] = Field(default="", description="What it is called.")
    share: Annotated[Buyers[Decimal], Holds("share")] = Field(
        default=NOTHING, description="Share of the total, 0 to 1."
    )
    event: Annotated[Buyers[str], Holds("text")] = Field(
        default="", description="What has happened when it is due."
    )
    days: Annotated[Buyers[int], Holds("days")] = Field(
        default=0, description="Calendar days to pay after that."
    )
    price: Annotated[Buyers[Decimal], Holds("money")] = Field(
        default=NOTHING, description="Its part of the price, before tax."
    )
    tax: Annotated[Buyers[Decimal], Holds("money")] = Field(
        default=NOTHING, description="Its part of the tax."
    )
    retained: Annotated[Buyers[Decimal], Holds("money")] = Field(
        default=NOTHING, description="Kept of it until later."
    )
    due: Annotated[Buyers[Decimal], Holds("money")] = Field(default=NOTHING, description="Paid.")
    event_date: Annotated[Buyers[datetime.date | None], Holds("date")] = Field(
        default=None, description="Day of the event by the programme."
    )
    due_date: Annotated[Buyers[datetime.date | None], Holds("date")] = Field(
        default=None, description="Last day to pay."
    )


class UnitPriceRow(Shown):
    """What one more of something is charged for."""

    to: Annotated[Buyers[str], Holds("text")] = Field(
        default="", description="device, metre of cable, ends of a cable, hour …"
    )
    item: Annotated[Buyers[str], Holds("tag")] = Field(
        default="", description="Model code; empty for an hour."
    )
    description: Annotated[Buyers[str], Holds("text")] = Field(
        default="", description="What it is, or whose hour."
    )
    supply: Annotated[Buyers[Decimal], Holds("unit price")] = Field(
        default=NOTHING, description="Price of the thing, before tax."
    )
    work: Annotated[Buyers[Decimal], Holds("unit price")] = Field(
        default=NOTHING, description="Price of its work, before tax."
    )
    price: Annotated[Buyers[Decimal], Holds("unit price")] = Field(
        default=NOTHING, description="Both, before tax."
    )
    hours: Annotated[House[Decimal | None], Holds("unit hours")] = Field(
        default=None, description="Hours of all trades together, h."
    )


class YearlyRow(Shown):
    """What recurs each year and is not in the total."""

    item: Annotated[Buyers[str], Holds("tag")] = Field(default="", description="Model code.")
    description: Annotated[Buyers[str], Holds("text")] = Field(default="", description="What it is for.")
    quantity: Annotated[Buyers[int], Holds("count")] = Field(default=0, description="How many.")
    unit_price: Annotated[Buyers[Decimal], Holds("unit price")] = Field(
        default=NOTHING, description="Of one and year, before tax."
    )
    price: Annotated[Buyers[Decimal], Holds("money")] = Field(
        default=NOTHING, description="Of all a year, before tax."
    )
    unit_cost: Annotated[House[Decimal | None], Holds("unit price")] = Field(
        default=None, description="What one costs us a year."
    )


class ExchangeRow(Shown):
    """An exchange rate that amounts of the price were converted by."""

    currency: Annotated[Buyers[str], Holds("text")] = Field(
        default="", description="Other currency, by its code of ISO 4217."
    )
    rate: Annotated[Buyers[Decimal], Holds("exchange rate")] = Field(
        default=NOTHING, description="Units of the project's currency for one of it."
    )
    date: Annotated[Buyers[datetime.date | None], Holds("date")] = Field(
        default=None, description="Day of the rate."
    )
    source: Annotated[Buyers[str], Holds("text")] = Field(default="", description="Who published the rate.")


class PriceLineRow(Shown):
    """One line of the build-up of the price: from cost by a rule to price and tax."""

    number: Annotated[House[str], Holds("tag")] = Field(default="", description="Number, such as A101-P12.")
    group: Annotated[House[str], Holds("text")] = Field(
        default="", description="equipment, materials, labour, travel, surcharge or allowance."
    )
    kind: Annotated[House[str], Holds("text")] = Field(
        default="", description="Kind of equipment, section, hours, overtime, expenses."
    )
    item: Annotated[House[str], Holds("tag")] = Field(default="", description="Model code, or empty.")
    description: Annotated[House[str], Holds("text")] = Field(
        default="", description="What it is, or who works."
    )
    room: Annotated[House[str], Holds("tag")] = Field(
        default="", description="Room or equipment room; empty for the building."
    )
    system: Annotated[House[str], Holds("text")] = Field(default="", description="System it belongs to.")
    phase: Annotated[House[str], Holds("text")] = Field(
        default="", description="Phase in which it is used or done."
    )
    quantity: Annotated[House[Decimal], Holds("how many")] = Field(
        default=NOTHING, description="What is charged, in `unit`; lengths in m."
    )
    unit: Annotated[House[str], Holds("unit")] = Field(
        default="", description="each, m, h, day, or the length of a reel."
    )
    unit_cost: Annotated[House[Decimal], Holds("unit price")] = Field(
        default=NOTHING, description="What one unit costs us."
    )
    cost: Annotated[House[Decimal], Holds("money")] = Field(
        default=NOTHING, description="What the line costs us."
    )
    list_price: Annotated[House[Decimal | None], Holds("unit price")] = Field(
        default=None, description="List price of one unit."
    )
    rule: Annotated[House[str], Holds("rule")] = Field(
        default="", description="margin, markup, discount, rate, or stated: how cost becomes price."
    )
    rule_value: Annotated[House[Decimal], Holds("by rule")] = Field(
        default=NOTHING, description="Share, rate or amount of the rule."
    )
    reserve: Annotated[House[Decimal], Holds("money")] = Field(
        default=NOTHING, description="Cost of what is spread over the line."
    )
    unit_price: Annotated[House[Decimal], Holds("unit price")] = Field(
        default=NOTHING, description="Price of one unit, before tax."
    )
    price: Annotated[House[Decimal], Holds("money")] = Field(default=NOTHING, description="Before tax.")
    tax_kind: Annotated[House[str], Holds("text")] = Field(
        default="", description="goods, services or exempt."
    )
    tax_place: Annotated[House[str], Holds("text")] = Field(default="", description="Place whose tax it is.")
    tax_rate: Annotated[House[Decimal], Holds("share")] = Field(default=NOTHING, description="Rate, 0 to 1.")
    tax: Annotated[House[Decimal], Holds("money")] = Field(default=NOTHING, description="Tax on the line.")
    causes: Annotated[House[tuple[str, ...]], Holds("tag")] = Field(
        default=(), description="Devices, cables or tasks it is for."
    )


class SurchargeRow(Shown):
    """Something reckoned on top: freight, insurance, permits, contingency."""

    name: Annotated[House[str], Holds("text")] = Field(default="", description="What it is.")
    share: Annotated[House[Decimal | None], Holds("share")] = Field(
        default=None, description="Share of the cost; none for an amount."
    )
    of: Annotated[House[tuple[str, ...]], Holds("text")] = Field(
        default=(), description="Groups it is reckoned on."
    )
    way: Annotated[House[str], Holds("text")] = Field(
        default="", description="a line of its own, or spread over the lines."
    )
    cost: Annotated[House[Decimal], Holds("money")] = Field(
        default=NOTHING, description="What it costs us, or is set aside for it."
    )
    price: Annotated[House[Decimal | None], Holds("money")] = Field(
        default=None, description="Its line's price; none where it is in the prices of other lines."
    )


class CashRow(Shown):
    """Money that comes in or goes out on one day."""

    date: Annotated[House[datetime.date | None], Holds("date")] = Field(default=None, description="Day.")
    what: Annotated[House[str], Holds("text")] = Field(default="", description="What is paid.")
    incoming: Annotated[House[Decimal | None], Holds("money")] = Field(
        default=None, description="Paid to us, tax included."
    )
    outgoing: Annotated[House[Decimal | None], Holds("money")] = Field(
        default=None, description="Paid by us."
    )
    balance: Annotated[House[Decimal], Holds("money")] = Field(
        default=NOTHING, description="All of it up to here."
    )
