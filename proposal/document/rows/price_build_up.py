"""Rows of the price for the house alone: how every price is built up, and the money that comes and goes."""

import datetime
from decimal import Decimal
from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.rows.price import NOTHING
from proposal.document.schedule import HOUSE, Row, Schedule, Shows, composed


class UnitCostRow(Row):
    """What one more of something comes to by the proposal's own rules, beside what is stated."""

    schedule: ClassVar = Schedule("unit_cost", subject="price", key=("to", "item", "description"))

    to: Annotated[str, Shows("one_more", HOUSE)] = Field(
        default="", description="device, metre of cable, ends of a cable, hour …"
    )
    item: Annotated[str, Shows("model", HOUSE, "tag", link="model")] = Field(
        default="", description="Model code; empty for an hour."
    )
    description: Annotated[str, Shows("what", HOUSE)] = Field(
        default="", description="What it is, or whose hour."
    )
    tasks: Annotated[tuple[tuple[str, int], ...], Shows("tasks", HOUSE, ("text", "count"))] = Field(
        default=(), description="Tasks that its hours are of, each with how often it is done."
    )
    hours: Annotated[Decimal, Shows("hours", HOUSE, "unit hours")] = Field(
        default=NOTHING, description="Hours of all trades together, h."
    )
    supply: Annotated[Decimal, Shows("supply", HOUSE, "unit price", zero=False)] = Field(
        default=NOTHING, description="Price of the thing by its rule, before tax."
    )
    work: Annotated[Decimal, Shows("work", HOUSE, "unit price")] = Field(
        default=NOTHING, description="Price of its hours at the rates of the proposal's own work."
    )
    computed: Annotated[Decimal, Shows("by_the_rules", HOUSE, "unit price", formula="{supply}+{work}")] = (
        Field(default=NOTHING, description="Both, before tax.")
    )
    stated: Annotated[Decimal | None, Shows("as_stated", HOUSE, "unit price", empty="on_request")] = Field(
        default=None, description="What the client reads; none where it is on request."
    )


class PriceLineRow(Row):
    """One line of the build-up of the price: from cost by a rule to price and tax."""

    schedule: ClassVar = Schedule(
        "price_line",
        subject="price",
        key=("group", "kind", "item", "description", "room", "system", "phase", "unit", "pathway_causes"),
        views={
            "check": "number description quantity unit cost_from rule rule_value rule_from group kind "
            "item system phase tax_place tax_kind rate causes",
            "price": "number description quantity unit unit_cost cost_of_wholes cost reserve "
            "unit_price wholes spread price tax",
        },
    )

    number: Annotated[str, Shows("line", HOUSE, "tag", serial=True)] = Field(
        default="", description="Number, such as A101-P12."
    )
    group: Annotated[str, Shows("group", HOUSE, "word")] = Field(
        default="", description="equipment, materials, labour, travel, surcharge or allowance."
    )
    kind: Annotated[str, Shows("kind", HOUSE, "word")] = Field(
        default="", description="Kind of equipment, section, hours, overtime, expenses."
    )
    item: Annotated[str, Shows("item", HOUSE, "tag", link="model")] = Field(
        default="", description="Model code, or empty."
    )
    description: Annotated[str, Shows("description", HOUSE)] = Field(
        default="", description="What it is, or who works."
    )
    room: Annotated[str, Shows("room", HOUSE, "tag", follows=True)] = Field(
        default="", description="Room or equipment room; empty for the building."
    )
    system: Annotated[str, Shows("system", HOUSE, "word")] = Field(
        default="", description="System it belongs to."
    )
    phase: Annotated[str, Shows("phase", HOUSE, "word")] = Field(
        default="", description="Phase in which it is used or done."
    )
    quantity: Annotated[Decimal, Shows("quantity", HOUSE, "how many", follows=True)] = Field(
        default=NOTHING, description="What is charged, in `unit`; lengths in m."
    )
    unit: Annotated[str, Shows("unit", HOUSE, "unit")] = Field(
        default="", description="each, m, h, day, or the length of a reel."
    )
    unit_cost: Annotated[Decimal, Shows("unit_cost", HOUSE, "price by unit")] = Field(
        default=NOTHING, description="What one unit costs us."
    )
    cost_of_wholes: Annotated[
        Decimal, Shows("for_wholes", HOUSE, "money", sums=True, zero=False, follows=True)
    ] = Field(
        default=NOTHING,
        description="Its share of what wholes cost beyond the need; below 0 where a reel costs less than its "
        "metres.",
    )
    cost: Annotated[
        Decimal,
        Shows(
            "cost",
            HOUSE,
            "money",
            sums=True,
            formula="{quantity}*{unit_cost}+{cost_of_wholes}",
            follows=True,
        ),
    ] = Field(default=NOTHING, description="What the line costs us.")
    cost_from: Annotated[str, Shows("cost_from", HOUSE)] = Field(
        default="",
        description="Library that the cost comes from: shared, company or project; empty for sums.",
    )
    list_price: Annotated[Decimal | None, Shows("list_price", HOUSE, "price by unit")] = Field(
        default=None, description="List price of one unit."
    )
    rule: Annotated[str, Shows("rule", HOUSE, "rule")] = Field(
        default="", description="margin, markup, discount, rate, or stated: how cost becomes price."
    )
    rule_value: Annotated[Decimal, Shows("share_or_amount", HOUSE, "by rule")] = Field(
        default=NOTHING, description="Share, rate or amount of the rule."
    )
    rule_from: Annotated[str, Shows("rule_is_written_at", HOUSE)] = Field(
        default="", description="Key of the input that the rule takes; empty where it takes none."
    )
    reserve: Annotated[Decimal, Shows("reserve", HOUSE, "money", sums=True, zero=False, follows=True)] = (
        Field(default=NOTHING, description="Cost of what is spread over the line.")
    )
    unit_price: Annotated[Decimal, Shows("unit_price", HOUSE, "price by unit")] = Field(
        default=NOTHING, description="Price of one unit before tax; nothing is spread over it."
    )
    wholes: Annotated[
        Decimal, Shows("price_for_wholes", HOUSE, "money", sums=True, zero=False, follows=True)
    ] = Field(default=NOTHING, description="Its share of what wholes sell for beyond the need.")
    spread: Annotated[
        Decimal, Shows("spread_over_it", HOUSE, "money", sums=True, zero=False, follows=True)
    ] = Field(default=NOTHING, description="Part of the price that is spread over the line.")
    price: Annotated[
        Decimal,
        Shows(
            "price",
            HOUSE,
            "money",
            sums=True,
            formula="{quantity}*{unit_price}+{wholes}+{spread}",
            follows=True,
        ),
    ] = Field(default=NOTHING, description="Before tax.")
    tax_kind: Annotated[str, Shows("as", HOUSE)] = Field(default="", description="goods, services or exempt.")
    tax_place: Annotated[str, Shows("taxed_in", HOUSE)] = Field(
        default="", description="Place whose tax it is."
    )
    tax_rate: Annotated[Decimal, Shows("rate_of_tax", HOUSE, "share", follows=True)] = Field(
        default=NOTHING, description="Rate, 0 to 1."
    )
    tax: Annotated[
        Decimal,
        Shows("tax", HOUSE, "money", sums=True, zero=False, formula="{price}*{tax_rate}", follows=True),
    ] = Field(default=NOTHING, description="Tax on the line.")
    causes: Annotated[tuple[str, ...], Shows("for", HOUSE, "tag", link="subject", most=3, follows=True)] = (
        Field(default=(), description="Devices, cables or tasks it is for.")
    )

    @property
    def pathway_causes(self) -> str:
        """What it is for, where that is a pathway: pathways belong to no room and are listed one by one."""
        return ", ".join(self.causes) if "pathways" in (self.group, self.kind, self.system) else ""

    @composed(Shows("rate", HOUSE, "share", together=True))
    def rate(self) -> Decimal | None:
        """Rate of the tax; nothing where no place taxes it."""
        return self.tax_rate if self.tax_place else None


