"""The design: everything that follows from a project, joined."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from proposal.design.cabling import Cable, room_cables
from proposal.design.drawing_list import Sheet, drawing_sheets
from proposal.design.flow import Flow, signal_flow
from proposal.design.network import Addresses, Attached, Closet, addresses, attached, closet
from proposal.design.numbering import (
    assign,
    device_code,
    device_tag,
    natural,
)
from proposal.design.placing import Placed, charging_point, in_building, place_room
from proposal.design.power import PoweredPort, SwitchPower, powered_port, switch_power
from proposal.design.prices import unit_cost
from proposal.design.routes import serving_equipment_room
from proposal.design.sizing import Sizing, size_room
from proposal.design.sizing_workings import sizing_workings
from proposal.model.entry import Device
from proposal.model.project import FixedRoom, Project
from proposal.model.rooms import RoomType
from proposal.standards.working import Working


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomKind:
    """A kind of room as designed, and the rooms built so.

    key: the room type's name, or the room's tag where its own file or fixed sizes change its type.
    type: name of the room type.
    path: where its layout stands in the project.
    rooms: tags of the rooms built so, in order.
    """

    key: str
    type: str
    path: tuple[str, ...]
    rooms: tuple[str, ...]
    layout: RoomType
    sizing: Sizing
    flow: Flow


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomDesign:
    """One room as designed.

    tag, kind, equipment_room: its tag, the key of its kind, the equipment room that serves it.
    devices, cables: in order of tags and identities.
    host: tag of the breakout whose own switch serves it, empty where there is none.
    """

    tag: str
    kind: str
    equipment_room: str
    devices: tuple[Placed, ...]
    cables: tuple[Cable, ...]
    host: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Noted:
    """A working with its chapter and what it is about."""

    chapter: str
    subject: str
    working: Working


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """All that follows from a project.

    devices: every device, in order of tags; entries: the library entry of each.
    cables: every cable, in order of identities, with the panel port it ends in.
    """

    kinds: tuple[RoomKind, ...]
    rooms: tuple[RoomDesign, ...]
    devices: tuple[Placed, ...]
    entries: Mapping[str, Device]
    cables: tuple[Cable, ...]
    closets: tuple[Closet, ...]
    ports: tuple[PoweredPort, ...]
    switches: tuple[SwitchPower, ...]
    addresses: Addresses
    sheets: tuple[Sheet, ...]
    workings: tuple[Noted, ...]
    unknown_by_hand: tuple[tuple[str, str, tuple[str, ...]], ...]


def design(project: Project) -> Design:
    """Return what follows from a project."""
    kinds = _kinds(project)
    by_key = {kind.key: kind for kind in kinds}
    key_of = {tag: kind.key for kind in kinds for tag in kind.rooms}
    rooms = tuple(_room(project, tag, by_key[key_of[tag]]) for tag in sorted(project.rooms, key=natural))
    kinds = tuple(_with_flow(project, kind, rooms) for kind in kinds)
    fixtures = _racks(project)
    devices = [device for room in rooms for device in room.devices] + fixtures
    entries = _entries(project, devices)
    cables = _with_panel_ports(project, [cable for room in rooms for cable in room.cables])
    closets = tuple(
        closet(project, tag, _wanting(project, tag, rooms, entries))
        for tag in sorted(project.building.equipment_rooms, key=natural)
    )
    switches = [switch for one in closets for switch in one.switches]
    devices += [switch.device for switch in switches]
    devices.sort(key=lambda device: natural(device.tag))
    entries = _entries(project, devices)
    by_identity = {cable.identity: cable for cable in cables}
    ports, powers = [], []
    for switch in switches:
        of_switch = {port: powered_port(project, switch, port, by_identity, entries) for port in switch.ports}
        ports += list(of_switch.values())
        powers.append(switch_power(project, switch, of_switch))
    networked = [tag for tag, entry in entries.items() if _networked(entry)]
    return Design(
        kinds=kinds,
        rooms=rooms,
        devices=tuple(devices),
        entries=entries,
        cables=cables,
        closets=closets,
        ports=tuple(ports),
        switches=tuple(powers),
        addresses=addresses(project, networked),
        sheets=drawing_sheets(project, _boxes(kinds), devices, cables),
        workings=_workings(project, kinds, cables, ports),
        unknown_by_hand=_unknown(project, devices, cables),
    )


def _kinds(project: Project) -> tuple[RoomKind, ...]:
    """Return the kinds of room: one for each type, and one for each room that departs from its type."""
    grouped: dict[tuple[str, str], list[str]] = {}
    for tag in sorted(project.rooms, key=natural):
        room = project.rooms[tag]
        departs = room.changed or tag in project.fixed.rooms
        grouped.setdefault((room.type, tag if departs else ""), []).append(tag)
    kinds = []
    for (type_name, own), tags in sorted(grouped.items()):
        layout = project.rooms[tags[0]].layout
        changed = bool(own) and project.rooms[own].changed
        kinds.append(
            RoomKind(
                key=own or type_name,
                type=type_name,
                path=("rooms", own, "layout") if changed else ("room_types", type_name),
                rooms=tuple(tags),
                layout=layout,
                sizing=size_room(project, layout, project.fixed.rooms.get(own, FixedRoom())),
                flow=Flow((), (), {}),
            )
        )
    return tuple(kinds)


def _room(project: Project, tag: str, kind: RoomKind) -> RoomDesign:
    """Return one room: who serves it, its devices and cables."""
    room = project.rooms[tag]
    layout = room.layout
    serving = room.equipment_room or serving_equipment_room(
        project, room.storey, in_building(room, charging_point(layout)), layout.charging_height
    )
    devices = place_room(project, tag, room, ".".join(kind.path), kind.sizing, serving)
    own = kind.sizing.own_switch
    host = next((device for device in devices if own and device.model == own), None)
    rack = device_tag(serving, first_rack(project, serving))
    return RoomDesign(
        tag=tag,
        kind=kind.key,
        equipment_room=serving,
        devices=devices,
        cables=room_cables(project, devices, host, serving, rack),
        host=host.tag if host else "",
    )


def _with_flow(project: Project, kind: RoomKind, rooms: Sequence[RoomDesign]) -> RoomKind:
    first = next(room for room in rooms if room.tag == kind.rooms[0])
    return replace(kind, flow=signal_flow(project, kind.layout, kind.sizing, first.devices))


def first_rack(project: Project, equipment_room: str) -> str:
    """Return the code of the rack where an equipment room's cables end: the first in order."""
    return sorted(project.building.equipment_rooms[equipment_room].racks, key=natural)[0]


