"""Rows of what the client may choose, and of what moves the price."""

import datetime
from decimal import Decimal
from typing import Annotated, ClassVar, Protocol

from pydantic import Field

from proposal.document.rows.price import PaymentRow, PriceTotal
from proposal.document.schedule import ALL, BUYERS, HOUSE, Row, Schedule, Shows, composed, gathered

NOTHING = Decimal(0)


class Priced(Protocol):
    """What has a price as a whole."""

    @property
    def price(self) -> PriceTotal | None:
        """The price; None where its reader sees none."""


class AlternateRow(Row):
    """An alternate: what it is called, and why somebody might want it."""

    schedule: ClassVar = Schedule("alternate", subject="price", key=("key",))

    key: Annotated[str, Shows("key", ALL, "tag")] = Field(description="Name of its file.")
    name: Annotated[str, Shows("name", ALL)] = Field(description="What it is called.")
    description: Annotated[str, Shows("description", ALL)] = Field(
        description="Why the client might want it."
    )
    price: Annotated[str, Shows("price", ALL)] = Field(
        default="stated", description="Whether the client reads what it comes to: stated or on request."
    )
    deductive: Annotated[bool, Shows("deducts", ALL, "flag")] = Field(
        default=False, description="Whether it is meant to lower the price."
    )
    one_of: Annotated[str, Shows("one_is_chosen_of", ALL)] = Field(
        default="", description="What one alternate of several has to be chosen for; empty for none."
    )
    gives_up: Annotated[tuple[str, ...], Shows("gives_up", ALL, "tag", link="tag")] = Field(
        default=(), description="Requirements that are not met with it, by their tags."
    )
    not_offered: Annotated[tuple[str, ...], Shows("why_it_is_not_offered", ALL)] = Field(
        default=(), description="Why it cannot be chosen; nothing where it can."
    )
    offered_at: Annotated[Decimal | None, Shows("difference", BUYERS, "difference")] = Field(
        default=None,
        description="Of one that is chosen: what it alone added to the price before tax when it was last "
        "offered; none where it never was, with a price.",
    )
    offered_in: Annotated[str, Shows("revision", BUYERS)] = Field(
        default="", description="Revision in which it was offered so."
    )
    internal_note: Annotated[str, Shows("internal_note", HOUSE)] = Field(
        default="", description="For our own estimators only."
    )


class CombinationRow(Row):
    """What the proposal comes to with some of its open alternates.

    Prices are missing where the alternates cannot be chosen together.
    """

    schedule: ClassVar = Schedule("combination", subject="price")

    chosen: Annotated[
        tuple[str, ...], Shows("chosen", BUYERS, "tag", link="alternate", empty="the_proposal_as_it_stands")
    ] = Field(default=(), description="Keys of the alternates chosen.")
    price: Annotated[Decimal | None, Shows("price_before_tax", BUYERS, "money", empty="not_possible")] = (
        Field(default=None, description="Before tax.")
    )
    tax: Annotated[Decimal | None, Shows("tax", BUYERS, "money")] = Field(default=None, description="Tax.")
    total: Annotated[Decimal | None, Shows("price_with_tax", BUYERS, "money")] = Field(
        default=None, description="With tax."
    )
    acceptance: Annotated[datetime.date | None, Shows("acceptance", BUYERS, "date")] = Field(
        default=None, description="Day of acceptance; None without a programme."
    )
    latest_order: Annotated[datetime.date | None, Shows("latest_order", BUYERS, "date")] = Field(
        default=None,
        description="Last day of an order that keeps the day of acceptance that the client asked for; None "
        "where none is asked for, or none keeps it.",
    )
    payments: Annotated[tuple[PaymentRow, ...], Shows("payments", BUYERS, "rows", follows=True)] = Field(
        default=(), description="Payments in order, of its own price and by its own programme."
    )
    impossible: Annotated[tuple[str, ...], Shows("exclude_each_other", BUYERS, "tag", link="alternate")] = (
        Field(default=(), description="Keys of those among them that cannot be chosen together.")
    )
    not_offered: Annotated[tuple[str, ...], Shows("why_it_is_not_offered", BUYERS)] = Field(
        default=(),
        description="Errors of the design with all of them together that the proposal as it stands has not, "
        "in plain words.",
    )
    to_choose: Annotated[tuple[str, ...], Shows("still_to_choose", BUYERS)] = Field(
        default=(),
        description="What one alternate of several has to be chosen for and none of these is: it cannot be "
        "ordered so.",
    )
    problems: Annotated[tuple[str, ...], Shows("problems", HOUSE)] = Field(
        default=(), description="What would be wrong with them, with file and line."
    )
    cost: Annotated[Decimal | None, Shows("cost", HOUSE, "money")] = Field(
        default=None, description="What all of it costs us."
    )

    @gathered(Shows("difference", BUYERS, "difference"))
    def difference(self, document: Priced) -> Decimal | None:
        """How much more it costs than the proposal as it stands, before tax."""
        return _moved(self.price, document)

    @composed(Shows("in_the_files", HOUSE, together=True))
    def problem(self) -> str:
        """What would be wrong with them, in a line."""
        return "; ".join(self.problems)


