"""How each kind of device is fixed: a small section with its height, its models, mounts and weights."""

from collections.abc import Iterable, Mapping, Sequence

from proposal.document.document import Document
from proposal.document.rows.equipment import DeviceRow
from proposal.document.rows.sheets import SheetRow
from proposal.drawings.plan.plan_marks import natural, standing_in_rooms
from proposal.drawings.plan.symbols import place_in_order
from proposal.drawings.sheet import TitleBlock, strip_of
from proposal.editions import Edition
from proposal.field_classes import dataclass
from proposal.quantities import formatting

NOT_HELD = ("charger", "hand or body", "hand", "body")
"""Where devices are that nobody fixes: in a charger, in a hand, on a body."""
_STANDS = ("table", "floor", "stand", "cart")
CAUTIONS = (
    "Heights are above the finished floor. Sections are not to scale.",
    "Hang nothing from ceiling tiles or their grid alone. Structure, anchors, safety wires, seismic bracing "
    "and rated walls and ceilings: as local codes ask, and as whoever is licensed for them says.",
)


@dataclass(frozen=True, slots=True)
class HeldModel:
    """A model as it is held: its code and description, its weight, and what holds it."""

    model: str
    weight: str
    held_by: str


@dataclass(frozen=True, slots=True)
class Detail:
    """A kind of device at one sort of place.

    heights: each height with the rooms where it holds.  told_height: beside the section.
    """

    kind: str
    location: str
    count: int
    models: tuple[HeldModel, ...]
    heights: tuple[tuple[str, tuple[str, ...]], ...]
    told_height: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MountingSpec:
    """All that a sheet of mounting details shows."""

    strip: TitleBlock
    details: tuple[Detail, ...]


def spec_of(edition: Edition, sheet: SheetRow) -> MountingSpec:
    """Return what a sheet of mounting details shows to an edition's reader."""
    document = edition.document
    grouped: dict[tuple[str, str], list[DeviceRow]] = {}
    for row in standing_in_rooms(document):
        if row.location not in NOT_HELD:
            location = "floor" if row.kind == "rack" else row.location
            grouped.setdefault((row.kind, location), []).append(row)
    names = {row.item: row.description for row in document.takeoff}
    keys = sorted(grouped, key=lambda key: (place_in_order(key[0]), key[1]))
    each = -(-len(keys) // sheet.parts)
    return MountingSpec(
        strip=strip_of(edition, sheet),
        details=tuple(
            _detail(document, kind, location, grouped[kind, location], names)
            for kind, location in keys[(sheet.part - 1) * each : sheet.part * each]
        ),
    )


def _detail(
    document: Document, kind: str, location: str, rows: Sequence[DeviceRow], names: Mapping[str, str]
) -> Detail:
    units, locale = document.cover.units, document.cover.locale
    models = dict.fromkeys((row.model, row.description, row.mount, row.weight_kg) for row in rows)
    heights: dict[float, dict[str, None]] = {}
    for row in rows:
        if row.height_m is not None:
            heights.setdefault(row.height_m, {})[row.room] = None
    written = {
        height: formatting.short_quantity(height, "length", units, locale) for height in sorted(heights)
    }
    return Detail(
        kind=kind,
        location=location,
        count=len(rows),
        models=tuple(
            HeldModel(
                " ".join(part for part in (model, description) if part),
                formatting.quantity(weight_kg, "mass", units, locale) if weight_kg else "",
                _held_by(location, mount, names),
            )
            for model, description, mount, weight_kg in models
        ),
        heights=tuple(
            (words, tuple(sorted(heights[height], key=natural))) for height, words in written.items()
        ),
        told_height=told(list(written.values())),
    )


def _held_by(location: str, mount: str, names: Mapping[str, str]) -> str:
    if mount:
        return " ".join(part for part in ("on mount", mount, names.get(mount, "")) if part)
    return "stands there, not fixed" if location in _STANDS else "with the fixings that come with it"


def told(written: Sequence[str]) -> str:
    """Return heights as a range, or the one height.

    written: heights with their unit, the lowest first.
    """
    if len(written) < 2:
        return "".join(written)
    # A number and its unit, and not feet with inches.
    first, last = written[0].split(), written[-1].split()
    alike = len(first) == len(last) == 2 and first[1] == last[1]
    return f"{first[0] if alike else written[0]} to {written[-1]}"


def heights_in_words(heights: Iterable[tuple[str, tuple[str, ...]]]) -> list[str]:
    """Return each height with its rooms, a line each.

    heights: as written, each with the tags of its rooms.
    """
    return [f"{height} in {', '.join(rooms)}" for height, rooms in heights]


def alternative(spec: MountingSpec) -> str:
    """Return what the sheet shows in sentences."""
    sentences = []
    for detail in spec.details:
        sentences.append(f"{detail.kind.capitalize()}, {detail.location}: {detail.count} in all.")
        for one in detail.models:
            weight = f", {one.weight}" if one.weight else ""
            sentences.append(f"{one.model}{weight}, {one.held_by}.")
        if detail.heights:
            sentences.append(f"Heights: {'; '.join(heights_in_words(detail.heights))}.")
    return " ".join((*sentences, *CAUTIONS))
