"""What the house can do so that a client cannot work out so much, each tried on the prices before.

A remedy changes what is about to be sent, never what was sent before. It is put to the same question as the
prices themselves (`review/disclosure.py`); what does not help by itself is not proposed. Where a sum helps,
the least that does is looked for. For the house alone.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from functools import partial

from proposal.field_classes import dataclass
from proposal.model.project import Project
from proposal.quantities.currencies import smallest_unit
from proposal.quantities.rounding import rounded_up, step_of
from proposal.review.client_knowledge import EXACT, Span
from proposal.review.disclosure import Asking, Disclosed, Remedy, Way
from proposal.review.received import NOTHING, Part, Received

_MOST = Decimal("0.5")
"""Most that a sum of the house's own is proposed to be, as a share of the price that it goes into."""
_FINEST = 1 / Decimal(1000)
"""Least of it that is tried, as a share of the same."""
_MOST_HOURS = Decimal("0.2")
"""Most that hours are proposed to be fewer, as a share of them."""
_HALVINGS = 6
_PUBLIC = ("rule", "stated", "discount")
STATED = "to be stated"
"""Name of a sum that is only proposed yet."""


@dataclass(frozen=True, slots=True)
class _Prices:
    """All prices of one client: the price as it stands, and all others, sent or about to be."""

    base: Received
    others: Sequence[Received]

    def with_each(self, change: Callable[[Received], Received], alternate: str = "") -> "_Prices":
        """Return the prices with those changed that are still to be sent, or only those with an alternate."""

        def changed(one: Received) -> Received:
            return change(one) if not one.sent and (not alternate or alternate in one.key.split()) else one

        return _Prices(changed(self.base), [changed(one) for one in self.others])

    def without(self, alternate: str) -> "_Prices":
        """Return the prices without those of an alternate that are still to be sent."""
        return _Prices(
            self.base, [one for one in self.others if one.sent or alternate not in one.key.split()]
        )


def with_remedies(
    project: Project, asking: Asking, base: Received, others: Sequence[Received]
) -> tuple[Disclosed, ...]:
    """Return how far every secret of a price stays open, with what would open those that do not.

    base: the price as it stands; others: all else that the client receives or ever received.
    """
    found = asking.all_secrets(base, others)
    prices = _Prices(base, others)
    return tuple(
        one if one.enough else replace(one, remedies=tuple(_remedies(project, asking, prices, one)))
        for one in found
    )


def _remedies(project: Project, asking: Asking, prices: _Prices, one: Disclosed) -> Iterator[Remedy]:
    """Yield what opens one secret by itself, with the least amounts."""

    def opens(changed: _Prices, asked: Asking = asking) -> bool:
        return asked.is_open(one, changed.base, changed.others)

    step = smallest_unit(project.brief.currency)
    if len({part.tax_kind for part in prices.base.parts} & {"goods", "services"}) == 2 and opens(
        prices.with_each(_taxed_as_one)
    ):
        yield Remedy(way="one tax")
    if prices.base.listed and opens(prices.with_each(lambda state: state.model_copy(update={"listed": ()}))):
        yield Remedy(way="less detail")
    for way, asked in _of_the_house(asking):
        if opens(prices, asked):
            yield Remedy(way=way)
            break
    named = {name for key in one.between for name in key.split()}
    alternates = [key for key in _open(prices) if not one.between or key in named]
    for key in alternates:
        state = next(each for each in prices.others if each.key == key)
        yield from _sum_of_the_house(opens, prices, state.price - prices.base.price, step, key)
        if opens(prices.without(key)):
            yield Remedy(way="on request", alternate=key)
    taxed = one.about.removeprefix("what is taxed as ") if one.kind == "margin" else ""
    taxed = taxed if taxed in {part.tax_kind for part in prices.base.parts} else ""
    yield from _sum_of_the_house(opens, prices, prices.base.price / 2, step, "", taxed)
    if opens(prices.with_each(_with_own_prices)):
        yield Remedy(way="own prices")
    bought = sum((part.cost for part in prices.base.parts if part.sort in _PUBLIC), NOTHING)
    if bought and opens(prices.with_each(_with_own_costs)):
        yield Remedy(way="own cost of goods", amount=bought)
    spread = sum((part.price for part in prices.base.parts if part.sort == "spread"), NOTHING)
    if one.kind == "spread":
        share = _least(lambda some: opens(prices.with_each(partial(_spread_less, share=some))), _MOST)
        if share is not None:
            yield Remedy(way="less spread", amount=_two_figures(share * spread, step))
    if one.kind == "hours" and _has_conditions(project):
        share = _least(lambda some: opens(prices, _fewer_hours(asking, some)), _MOST_HOURS)
        if share is not None:
            yield Remedy(way="fewer hours", amount=_two_figures(share * Decimal(one.value), Decimal(1)))


def _open(prices: _Prices) -> list[str]:
    """Return the keys of the alternates that a price of is still to be sent."""
    return [one.key for one in prices.others if one.state == "alternate"]


