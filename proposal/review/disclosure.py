"""What a client can work out from every price received: how far margin, spread and hours stay open.

Every total that was sent is a linear equation between what the client knows and what they do not. Known: the
program, the quantities, what stands in the shared library. Unknown: what makes a cost a price, what hours and
rates of the house's own come to, what is added on top and what is spread. Each may lie wherever the
figures, taken as ± half their step, and the limits of `shared/price/client.yaml` let it; the two ends of each
secret are found by linear programming. For the house alone.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from itertools import combinations
from typing import TYPE_CHECKING, Literal

from proposal.model.price.disclosure import ClientKnowledge
from proposal.model.project import Project
from proposal.review.client_knowledge import EXACT, Known
from proposal.review.linear_bounds import LinearBounds
from proposal.review.received import NOTHING, Part, Received, printed, sums_by_kind

if TYPE_CHECKING:
    from proposal.estimate.programme.programme import ProgrammePlan

Kind = Literal["margin", "rule", "spread", "hours"]
HIGHEST = 4.0
"""Most that a price is taken to be, as a multiple of its cost."""
_NEARLY = 1e-6
_SMALLEST = 100
"""Fewest steps of the currency of which a margin is asked for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Disclosed:
    """How far one secret stays open.

    kind: margin of something, value of a rule, share that is spread, hours.
    about: what it is of; key: of the alternate, combination or revision, empty for the price itself.
    value, low, high: the value, and between what it may lie for all that the client can tell; share or hours.
    enough: whether that is wide enough.
    """

    kind: Kind
    about: str
    key: str = ""
    value: float
    low: float
    high: float
    enough: bool


@dataclass(slots=True)
class _Client:
    """What the client can tell: unknowns of prices, costs and hours, and all figures that bind them."""

    known: Known
    knowledge: ClientKnowledge
    spread: float = 0.0
    """Share that is spread, of what all else comes to."""
    fits: LinearBounds = field(default_factory=LinearBounds)

    def price_of(self, part: Part, listed: Sequence[str]) -> tuple[int, float]:
        """Return the unknown that makes the price of a part, and by what it counts."""
        if part.sort in ("rule", "stated", "discount"):
            value = float(part.price / part.cost) if part.cost else 1.0
            low, high = min(1.0, value * (1 - _NEARLY)), max(HIGHEST, value * (1 + _NEARLY))
            if part.name in listed:
                low = high = value
            return self.fits.unknown(part.sort, part.name, low, high), float(part.cost)
        if part.sort == "work":
            return self._work("price of work", part.name), float(part.price)
        if part.sort == "spread":
            most = max(1.0, self.knowledge.most_spread.share / self.spread) if self.spread else 1.0
            return self.fits.unknown("spread", "", 0.0, most), float(part.price)
        both = self.knowledge.hours_factor.factor * self.knowledge.rates_factor.factor
        return self.fits.unknown(part.sort, part.name, 1 / both, both), float(part.price)

    def _work(self, what: str, trade: str) -> int:
        """Return the unknown by which the price or the cost of a trade's work is another than it is.

        It is the hours' times the rates'.
        """
        fits = self.fits
        if (what, trade) in fits.columns:
            return fits.columns[what, trade]
        known = self.known.prices if what == "price of work" else self.known.rates
        factor = self.knowledge.rates_factor.factor
        low, high = known.get(trade, (1 / factor, factor))
        hours = self.hours_of(trade)
        column = fits.unknown(what, trade, 0.0, 1e6)
        fits.sum({column: 1.0, hours: -high}, -1e30, 0.0)
        fits.sum({column: 1.0, hours: -low}, 0.0, 1e30)
        return column

    def hours_of(self, trade: str) -> int:
        """Return the unknown by which a trade's hours are others than they are."""
        return self.fits.unknown("hours", trade, *self.known.hours.get(trade, EXACT))

    def cost_of(self, part: Part) -> tuple[int | None, float]:
        """Return the unknown of a part's cost, None where the client knows it, and by what it counts."""
        if part.sort == "work":
            return self._work("cost of work", part.name), float(part.cost)
        if part.sort in ("own", "surcharge"):
            both = self.knowledge.hours_factor.factor * self.knowledge.rates_factor.factor
            return self.fits.unknown(f"cost of {part.sort}", part.name, 1 / both, both), float(part.cost)
        return None, 0.0 if part.sort == "spread" else float(part.cost)

    def receives(self, one: Received) -> None:
        """Take in the figures of one state of the price."""
        for parts in sums_by_kind(one).values():
            terms: dict[int, float] = {}
            total = float(printed(parts))
            about = float(one.step) / 2 + float(sum((part.rounding for part in parts), NOTHING))
            for part in parts:
                if part.sort == "known":
                    total -= float(part.price)
                    continue
                column, factor = self.price_of(part, one.listed)
                terms[column] = terms.get(column, 0.0) + factor
            if terms:
                self.fits.sum(terms, total - about, total + about)

    def costs(self, parts: Iterable[Part], sign: float, terms: dict[int, float]) -> float:
        """Add the unknown costs of parts to terms, and return those that are known."""
        known = 0.0
        for part in parts:
            column, factor = self.cost_of(part)
            if column is None:
                known += sign * factor
            else:
                terms[column] = terms.get(column, 0.0) + sign * factor
        return known


