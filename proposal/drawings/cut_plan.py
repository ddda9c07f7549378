"""The cut plan: every reel with the cables cut from it, group by group, and what is left."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from proposal.document import formatting
from proposal.drawings.graph import Strip


@dataclass(frozen=True, slots=True)
class CutPlanCut:
    """One cable cut from a reel: its identity, its length, m, and its pull group."""

    identity: str
    length_m: float
    group: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPlanReel:
    """A reel.

    number: among the reels of its cable type.  stock: what is bought, such as `305 m box`.
    cuts: in the order of pulling.  remnant_m: what is left, m.
    """

    number: int
    stock: str
    length_m: float
    cuts: tuple[CutPlanCut, ...]
    remnant_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPlanCable:
    """Reels of one cable type.

    cable: code and description.  summary: what is bought and how good the plan is, in words.
    """

    cable: str
    summary: str
    reels: tuple[CutPlanReel, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPlanSpec:
    """All that a sheet of the cut plan shows.

    units: metric or us_customary.
    """

    strip: Strip
    units: str
    locale: str
    cables: tuple[CutPlanCable, ...]


def groups_of(reel: CutPlanReel) -> Iterator[tuple[str, list[tuple[int, CutPlanCut]]]]:
    """Yield each pull group of a reel with its cuts, numbered from 1 through the reel."""
    for group, numbered in groupby(enumerate(reel.cuts, 1), key=lambda pair: pair[1].group):
        yield group, list(numbered)


def alternative(spec: CutPlanSpec) -> str:
    """Return what a sheet of the cut plan shows in sentences."""
    sentences = []
    for cable in spec.cables:
        sentences.append(f"Cut plan of {cable.cable}: {cable.summary}.")
        for reel in cable.reels:
            cuts = "; ".join(
                f"{f'for {group}: ' if group else ''}{_listed(numbered, spec)}"
                for group, numbered in groups_of(reel)
            )
            left = formatting.length(reel.remnant_m, spec.units, spec.locale)
            sentences.append(f"Reel {reel.number}, {reel.stock}, {cuts}; {left} left.")
    return " ".join(sentences)


def _listed(numbered: Sequence[tuple[int, CutPlanCut]], spec: CutPlanSpec) -> str:
    return ", ".join(
        f"{cut.identity} {formatting.length(cut.length_m, spec.units, spec.locale)}" for _, cut in numbered
    )
