"""Rows of the price: what clients buy, and, for the house alone, how every price is built up."""

import datetime
from decimal import Decimal

from pydantic import Field

from proposal.document.readers import Buyers, House, Shown

NOTHING = Decimal(0)


class PriceTotal(Shown):
    """The whole price."""

    currency: Buyers[str] = Field(default="", description="Currency, by its code of ISO 4217.")
    price: Buyers[Decimal] = Field(default=NOTHING, description="Before tax.")
    tax: Buyers[Decimal] = Field(default=NOTHING, description="All taxes together.")
    total: Buyers[Decimal] = Field(default=NOTHING, description="With tax.")
    room_view: Buyers[str] = Field(
        default="", description="What becomes of shared items by room: building group or shared out."
    )
    retention: Buyers[Decimal] = Field(default=NOTHING, description="Share of each payment kept until later.")
    cost: House[Decimal | None] = Field(default=None, description="What all of it costs us.")
    reserve: House[Decimal | None] = Field(
        default=None, description="Cost of what is spread over the lines, such as contingency."
    )
    margin: House[Decimal | None] = Field(default=None, description="Price less cost.")


class OfferRow(Shown):
    """One line of the offer, as a client reads it: equipment by model, materials and work by room."""

    number: Buyers[str] = Field(default="", description="Number, such as A101-C12.")
    room: Buyers[str] = Field(default="", description="Room; empty for what serves several.")
    group: Buyers[str] = Field(
        default="", description="equipment, materials, labour, travel, surcharge, allowance or share."
    )
    description: Buyers[str] = Field(default="", description="What it is.")
    item: Buyers[str] = Field(default="", description="Model code of equipment.")
    quantity: Buyers[Decimal] = Field(default=NOTHING, description="How many.")
    unit: Buyers[str] = Field(default="", description="each, or lot for several things priced together.")
    unit_price: Buyers[Decimal] = Field(default=NOTHING, description="Of one, before tax.")
    price: Buyers[Decimal] = Field(default=NOTHING, description="Before tax.")
    tax: Buyers[Decimal] = Field(default=NOTHING, description="Tax on it.")
    counted: Buyers[bool] = Field(
        default=False, description="Whether it adds to the total; otherwise shares in rooms contain it."
    )


class PriceSum(Shown):
    """The price of one room, system, phase or group."""

    key: Buyers[str] = Field(default="", description="Tag or name; empty for what serves several rooms.")
    price: Buyers[Decimal] = Field(default=NOTHING, description="Before tax.")
    tax: Buyers[Decimal] = Field(default=NOTHING, description="Tax.")
    total: Buyers[Decimal] = Field(default=NOTHING, description="With tax.")
    cost: House[Decimal | None] = Field(default=None, description="What it costs us.")
    reserve: House[Decimal | None] = Field(default=None, description="Cost of what is spread over it.")
    margin: House[Decimal | None] = Field(default=None, description="Price less cost.")


class TaxRow(Shown):
    """Tax at one place on one kind of line."""

    place: Buyers[str] = Field(default="", description="Place.")
    name: Buyers[str] = Field(default="", description="What the tax is called.")
    kind: Buyers[str] = Field(default="", description="goods, services or exempt.")
    rate: Buyers[Decimal] = Field(default=NOTHING, description="Rate, 0 to 1.")
    price: Buyers[Decimal] = Field(default=NOTHING, description="Price that is taxed.")
    tax: Buyers[Decimal] = Field(default=NOTHING, description="Tax, the sum of that of every line.")


class PaymentRow(Shown):
    """One payment, and when it is due."""

    number: Buyers[str] = Field(default="", description="Key of the payment in the project.")
    name: Buyers[str] = Field(default="", description="What it is called.")
    share: Buyers[Decimal] = Field(default=NOTHING, description="Share of the total, 0 to 1.")
    event: Buyers[str] = Field(default="", description="What has happened when it is due.")
    days: Buyers[int] = Field(default=0, description="Calendar days to pay after that.")
    price: Buyers[Decimal] = Field(default=NOTHING, description="Its part of the price, before tax.")
    tax: Buyers[Decimal] = Field(default=NOTHING, description="Its part of the tax.")
    retained: Buyers[Decimal] = Field(default=NOTHING, description="Kept of it until later.")
    due: Buyers[Decimal] = Field(default=NOTHING, description="Paid.")
    event_date: Buyers[datetime.date | None] = Field(
        default=None, description="Day of the event by the programme."
    )
    due_date: Buyers[datetime.date | None] = Field(default=None, description="Last day to pay.")


