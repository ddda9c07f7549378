"""Cross-sections of the fullest conduits and sleeves."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace

from proposal.document.rows.pathways import PenetrationRow
from proposal.document.rows.sheets import SheetRow
from proposal.drawings.plan.plan_marks import natural
from proposal.drawings.sheet import TitleBlock, strip_of
from proposal.editions import Edition
from proposal.field_classes import dataclass
from proposal.quantities import formatting

LOUDSPEAKER_LINE = "loudspeaker line"
MOST_SECTIONS = 12
"""Cross-sections that a sheet has places for."""


@dataclass(frozen=True, slots=True)
class Content:
    """Cables of one type: signal, model, how many, outside diameter of one, m."""

    signal: str
    model: str
    count: int
    diameter_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """One conduit: tag, kind, trade size, inside diameter, m, what lies in it, shares filled and allowed."""

    tag: str
    kind: str
    trade_size: str
    internal_diameter_m: float
    contents: tuple[Content, ...]
    fill: float
    limit: float
    spare: int | None
    verdict: str

    @property
    def count(self) -> int:
        """Return how many cables lie in it."""
        return sum(content.count for content in self.contents)


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionsSpec:
    """All that a sheet of cross-sections shows."""

    strip: TitleBlock
    units: str
    locale: str
    sections: tuple[Section, ...]


def spec_of(edition: Edition, sheet: SheetRow) -> SectionsSpec:
    """Return what a sheet of cross-sections shows to an edition's reader."""
    document = edition.document
    rows = {row.tag: row for row in document.pathways}
    contents: dict[str, list[Content]] = {}
    for row in document.pathway_contents:
        content = Content(row.signal, row.type, row.count, row.diameter_m)
        contents.setdefault(row.pathway, []).append(content)
    sections = [
        *(
            Section(
                tag=tag,
                kind=f"existing {rows[tag].kind}" if rows[tag].existing else rows[tag].kind,
                trade_size=rows[tag].size,
                internal_diameter_m=rows[tag].internal_diameter_m or 0.0,
                contents=tuple(contents.get(tag, ())),
                fill=rows[tag].fill or 0.0,
                limit=rows[tag].limit or 0.0,
                spare=rows[tag].spare,
                verdict=rows[tag].verdict,
            )
            for tag in sheet.members
            if tag in rows
        ),
        *(
            section
            for row in document.penetrations
            if row.tag in sheet.members
            for section in _in_sleeves(row, contents.get(row.pathway, ()))
        ),
    ]
    fullest = sorted(sections, key=lambda one: (-round(one.fill / (one.limit or 1.0), 9), natural(one.tag)))
    return SectionsSpec(
        strip=strip_of(edition, sheet),
        units=document.cover.units,
        locale=document.cover.locale,
        sections=tuple(fullest[:MOST_SECTIONS]),
    )


def _in_sleeves(row: PenetrationRow, contents: Sequence[Content]) -> Iterator[Section]:
    """Yield the sleeves of an opening, each with what passes in it.

    contents: of its pathway.
    Cables are shared out among sleeves alike, the widest first, in turn; loudspeaker lines have their own.
    """
    for lines in (False, True):
        cables = sorted(
            (one for one in contents if (one.signal == LOUDSPEAKER_LINE) == lines for _ in range(one.count)),
            key=lambda one: -one.diameter_m,
        )
        sizes = [
            (words.partition(" for ")[0], inside_m, limit)
            # Records of issues before sleeves told their width have none to draw.
            for words, inside_m, limit in zip(row.sleeves, row.insides_m, row.limits, strict=False)
            if (LOUDSPEAKER_LINE in words) == lines
        ]
        for n, (size, inside_m, limit) in enumerate(sizes):
            share = cables[n :: len(sizes)]
            counts = Counter(share)
            fill = sum(one.diameter_m**2 for one in share) / inside_m**2
            yield Section(
                tag=row.tag,
                kind="sleeve",
                trade_size=size,
                internal_diameter_m=inside_m,
                contents=tuple(replace(one, count=counts[one]) for one in dict.fromkeys(share)),
                fill=fill,
                limit=limit,
                spare=None,
                verdict="holds" if fill <= limit else "fails",
            )


def summary(spec: SectionsSpec, section: Section) -> tuple[str, str]:
    """Return what stands under a section: its name and size, and how full it is."""

    def share(value: float) -> str:
        return formatting.quantity(value, "fraction", spec.units, spec.locale)

    inside = formatting.quantity(section.internal_diameter_m, "short_length", spec.units, spec.locale)
    word = {"holds": "not too full", "fails": "too full"}.get(section.verdict, "")
    # Sizes with a unit are outside diameters, as conduit of IEC 60423 is sold.
    metric = section.trade_size.endswith("mm")
    size = f"{section.trade_size} outside" if metric else f"trade size {section.trade_size}"
    return (
        f"{section.tag} · {section.kind}, {size}, {inside} inside",
        f"{formatting.count_of(section.count, 'cable')} · {share(section.fill)} filled, at most "
        f"{share(section.limit)} · {word}",
    )


def alternative(spec: SectionsSpec) -> str:
    """Return what the sheet shows in sentences."""
    sentences = ["Cross-sections of conduits and sleeves, the fullest first."]
    for section in spec.sections:
        name, fullness = summary(spec, section)
        listed = "; ".join(
            f"{content.count} × {content.model} ({content.signal}) of "
            f"{formatting.quantity(content.diameter_m, 'short_length', spec.units, spec.locale)}"
            for content in section.contents
        )
        sentences.append(f"{name}: {fullness}. It holds {listed}.")
    return " ".join(sentences)
