"""Documents of buildings of any size, for the tests of drawings; every name as long as people make them."""

from collections.abc import Sequence

from proposal.design.sheets import splitting as sheets
from proposal.document.document import Document
from proposal.document.rows.cabling import CableRow, CableTotal, RiserLine
from proposal.document.rows.equipment import DeviceRow
from proposal.document.rows.room_contents import FlowEdge, FlowNode
from proposal.document.rows.rooms import EquipmentRoomRow, RoomRow, RoomSheet, StoreyRow
from proposal.document.rows.sheets import SheetRow
from tests.sample_document import sample_document

LONG = "Meeting room of the members of the planning and transport committee, north wing"
TYPES = {
    "CC-6A-FU-P": ("network", "Category 6A cable, foil screened, 23 AWG solid, plenum rated"),
    "CC-5E-UU-R": ("network", "Category 5e cable, unscreened, 24 AWG solid, riser rated"),
    "CC-L16-R": ("loudspeaker line", "Loudspeaker cable, two conductors of 16 AWG, riser rated"),
    "CC-A2-R": ("analogue", "Analogue audio cable, one screened pair, riser rated"),
}


def building(rooms: int, cables: Sequence[int], storeys: int = 3, units: str = "us_customary") -> Document:
    """Return a document of a building.

    rooms: number of rooms, spread over the storeys.  cables: of the rooms in turn.
    """
    sample = sample_document()
    rows = [_room(number, storeys) for number in range(rooms)]
    counts = {row.tag: cables[number % len(cables)] for number, row in enumerate(rows)}
    laid = [cable for row in rows for cable in _cables(row, counts[row.tag])]
    devices = [device for row in rows for device in _devices(row, counts[row.tag])]
    places = [
        EquipmentRoomRow(
            tag=f"ER{storey + 1}",
            name=f"Equipment room of storey {storey}, behind the lifts",
            storey=f"L{storey}",
            at=(0.0, 0.0),
            racks=(f"ER{storey + 1}-RK1", f"ER{storey + 1}-RK2"),
        )
        for storey in range(storeys)
    ]
    devices += [device for place in places for device in _rack_devices(place)]
    document = sample.model_copy(
        update={
            "cover": sample.cover.model_copy(update={"units": units, "locale": "en_US", "name": LONG}),
            "storeys": tuple(
                StoreyRow(
                    tag=f"L{storey}", name=f"Storey {storey}", height_m=4.2 * storey, slab_to_slab_m=4.2
                )
                for storey in range(storeys)
            ),
            "equipment_rooms": tuple(places),
            "rooms": tuple(rows),
            "devices": tuple(devices),
            "cables": tuple(sorted(laid, key=lambda cable: cable.identity)),
            "riser_lines": _riser_lines(laid, places),
            "cable_totals": tuple(
                CableTotal(type=kind, description=description, count=1, length_m=1.0)
                for kind, (_, description) in TYPES.items()
            ),
        }
    )
    return document.model_copy(
        update={"sheets": overall_sheets(document), "detail_sheets": detail_sheets(document)}
    )


def _room(number: int, storeys: int) -> RoomRow:
    storey = number % storeys
    return RoomRow(
        tag=f"B{storey}{number:03d}",
        name=f"{LONG} {number}",
        sheet="meeting",
        type="Meeting room",
        storey=f"L{storey}",
        equipment_room=f"ER{storey + 1}",
        origin=(0.0, 0.0),
        outline=((0.0, 0.0), (6.0, 0.0), (6.0, 4.0)),
        seats=12,
        microphones=12,
    )


def _cables(room: RoomRow, count: int) -> list[CableRow]:
    """Return the cables of a room: three in four to a rack, the others to a device in the room."""
    kinds = list(TYPES)
    rows = []
    for number in range(1, count + 1):
        kind = kinds[number % len(kinds)]
        start = f"{room.tag}-LS{number}"
        end = f"{room.equipment_room}-RK{1 + number % 2}" if number % 4 else f"{room.tag}-LS{number - 1}"
        rows.append(
            CableRow(
                identity=f"{start}/L1/{end}",
                room=room.tag,
                signal=TYPES[kind][0],
                from_tag=start,
                from_port="L1",
                to_tag=end,
                type=kind,
                description=TYPES[kind][1],
                length_m=20.0 + number * 1.5,
            )
        )
    return rows