class UnitPriceRow(Shown):
    """What one more of something is charged for."""

    to: Buyers[str] = Field(default="", description="device, metre of cable, ends of a cable, hour …")
    item: Buyers[str] = Field(default="", description="Model code; empty for an hour.")
    description: Buyers[str] = Field(default="", description="What it is, or whose hour.")
    supply: Buyers[Decimal] = Field(default=NOTHING, description="Price of the thing, before tax.")
    work: Buyers[Decimal] = Field(default=NOTHING, description="Price of its work, before tax.")
    price: Buyers[Decimal] = Field(default=NOTHING, description="Both, before tax.")
    hours: House[Decimal | None] = Field(default=None, description="Hours of all trades together, h.")


class YearlyRow(Shown):
    """What recurs each year and is not in the total."""

    item: Buyers[str] = Field(default="", description="Model code.")
    description: Buyers[str] = Field(default="", description="What it is for.")
    quantity: Buyers[int] = Field(default=0, description="How many.")
    unit_price: Buyers[Decimal] = Field(default=NOTHING, description="Of one and year, before tax.")
    price: Buyers[Decimal] = Field(default=NOTHING, description="Of all a year, before tax.")
    unit_cost: House[Decimal | None] = Field(default=None, description="What one costs us a year.")


class ExchangeRow(Shown):
    """An exchange rate that amounts of the price were converted by."""

    currency: Buyers[str] = Field(default="", description="Other currency, by its code of ISO 4217.")
    rate: Buyers[Decimal] = Field(
        default=NOTHING, description="Units of the project's currency for one of it."
    )
    date: Buyers[datetime.date | None] = Field(default=None, description="Day of the rate.")


class PriceLineRow(Shown):
    """One line of the build-up of the price: from cost by a rule to price and tax."""

    number: House[str] = Field(default="", description="Number, such as A101-P12.")
    group: House[str] = Field(
        default="", description="equipment, materials, labour, travel, surcharge or allowance."
    )
    kind: House[str] = Field(default="", description="Kind of equipment, section, hours, overtime, expenses.")
    item: House[str] = Field(default="", description="Model code, or empty.")
    description: House[str] = Field(default="", description="What it is, or who works.")
    room: House[str] = Field(default="", description="Room or equipment room; empty for the building.")
    system: House[str] = Field(default="", description="System it belongs to.")
    phase: House[str] = Field(default="", description="Phase in which it is used or done.")
    quantity: House[Decimal] = Field(default=NOTHING, description="What is charged, in `unit`; lengths in m.")
    unit: House[str] = Field(default="", description="each, m, h, day, or the length of a reel.")
    unit_cost: House[Decimal] = Field(default=NOTHING, description="What one unit costs us.")
    cost: House[Decimal] = Field(default=NOTHING, description="What the line costs us.")
    list_price: House[Decimal | None] = Field(default=None, description="List price of one unit.")
    rule: House[str] = Field(
        default="", description="margin, markup, discount, rate, or stated: how cost becomes price."
    )
    rule_value: House[Decimal] = Field(default=NOTHING, description="Share, rate or amount of the rule.")
    reserve: House[Decimal] = Field(default=NOTHING, description="Cost of what is spread over the line.")
    unit_price: House[Decimal] = Field(default=NOTHING, description="Price of one unit, before tax.")
    price: House[Decimal] = Field(default=NOTHING, description="Before tax.")
    tax_kind: House[str] = Field(default="", description="goods, services or exempt.")
    tax_place: House[str] = Field(default="", description="Place whose tax it is.")
    tax_rate: House[Decimal] = Field(default=NOTHING, description="Rate, 0 to 1.")
    tax: House[Decimal] = Field(default=NOTHING, description="Tax on the line.")
    causes: House[tuple[str, ...]] = Field(default=(), description="Devices, cables or tasks it is for.")


class SurchargeRow(Shown):
    """Something reckoned on top: freight, insurance, permits, contingency."""

    name: House[str] = Field(default="", description="What it is.")
    share: House[Decimal | None] = Field(default=None, description="Share of the cost; none for an amount.")
    of: House[tuple[str, ...]] = Field(default=(), description="Groups it is reckoned on.")
    way: House[str] = Field(default="", description="a line of its own, or spread over the lines.")
    cost: House[Decimal] = Field(default=NOTHING, description="What it costs us, or is set aside for it.")
    price: House[Decimal | None] = Field(
        default=None, description="Its line's price; none where it is in the prices of other lines."
    )


class CashRow(Shown):
    """Money that comes in or goes out on one day."""

    date: House[datetime.date | None] = Field(default=None, description="Day.")
    what: House[str] = Field(default="", description="What is paid.")
    incoming: House[Decimal | None] = Field(default=None, description="Paid to us, tax included.")
    outgoing: House[Decimal | None] = Field(default=None, description="Paid by us.")
    balance: House[Decimal] = Field(default=NOTHING, description="All of it up to here.")
