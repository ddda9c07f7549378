"""Rows of the price: what a client buys, by line, room, system, phase and group; taxes and payments."""

import datetime
from collections.abc import Sequence
from decimal import Decimal
from typing import Annotated, ClassVar, Protocol

from pydantic import Field

from proposal.document.rows.terms import EXEMPTION, ContractTermRow
from proposal.document.schedule import BUYERS, HOUSE, Row, Schedule, Shows, composed, gathered
from proposal.quantities.formatting import rounded

NOTHING = Decimal(0)


class Taxed(Protocol):
    """What has taxes, or none."""

    @property
    def taxes(self) -> "Sequence[TaxRow]":
        """Taxes by place and kind."""

    @property
    def contract_terms(self) -> Sequence[ContractTermRow]:
        """Terms of the contract, each in one short form."""


class PriceTotal(Row):
    """The whole price."""

    schedule: ClassVar = Schedule("price_total", subject="price")

    currency: Annotated[str, Shows("currency", BUYERS)] = Field(
        default="", description="Currency, by its code of ISO 4217."
    )
    price: Annotated[Decimal, Shows("price_before_tax", BUYERS, "money")] = Field(
        default=NOTHING, description="Before tax."
    )
    tax: Annotated[Decimal, Shows("tax", BUYERS, "money")] = Field(
        default=NOTHING, description="All taxes together."
    )
    total: Annotated[Decimal, Shows("total_with_tax", BUYERS, "money")] = Field(
        default=NOTHING, description="With tax."
    )
    room_view: Annotated[str, Shows("what_is_for_the_whole_project", BUYERS, words="price_total")] = Field(
        default="", description="What becomes of shared items by room: building group or shared out."
    )
    client_detail: Annotated[str, Shows("prices_are_told", BUYERS, words="price_total")] = Field(
        default="", description="How finely the client reads prices: room, system or line."
    )
    retention: Annotated[Decimal, Shows("retention", BUYERS, "share")] = Field(
        default=NOTHING, description="Share of each payment kept until later."
    )
    cost: Annotated[Decimal | None, Shows("cost", HOUSE, "money")] = Field(
        default=None, description="What all of it costs us."
    )
    reserve: Annotated[Decimal | None, Shows("reserve_spread_over_lump_lines", HOUSE, "money")] = Field(
        default=None, description="Cost of what is spread over the lines, such as contingency."
    )
    margin: Annotated[Decimal | None, Shows("margin", HOUSE, "money")] = Field(
        default=None, description="Price less cost."
    )

    @composed(Shows("margin_of_the_price", HOUSE, "share"))
    def margin_share(self) -> Decimal | None:
        """Share of the price that is left over its cost."""
        return None if self.cost is None else margin_share(self.cost, self.price)

    @composed(Shows("margin_if_the_reserve_is_spent", HOUSE, "money"))
    def margin_at_least(self) -> Decimal | None:
        """What is left of the margin if all of the reserve is spent."""
        return None if self.margin is None else self.margin - (self.reserve or NOTHING)

    @gathered(Shows("tax", BUYERS, words="price_total", together=True))
    def untaxed(self, document: Taxed) -> str:
        """That no tax is included, or why none is charged; empty where there are taxes."""
        for term in document.contract_terms:
            if term.what == EXEMPTION:
                return f"no tax is charged: {term.words}"
        return "" if document.taxes else "untaxed"


class OfferRow(Row):
    """One line of the offer, as a client reads it: a lump, something with a stated price, or an allowance."""

    schedule: ClassVar = Schedule(
        "offer", subject="price", key=("group", "room", "system", "item", "description")
    )

    number: Annotated[str, Shows("line", BUYERS, "tag", link="number", serial=True)] = Field(
        default="", description="Number, such as A101-C12."
    )
    room: Annotated[str, Shows("room", BUYERS, "tag", link="tag", empty="the_building")] = Field(
        default="", description="Room; empty for what serves several."
    )
    group: Annotated[str, Shows("kind", BUYERS, "word", words="offer")] = Field(
        default="", description="equipment, surcharge, allowance, or lump: a share of what all lumps come to."
    )
    system: Annotated[str, Shows("system", BUYERS, "word")] = Field(
        default="", description="System; empty for a lump that holds all systems of a room."
    )
    description: Annotated[str, Shows("description", BUYERS)] = Field(default="", description="What it is.")
    item: Annotated[str, Shows("model", BUYERS, "tag", link="model")] = Field(
        default="", description="Model code of equipment."
    )
    quantity: Annotated[Decimal, Shows("quantity", BUYERS, "how many")] = Field(
        default=NOTHING, description="How many."
    )
    unit: Annotated[str, Shows("unit", BUYERS, "unit")] = Field(
        default="", description="each, or lot for several things priced together."
    )
    unit_price: Annotated[Decimal, Shows("unit_price", BUYERS, "unit price")] = Field(
        default=NOTHING, description="Of one, before tax."
    )
    price: Annotated[
        Decimal, Shows("before_tax", BUYERS, "money", sums=True, formula="{quantity}*{unit_price}")
    ] = Field(default=NOTHING, description="Before tax.")
    tax: Annotated[Decimal, Shows("tax", BUYERS, "money", sums=True)] = Field(
        default=NOTHING, description="Tax on it."
    )