def _device(tag: str, kind: str, room: str, storey: str, location: str, model: str) -> DeviceRow:
    return DeviceRow(
        tag=tag,
        kind=kind,
        room=room,
        location=location,
        storey=storey,
        model=model,
        maker="Orrel",
        description=kind,
        rack_units=0,
        furnished_by="contractor",
    )


def _devices(room: RoomRow, cables: int) -> list[DeviceRow]:
    rack = f"{room.equipment_room}-RK1"
    named = [(f"LS{number}", "loudspeaker", "ceiling", "OL-CEILING-6") for number in range(1, cables + 1)]
    named += [(f"M{number}", "gooseneck microphone", "table", "QG-LONG-1") for number in range(1, 13)]
    named += [("MX1", "mixer", rack, "TM-AUTOMIX-16"), ("AM1", "amplifier", rack, "TA-POWER-2")]
    return [
        _device(f"{room.tag}-{code}", kind, room.tag, room.storey, location, model)
        for code, kind, location, model in named
    ]


def _rack_devices(place: EquipmentRoomRow) -> list[DeviceRow]:
    return [
        _device(tag, kind, place.tag, place.storey, location, model)
        for rack in place.racks
        for tag, kind, location, model in (
            (rack, "rack", "floor", "HR-24-DEEP"),
            (rack.replace("RK", "SW"), "switch", rack, "HS-24P-370"),
            (rack.replace("RK", "PP"), "patch panel", rack, "HP-24"),
            (rack.replace("RK", "UP"), "standby supply", rack, "HU-1500"),
        )
    ]


def _riser_lines(cables: Sequence[CableRow], places: Sequence[EquipmentRoomRow]) -> tuple[RiserLine, ...]:
    ends = {rack: place.tag for place in places for rack in place.racks}
    grouped: dict[tuple[str, str, str, str], list[float]] = {}
    for cable in cables:
        key = (cable.room, ends.get(cable.to_tag, cable.room), cable.signal, cable.description)
        grouped.setdefault(key, []).append(cable.length_m)
    return tuple(
        RiserLine(
            room=room,
            end=end,
            signal=signal,
            description=description,
            count=len(lengths),
            shortest_m=min(lengths),
            longest_m=max(lengths),
        )
        for (room, end, signal, description), lengths in sorted(grouped.items())
    )


def _sheets(kind: str, subject: str, series: str, parts: Sequence[sheets.Part]) -> list[SheetRow]:
    return [
        SheetRow(
            number=f"{series}-{number:02d}",
            title=f"{kind.capitalize()} {subject}".strip(),
            kind=kind,
            subject=subject,
            part=number,
            parts=len(parts),
            members=part.members,
            first=part.first,
            last=part.last,
        )
        for number, part in enumerate(parts, start=1)
    ]


def overall_sheets(document: Document) -> tuple[SheetRow, ...]:
    """Return the sheets of the overall riser."""
    lines: dict[str, int] = {}
    for line in document.riser_lines:
        lines[line.room] = lines.get(line.room, 0) + 1
    storeys = [
        (
            storey.tag,
            [(room.tag, lines.get(room.tag, 0)) for room in document.rooms if room.storey == storey.tag],
        )
        for storey in reversed(document.storeys)
    ]
    return tuple(_sheets("riser overall", "", "R", sheets.overall_parts(storeys)))


