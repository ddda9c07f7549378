"""What a client can tell of prices: unknowns of prices, costs and hours, and all figures that bind them."""

from collections.abc import Iterable, Sequence
from dataclasses import field
from typing import TYPE_CHECKING

from proposal.field_classes import dataclass
from proposal.model.price.disclosure import ClientKnowledge
from proposal.review.client_knowledge import EXACT, Known
from proposal.review.linear_bounds import LinearBounds
from proposal.review.received import NOTHING, Part, Received, printed, sums_by_kind

if TYPE_CHECKING:
    from proposal.estimate.programme.programme import ProgrammePlan

HIGHEST = 4.0
"""Most that a price is taken to be, as a multiple of its cost."""
NEARLY = 1e-6


@dataclass(slots=True)
class ClientEquations:
    """What the client can tell: unknowns of prices, costs and hours, and all figures that bind them."""

    known: Known
    knowledge: ClientKnowledge
    spread: float
    """Share that is spread, of what all else comes to."""
    listed: frozenset[str]
    """Names of the parts whose price of one was ever printed."""
    fits: LinearBounds = field(default_factory=LinearBounds)

    @classmethod
    def of(cls, known: Known, knowledge: ClientKnowledge, states: Sequence[Received]) -> "ClientEquations":
        """Return what a client can tell of all that they received.

        known: what they take from the shared library.
        states: the price as it stands, then all else.
        """
        base = states[0]
        spread = float(printed(part for part in base.parts if part.sort == "spread"))
        rest = float(base.price) - spread
        listed = frozenset(name for one in states for name in one.listed)
        client = cls(known, knowledge, spread / rest if rest else 0.0, listed)
        for one in states:
            client.receives(one)
        return client

    def price_of(self, part: Part) -> tuple[int, float]:
        """Return the unknown that makes the price of a part, and by what it counts."""
        if part.sort in ("rule", "stated", "discount"):
            value = float(part.price / part.cost) if part.cost else 1.0
            low, high = min(1.0, value * (1 - NEARLY)), max(HIGHEST, value * (1 + NEARLY))
            if part.name in self.listed:
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
        if part.sort == "own":
            factor = self.knowledge.costs_factor.factor
            return self.fits.unknown("cost of own", part.name, 1 / factor, factor), float(part.cost)
        if part.sort == "surcharge":
            both = self.knowledge.hours_factor.factor * self.knowledge.rates_factor.factor
            return self.fits.unknown("cost of surcharge", part.name, 1 / both, both), float(part.cost)
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
                column, factor = self.price_of(part)
                terms[column] = terms.get(column, 0.0) + factor
            if terms:
                self.fits.sum(terms, total - about, total + about)

    def costs(self, parts: Iterable[Part], sign: float, terms: dict[int, float]) -> float:
        """Add the unknown costs of parts to terms, and return those that are known.

        sign: 1 where they are added, -1 where they are taken away.
        terms: factor of each column, added to.
        """
        known = 0.0
        for part in parts:
            column, factor = self.cost_of(part)
            if column is None:
                known += sign * factor
            else:
                terms[column] = terms.get(column, 0.0) + sign * factor
        return known

    def days(self, plan: "ProgrammePlan") -> None:
        """Take in the days of the programme, as far as the client knows who does an activity.

        An activity takes so many whole days of its crew that the trade with most to do is done: no trade has
        more hours than that, and where one trade alone is at work it has more than a day fewer would hold.
        Days are as long as hours of work leave them, which the client knows.
        """
        for task in plan.tasks:
            for trade, people, hours in task.crew:
                if self.known.crews.get(trade) != people:
                    continue
                shortest, longest = (people * float(day) for day in task.day)
                least = shortest * (task.days - 1) if len(task.crew) == 1 else 0.0
                column = self.hours_of(trade)
                self.fits.sum({column: float(hours)}, least, longest * task.days)
