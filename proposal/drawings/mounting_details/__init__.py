"""How each kind of device is fixed: a small section with its height, its models, mounts and weights."""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from proposal.document.document import Document
from proposal.document.rows.equipment import DeviceRow
from proposal.document.rows.sheets import SheetRow
from proposal.drawings.mounting_details.cable_supports import TUBED, by_whom, cable_supports
from proposal.drawings.mounting_details.detail import Detail, HeldModel
from proposal.drawings.plan.plan_marks import OUTLET, natural, schedules_of, standing_in_rooms
from proposal.drawings.plan.symbols import place_in_order
from proposal.drawings.sheet import TitleBlock, strip_of
from proposal.editions import Edition
from proposal.field_classes import dataclass
from proposal.quantities import formatting

NOT_HELD = ("charger", "hand or body", "hand", "body")
"""Where devices are that nobody fixes: in a charger, in a hand, on a body."""
OUTLET_HELD = "in a box beside its device, screwed on or under the top as agreed with its owner"
WIRED = "Data cable and its certification"
"""Row of the matrix of duties that outlets belong to."""
RACK = "rack"
RACKS_HELD = {
    "floor": "on its feet, level; bolted down where local codes ask for it",
    "furniture": "built into furniture, which leaves its front and rear open",
    "wall": "bolted to a wall that carries it with all that is in it; height to be agreed",
}
_STANDS = ("table", "floor", "stand", "cart")
CAUTIONS = (
    "Heights are above the finished floor. Sections are not to scale. Holes are cut by the maker's template.",
    "Hang nothing from ceiling tiles or their grid alone. A safety wire is hooked to an anchor of its own, "
    "with little slack, before the device is let go. Anchors, seismic bracing and rated walls and "
    "ceilings: as local codes ask, and as whoever is licensed for them says.",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class MountingSpec:
    """All that a sheet of mounting details shows.

    schedules: numbers of the sheets that list the devices; empty where there are none.
    """

    strip: TitleBlock
    details: tuple[Detail, ...]
    schedules: str = ""


def spec_of(edition: Edition, sheet: SheetRow) -> MountingSpec:
    """Return what a sheet of mounting details shows to an edition's reader."""
    document = edition.document
    grouped: dict[tuple[str, str], list[DeviceRow]] = {}
    styles = {row.style for row in document.racks} or {""}
    # Racks have one detail: that of those on the floor, where some stand there.
    stands = styles.pop() if len(styles) == 1 else ""
    stands = stands or "floor"
    for row in standing_in_rooms(document):
        if row.location not in NOT_HELD:
            location = stands if row.kind == RACK else row.location
            grouped.setdefault((row.kind, location), []).append(row)
    names = {row.item: row.description for row in document.takeoff}
    keys = sorted(grouped, key=lambda key: (place_in_order(key[0]), key[1]))
    details = [_detail(document, kind, location, grouped[kind, location], names) for kind, location in keys]
    details += (*_outlets(document), *cable_supports(document))
    each = -(-len(details) // sheet.parts)
    return MountingSpec(
        strip=strip_of(edition, sheet),
        details=tuple(details[(sheet.part - 1) * each : sheet.part * each]),
        schedules=schedules_of(document, [row.tag for row in document.storeys]),
    )


def _outlets(document: Document) -> Iterator[Detail]:
    """Yield the data outlets, if any: they stand beside their devices, at their height."""
    standing = {row.tag: row for row in standing_in_rooms(document)}
    begins = [cable.from_tag for cable in document.cables if cable.from_connector == OUTLET]
    devices = [standing[tag] for tag in begins if tag in standing]
    if devices:
        heights, told_height = _heights(document, devices)
        locations = {row.location for row in devices}
        yield Detail(
            kind="data outlet",
            location="wall" if locations == {"wall"} else "table",
            count=len(devices),
            models=(*_models_of_outlets(document), HeldModel("", "", OUTLET_HELD)),
            heights=heights,
            told_height=told_height,
        )


def _models_of_outlets(document: Document) -> tuple[HeldModel, ...]:
    """Return the models of outlets that are counted, with who furnishes and terminates them."""
    counted: dict[str, str] = {}
    for row in document.takeoff:
        if row.section == "termination" and row.room and row.description.casefold().startswith(OUTLET):
            counted[row.item] = row.description
    named = [f"{item} {words}" for item, words in counted.items()]
    by = by_whom(document, WIRED)
    boxes = by_whom(document, TUBED)
    told = "".join((by.replace("; by", "; terminated by"), boxes.replace("; by", "; box by")))
    return tuple(HeldModel(f"{words}{told}", "", "") for words in named)


def _detail(
    document: Document, kind: str, location: str, rows: Sequence[DeviceRow], names: Mapping[str, str]
) -> Detail:
    units, locale = document.cover.units, document.cover.locale
    models = dict.fromkeys(
        (
            row.model,
            row.description,
            row.mount,
            row.weight_kg,
            row.wire,
            row.depth_m if row.kind == "loudspeaker" and row.wire else None,
        )
        for row in rows
    )
    mounted_in = _rooms_of_mounts(rows)
    # How high a rack hangs on a wall is agreed on site.
    known = [] if kind == RACK and location != "floor" else rows
    heights, told_height = _heights(document, known)
    return Detail(
        kind=kind,
        location=location,
        count=len(rows),
        models=tuple(
            HeldModel(
                " ".join(part for part in (model, description) if part),
                formatting.quantity(weight_kg, "mass", units, locale) if weight_kg else "",
                RACKS_HELD.get(location, "")
                if kind == RACK
                else _held_by(
                    location, mount, names, mounted_in.get(mount, ()) if len(mounted_in) > 1 else ()
                ),
                " ".join(part for part in (wire, names.get(wire, "")) if part),
                formatting.short_quantity(depth_m, "short_length", units, locale) if depth_m else "",
            )
            for model, description, mount, weight_kg, wire, depth_m in models
        ),
        heights=heights,
        told_height=told_height,
    )


def _heights(
    document: Document, rows: Iterable[DeviceRow]
) -> tuple[tuple[tuple[str, tuple[str, ...]], ...], str]:
    """Return each height of devices with its rooms, and what is told beside the section."""
    units, locale = document.cover.units, document.cover.locale
    rooms: dict[float, dict[str, None]] = {}
    for row in rows:
        if row.height_m is not None:
            rooms.setdefault(row.height_m, {})[row.room] = None
    written = {height: formatting.short_quantity(height, "length", units, locale) for height in sorted(rooms)}
    heights = tuple((words, tuple(sorted(rooms[height], key=natural))) for height, words in written.items())
    return heights, told(list(written.values()))


def _rooms_of_mounts(rows: Sequence[DeviceRow]) -> dict[str, tuple[str, ...]]:
    """Return the rooms in which each mount is used."""
    rooms: dict[str, dict[str, None]] = {}
    for row in rows:
        if row.mount:
            rooms.setdefault(row.mount, {})[row.room] = None
    return {mount: tuple(sorted(found, key=natural)) for mount, found in rooms.items()}


def _held_by(location: str, mount: str, names: Mapping[str, str], rooms: Sequence[str]) -> str:
    """Return what holds a device.

    rooms: where this mount is used, where others hold the same kind elsewhere.
    """
    if mount:
        where = f"in {', '.join(rooms)}:" if rooms else ""
        return " ".join(part for part in (where, "on mount", mount, names.get(mount, "")) if part)
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
            more = [f"safety wire {one.wire}"] if one.wire else []
            more += [f"reaches {one.behind} above the ceiling"] if one.behind else []
            parts = [f"{one.model}{weight}", one.held_by, *more]
            sentences.append(f"{', '.join(part for part in parts if part)}.")
        if detail.heights:
            sentences.append(f"Heights: {'; '.join(heights_in_words(detail.heights))}.")
    return " ".join((*sentences, *CAUTIONS))