class PriceSum(Row):
    """The price of one room, system, phase or group, or of as much of the offer."""

    schedule: ClassVar = Schedule("price_sum", subject="price", key=("key",), unnamed="the_building")

    key: Annotated[str, Shows("what", BUYERS, "tag")] = Field(
        default="", description="Tag or name; empty for what serves several rooms."
    )
    price: Annotated[Decimal, Shows("before_tax", BUYERS, "money", sums=True)] = Field(
        default=NOTHING, description="Before tax."
    )
    tax: Annotated[Decimal, Shows("tax", BUYERS, "money", sums=True)] = Field(
        default=NOTHING, description="Tax."
    )
    total: Annotated[Decimal, Shows("with_tax", BUYERS, "money", sums=True)] = Field(
        default=NOTHING, description="With tax."
    )
    cost: Annotated[Decimal | None, Shows("cost", HOUSE, "money", sums=True)] = Field(
        default=None, description="What it costs us."
    )
    reserve: Annotated[Decimal | None, Shows("reserve", HOUSE, "money", sums=True, zero=False)] = Field(
        default=None, description="Cost of what is spread over it."
    )
    margin: Annotated[
        Decimal | None, Shows("margin", HOUSE, "money", sums=True, formula="{price}-{cost}")
    ] = Field(default=None, description="Price less cost.")

    @composed(Shows("of_the_price", HOUSE, "share"))
    def margin_share(self) -> Decimal | None:
        """Share of the price that is left over its cost."""
        return None if self.cost is None else margin_share(self.cost, self.price)


def margin_share(cost: Decimal, price: Decimal) -> Decimal | None:
    """Return the share of a price that is left over its cost, to a hundredth of a per cent.

    cost, price: before tax.  None where there is no price.
    """
    return rounded((price - cost) / price, _SHARE_PLACES) if price else None


_SHARE_PLACES = 4


class RoomPrice(PriceSum):
    """The price of one room."""

    key: Annotated[str, Shows("room", BUYERS, "tag", link="room", empty="for_the_project_as_a_whole")] = (
        Field(default="", description="Tag of the room; empty for what serves several.")
    )


class SystemPrice(PriceSum):
    """The price of one system."""

    key: Annotated[str, Shows("system", BUYERS, "word", words="price")] = Field(
        default="", description="System."
    )


class PhasePrice(PriceSum):
    """The price of one phase of the work."""

    key: Annotated[str, Shows("phase", BUYERS, "word", words="price")] = Field(
        default="", description="Phase."
    )


class GroupPrice(PriceSum):
    """The price of one kind of cost."""

    key: Annotated[str, Shows("kind", BUYERS, "word", words="price")] = Field(
        default="", description="Kind of cost."
    )


class TaxRow(Row):
    """Tax at one place on one kind of line."""

    schedule: ClassVar = Schedule("tax", subject="price", key=("place", "name", "kind"))

    place: Annotated[str, Shows("place", BUYERS)] = Field(default="", description="Place.")
    name: Annotated[str, Shows("tax", BUYERS)] = Field(default="", description="What the tax is called.")
    kind: Annotated[str, Shows("on", BUYERS, "word")] = Field(
        default="", description="goods, services, both, or exempt."
    )
    rate: Annotated[Decimal, Shows("rate", BUYERS, "share")] = Field(
        default=NOTHING, description="Rate, 0 to 1."
    )
    price: Annotated[Decimal, Shows("price_taxed", BUYERS, "money", sums=True, follows=True)] = Field(
        default=NOTHING, description="Price that is taxed."
    )
    tax: Annotated[Decimal, Shows("amount", BUYERS, "money", sums=True, follows=True)] = Field(
        default=NOTHING, description="Tax, the sum of that of every line."
    )