def disclosed(
    project: Project,
    plan: "ProgrammePlan",
    known: Known | None,
    base: Received,
    others: Sequence[Received] = (),
) -> tuple[Disclosed, ...]:
    """Return how far every secret of a price stays open to a client.

    plan: the programme, whose days the client reads.
    known: what they take from the shared library; None where no shared data say what a client knows.
    base: the price as it stands; others: all else that the client receives or ever received.
    """
    knowledge = project.client_knowledge
    if knowledge is None or known is None or not base.price:
        return ()
    client = _Client(known, knowledge)
    spread = float(sum((part.price for part in base.parts if part.sort == "spread"), NOTHING))
    client.spread = spread / (float(base.price) - spread) if base.price != spread else 0.0
    for one in (base, *others):
        client.receives(one)
    _days(client, plan, float(project.brief.programme.hours_a_day))
    found = [
        _margin(client, base, None),
        *_rules(client, (base, *others)),
        *_spread(client),
        *_hours(client, base),
    ]
    found += _kinds(client, base)
    states = [one for one in others if one.state in ("alternate", "revision")]
    found += [_margin(client, one, base) for one in states]
    least = knowledge.least_range.share
    judged = _judged(found, least)
    # What one of two gives away by itself they give away together.
    narrow = {one.key for one in judged if not one.enough}
    between = [
        _margin(client, one, other)
        for other, one in combinations((one for one in states if one.key not in narrow), 2)
    ]
    return (*judged, *(one for one in _judged(between, least) if not one.enough))


def _judged(found: Iterable[Disclosed | None], least: float) -> list[Disclosed]:
    """Return how far things stay open, with whether that is enough; nothing of what is zero.

    least: how far below and above its value each has to, as a share of it.
    """
    return [
        replace(
            one,
            enough=one.low <= one.value * (1 - least) + _NEARLY
            and one.high >= one.value * (1 + least) - _NEARLY,
        )
        for one in found
        if one is not None and one.value > _NEARLY
    ]


def _disclosed(kind: Kind, about: str, value: float, ends: tuple[float, float], key: str = "") -> Disclosed:
    return Disclosed(kind=kind, about=about, key=key, value=value, low=ends[0], high=ends[1], enough=False)


