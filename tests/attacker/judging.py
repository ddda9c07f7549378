"""Whether an attack found something out: it holds the value, and leaves less than ± 25 % of it open."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tests.attacker.attacks import all_claims
from tests.attacker.generated import Made, Truth
from tests.attacker.knowledge import Claim

LEAST = 0.25
SLACK = 0.01
"""By how much of a value a claim may miss it and still hold it: prices are rounded."""


@dataclass(frozen=True)
class Judged:
    """A claim beside the value it is about.

    held: whether it holds the value; found_out: whether it also leaves too little open.
    """

    claim: Claim
    value: float
    held: bool
    found_out: bool


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
    found = []
    for value in values:
        held = low - SLACK * abs(value) <= value <= high + SLACK * abs(value)
        narrow = low > value * (1 - LEAST) or high < value * (1 + LEAST)
        found.append(Judged(claim, value, held, held and narrow))
    return found


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