def _racks(project: Project) -> list[Placed]:
    """Return the racks as devices."""
    least = min(
        ((unit_cost(project, rack), code) for code, rack in project.library.racks.items()), default=(None, "")
    )[1]
    return [
        Placed(
            tag=device_tag(tag, code),
            code=code,
            kind="rack",
            model=rack.model or least,
            room=tag,
            storey=place.storey,
            at=place.at,
            height_m=0.0,
            location=tag,
        )
        for tag, place in sorted(project.building.equipment_rooms.items())
        for code, rack in sorted(place.racks.items())
    ]


def _entries(project: Project, devices: Sequence[Placed]) -> dict[str, Device]:
    """Return the library entry by tag of every device that has a model."""
    found: dict[str, Device] = {}
    for device in devices:
        entry = project.library.entry(device.model) if device.model else None
        if isinstance(entry, Device):
            found[device.tag] = entry
    return found


def _networked(entry: Device) -> bool:
    return entry.network is not None and entry.network.addresses > 0


def _with_panel_ports(project: Project, cables: Sequence[Cable]) -> tuple[Cable, ...]:
    """Return the cables with the patch-panel port each data cable ends in, by rack in order of identities."""
    ordered = sorted(cables, key=lambda cable: natural(cable.identity))
    racks = {
        device_tag(tag, code)
        for tag, place in project.building.equipment_rooms.items()
        for code in place.racks
    }
    panel = min(
        (
            (unit_cost(project, p), p.ports)
            for p in project.library.patch_panels.values()
            if p.medium == "copper"
        ),
        default=(None, 24),
    )[1]
    numbers: dict[str, str] = {}
    for rack in sorted(racks):
        ending = [cable.identity for cable in ordered if cable.end == rack and cable.signal == "network"]
        most = len(ending) + len(project.issued)
        places = (f"{device_code('patch_panel', n // panel + 1)}/{n % panel + 1}" for n in range(most))
        issued = {
            key.removeprefix("panel/"): number
            for key, number in project.issued.items()
            if key.startswith("panel/")
        }
        numbers |= assign(ending, {}, issued, places)
    return tuple(replace(cable, end_port=numbers.get(cable.identity, cable.end_port)) for cable in ordered)


