"""Whether an attack found something out: it holds the value, and leaves less than ± 25 % of it open.

A claim counts where what it supposes is so, or where it supposes nothing: then the client has derived it.
A claim that supposes what is not so is a guess. That it holds a value is an accident, and `run.py` sees that
the guesses that a client sees to be close are wrong more often, with every attack.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tests.attacker.attacks import MOST_OF_ITS_OWN, all_claims, may_hold_sums
from tests.attacker.generated import Made, Truth
from tests.attacker.knowledge import Claim

LEAST = 0.25
SLACK = 0.01
"""By how much of a value a claim may miss it and still hold it: prices are rounded."""


@dataclass(frozen=True)
class Judged:
    """A claim beside the value it is about.

    low, high: between what it says that the value lies; derived: whether what it supposes is so.
    """

    claim: Claim
    value: float
    low: float
    high: float
    derived: bool

    @property
    def held(self) -> bool:
        """Return whether it holds the value."""
        return holds(self.low, self.high, self.value)

    @property
    def hits(self) -> bool:
        """Return whether it holds the value and leaves too little of it open."""
        return hits(self.low, self.high, self.value)

    @property
    def looks_narrow(self) -> bool:
        """Return whether none of the values that it holds would have enough left open: a client sees that."""
        return self.low > 0 and self.high / (1 + LEAST) < self.low / (1 - LEAST)

    @property
    def found_out(self) -> bool:
        """Return whether it leaves too little open, and is no guess."""
        return self.derived and self.hits

    @property
    def by_accident(self) -> bool:
        """Return whether it leaves too little open, and supposes what is not so."""
        return self.hits and not self.derived


def holds(low: float, high: float, value: float) -> bool:
    """Return whether a value lies between two ends, or nearly so."""
    return low - SLACK * abs(value) <= value <= high + SLACK * abs(value)


def hits(low: float, high: float, value: float) -> bool:
    """Return whether two ends hold a value and leave too little of it open."""
    narrow = low > value * (1 - LEAST) or high < value * (1 + LEAST)
    return narrow and holds(low, high, value)


def judged(one: Made) -> list[Judged]:
    """Return what all attacks on a project claim, each beside the value it is about."""
    return [found for claim in all_claims(one.states) for found in _judged(claim, one.truth)]


def recovered(one: Made) -> list[Judged]:
    """Return what the attacker found out."""
    return [found for found in judged(one) if found.found_out]


def _judged(claim: Claim, truth: Truth) -> list[Judged]:
    low, high, values = claim.low, claim.high, _values(claim, truth)
    if claim.secret.endswith("factor"):
        # A price over its cost, told as the margin it leaves.
        low, high = 1 - 1 / max(low, 1e-9), 1 - 1 / max(high, 1e-9)
        values = [1 - 1 / value for value in values]
    derived = _is_so(claim, truth)
    return [Judged(claim, value, low, high, derived) for value in values]


def _is_so(claim: Claim, truth: Truth) -> bool:
    """Return whether what a claim supposes of sums of the house's own is so in the states it is about."""
    if not claim.supposes:
        return True
    if claim.supposes == "least sums":
        # Houses state what a change costs, which is a tenth above the least or more.
        return False
    first, second = claim.note.split(" → ")
    more = truth.own[second] - truth.own[first]
    if claim.supposes == "no sums":
        return more == 0
    beside, adds = truth.totals[first] - truth.totals["base"], truth.totals[second] - truth.totals[first]
    taken = may_hold_sums(first, second, beside, adds)
    return -MOST_OF_ITS_OWN * taken <= more <= MOST_OF_ITS_OWN * adds


def _values(claim: Claim, truth: Truth) -> Sequence[float]:
    if claim.secret.startswith("hours of "):
        phase = claim.secret.removeprefix("hours of ")
        return [truth.phases[phase]] if phase in truth.phases else []
    if claim.secret == "rule":
        return truth.rules
    if claim.secret == "margin of a difference":
        return [truth.differences[claim.note]] if claim.note in truth.differences else []
    return [
        {
            "margin": truth.margin,
            "equipment factor": truth.equipment,
            "materials factor": truth.materials,
            "spread": truth.spread,
            "hours": truth.hours,
            "margin of goods": truth.goods,
        }[claim.secret]
    ]


def untold(one: Made) -> list[Judged]:
    """Return what the attacker found out without the house having been told that it can be found out."""
    return [found for found in recovered(one) if not _is_told(found.claim, one)]


def _is_told(claim: Claim, one: Made) -> bool:
    if claim.secret == "hours":
        return any(each.kind == "hours" and not each.enough for each in one.disclosed)
    narrow = [each for each in one.disclosed if not each.enough and each.kind == "margin"]
    if claim.secret == "margin":
        return any(each.about == "the whole price" for each in narrow)
    if claim.secret == "margin of goods":
        return any(each.about == "what is taxed as goods" for each in narrow)
    if claim.secret == "margin of a difference":
        # What one of several gives away by itself they give away together.
        labels = _changes(claim.note.split(" → ")) - {"base"}
        told = [each.about.replace("the change since ", "").split(" less ") for each in narrow]
        return any(_changes(each) <= labels for each in told)
    return False


def _changes(labels: Iterable[str]) -> set[str]:
    """Return what states of the price hold by their labels: alternates, one or several, and revisions."""
    return {
        change for label in labels for change in ([label] if label.startswith("revision") else label.split())
    }
