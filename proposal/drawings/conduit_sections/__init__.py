"""Cross-sections of the fullest conduits and sleeves."""

from proposal.document.rows.sheets import SheetRow
from proposal.drawings.sheet import TitleBlock, strip_of
from proposal.editions import Edition
from proposal.field_classes import dataclass
from proposal.quantities import formatting


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
    return SectionsSpec(
        strip=strip_of(edition, sheet),
        units=document.cover.units,
        locale=document.cover.locale,
        sections=tuple(
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
    )


def summary(spec: SectionsSpec, section: Section) -> tuple[str, str]:
    """Return what stands under a section: its name and size, and how full it is."""

    def share(value: float) -> str:
        return formatting.quantity(value, "fraction", spec.units, spec.locale)

    inside = formatting.quantity(section.internal_diameter_m, "short_length", spec.units, spec.locale)
    word = {"holds": "holds", "fails": "too full"}.get(section.verdict, "")
    return (
        f"{section.tag} · {section.kind}, trade size {section.trade_size}, {inside} inside",
        f"{formatting.count_of(section.count, 'cable')} · {share(section.fill)} filled of "
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
