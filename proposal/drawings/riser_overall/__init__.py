"""The overall riser: storeys with their rooms, and what runs from each room to the equipment rooms."""

from collections.abc import Iterable, Mapping, Sequence

from proposal.document.document import Document
from proposal.document.rows.cabling import RiserLine
from proposal.document.rows.equipment import DeviceRow
from proposal.document.rows.pathways import PenetrationRow
from proposal.document.rows.rooms import RoomRow, RoomSheet
from proposal.document.rows.sheets import SheetRow
from proposal.document.wall_passages import sleeve_words
from proposal.drawings import graph
from proposal.drawings.legend import LegendEntry
from proposal.drawings.sheet import TitleBlock, strip_of
from proposal.editions import Edition
from proposal.field_classes import dataclass
from proposal.quantities import formatting

# The order of a system's kinds of equipment from the microphone on; others follow by name.
_ORDER = ("access point", "charger", "breakout", "mixer", "amplifier", "loudspeaker", "switch")


@dataclass(frozen=True, slots=True)
class RiserCables:
    """All cables of one type from a room to where they end.

    what: count and type.  span: shortest to longest.  signal: which line is drawn.
    end: tag of the equipment room; empty where they stay in the room.
    """

    what: str
    span: str
    signal: str
    end: str


@dataclass(frozen=True, slots=True)
class RiserRoom:
    """A room's box.  devices: how many of each kind, in words."""

    tag: str
    name: str
    devices: tuple[str, ...]
    cables: tuple[RiserCables, ...]


@dataclass(frozen=True, slots=True)
class RiserEquipmentRoom:
    """An equipment room's box.

    racks: tag of each rack with how many of each kind stand in it, in words.
    links: the cables from its racks to other equipment rooms.
    """

    tag: str
    name: str
    racks: tuple[tuple[str, tuple[str, ...]], ...]
    links: tuple[RiserCables, ...] = ()


@dataclass(frozen=True, slots=True)
class RiserOpening:
    """A pathway through the floor of a storey.

    tag, what: of the pathway, with its size and its cables.
    opening, closed: tag of the opening, and how and by whom it is closed against fire.
    sleeves: to set there, each with what passes in it.
    """

    tag: str
    what: str
    opening: str
    closed: str
    sleeves: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class RiserStorey:
    """A band.

    height: of its floor, in words.
    openings: what passes through its floor, to the storey below.
    """

    tag: str
    name: str
    height: str
    rooms: tuple[RiserRoom, ...]
    equipment_rooms: tuple[RiserEquipmentRoom, ...]
    openings: tuple[RiserOpening, ...] = ()


@dataclass(frozen=True, slots=True)
class RiserSpec:
    """An overall riser.  storeys: highest first.  legend: signals and types of cable."""

    strip: TitleBlock
    storeys: tuple[RiserStorey, ...]
    legend: tuple[LegendEntry, ...]


def spec_of(edition: Edition, sheet: SheetRow) -> RiserSpec:
    """Return what an overall riser shows.

    sheet: of kind `riser overall`.
    """
    document = edition.document
    shown = frozenset(sheet.members)
    rooms = [room for room in document.rooms if not shown or room.tag in shown]
    codes = type_codes(document)
    tags = {room.tag for room in rooms}
    places = {place.tag for place in document.equipment_rooms}
    lines = [line for line in document.riser_lines if line.room in tags | places]
    ends = {line.end for line in lines} | {room.equipment_room for room in rooms}
    storeys = []
    for storey in reversed(document.storeys):
        boxes = [_room(document, room, lines, codes) for room in rooms if room.storey == storey.tag]
        equipment_rooms = tuple(
            RiserEquipmentRoom(
                place.tag,
                place.name,
                _racks(document.devices, place.racks),
                _cables(document, place.tag, lines, codes),
            )
            for place in document.equipment_rooms
            if place.storey == storey.tag and (not shown or place.tag in ends)
        )
        if shown and not boxes and not equipment_rooms:
            continue
        height = formatting.length(storey.height_m, document.cover.units, document.cover.locale)
        storeys.append(
            RiserStorey(
                storey.tag,
                storey.name,
                _band(document, storey.tag, f"floor at {height}"),
                tuple(boxes),
                equipment_rooms,
                _openings(document, storey.tag),
            )
        )
    used = {(line.signal, line.description) for line in lines}
    legend = tuple(
        graph.line_entry(
            signal, f"{codes.get(description, description)}: {description}, {signal}".lstrip(": ")
        )
        for signal, description in sorted(used)
    )
    return RiserSpec(strip_of(edition, sheet), tuple(storeys), legend)


def _band(document: Document, storey: str, floor: str) -> str:
    """Return what is said of a storey: where its floor is, and the openings to close there."""
    openings = sum(one.storey == storey for one in document.penetrations)
    return f"{floor}, {formatting.count_of(openings, 'opening')} to close" if openings else floor


def _openings(document: Document, storey: str) -> tuple[RiserOpening, ...]:
    """Return what passes through the floor of a storey."""
    return tuple(
        RiserOpening(
            row.pathway,
            ", ".join(
                part
                for part in (row.kind, _size(document, row), formatting.count_of(row.cables, "cable"))
                if part
            ),
            row.tag,
            f"floor {row.fire_rating or 'fire-rated'}, closed {row.closed}"
            + (f" by {row.closed_by}" if row.closed_by else ""),
            sleeve_words(row),
        )
        for row in document.penetrations
        if row.storey == storey and row.crosses == "floor"
    )


