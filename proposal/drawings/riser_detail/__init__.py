"""The riser in detail: every device of a storey, and every cable with identity, type and length."""

from collections.abc import Iterable, Sequence

from proposal.document.document import Document
from proposal.document.rows.cabling import CableRow
from proposal.document.rows.equipment import DeviceRow
from proposal.document.rows.rooms import EquipmentRoomRow, RoomRow
from proposal.document.rows.sheets import SheetRow
from proposal.drawings import graph
from proposal.drawings.legend import LegendEntry
from proposal.drawings.sheet import TitleBlock, strip_of
from proposal.editions import Edition
from proposal.field_classes import dataclass
from proposal.quantities import formatting

DEVICES_A_ROW = 5


@dataclass(frozen=True, slots=True)
class DetailCable:
    """One cable.  model: of the device it starts from.  length: in words.  end: tag of what it ends in."""

    identity: str
    device: str
    model: str
    type: str
    length: str
    signal: str
    end: str


@dataclass(frozen=True, slots=True)
class DetailDevices:
    """Devices of one model from which no cable starts.  place: rack they stand in, empty elsewhere."""

    tags: tuple[str, ...]
    kind: str
    model: str
    place: str


@dataclass(frozen=True, slots=True)
class DetailRoom:
    """A room, or the part of it that a sheet shows.

    note: says where the sheet does not show the whole room.
    """

    tag: str
    name: str
    note: str
    devices: tuple[DetailDevices, ...]
    cables: tuple[DetailCable, ...]


@dataclass(frozen=True, slots=True)
class DetailRack:
    """A rack that cables end in.  about: model and place, in words."""

    tag: str
    about: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class DetailSpec:
    """A sheet of the riser in detail.

    where: the storey or equipment room, in words.  racks: in which cables of the sheet end; what a cable
    that ends elsewhere ends in is a device in the same room.
    """

    strip: TitleBlock
    where: str
    rooms: tuple[DetailRoom, ...]
    racks: tuple[DetailRack, ...]
    legend: tuple[LegendEntry, ...]


def spec_of(edition: Edition, sheet: SheetRow) -> DetailSpec:
    """Return what a sheet of the riser in detail shows.

    sheet: of kind `riser detail`; its subject is the tag of a storey or of an equipment room.
    """
    document = edition.document
    names = {room.tag: room.name for room in _places(document, sheet.subject)}
    tags = [tag for tag in sheet.members or tuple(names) if tag in names]
    rooms = []
    for place, tag in enumerate(tags):
        first = sheet.first if place == 0 else 1
        last = sheet.last if place == len(tags) - 1 else 0
        rooms.append(_room(document, tag, names[tag], first, last))
    shown = tuple(room for room in rooms if room.cables or room.devices)
    cables = [cable for room in shown for cable in room.cables]
    described = {cable.type: cable.description for cable in document.cables}
    legend = tuple(
        graph.line_entry(signal, f"{kind or 'No type'}: {described[kind] or 'none suits'}, {signal}")
        for signal, kind in sorted({(cable.signal, cable.type) for cable in cables})
    )
    racks = _racks(document, {cable.end for cable in cables})
    return DetailSpec(strip_of(edition, sheet), _where(document, sheet.subject), shown, racks, legend)


@dataclass(frozen=True, slots=True)
class _Place:
    tag: str
    name: str


def _places(document: Document, subject: str) -> list[_Place]:
    """Return the rooms and then the equipment rooms of a storey, or the one equipment room."""
    places: list[RoomRow | EquipmentRoomRow] = [*document.rooms, *document.equipment_rooms]
    return [_Place(place.tag, place.name) for place in places if subject in (place.storey, place.tag)]


def _where(document: Document, subject: str) -> str:
    named = {storey.tag: storey.name for storey in document.storeys}
    named |= {place.tag: place.name for place in document.equipment_rooms}
    return f"{subject} {named.get(subject, '')}".strip()


def _room(document: Document, tag: str, name: str, first: int, last: int) -> DetailRoom:
    """Return a room with its cables from the first to the last shown, counted from 1; 0 for all."""
    cables = [cable for cable in document.cables if cable.room == tag]
    models = {device.tag: device.model for device in document.devices}
    shown = [_cable(document, cable, models) for cable in cables[first - 1 : last or None]]
    started = {cable.from_tag for cable in cables}
    idle = [device for device in document.devices if device.room == tag and device.tag not in started]
    racks = {rack for place in document.equipment_rooms for rack in place.racks}
    whole = len(shown) == len(cables)
    return DetailRoom(
        tag,
        name,
        "" if whole else f"cables {first} to {first + len(shown) - 1} of {len(cables)}",
        tuple(_grouped(idle, racks)) if first == 1 else (),
        tuple(shown),
    )


def _cable(document: Document, cable: CableRow, models: dict[str, str]) -> DetailCable:
    cover = document.cover
    return DetailCable(
        identity=cable.identity,
        device=cable.from_tag,
        model=models.get(cable.from_tag, ""),
        type=cable.type,
        length=formatting.length(cable.length_m, cover.units, cover.locale),
        signal=cable.signal,
        end=cable.to_tag,
    )


def _grouped(devices: Iterable[DeviceRow], racks: set[str]) -> list[DetailDevices]:
    """Return devices by model and rack, as many together as have room beside each other."""
    groups: dict[tuple[str, str, str], list[str]] = {}
    for device in devices:
        place = device.location if device.location in racks else ""
        groups.setdefault((device.kind, device.model, place), []).append(device.tag)
    return [
        DetailDevices(tuple(tags[start : start + DEVICES_A_ROW]), kind, model, place)
        for (kind, model, place), tags in groups.items()
        for start in range(0, len(tags), DEVICES_A_ROW)
    ]


def _racks(document: Document, ends: set[str]) -> tuple[DetailRack, ...]:
    """Return those racks in which cables end."""
    models = {device.tag: device.model for device in document.devices}
    return tuple(
        DetailRack(rack, (models.get(rack, ""), f"{place.tag} {place.name}", f"storey {place.storey}"))
        for place in document.equipment_rooms
        for rack in place.racks
        if rack in ends
    )


def alternative(spec: DetailSpec) -> str:
    """Return what a sheet of the riser in detail shows, in sentences."""
    count = sum(len(room.cables) for room in spec.rooms)
    sentences = [
        f"{'Riser' if spec.racks else 'Cables'} of {spec.where} in detail: "
        f"{formatting.count_of(count, 'cable')} from "
        f"{formatting.count_of(len(spec.rooms), 'room')}."
    ]
    for room in spec.rooms:
        heading = f"{room.tag} {room.name}" + (f", {room.note}" if room.note else "")
        runs = "; ".join(
            f"{cable.identity} ({cable.model or cable.device}), {cable.type}, {cable.length}"
            for cable in room.cables
        )
        others = "; ".join(_in_words(devices) for devices in room.devices)
        sentences.append(
            f"{heading}. Cables: {runs or 'none'}."
            + (f" Devices without a cable of their own: {others}." if others else "")
        )
    return " ".join(sentences)


def _in_words(devices: DetailDevices) -> str:
    place = f", in {devices.place}" if devices.place else ""
    return f"{formatting.listed(devices.tags)}, {devices.kind} {devices.model}{place}"


def identities(specs: Sequence[DetailSpec]) -> list[str]:
    """Return the identity of every cable on some sheets, sheet by sheet."""
    return [cable.identity for spec in specs for room in spec.rooms for cable in room.cables]
