"""Rules about the price: what must not be spread, printed or worked out; findings for the house alone."""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from decimal import Decimal
from itertools import groupby
from typing import TYPE_CHECKING

import numpy as np

from proposal.design.equipment.unit_costs import in_currency
from proposal.model.price.disclosure import Factors
from proposal.model.project import Path, Project
from proposal.quantities.currencies import smallest_unit
from proposal.quantities.money import Money
from proposal.review.disclosure import Disclosed
from proposal.review.finding import Finding, listed
from proposal.review.remedy_words import remedy_words
from proposal.review.supplier_prices import supplier_price_findings
from proposal.standards.sources import COMMON_PRACTICE, Source

if TYPE_CHECKING:
    from proposal.estimate.price.price import PriceEstimate
    from proposal.estimate.takeoff.purchases import Purchase

EDITABLE = Source(kind="editable default")
FEWEST_ALIKE = 4
"""Fewest prices from which one factor behind all of them is no accident."""
_STEPS = tuple(Decimal(step) for step in ("1000", "500", "100", "50", "10", "5", "1", "0.5", "0.1", "0.05"))


def price_findings(
    project: Project, price: "PriceEstimate", purchases: "Sequence[Purchase]"
) -> Iterator[Finding]:
    """Yield what is wrong with a price by itself, whatever else its client knows.

    purchases: what is bought for it in wholes.
    """
    yield from _without_lump(project, price)
    yield from _printed_rates(project, price)
    yield from _factors(project, price)
    yield from supplier_price_findings(project, price, purchases)


def _without_lump(project: Project, price: "PriceEstimate") -> Iterator[Finding]:
    from proposal.estimate.price.spread import (
        takes_spread,
    )  # a command that only reads findings does not wait for it

    if any(takes_spread(line) for line in price.lines):
        return
    for key, one in project.brief.price.surcharges.items():
        if one.spread:
            yield Finding(
                rule="spread-without-lump",
                severity="error",
                where=key,
                place=project.place("project", "price", "surcharges", key, "spread"),
                message=f"{one.name} is to be spread, and no line may take it: every price is stated or "
                "agreed. It is in no price.",
                source=COMMON_PRACTICE,
                remedy="Leave something to a rule, or make it a line of its own.",
            )


def _printed_rates(project: Project, price: "PriceEstimate") -> Iterator[Finding]:
    """Yield an error for each printed rate that the proposal's own work is priced by: it tells the hours."""
    inside = {line.item: line.unit_price for line in price.lines if line.kind == "hours"}
    for trade, money in project.brief.price.changes.hours.items():
        if _amount(project, money) == inside.get(trade):
            yield Finding(
                rule="printed-rate",
                severity="error",
                where=trade,
                place=project.place("project", "price", "changes", "hours", trade),
                message=f"An hour of {trade} is printed at {money}, and the proposal's own work has the same "
                "rate: its hours can be read off.",
                source=COMMON_PRACTICE,
                remedy="State another rate for changes, or another for the work under labour.rates.",
            )


def _amount(project: Project, money: Money) -> Decimal:
    return Decimal(in_currency(project, money))


def _factors(project: Project, price: "PriceEstimate") -> Iterator[Finding]:
    """Yield a warning where printed prices follow costs, rates or whole numbers by one factor."""
    changes, knowledge = project.brief.price.changes, project.client_knowledge
    if knowledge is None:
        return
    inside = {line.item: line.unit_price for line in price.lines if line.kind == "hours"}
    devices = {line.item: line.unit_cost for line in price.lines if line.group == "equipment"}
    base: Path = ("project", "price")
    tried: list[tuple[str, Path, Mapping[str, Money], Mapping[str, Decimal]]] = [
        ("rates for changes", (*base, "changes", "hours"), changes.hours, inside),
        ("devices for changes", (*base, "changes", "devices"), changes.devices, devices),
    ]
    if project.brief.price.client_detail == "line":
        tried.append(("listed prices", (*base, "selling"), project.brief.price.selling, devices))
    step = smallest_unit(project.brief.currency)
    for what, path, stated, costs in tried:
        prices = {key: _amount(project, money) for key, money in stated.items()}
        pairs = [(prices[key], costs[key]) for key in prices if costs.get(key)]
        factor = shared_factor(pairs, step)
        if factor is not None:
            yield _factor_finding(
                project, what, path, f"are what they cost or the work inside sells for, times {factor:.4f}"
            )
            continue
        factor = whole_factor(list(prices.values()), step, knowledge.factors)
        if factor is not None:
            yield _factor_finding(project, what, path, f"all become whole when divided by {factor:.3f}")