class VariedRow(Row):
    """What a price would be, were something assumed otherwise.

    The number of an assumption or question stands in `number`; hours and rates have none.
    """

    schedule: ClassVar = Schedule("varied", subject="price")

    number: Annotated[str, Shows("number", HOUSE, "tag")] = Field(
        default="", description="Number of the assumption or question."
    )
    title: Annotated[str, Shows("assumed", HOUSE, link="number", target="number")] = Field(
        default="", description="What is assumed."
    )
    subject: Annotated[str, Shows("for", HOUSE, "tag", link="subject")] = Field(
        default="", description="What it applies to."
    )
    kind: Annotated[str, Shows("kind", HOUSE, "kind")] = Field(
        default="", description="Kind of quantity, for its unit; `factor` of hours or rates."
    )
    value: Annotated[float | bool | None, Shows("value", HOUSE, "by kind")] = Field(
        default=None, description="Value taken."
    )
    lower: Annotated[float | bool | None, Shows("lower", HOUSE, "by kind")] = Field(
        default=None, description="Lower value tried."
    )
    upper: Annotated[float | bool | None, Shows("upper", HOUSE, "by kind")] = Field(
        default=None, description="Upper or other value tried."
    )
    lower_price: Annotated[Decimal | None, Shows("lower_price", HOUSE, "money")] = Field(
        default=None, description="Price with the lower value."
    )
    upper_price: Annotated[Decimal | None, Shows("upper_price", HOUSE, "money")] = Field(
        default=None, description="Price with the upper value."
    )
    lower_problem: Annotated[str, Shows("why_it_cannot_be_lower", HOUSE)] = Field(
        default="", description="Why the lower value cannot be."
    )
    upper_problem: Annotated[str, Shows("why_it_cannot_be_higher_or_other", HOUSE)] = Field(
        default="", description="Why the upper value cannot be."
    )

    @gathered(Shows("price_then", HOUSE, "difference"))
    def lower_change(self, document: Priced) -> Decimal | None:
        """By how much the price moves with the lower value."""
        return _moved(self.lower_price, document)

    @gathered(Shows("and_then", HOUSE, "difference"))
    def upper_change(self, document: Priced) -> Decimal | None:
        """By how much it moves with the upper value."""
        return _moved(self.upper_price, document)


def _moved(price: Decimal | None, document: Priced) -> Decimal | None:
    return None if price is None or document.price is None else price - document.price.price


class Sensitivity(Row):
    """Which assumptions move the price most."""

    schedule: ClassVar = Schedule("sensitivity", subject="price")

    price: Annotated[Decimal, Shows("price", HOUSE, "money")] = Field(
        default=NOTHING, description="Price before tax, as the proposal has it."
    )
    rows: Annotated[tuple[VariedRow, ...], Shows("rows", HOUSE, "rows")] = Field(
        default=(), description="What was varied, the largest movement first."
    )
    fixed: Annotated[tuple[VariedRow, ...], Shows("fixed", HOUSE, "rows")] = Field(
        default=(), description="What cannot be varied by the rule, in order of the numbers."
    )