def _margin(client: _Client, one: Received, less: Received | None) -> Disclosed | None:
    """Return how far the margin of a price, or of what it has more or less than another, stays open."""
    price = float(one.price - (less.price if less else NOTHING))
    if abs(price) < _SMALLEST * float(one.step):
        return None
    cost = float(one.cost - (less.cost if less else NOTHING))
    if cost / price <= 0:
        return None
    terms: dict[int, float] = {}
    known = client.costs(one.parts, 1.0, terms)
    known += client.costs(less.parts, -1.0, terms) if less else 0.0
    low, high = client.fits.between(terms, cost - known)
    ends = sorted((1 - (known + low) / price, 1 - (known + high) / price))
    about, key = "the whole price", ""
    if less is not None:
        about = _since(one) if less.state == "base" else f"{_since(one)} less {_since(less)}"
        key = " ".join(name for name in (one.key, less.key) if name)
    return _disclosed("margin", about, 1 - cost / price, (ends[0], ends[1]), key)


def _since(one: Received) -> str:
    """Return what a state of the price differs by from the base."""
    return f"the change since {one.label}" if one.state == "revision" else one.label


def _kinds(client: _Client, base: Received) -> list[Disclosed]:
    """Return how far the margin stays open on what is taxed as goods, and as services, where that is told."""
    found = []
    for kind, parts in sums_by_kind(base).items():
        priced = [part for part in parts if part.sort != "known"]
        price = float(printed(priced))
        if not base.by_kind or price < _SMALLEST * float(base.step):
            continue
        cost = float(sum((part.cost for part in priced if part.sort != "spread"), NOTHING))
        terms: dict[int, float] = {}
        known = client.costs(priced, 1.0, terms)
        low, high = client.fits.between(terms, cost - known) if terms else (cost - known, cost - known)
        ends = sorted((1 - (known + low) / price, 1 - (known + high) / price))
        found.append(_disclosed("margin", f"what is taxed as {kind}", 1 - cost / price, (ends[0], ends[1])))
    return found


def _rules(client: _Client, states: Sequence[Received]) -> list[Disclosed]:
    """Return how far the rules stay open that make prices of public costs, by margin or by markup."""
    names = dict.fromkeys(part.name for one in states for part in one.parts if part.sort == "rule")
    found = []
    for name in names:
        rule, _, written = name.partition(" ")
        value = float(written)
        column = client.fits.columns["rule", name]
        low, high = client.fits.between({column: 1.0}, 1 / (1 - value) if rule == "margin" else 1 + value)
        ends = (1 - 1 / low, 1 - 1 / high) if rule == "margin" else (low - 1, high - 1)
        found.append(_disclosed("rule", f"{rule} by rule", value, ends))
    return found


def _spread(client: _Client) -> list[Disclosed]:
    """Return how far the share stays open that is spread."""
    column = client.fits.columns.get(("spread", ""))
    if column is None or not client.spread:
        return []
    low, high = client.fits.between({column: 1.0}, 1.0)
    return [
        _disclosed("spread", "what is spread", client.spread, (low * client.spread, high * client.spread))
    ]


def _hours(client: _Client, base: Received) -> list[Disclosed]:
    """Return how far the hours stay open, all trades together."""
    terms: dict[int, float] = {}
    for part in base.parts:
        if part.sort == "work" and part.hours:
            column = client.hours_of(part.name)
            terms[column] = terms.get(column, 0.0) + float(part.hours)
    value = sum(terms.values())
    return [_disclosed("hours", "all hours", value, client.fits.between(terms, value))] if terms else []


def _days(client: _Client, plan: "ProgrammePlan", hours_a_day: float) -> None:
    """Take in the days of the programme, as far as the client knows who does an activity.

    hours_a_day: of one person.
    An activity takes so many whole days of its crew that the trade with most to do is done: no trade has more
    hours than that, and where one trade alone is at work it has more than a day fewer would hold.
    """
    for task in plan.tasks:
        for trade, people, hours in task.crew:
            if client.known.crews.get(trade) != people:
                continue
            day = people * hours_a_day
            least = day * (task.days - 1) if len(task.crew) == 1 else 0.0
            column = client.hours_of(trade)
            client.fits.sum({column: float(hours)}, least, day * task.days)