def _factor_finding(project: Project, what: str, path: Path, message: str) -> Finding:
    return Finding(
        rule="one-factor",
        severity="warning",
        where=what,
        place=project.place(*path),
        message=f"The {what} {message}: a client who finds the factor knows the rest.",
        source=COMMON_PRACTICE,
        remedy="Decide each price separately, in round figures.",
    )


def step_of(prices: Iterable[Decimal], smallest: Decimal) -> Decimal:
    """Return the coarsest usual step that all of some prices are written in.

    smallest: smallest unit of the currency, where none is.
    """
    amounts = list(prices)
    return next((step for step in _STEPS if all(amount % step == 0 for amount in amounts)), smallest)


def shared_factor(pairs: Sequence[tuple[Decimal, Decimal]], smallest: Decimal) -> float | None:
    """Return one factor that makes every price of its cost, each price taken as ± half its step, or None.

    pairs: price and cost; smallest: smallest unit of the currency.
    """
    if len(pairs) < FEWEST_ALIKE:
        return None
    half = step_of((price for price, _ in pairs), smallest) / 2
    low = max(float((price - half) / cost) for price, cost in pairs)
    high = min(float((price + half) / cost) for price, cost in pairs)
    return (low + high) / 2 if low <= high else None


def whole_factor(prices: Sequence[Decimal], smallest: Decimal, factors: Factors) -> float | None:
    """Return a factor that makes nearly all of some prices whole when they are divided by it, or None.

    prices: in the currency of the project.
    smallest: smallest unit of the currency.
    factors: those that are tried.
    Whole is a multiple of something ten times as coarse as the step they are written in, or coarser; what
    would come about by accident does not count.
    """
    if len(prices) < FEWEST_ALIKE:
        return None
    step = step_of(prices, smallest)
    count = round((factors.greatest - factors.least) / factors.step) + 1
    tried = factors.least + np.arange(count) * factors.step
    low = np.array([float(price - step / 2) for price in prices]) / tried[:, None]
    high = np.array([float(price + step / 2) for price in prices]) / tried[:, None]
    for grid in (step * 10, step * 20, step * 50, step * 100):
        one = float(grid)
        whole = (np.floor(high / one) * one >= low) & (high >= one)
        for factor, hits in zip(tried, whole.sum(axis=1), strict=True):
            if (
                hits >= factors.share * len(prices)
                and _accident(int(hits), len(prices), step, grid) * count < 0.01
            ):
                return float(factor)
    return None


def _accident(hits: int, count: int, step: Decimal, grid: Decimal) -> float:
    """Return how likely so many of some prices are whole by accident, at least."""
    each = min(1.0, float(step / grid))
    return sum(math.comb(count, n) * each**n * (1 - each) ** (count - n) for n in range(hits, count + 1))


def open_to_the_client(project: Project, found: Sequence[Disclosed]) -> Iterator[Finding]:
    """Yield a warning for the whole price, and one for each other figure, that tells more than it should."""
    least = 0.0 if project.client_knowledge is None else project.client_knowledge.least_range.share
    narrow = sorted((one for one in found if not one.enough), key=lambda one: one.key)
    for key, group in groupby(narrow, key=lambda one: one.key):
        secrets = list(group)
        yield Finding(
            rule="client-can-compute",
            severity="warning",
            where=key or "price",
            place=project.place("project", "price"),
            message="A client who knows the shared library can work out "
            f"{listed([_told(one) for one in secrets])}. Less than {least * 100:g} % of the value is left "
            "open below or above it.",
            source=EDITABLE,
            remedy=remedy_words(project, secrets, [_name(one) for one in secrets]),
        )


def _told(one: Disclosed) -> str:
    if one.kind == "hours":
        return f"{one.about} ({one.value:.0f} h) as {one.low:.0f} to {one.high:.0f} h"
    return f"{_name(one)} ({one.value * 100:.1f} %) as {one.low * 100:.1f} to {one.high * 100:.1f} %"


def _name(one: Disclosed) -> str:
    return f"the margin of {one.about}" if one.kind == "margin" else one.about
