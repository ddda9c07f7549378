"""Two small formulas that tests put numbers into."""

from collections.abc import Sequence

from proposal.standards.formula import formula
from proposal.standards.sources import COMMON_PRACTICE, Source
from proposal.standards.validity import Range
from proposal.standards.working import Limit

STANDARD = Source("ANSI/TIA-568.2", "D", "6.4")
AT_MOST_90 = Limit(90.0, "≤", STANDARD)


@formula(
    title="Sum of weighted lengths",
    equation="S = sum(L_i·(1 + k_i)) + a",
    source=STANDARD,
    result=("S", "m"),
    where={
        "lengths_m": ("L_i", "length of a stretch", "m"),
        "rises": ("k_i", "rise there", "-"),
        "slack_m": ("a", "slack", "m"),
    },
    valid={"lengths_m": Range(0), "rises": Range(-1, 1), "slack_m": Range(0, 5, warning="Long slack.")},
)
def weighted_m(lengths_m: Sequence[float], rises: Sequence[float], slack_m: float = 2.0) -> float:
    return sum(length * (1 + rise) for length, rise in zip(lengths_m, rises, strict=True)) + slack_m


@formula(
    title="Links",
    equation="n = floor(c/k)",
    source=COMMON_PRACTICE,
    result=("n", "-"),
    where={"slots": ("c", "slots", "-"), "each": ("k", "slots a link", "-")},
    valid={"slots": Range(0, whole=True), "each": Range(1, whole=True)},
)
def links(slots: int, each: int) -> int:
    return slots // each
