"""Rows of what may change the price: which way, by how much, and how it is settled."""

from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.rows.findings import QuestionRow
from proposal.document.rows.price import ExchangeRow, OfferRow, UnitPriceRow
from proposal.document.schedule import BUYERS, Row, Schedule, Shows
from proposal.quantities.formatting import count_of, listed

ALTERNATES, ALLOWANCES, RATES = "alternates", "allowances", "rates"
ASSUMPTIONS, UNIT_PRICES, TERMS = "assumptions", "unit prices", "terms"
"""Where each row stands in full."""


class PriceMoverRow(Row):
    """Something that may make the price higher or lower."""

    schedule: ClassVar = Schedule("price_mover", subject="price", key=("what",))

    what: Annotated[str, Shows("what_happens", BUYERS)] = Field(default="", description="What happens.")
    way: Annotated[str, Shows("price_gets", BUYERS, words="price_way")] = Field(
        default="", description="higher, lower, or either."
    )
    amount: Annotated[Decimal | None, Shows("sum_concerned", BUYERS, "money")] = Field(
        default=None, description="The difference, or the sum that may turn out otherwise, before tax."
    )
    no_sum: Annotated[str, Shows("why_no_sum", BUYERS)] = Field(
        default="", description="Why no sum can be given, where there is none."
    )
    settled: Annotated[str, Shows("how_it_is_settled", BUYERS)] = Field(
        default="", description="How it is settled."
    )
    place: Annotated[str, Shows("in_full", BUYERS, drawn=True)] = Field(
        default="", description="Where it stands in full."
    )


def price_movers(
    offer: Sequence[OfferRow],
    rates: Sequence[ExchangeRow],
    questions: Sequence[QuestionRow],
    network_questions: int,
    assumptions: int,
    unit_prices: Sequence[UnitPriceRow],
    rooms: int,
    rises: bool,
) -> tuple[PriceMoverRow, ...]:
    """Return what may change the price besides the alternates, in the order in which it comes up.

    offer: what the price contains.  rates: of other currencies.  questions: that are open.
    network_questions: how many more the network team is asked.
    assumptions: how many are made.  rooms: how many the price holds.
    rises: whether the terms state by how much the price rises for a later order.
    """
    return (
        *_without_a_room(rooms),
        *_allowances(offer),
        *_answers(len(questions), network_questions, assumptions),
        *_rates(rates, set_aside=any(row.group == "allowance" for row in offer)),
        _later(rises),
        *_after_the_order(unit_prices),
    )


def _without_a_room(rooms: int) -> Iterator[PriceMoverRow]:
    if rooms > 1:
        yield PriceMoverRow(
            what="A room is left out",
            way="lower",
            no_sum="worked out when you ask",
            settled="Ask us for the amount: a room's price is a share of the whole, and not what is saved "
            "without it.",
        )


def _allowances(offer: Sequence[OfferRow]) -> Iterator[PriceMoverRow]:
    for row in offer:
        if row.group == "allowance" and row.price != 0:
            yield PriceMoverRow(
                what=f"Sum set aside: {row.description}",
                way="either",
                amount=row.price,
                settled="You pay what the work really costs.",
                place=ALLOWANCES,
            )


def _answers(questions: int, of_network: int, assumptions: int) -> Iterator[PriceMoverRow]:
    asked = [
        *((count_of(questions, "open question"),) if questions else ()),
        *((f"{count_of(of_network, 'question')} about the network",) if of_network else ()),
    ]
    if asked:
        yield PriceMoverRow(
            what=f"{listed(asked)} answered otherwise than we assumed",
            way="either",
            no_sum="depends on the answers",
            settled="We price it again with your answers.",
            place=ASSUMPTIONS,
        )
    if assumptions:
        yield PriceMoverRow(
            what="Something that we assumed proves otherwise",
            way="either",
            no_sum="depends on what is found",
            settled="We price it again and ask you before the work is done.",
            place=ASSUMPTIONS,
        )
        yield PriceMoverRow(
            what="Others are late, or a ceiling is closed before our cables are in",
            way="higher",
            no_sum="depends on the delay",
            settled="We price it and ask you before the work is done.",
            place=ASSUMPTIONS,
        )


def _rates(rates: Sequence[ExchangeRow], *, set_aside: bool) -> Iterator[PriceMoverRow]:
    if rates:
        aside = listed([row.currency for row in rates if row.only_set_aside])
        others = listed([row.currency for row in rates if not row.only_set_aside])
        later = "; a sum set aside is paid at the rate of its invoice" if set_aside else ""
        told = (
            *((f"Sums in {others} follow the rate until the order{later}.",) if others else ()),
            *(
                (f"The sum set aside in {aside} is paid at the rate of the day of its invoice.",)
                if aside
                else ()
            ),
        )
        yield PriceMoverRow(
            what=f"The exchange rate of {listed([row.currency for row in rates])} moves",
            way="either",
            no_sum="1 % of the sums in that currency for each 1 % by which the rate moves",
            settled=" ".join(told),
            place=RATES,
        )


def _later(rises: bool) -> PriceMoverRow:
    return PriceMoverRow(
        what="You order after the last day of the price",
        way="higher" if rises else "either",
        no_sum="stated in the terms" if rises else "depends on prices and wages of that day",
        settled="The terms of the contract say by how much."
        if rises
        else "We confirm the price or renew it.",
        place=TERMS if rises else "",
    )


def _after_the_order(unit_prices: Sequence[UnitPriceRow]) -> Iterator[PriceMoverRow]:
    yield PriceMoverRow(
        what="You change your mind after the order",
        way="either",
        no_sum="depends on what you change",
        settled="What is listed there at the unit prices for changes; the rest by an offer of its own."
        if unit_prices
        else "By an offer of its own, which you accept before the work is done.",
        place=UNIT_PRICES if unit_prices else "",
    )