class SurchargeRow(Row):
    """Something added on top: freight, insurance, permits, contingency."""

    schedule: ClassVar = Schedule("surcharge", subject="price", key=("name",))

    name: Annotated[str, Shows("what", HOUSE)] = Field(default="", description="What it is.")
    share: Annotated[Decimal | None, Shows("share", HOUSE, "share")] = Field(
        default=None, description="Share of the cost; none for an amount."
    )
    of: Annotated[tuple[str, ...], Shows("of_the_cost_of", HOUSE)] = Field(
        default=(), description="Groups it is computed on."
    )
    each: Annotated[Decimal | None, Shows("of_each", HOUSE, "money")] = Field(
        default=None, description="Of what is counted, what one costs us."
    )
    count: Annotated[int | None, Shows("count", HOUSE, "count")] = Field(
        default=None, description="How many are counted."
    )
    counted_by: Annotated[str, Shows("counted_by", HOUSE, "word")] = Field(
        default="", description="room, storey, delivery, room at height, trade, day, week or phase on site."
    )
    phases: Annotated[tuple[str, ...], Shows("phases", HOUSE)] = Field(
        default=(), description="Phases whose days, weeks or number on site count; empty for all of them."
    )
    covers: Annotated[tuple[str, ...], Shows("covers", HOUSE)] = Field(
        default=(), description="General conditions that it covers."
    )
    way: Annotated[str, Shows("how", HOUSE, words="surcharge")] = Field(
        default="", description="a line of its own, a line of the sum with itself, or spread over the lines."
    )
    steps: Annotated[tuple[tuple[Decimal, Decimal], ...], Shows("steps", HOUSE, ("money", "share"))] = Field(
        default=(), description="Of a sliding scale, amount of the sum from which each share holds, and it."
    )
    cost: Annotated[Decimal, Shows("cost", HOUSE, "money", sums=True)] = Field(
        default=NOTHING, description="What it costs us, or is set aside for it."
    )
    price: Annotated[Decimal | None, Shows("price", HOUSE, "money", sums=True)] = Field(
        default=None,
        description="Its line's price; of what is spread, what that adds to the prices of other lines.",
    )


class CashRow(Row):
    """Money that comes in or goes out on one day."""

    schedule: ClassVar = Schedule("cash", subject="price", key=("date", "what"))

    date: Annotated[datetime.date | None, Shows("day", HOUSE, "date")] = Field(
        default=None, description="Day."
    )
    what: Annotated[str, Shows("what", HOUSE)] = Field(default="", description="What is paid.")
    incoming: Annotated[Decimal | None, Shows("in", HOUSE, "money", sums=True)] = Field(
        default=None, description="Paid to us, tax included."
    )
    outgoing: Annotated[Decimal | None, Shows("out", HOUSE, "money", sums=True)] = Field(
        default=None, description="Paid by us."
    )
    balance: Annotated[Decimal, Shows("balance", HOUSE, "money")] = Field(
        default=NOTHING, description="All of it up to here."
    )