def _size(document: Document, row: PenetrationRow) -> str:
    """Return the size of a pathway in words: of a tray its width and depth, else its trade size."""
    if row.width_m is None or row.depth_m is None:
        return f"trade size {row.size}" if row.size else ""
    cover = document.cover
    sizes = (row.width_m, row.depth_m)
    return " × ".join(
        formatting.short_quantity(size, "short_length", cover.units, cover.locale) for size in sizes
    )


def type_codes(document: Document) -> Mapping[str, str]:
    """Return the model code of each description of a cable that has only one."""
    codes: dict[str, list[str]] = {}
    for total in document.cable_totals:
        codes.setdefault(total.description, []).append(total.type)
    return {description: types[0] for description, types in codes.items() if len(types) == 1}


def kinds_in_words(devices: Iterable[DeviceRow]) -> list[str]:
    """Return how many devices of each kind there are, in the order sound takes through them."""
    counts: dict[str, int] = {}
    for device in devices:
        counts[device.kind] = counts.get(device.kind, 0) + 1
    order = {kind: place for place, kind in enumerate(_ORDER)}
    return [
        formatting.count_of(counts[kind], kind, _plural(kind))
        for kind in sorted(counts, key=lambda kind: (order.get(kind, len(order)), kind))
    ]


def _plural(kind: str) -> str:
    if kind.endswith(("ch", "sh", "x", "s")):
        return kind + "es"
    return kind[:-1] + "ies" if kind.endswith("y") else kind + "s"


def _room(
    document: Document, room: RoomRow, lines: Sequence[RiserLine], codes: Mapping[str, str]
) -> RiserRoom:
    racks = {rack for place in document.equipment_rooms for rack in place.racks}
    # What serves the room from a rack is counted there.
    devices = [
        device
        for device in document.devices
        if device.room == room.tag and "microphone" not in device.kind and device.location not in racks
    ]
    words = [formatting.count_of(room.microphones, "microphone")] if room.microphones else []
    words += kinds_in_words(devices)
    words += [kept_apart(sheet) for sheet in document.room_sheets if sheet.key == room.sheet and sheet.apart]
    return RiserRoom(room.tag, room.name, tuple(words), _cables(document, room.tag, lines, codes))


def kept_apart(sheet: RoomSheet) -> str:
    """Return how the network of a kind of room is kept from the building's, in words for a box."""
    if sheet.isolating_port:
        return f"{sheet.isolating_port.rpartition('-')[2]} keeps off the building's network"
    return "joined to no other network"


def _cables(
    document: Document, tag: str, lines: Sequence[RiserLine], codes: Mapping[str, str]
) -> tuple[RiserCables, ...]:
    """Return the cables from a room or equipment room, those that leave it first."""
    cover = document.cover
    places = {place.tag for place in document.equipment_rooms}
    return tuple(
        RiserCables(
            f"{line.count} × {codes.get(line.description, line.description)}",
            formatting.length_range(line.shortest_m, line.longest_m, cover.units, cover.locale),
            line.signal,
            line.end if line.end in places and line.end != tag else "",
        )
        for line in sorted(lines, key=lambda line: line.end not in places)
        if line.room == tag
    )


def _racks(devices: Iterable[DeviceRow], racks: Iterable[str]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    standing: dict[str, list[DeviceRow]] = {rack: [] for rack in racks}
    for device in devices:
        if device.location in standing:
            standing[device.location].append(device)
    return tuple((rack, tuple(kinds_in_words(inside))) for rack, inside in standing.items())


def alternative(spec: RiserSpec) -> str:
    """Return what an overall riser shows, in sentences."""
    sentences = [f"Riser diagram of {spec.strip.project}, storeys from the highest to the lowest."]
    for storey in spec.storeys:
        sentences.append(f"{storey.tag} {storey.name}, {storey.height}.")
        for place in storey.equipment_rooms:
            racks = "; ".join(
                f"{rack}: {formatting.listed(inside) or 'no equipment'}" for rack, inside in place.racks
            )
            sentences.append(f"Equipment room {place.tag} {place.name} with {racks or 'no racks'}.")
            sentences += [
                f"From {place.tag} to {link.end}: {link.what}, {link.span}, {link.signal}."
                if link.end
                else f"Inside racks of {place.tag}: {link.what}, {link.span}, {link.signal}."
                for link in place.links
            ]
        sentences += [
            f"Through the floor of {storey.tag}: {one.tag}, {one.what}; opening {one.opening}, "
            f"{formatting.listed((one.closed, *one.sleeves))}."
            for one in storey.openings
        ]
        for room in storey.rooms:
            runs = "; ".join(
                f"{line.what}, {line.span}, {line.signal}, "
                + (f"to {line.end}" if line.end else "in the room")
                for line in room.cables
            )
            sentences.append(
                f"{room.tag} {room.name}: {formatting.listed(room.devices)}. Cables: {runs or 'none'}."
            )
    return " ".join(sentences)