def detail_sheets(document: Document) -> tuple[SheetRow, ...]:
    """Return the sheets of the riser in detail."""
    started = {cable.from_tag for cable in document.cables}
    rows: list[SheetRow] = []
    for storey in document.storeys:
        tags = [room.tag for room in document.rooms if room.storey == storey.tag]
        tags += [place.tag for place in document.equipment_rooms if place.storey == storey.tag]
        places = [
            (
                tag,
                sum(cable.room == tag for cable in document.cables),
                sheets.device_rows(
                    (device.kind, device.model, device.location)
                    for device in document.devices
                    if device.room == tag and device.tag not in started
                ),
            )
            for tag in tags
        ]
        rows += _sheets("riser detail", storey.tag, f"D{storey.tag}", sheets.detail_parts(places))
    return tuple(rows)


def large_room(access_points: int, forms: int, chargers: int, mixers: int = 2) -> Document:
    """Return a document with one kind of room whose signal flow is large.

    forms: boxes of microphones at each access point.
    """
    sample = sample_document()
    nodes: list[FlowNode] = []
    edges: list[FlowEdge] = []

    def node(code: str, kind: str, *lines: str, title: str = "") -> None:
        nodes.append(FlowNode(code=code, kind=kind, title=title or code, lines=lines))

    def edge(start: str, end: str, signal: str, label: str, cable: str = "", *, back: bool = False) -> None:
        edges.append(FlowEdge(start=start, end=end, signal=signal, label=label, returning=back, cable=cable))

    for number in range(1, access_points + 1):
        for form in range(forms):
            name = f"AP{number}-{form}"
            node(name, "microphones", f"M{number * 9}–M{number * 9 + 8}", title=f"{form + 1} × gooseneck")
            edge(name, f"AP{number}", "radio", "9 links")
            edge(f"AP{number}", name, "radio", "return audio", back=True)
        node(f"AP{number}", "access point", "POINT-LONG", "9 of 9 channels")
        edge(f"AP{number}", "NET", "networked audio", "9 channels", f"AP{number}/N1")
        edge("NET", f"AP{number}", "networked audio", "return audio", back=True)
    for number in range(1, chargers + 1):
        node(f"CH{number}", "charger", "CHARGER-LONG", "9 slots")
        edge(f"CH{number}", "NET", "networked audio", "pairing and charge state", f"CH{number}/N1")
    node("NET", "network", "managed switch in the equipment room", title="Network")
    for number in range(1, mixers + 1):
        node(f"MX{number}", "mixer", "MIXING-LONG", "33 of 33 inputs")
        edge("NET", f"MX{number}", "networked audio", "33 channels")
        if number > 1:
            edge(f"MX{number}", "MX1", "networked audio", "sub-mix by the network")
    node("AM1", "amplifier", "AMPLIFIER-LONG")
    edge("MX1", "AM1", "analogue", "3 zones")
    for zone in ("members", "gallery", "presiding"):
        node(f"LS-{zone}", "loudspeakers", "LS1–LS12", title=f"Loudspeakers, zone {zone}")
        edge("AM1", f"LS-{zone}", "loudspeaker line", f"zone {zone}", "LS1/L1")
    for number in range(1, 5):
        node(f"D{number}", "destination", "2 channels", title=f"Recorder of the proceedings {number}")
        edge("MX1", f"D{number}", "USB", "2 channels")
    node("R1", "return", "1 channel", title="Conferencing computer")
    edge("R1", "MX1", "USB", "1 channel", back=True)
    edge("MX1", "NET", "networked audio", "return audio", back=True)
    room = sample.room_sheets[0].model_copy(
        update={
            "flow_nodes": tuple(nodes),
            "flow_edges": tuple(edges),
            "rooms": tuple(f"B{number:03d}" for number in range(1, 25)),
        }
    )
    parts = sheets.flow_parts(
        [f"AP{number}" for number in range(1, access_points + 1)],
        [[f"CH{number}" for number in range(1, chargers + 1)]],
        {f"AP{number}": forms for number in range(1, access_points + 1)},
    )
    return sample.model_copy(
        update={"room_sheets": (room,), "sheets": tuple(_sheets("signal flow", room.key, "S", parts))}
    )


def flow_sheet(document: Document) -> RoomSheet:
    """Return the one kind of room of `large_room`."""
    return document.room_sheets[0]
