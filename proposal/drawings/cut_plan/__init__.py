"""The cut plan: every reel with the cables cut from it, group by group, and what is left."""

from collections.abc import Iterator, Sequence
from itertools import groupby

from proposal.document.rows.reels import ReelOrderRow
from proposal.document.rows.sheets import SheetRow
from proposal.drawings.sheet import TitleBlock, strip_of
from proposal.editions import Edition
from proposal.field_classes import dataclass
from proposal.quantities import formatting


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

    units: metric or us_customary.  elsewhere: number of each further sheet, and the types of cable on it.
    """

    strip: TitleBlock
    units: str
    locale: str
    cables: tuple[CutPlanCable, ...]
    elsewhere: tuple[tuple[str, tuple[str, ...]], ...] = ()


def spec_of(edition: Edition, sheet: SheetRow) -> CutPlanSpec:
    """Return what a sheet of the cut plan shows to an edition's reader.

    The sheet's members are types of cable; its first reel is one of the first type, its last of the last.
    """
    document = edition.document
    orders = [order for order in document.reel_orders if order.type in sheet.members]
    others = (row for row in document.detail_sheets if row.kind == sheet.kind and row.part != sheet.part)
    return CutPlanSpec(
        elsewhere=tuple((row.number, row.members) for row in others),
        strip=strip_of(edition, sheet),
        units=document.cover.units,
        locale=document.cover.locale,
        cables=tuple(
            _cable(
                order,
                first=sheet.first if n == 0 else 1,
                last=sheet.last if n == len(orders) - 1 and sheet.last else len(order.reels),
            )
            for n, order in enumerate(orders)
        ),
    )


def _cable(order: ReelOrderRow, first: int, last: int) -> CutPlanCable:
    """Return the reels of one type from `first` to `last`."""
    counted = ", ".join(f"{count} × {stock}" for stock, count in order.counts)
    spare = f", and 1 × {order.spare} spare" if order.spare else ""
    proof = "proven least" if order.proven else "not proven least"
    return CutPlanCable(
        cable=f"{order.type} {order.description}",
        summary=f"{counted}{spare}; {proof}",
        reels=tuple(
            CutPlanReel(
                number=reel.number,
                stock=reel.stock,
                length_m=float(reel.length_m),
                cuts=tuple(
                    CutPlanCut(identity, float(length), group) for identity, length, group in reel.cuts
                ),
                remnant_m=float(reel.remnant_m),
            )
            for reel in order.reels[first - 1 : last]
        ),
    )


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
            left = formatting.cut_length(reel.remnant_m, spec.units, spec.locale)
            sentences.append(f"Reel {reel.number}, {reel.stock}, {cuts}; {left} left.")
    return " ".join(sentences)


def _listed(numbered: Sequence[tuple[int, CutPlanCut]], spec: CutPlanSpec) -> str:
    return ", ".join(
        f"{cut.identity} {formatting.cut_length(cut.length_m, spec.units, spec.locale)}"
        for _, cut in numbered
    )