def _wanting(
    project: Project, equipment_room: str, rooms: Sequence[RoomDesign], entries: Mapping[str, Device]
) -> list[Attached]:
    """Return what wants a port on the switches of an equipment room: cabled devices and those in its rack."""
    rack = device_tag(equipment_room, first_rack(project, equipment_room))
    wanting = []
    for room in rooms:
        if room.equipment_room != equipment_room:
            continue
        cable_of = {
            cable.start: cable.identity
            for cable in room.cables
            if cable.end == rack and cable.signal == "network"
        }
        for device in room.devices:
            entry = entries.get(device.tag)
            if entry is None:
                continue
            in_rack = device.location == rack and bool(entry.ports_carrying("network"))
            if device.tag in cable_of or in_rack:
                wanting.append(attached(device, entry, cable_of.get(device.tag, "")))
    return wanting


def _boxes(kinds: Sequence[RoomKind]) -> dict[str, tuple[list[str], list[str], dict[str, int]]]:
    """Return what stands before the network, by key of the kind of room.

    That is: codes of access points, codes of chargers, boxes of microphones at each access point.
    """
    boxes = {}
    for kind in kinds:
        groups: dict[str, int] = {}
        for edge in kind.flow.edges:
            if edge.start in kind.flow.members and not edge.returning:
                groups[edge.end] = groups.get(edge.end, 0) + 1
        boxes[kind.key] = (
            [node.code for node in kind.flow.nodes if node.kind == "access point"],
            [node.code for node in kind.flow.nodes if node.kind == "charger"],
            groups,
        )
    return boxes


def _workings(
    project: Project, kinds: Sequence[RoomKind], cables: Sequence[Cable], ports: Sequence[PoweredPort]
) -> tuple[Noted, ...]:
    """Return every working by chapter: sizing, cabling, power."""
    noted = [
        Noted(chapter="Sizing", subject=kind.key, working=one)
        for kind in kinds
        for one in sizing_workings(project, kind.layout, kind.sizing, ".".join(kind.path))
    ]
    noted += [
        Noted(chapter="Cabling", subject=cable.identity, working=one)
        for cable in cables
        for one in cable.checks
    ]
    noted += [
        Noted(chapter="Power", subject=f"{port.switch}/{port.port}", working=one)
        for port in ports
        for one in port.checks
    ]
    return tuple(noted)


def _unknown(
    project: Project, devices: Sequence[Placed], cables: Sequence[Cable]
) -> tuple[tuple[str, str, tuple[str, ...]], ...]:
    """Return what fixed.yaml decides about things that are not there: section, name, names there are."""
    tags = {device.tag for device in devices}
    identities = {cable.identity for cable in cables}
    unknown = [
        ("devices", tag, tuple(sorted(tags))) for tag in sorted(project.fixed.devices) if tag not in tags
    ]
    unknown += [
        ("cables", name, tuple(sorted(identities)))
        for name in sorted(project.fixed.cables)
        if name not in identities
    ]
    return tuple(unknown)