class PaymentRow(Row):
    """One payment, and when it is due."""

    schedule: ClassVar = Schedule("payment", subject="price", key=("number",))

    number: Annotated[str, Shows("no", BUYERS, "tag")] = Field(
        default="", description="Key of the payment in the project."
    )
    name: Annotated[str, Shows("payment", BUYERS)] = Field(default="", description="What it is called.")
    share: Annotated[Decimal, Shows("share", BUYERS, "share", zero=False)] = Field(
        default=NOTHING, description="Share of the total, 0 to 1."
    )
    event: Annotated[str, Shows("due_upon", BUYERS, "word", words="event")] = Field(
        default="", description="What has happened when it is due."
    )
    days: Annotated[int, Shows("days_to_pay", BUYERS, "days")] = Field(
        default=0, description="Calendar days to pay after that."
    )
    price: Annotated[Decimal, Shows("before_tax", BUYERS, "money", sums=True, zero=False, follows=True)] = (
        Field(default=NOTHING, description="Its part of the price, before tax.")
    )
    tax: Annotated[Decimal, Shows("tax", BUYERS, "money", sums=True, zero=False, follows=True)] = Field(
        default=NOTHING, description="Its part of the tax."
    )
    retained: Annotated[Decimal, Shows("retained", BUYERS, "money", sums=True, zero=False, follows=True)] = (
        Field(default=NOTHING, description="Kept of it until later.")
    )
    due: Annotated[Decimal, Shows("to_be_paid", BUYERS, "money", sums=True, follows=True)] = Field(
        default=NOTHING, description="Paid."
    )
    event_date: Annotated[datetime.date | None, Shows("which_is_by_the_programme", BUYERS, "date")] = Field(
        default=None, description="Day of the event by the programme."
    )
    due_date: Annotated[datetime.date | None, Shows("to_be_paid_by", BUYERS, "date")] = Field(
        default=None, description="Last day to pay."
    )


class UnitPriceRow(Row):
    """What one more of something is charged for, as the project states it."""

    schedule: ClassVar = Schedule("unit_price", subject="price", key=("to", "item", "description"))

    to: Annotated[str, Shows("one_more", BUYERS)] = Field(
        default="", description="device, metre of cable, ends of a cable, hour …"
    )
    item: Annotated[str, Shows("model", BUYERS, "tag", link="model")] = Field(
        default="", description="Model code; empty for an hour."
    )
    description: Annotated[str, Shows("what", BUYERS)] = Field(
        default="", description="What it is, or whose hour."
    )
    price: Annotated[Decimal, Shows("price", BUYERS, "unit price")] = Field(
        default=NOTHING, description="With its work, before tax."
    )


class YearlyRow(Row):
    """What recurs each year and is not in the total."""

    schedule: ClassVar = Schedule("yearly", subject="price", key=("item", "description"))

    item: Annotated[str, Shows("model", BUYERS, "tag", link="model")] = Field(
        default="", description="Model code."
    )
    description: Annotated[str, Shows("for", BUYERS)] = Field(default="", description="What it is for.")
    quantity: Annotated[int, Shows("quantity", BUYERS, "count")] = Field(default=0, description="How many.")
    unit_price: Annotated[Decimal | None, Shows("one_a_year", BUYERS, "unit price", empty="on_request")] = (
        Field(default=None, description="Of one and year, before tax; none where it is priced on request.")
    )
    price: Annotated[Decimal | None, Shows("all_a_year", BUYERS, "money", sums=True, empty="on_request")] = (
        Field(default=None, description="Of all a year, before tax.")
    )
    unit_cost: Annotated[Decimal | None, Shows("cost_of_one", HOUSE, "unit price")] = Field(
        default=None, description="What one costs us a year."
    )
    computed: Annotated[Decimal | None, Shows("by_its_rule", HOUSE, "unit price")] = Field(
        default=None, description="What the rule makes of the cost of one."
    )


class ExchangeRow(Row):
    """An exchange rate that amounts of the price were converted by."""

    schedule: ClassVar = Schedule("exchange", subject="price", key=("currency",))

    currency: Annotated[str, Shows("currency", BUYERS)] = Field(
        default="", description="Other currency, by its code of ISO 4217."
    )
    rate: Annotated[Decimal, Shows("one_of_it", BUYERS, "exchange rate")] = Field(
        default=NOTHING, description="Units of the project's currency for one of it."
    )
    date: Annotated[datetime.date | None, Shows("rate_of", BUYERS, "date")] = Field(
        default=None, description="Day of the rate."
    )
    source: Annotated[str, Shows("published_by", BUYERS)] = Field(
        default="", description="Who published the rate."
    )
    only_set_aside: Annotated[bool, Shows("only_sums_set_aside", BUYERS, "flag", drawn=True)] = Field(
        default=False, description="Whether only sums that are set aside were written in it."
    )