def _sum_of_the_house(
    opens: Callable[[_Prices], bool],
    prices: _Prices,
    price: Decimal,
    step: Decimal,
    alternate: str,
    tax_kind: str = "",
) -> Iterator[Remedy]:
    """Yield the least sum of the house's own in a lump that opens a secret, if any does.

    price: what it goes into; alternate: the one that it belongs to, empty for the project itself.
    """

    def helps(amount: Decimal) -> bool:
        return opens(prices.with_each(lambda state: _with_sum(state, amount, tax_kind), alternate))

    least = _least(lambda share: helps(share * abs(price)), _MOST)
    if least is None:
        return
    amount = _two_figures(least * abs(price), step)
    if helps(amount):
        yield Remedy(way="own cost", alternate=alternate, amount=amount, tax_kind=tax_kind)


def _least(helps: Callable[[Decimal], bool], most: Decimal) -> Decimal | None:
    """Return nearly the least share that helps, or None where not even the most does."""
    if not helps(most):
        return None
    low, high = most * _FINEST, most
    if helps(low):
        return low
    for _ in range(_HALVINGS):
        middle = (low * high).sqrt()
        low, high = (low, middle) if helps(middle) else (middle, high)
    return high


def _two_figures(amount: Decimal, step: Decimal) -> Decimal:
    """Return an amount rounded up to two figures, in whole steps."""
    return rounded_up(rounded_up(amount, step_of(1 - amount.adjusted())), step)


def _with_sum(one: Received, amount: Decimal, tax_kind: str) -> Received:
    """Return a price with a sum of the house's own in its lumps, at what it costs.

    tax_kind: how it is taxed; empty where that does not matter.
    """
    kinds = {part.tax_kind for part in one.parts}
    usual = next(kind for kind in ("services", "goods and services", "goods", "exempt") if kind in kinds)
    kind = tax_kind or usual
    part = Part(sort="surcharge", name=STATED, tax_kind=kind, cost=amount, price=amount)
    return one.model_copy(update={"price": one.price + amount, "parts": (*one.parts, part)})


def _taxed_as_one(one: Received) -> Received:
    kinds: Mapping[str, str] = {"goods": "goods and services", "services": "goods and services"}
    parts = tuple(
        part.model_copy(update={"tax_kind": kinds.get(part.tax_kind, part.tax_kind)}) for part in one.parts
    )
    by_kind = len({part.tax_kind for part in parts}) > 1
    return one.model_copy(update={"by_kind": by_kind, "parts": parts})


def _with_own_prices(one: Received) -> Received:
    """Return a price in which everything that a rule prices has a selling price of its own."""
    parts = tuple(
        part.model_copy(update={"sort": "stated"}) if part.sort == "rule" else part for part in one.parts
    )
    return one.model_copy(update={"parts": parts})


def _with_own_costs(one: Received) -> Received:
    """Return a price in which no cost of goods stands in the shared library."""
    parts = tuple(
        part.model_copy(update={"sort": "own"}) if part.sort in _PUBLIC else part for part in one.parts
    )
    return one.model_copy(update={"parts": parts})


def _spread_less(one: Received, share: Decimal) -> Received:
    """Return a price in which a share of what is spread is a sum of the house's own instead."""
    parts = []
    for part in one.parts:
        if part.sort == "spread":
            taken = part.price * share
            parts.append(part.model_copy(update={"price": part.price - taken}))
            parts.append(Part(sort="surcharge", name=STATED, tax_kind=part.tax_kind, cost=taken, price=taken))
        else:
            parts.append(part)
    return one.model_copy(update={"parts": tuple(parts)})


def _of_the_house(asking: Asking) -> Iterator[tuple[Way, Asking]]:
    """Yield what a client would know, were hours, rates or crews the house's own."""
    known, knowledge = asking.known, asking.knowledge

    def own(spans: Mapping[str, Span], factor: float) -> dict[str, Span]:
        wide = (1 / factor, factor)
        return {trade: wide if spans.get(trade, EXACT) == EXACT else spans[trade] for trade in known.rates}

    rates = own(known.rates, knowledge.rates_factor.factor)
    prices = own(known.prices, knowledge.rates_factor.factor)
    hours = own(known.hours, knowledge.hours_factor.factor)
    yield "own crews", replace(asking, known=replace(known, crews={}))
    yield "own rates", replace(asking, known=replace(known, rates=rates, prices=prices))
    yield "own hours", replace(asking, known=replace(known, hours=hours, crews={}))
    everything = replace(known, rates=rates, prices=prices, hours=hours, crews={})
    yield "own rates and hours", replace(asking, known=everything)


def _fewer_hours(asking: Asking, share: Decimal) -> Asking:
    """Return what a client would know, were the hours so much fewer for the same building."""
    left = 1 - float(share)
    hours = {trade: (low / left, high / left) for trade, (low, high) in asking.known.hours.items()}
    return replace(asking, known=replace(asking.known, hours=hours))


def _has_conditions(project: Project) -> bool:
    choices = project.brief.labour
    return bool(choices.conditions or choices.room_conditions or choices.project_conditions)
