"""The rack elevation: what stands at which unit, front and rear, with weight, heat and outlets."""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace

from proposal.document.document import Document
from proposal.document.rows.mains import MainsOutletRow
from proposal.document.rows.racks import RackPlaceRow, RackRow
from proposal.document.rows.sheets import SheetRow
from proposal.drawings.sheet import TitleBlock, strip_of
from proposal.editions import Edition
from proposal.field_classes import dataclass
from proposal.quantities import formatting

CLOSED = ("blank panel", "vent panel")
"""Kinds that close the front."""


MOST_UNITS = 50
"""So many units of a rack are drawn at most; each is a number on the sheet."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """One thing in a rack.

    unit, units: lowest unit it takes, from below, and how many.
    side: left or right, empty for the whole width.
    name, kind: its tag or code, without the rack's own tag, and what it is.
    note: its model, weight and heat, as they stand beside it.  model: its code; empty where nobody says.
    outlets: that feed it.
    holds: names of what stands on it, where it is a shelf, from the left.
    mains: circuit and outlet of the room that it is plugged in; empty where that is none of its own.
    cords: lengths of the mains cords that feed it in the rack.
    """

    unit: int
    units: int
    side: str
    name: str
    kind: str
    note: str
    outlets: tuple[str, ...] = ()
    model: str = ""
    holds: tuple[str, ...] = ()
    mains: str = ""
    cords: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class RackPicture:
    """One rack: its tag and model, its units, what stands in front and behind, and its sums."""

    tag: str
    model: str
    units: int
    front: tuple[Box, ...]
    rear: tuple[Box, ...]
    sums: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RackElevationSpec:
    """All that a sheet of rack elevations shows.

    cords: the mains and patch cords in its racks, in words.
    """

    strip: TitleBlock
    racks: tuple[RackPicture, ...]
    cords: str = ""


def spec_of(edition: Edition, sheet: SheetRow) -> RackElevationSpec:
    """Return what a sheet of rack elevations shows: the racks that are its members, all without any."""
    document = edition.document
    units, locale = document.cover.units, document.cover.locale
    members = set(sheet.members)
    return RackElevationSpec(
        strip=strip_of(edition, sheet),
        cords=cords_in_words(
            document, {rack.tag for rack in document.racks if not members or rack.tag in members}
        ),
        racks=tuple(
            _picture(
                rack,
                [row for row in document.rack_places if row.rack == rack.tag],
                [one for one in document.mains_outlets if one.location == rack.tag],
                units,
                locale,
            )
            for rack in document.racks
            if not members or rack.tag in members
        ),
    )


def _picture(
    rack: RackRow, places: Sequence[RackPlaceRow], outlets: Sequence[MainsOutletRow], units: str, locale: str
) -> RackPicture:
    """Return how a rack is drawn.

    outlets: of the room, beside the rack.
    """
    mains = {one.serves: one.mark for one in outlets}
    boxes = {
        face: tuple(
            replace(
                _box(rack.tag, row, [one for one in places if one.shelf == row.name], units, locale),
                mains=mains.get(row.name, ""),
            )
            for row in places
            if row.face == face and row.units
        )
        for face in ("front", "rear")
    }

    def shown(value: float, kind: str) -> str:
        return formatting.quantity(value, kind, units, locale)

    sums = [
        f"{rack.used} of {rack.units} units used, {rack.spare_wanted} to stay free",
        f"{shown(rack.weight_kg, 'mass')} in it of {shown(rack.load_kg, 'mass')}",
        f"{shown(rack.typical_w, 'power')} of heat, {shown(rack.hourly_heat_btu, 'heat_flow')}",
        f"at most {shown(rack.apparent_va, 'apparent_power')}, {shown(rack.current_a, 'current')}",
        f"{rack.outlets_used} of {rack.outlets} outlets used",
    ]
    if rack.hourly_air_wanted_m3:
        sums.append(
            f"air: {shown(rack.hourly_air_wanted_m3, 'airflow')} wanted, "
            f"{shown(rack.hourly_air_m3, 'airflow')} moved"
        )
    sums += _behind_each_other(rack, places, units, locale)
    sums += _plugged_in(rack.tag, outlets)
    return RackPicture(
        tag=rack.tag,
        model=f"{rack.model}, front to the {rack.faces}" if rack.faces else rack.model,
        units=min(rack.units, MOST_UNITS),
        front=boxes["front"],
        rear=boxes["rear"],
        sums=tuple(sums),
    )


def _plugged_in(rack: str, outlets: Sequence[MainsOutletRow]) -> list[str]:
    """Return at which outlets of the room what is plugged in, and with which inlet or plug, by that."""
    plugs: dict[str, list[str]] = {}
    for one in outlets:
        name = one.serves.removeprefix(f"{rack}/")
        plugs.setdefault(one.plug, []).append(f"{name} at {one.mark}")
    return [
        f"mains at the rack: {', '.join(names)}, {plug or 'plug not stated'}" for plug, names in plugs.items()
    ]


def _behind_each_other(rack: RackRow, places: Sequence[RackPlaceRow], units: str, locale: str) -> list[str]:
    """Return how much of the depth of a rack is taken front to back at one unit, where it is most."""
    pairs = [
        (front.depth_m + rear.depth_m, front, rear)
        for front in places
        for rear in places
        if (front.face, rear.face) == ("front", "rear") and front.depth_m and rear.depth_m
        if front.unit < rear.unit + rear.units and rear.unit < front.unit + front.units
    ]
    if not pairs or rack.depth_m is None:
        return []
    _, front, rear = max(pairs, key=lambda pair: (round(pair[0], 6), pair[1].name))
    names = [one.name.removeprefix(f"{rack.tag}/") for one in (front, rear)]
    deep = [
        formatting.short_quantity(value, "short_length", units, locale)
        for value in (front.depth_m or 0.0, rear.depth_m or 0.0, rack.depth_m)
    ]
    return [f"depth: {names[0]} {deep[0]}, behind it {names[1]} {deep[1]}, of {deep[2]}"]


def _box(rack: str, row: RackPlaceRow, shelved: Sequence[RackPlaceRow], units: str, locale: str) -> Box:
    """Return one thing in a rack, with what stands on it."""
    parts = (row, *shelved)
    weight_kg = sum(one.weight_kg for one in parts) if row.kind not in CLOSED else 0.0
    typical_w = sum(one.typical_w for one in parts)
    note = [row.model] if row.model and row.kind not in CLOSED else []
    note += [formatting.quantity(weight_kg, "mass", units, locale)] if weight_kg else []
    if typical_w:
        note.append(formatting.quantity(typical_w, "power", units, locale))
    return Box(
        unit=row.unit,
        units=min(row.units, MOST_UNITS),
        side=row.side,
        name=row.name.removeprefix(f"{rack}/"),
        kind=row.kind,
        note=", ".join(note),
        outlets=tuple(_outlets([outlet for one in parts for outlet in one.outlets])),
        cords=tuple(
            dict.fromkeys(
                formatting.short_quantity(one.cord_m, "length", units, locale) for one in parts if one.cord_m
            )
        ),
        model=row.model,
        holds=tuple(one.name.rpartition("-")[2] for one in shelved),
    )


def cords_in_words(document: Document, racks: Collection[str]) -> str:
    """Return the cords of some racks, the mains cords with what they join: model, length, how many.

    racks: tags of them.
    """
    units, locale = document.cover.units, document.cover.locale
    mains = [
        (f"{place.cord}, {place.cord_joins}", place.cord_m)
        for place in document.rack_places
        if place.rack in racks and place.cord_m
        for _ in place.outlets
    ]
    found = [
        f"{mains.count(one)} {one[0]}, {formatting.short_quantity(one[1], 'length', units, locale)}"
        for one in sorted(set(mains))
    ]
    patch = list(_patch_cords(document, racks))
    called = {row.item: row.description for row in document.takeoff}
    found += [f"{patch.count(one)} {one}, {called.get(one, '')}".rstrip(", ") for one in sorted(set(patch))]
    return f"Cords in these racks: {'; '.join(found)}." if found else ""


def _patch_cords(document: Document, racks: Collection[str]) -> Iterator[str]:
    """Yield the model of each patch cord that is plugged in racks.

    racks: tags of them.
    """
    location = {device.tag: device.location for device in document.devices}
    for patch in document.patches:
        if patch.first_cord and patch.first_panel.partition("/")[0] in racks:
            yield patch.first_cord
        if (patch.panel.partition("/")[0] or location.get(patch.device, "")) in racks:
            yield from (one for one in (patch.last_cord, patch.source_cord) if one)


def _outlets(names: Sequence[str]) -> list[str]:
    """Return outlets, a strip named once before the numbers of all of its own that follow each other."""
    found: list[str] = []
    before = ""
    for name in names:
        strip, _, number = name.rpartition("/")
        found.append(number if strip == before else name)
        before = strip
    return found


def alternative(spec: RackElevationSpec) -> str:
    """Return what a sheet of rack elevations shows in sentences."""
    sentences = []
    for rack in spec.racks:
        sentences.append(f"Rack {rack.tag}, {rack.model}: {'; '.join(rack.sums)}.")
        for face, boxes in (("In front", rack.front), ("At the rear", rack.rear)):
            if boxes:
                stands = ", ".join(f"{_at(box)} {_called(box)}" for box in boxes)
                sentences.append(f"{face}, from above: {stands}.")
    return " ".join(sentences)


def _at(box: Box) -> str:
    last = box.unit + box.units - 1
    at = f"unit {box.unit}" if last == box.unit else f"units {box.unit} to {last}"
    return f"{at} {box.side}" if box.side else at


def _called(box: Box) -> str:
    called = f"{box.name} with {', '.join(box.holds)}" if box.holds else box.name
    return f"{called}, mains {box.mains}" if box.mains else called
