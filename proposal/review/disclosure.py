"""What a client can work out from every price received: how far margin, spread and hours stay open.

Every total that was sent is a linear equation between what the client knows and what they do not. Known: the
program, the quantities, what stands in the shared library. Unknown: what makes a cost a price, what hours and
rates of the house's own come to, what is added on top and what is spread. Each may lie wherever the
figures, taken as ± half their step, and the limits of `shared/price/client.yaml` let it; the two ends of each
secret are found by linear programming. For the house alone.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from decimal import Decimal
from itertools import combinations
from typing import TYPE_CHECKING, Literal

from proposal.field_classes import dataclass
from proposal.model.price.disclosure import ClientKnowledge
from proposal.model.project import Project
from proposal.review.client_equations import NEARLY, ClientEquations
from proposal.review.client_knowledge import Known
from proposal.review.library_hours import cost_by_library_hours
from proposal.review.received import NOTHING, Received, printed, sums_by_kind

if TYPE_CHECKING:
    from proposal.estimate.programme.programme import ProgrammePlan

Kind = Literal["margin", "rule", "spread", "hours"]
Way = Literal[
    "own cost",
    "on request",
    "one tax",
    "own cost of goods",
    "less detail",
    "own prices",
    "own rates",
    "own hours",
    "own rates and hours",
    "own crews",
    "less spread",
    "fewer hours",
]
_SMALLEST = 100
"""Fewest steps of the currency of which a margin is asked for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Remedy:
    """Something that the house can do so that a secret stays open.

    way: what it is; alternate: key of the one that it is done to, empty for the project itself.
    amount: the least that helps, in the project's currency, of hours h; None where there is none.
    tax_kind: how a sum has to be taxed; empty where that does not matter.
    """

    way: Way
    alternate: str = ""
    amount: Decimal | None = None
    tax_kind: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Disclosed:
    """How far one secret stays open.

    kind: margin of something, value of a rule, share that is spread, hours.
    about: what it is of; key: of the alternate, combination or revision, empty for the price itself.
    between: keys of the states of the price that a margin sets apart, beside the price itself.
    value, low, high: the value, and between what it may lie for all that the client can tell; share or hours.
    enough: whether that is wide enough; remedies: what would make it so, each by itself.
    """

    kind: Kind
    about: str
    key: str = ""
    between: tuple[str, ...] = ()
    value: float
    low: float
    high: float
    enough: bool
    remedies: tuple[Remedy, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Asking:
    """What is asked of the prices that a client received, and what they know beside them.

    known: what they take from the shared library; plan: the programme, whose days they read.
    """

    knowledge: ClientKnowledge
    known: Known
    plan: "ProgrammePlan"

    @classmethod
    def of(cls, project: Project, plan: "ProgrammePlan", known: Known | None) -> "Asking | None":
        """Return what is asked of a project, None where no shared data say what a client knows."""
        knowledge = project.client_knowledge
        if knowledge is None or known is None:
            return None
        return cls(knowledge=knowledge, known=known, plan=plan)

    def all_secrets(self, base: Received, others: Sequence[Received] = ()) -> tuple[Disclosed, ...]:
        """Return how far every secret of a price stays open.

        base: the price as it stands; others: all else that the client receives or ever received.
        """
        if not base.price:
            return ()
        client = self._client(base, others)
        found = [
            _margin(client, base, None),
            *_rules(client, (base, *others)),
            *_spread(client),
            *_hours(client, base),
            *_kinds(client, base),
        ]
        states = [one for one in others if one.state in ("alternate", "revision")]
        found += [_margin(client, one, base) for one in states]
        judged = self._judged(found)
        # What one of several gives away by itself they give away together.
        narrow = {one.key for one in judged if not one.enough}
        together = [one for one in others if not narrow & {one.key, *one.key.split()}]
        between = [
            *(_margin(client, one, base) for one in together if one.state == "combination"),
            *(_margin(client, one, other) for other, one in combinations(together, 2)),
        ]
        return (*judged, *(one for one in self._judged(between) if not one.enough))

    def is_open(self, secret: Disclosed, base: Received, others: Sequence[Received]) -> bool:
        """Say whether a secret stays open enough in other prices than it was found in, or is none there."""
        client = self._client(base, others)
        found: Iterable[Disclosed | None]
        if secret.kind == "rule":
            found = _rules(client, (base, *others))
        elif secret.kind == "spread":
            found = _spread(client)
        elif secret.kind == "hours":
            found = _hours(client, base)
        elif secret.between:
            states = {one.key: one for one in others}
            pair = [states.get(key) for key in secret.between] + [base]
            one, less = pair[:2]
            found = () if one is None or less is None else (_margin(client, one, less),)
        else:
            found = (_margin(client, base, None), *_kinds(client, base))
        return all(one.enough for one in self._judged(found) if one.about == secret.about)

    def _client(self, base: Received, others: Sequence[Received]) -> ClientEquations:
        client = ClientEquations.of(self.known, self.knowledge, (base, *others))
        client.days(self.plan)
        return client

    def _judged(self, found: Iterable[Disclosed | None]) -> list[Disclosed]:
        """Return how far things stay open, with whether that is enough; nothing of what is zero."""
        least = self.knowledge.least_range.share
        return [
            replace(
                one,
                enough=one.low <= one.value * (1 - least) + NEARLY
                and one.high >= one.value * (1 + least) - NEARLY,
            )
            for one in found
            if one is not None and one.value > NEARLY
        ]


def _disclosed(
    kind: Kind, about: str, value: float, ends: tuple[float, float], between: tuple[str, ...] = ()
) -> Disclosed:
    return Disclosed(
        kind=kind,
        about=about,
        key=" ".join(dict.fromkeys(name for key in between for name in key.split())),
        between=between,
        value=value,
        low=ends[0],
        high=ends[1],
        enough=False,
    )


def _margin(client: ClientEquations, one: Received, less: Received | None) -> Disclosed | None:
    """Return how far the margin of a price, or of what it has more or less than another, stays open."""
    price = float(one.price - (less.price if less else NOTHING))
    if abs(price) < _SMALLEST * float(one.step):
        return None
    cost = float(one.cost - (less.cost if less else NOTHING))
    terms: dict[int, float] = {}
    known = client.costs(one.parts, 1.0, terms)
    known += client.costs(less.parts, -1.0, terms) if less else 0.0
    low, high = (known + end for end in client.fits.between(terms, cost - known))
    by_library = cost_by_library_hours(client.known, client.knowledge, one, less)
    if by_library is not None:
        low, high = max(low, by_library[0]), min(high, by_library[1])
    ends = sorted((1 - low / price, 1 - high / price))
    about = "the whole price"
    if less is not None:
        about = _since(one) if less.state == "base" else f"{_since(one)} less {_since(less)}"
    between = tuple(state.key for state in (one, less) if state is not None and state.key)
    return _disclosed("margin", about, 1 - cost / price, (ends[0], ends[1]), between)


def _since(one: Received) -> str:
    """Return what a state of the price differs by from the base."""
    return f"the change since {one.label}" if one.state == "revision" else one.label


def _kinds(client: ClientEquations, base: Received) -> list[Disclosed]:
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


def _rules(client: ClientEquations, states: Sequence[Received]) -> list[Disclosed]:
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


def _spread(client: ClientEquations) -> list[Disclosed]:
    """Return how far the share stays open that is spread."""
    column = client.fits.columns.get(("spread", ""))
    if column is None or not client.spread:
        return []
    low, high = client.fits.between({column: 1.0}, 1.0)
    return [
        _disclosed("spread", "what is spread", client.spread, (low * client.spread, high * client.spread))
    ]


def _hours(client: ClientEquations, base: Received) -> list[Disclosed]:
    """Return how far the hours stay open, all trades together."""
    terms: dict[int, float] = {}
    for part in base.parts:
        if part.sort == "work" and part.hours:
            column = client.hours_of(part.name)
            terms[column] = terms.get(column, 0.0) + float(part.hours)
    value = sum(terms.values())
    return [_disclosed("hours", "all hours", value, client.fits.between(terms, value))] if terms else []
