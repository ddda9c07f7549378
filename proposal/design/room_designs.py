"""One room as designed: who serves it, its devices and its cables, the owner's among them."""

from collections.abc import Mapping, Sequence
from dataclasses import field, replace
from typing import Literal

from proposal.design.connections.amplifier_channels import AmplifierChannel, amplifier_channels
from proposal.design.connections.amplifier_feeds import amplifier_feeds
from proposal.design.connections.cable import Cable
from proposal.design.connections.data_cables import UNCABLED, data_cables
from proposal.design.connections.leads_to_others import leads_to_others
from proposal.design.connections.line_cables import loudspeaker_lines
from proposal.design.connections.line_conductors import with_conductors
from proposal.design.connections.patching import on_own_switch, with_host_ports
from proposal.design.connections.portable_leads import leads_of_the_cart
from proposal.design.connections.room_lines import room_lines
from proposal.design.equipment.placed_devices import Placed, in_building
from proposal.design.equipment.room_network import APART, isolates, network_of
from proposal.design.network.injectors import Injector
from proposal.design.network.port_demand import SwitchPorts
from proposal.design.numbers.numbering import natural
from proposal.design.owner.owner_devices import OwnerDevice, entries_of
from proposal.design.owner.owner_joins import (
    OwnerJoin,
    owner_audio_cables,
    owner_joins,
    owner_network_cables,
)
from proposal.design.pathways.routing import Router
from proposal.design.radio.room_placement import MountedAccessPoint
from proposal.design.rooms.device_positions import charging_point, first_rack, place_room
from proposal.design.rooms.portable_devices import on_the_cart
from proposal.design.rooms.room_kinds import RoomKind
from proposal.design.sound.audio_ends import AudioEnd
from proposal.field_classes import dataclass
from proposal.model.equipment.entry import Device
from proposal.model.project import Project
from proposal.model.steps import Doing, plainly


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomDesign:
    """One room as designed.

    tag, kind, equipment_room: its tag, the key of its kind, the equipment room that serves it.
    devices, cables: in order of tags and identities.
    host: tag of the breakout whose own switch serves it, empty where there is none.
    own_switch: the ports of that switch.
    injectors: PoE sources beside that switch, which are among the devices.
    amplifier_channels: of its amplifiers, by the line of loudspeakers that they play.
    isolating_port: port of its host that joins it to the building and keeps the building's network off; empty
        where none does.
    """

    tag: str
    kind: str
    equipment_room: str
    devices: tuple[Placed, ...]
    cables: tuple[Cable, ...]
    host: str
    own_switch: SwitchPorts | None
    injectors: tuple[Injector, ...] = ()
    isolating_port: str = ""
    amplifier_channels: Mapping[str, AmplifierChannel] = field(default_factory=dict)

    @property
    def apart(self) -> Literal["", "alone", "isolated"]:
        """Return how its network is kept from the building's, empty where it is not."""
        if self.isolating_port:
            return "isolated"
        return "" if self.equipment_room else "alone"


def room_design(
    project: Project,
    router: Router,
    tag: str,
    kind: RoomKind,
    hung: Mapping[str, MountedAccessPoint] | None,
    do: Doing = plainly,
) -> RoomDesign:
    """Return one room: who serves it, its devices and cables.

    tag, kind: of the room.
    hung: where placement hangs its access points, None where it was not asked or has no answer.
    do: does each step, or knows its result from a project that differs little.
    """
    own = kind.sizing.own_switch
    network = network_of(project, project.rooms[tag].layout)
    kept_off = bool(own) and isolates(project.library.entry(own))
    joined = kept_off if network == "isolated" else network != "alone"
    serving = do(_serving, project, router, tag) if joined else ""
    rack = first_rack(project, serving) if serving else ""
    devices = do(place_room, project, tag, ".".join(kind.path), kind.sizing, serving, hung)
    portable = tag in project.building.portable_sets
    if portable:
        devices = on_the_cart(project, tag, devices)
    host = next((device for device in devices if own and device.model == own), None)
    # Each step is given the devices that it asks about, so that others may change without it.
    on_lines = _of_kinds(devices, "loudspeaker", "amplifier")
    feeding = _of_kinds(devices, "mixer", "breakout", "access_point", "amplifier")
    channels = do(amplifier_channels, project, on_lines)
    cables: tuple[Cable, ...]
    if portable:
        cables = tuple(leads_of_the_cart(project, devices, host))
    else:
        networked = tuple(device for device in devices if device.kind not in UNCABLED)
        lines = do(loudspeaker_lines, project, router, on_lines, channels, serving, rack)
        cables = (
            *do(data_cables, project, router, networked, host, serving, rack),
            *do(with_conductors, project, lines, on_lines, {tag: channels}),
            *do(amplifier_feeds, project, router, feeding, channels, serving, rack),
        )
    made = RoomDesign(
        tag=tag,
        kind=kind.key,
        # A cart is joined to nothing of the building.
        equipment_room="" if portable else serving,
        devices=devices,
        cables=tuple(sorted(cables, key=lambda cable: natural(cable.identity))),
        host=host.tag if host else "",
        own_switch=None,
        amplifier_channels=channels,
        isolating_port=_first_port(project, host) if host and network == "isolated" and joined else "",
    )
    return do(_with_own_switch, project, made, {})


def _serving(project: Project, router: Router, tag: str) -> str:
    """Return the equipment room that serves a room: the one that is written, else the nearest by route."""
    room = project.rooms[tag]
    return room.equipment_room or router.serving(
        in_building(room, charging_point(project, room.layout)), room.layout.charging_height, room.storey
    )


def _of_kinds(devices: Sequence[Placed], *kinds: str) -> tuple[Placed, ...]:
    return tuple(device for device in devices if device.kind in kinds)


def _first_port(project: Project, host: Placed) -> str:
    """Return the port by which what holds a room's switch is joined to the building."""
    entry = project.library.entry(host.model)
    ports = entry.ports_carrying("network") if isinstance(entry, Device) else ()
    return ports[0] if ports else ""


def _with_own_switch(project: Project, room: RoomDesign, owned: Mapping[str, Device]) -> RoomDesign:
    """Return a room with the ports of its own switch, if it has one, and the cables that end in them.

    owned: ports and power of the owner's equipment in it, by tag.
    """
    host = next((device for device in room.devices if device.tag == room.host), None)
    if host is None:
        return room
    entries = {**library_entries(project, room.devices), **owned}
    by_tag = {device.tag: device for device in room.devices}
    found = on_own_switch(project, host, room.cables, by_tag, entries)
    if found is None:
        return room
    own_switch, injectors = found
    cables = with_host_ports(room.cables, own_switch)
    before = {one.device.tag for one in room.injectors}
    devices = [device for device in room.devices if device.tag not in before]
    devices += [one.device for one in injectors]
    return replace(
        room, devices=tuple(devices), cables=tuple(cables), own_switch=own_switch, injectors=injectors
    )


def with_owners(
    project: Project,
    router: Router,
    rooms: tuple[RoomDesign, ...],
    owners: Sequence[OwnerDevice],
    ends: Mapping[str, Sequence[AudioEnd]],
) -> tuple[tuple[RoomDesign, ...], tuple[OwnerJoin, ...]]:
    """Return the rooms with the owner's equipment and its cables, and how it is joined.

    ends: inputs and outputs of mixers and breakouts by room.
    """
    if not owners:
        return rooms, ()
    by_tag = {device.tag: device for room in rooms for device in room.devices}
    joins, audio = owner_audio_cables(
        project, router, owners, owner_joins(project, owners, ends), by_tag,
        library_entries(project, list(by_tag.values())),
    )  # fmt: skip
    serving = {room.tag: room.equipment_room for room in rooms}
    hosts = {
        room.tag: by_tag[room.host]
        for room in rooms
        if room.host and network_of(project, project.rooms[room.tag].layout) in APART
    }
    network = owner_network_cables(project, router, owners, serving, hosts)
    made = []
    for room in rooms:
        more = [*audio.get(room.tag, ()), *(cable for cable in network if cable.room == room.tag)]
        placed = tuple(one.device for one in owners if one.device.room == room.tag)
        cables = sorted((*room.cables, *more), key=lambda cable: natural(cable.identity))
        whole = replace(room, devices=(*room.devices, *placed), cables=tuple(cables))
        made.append(_with_own_switch(project, whole, entries_of(owners)) if room.tag in hosts else whole)
    return tuple(made), joins


def with_lines(
    project: Project,
    router: Router,
    rooms: Sequence[RoomDesign],
    ends: Mapping[str, Sequence[AudioEnd]],
    owners: Sequence[OwnerDevice],
) -> tuple[RoomDesign, ...]:
    """Return the rooms with the analogue cables to microphones, transmitters and what others furnish.

    ends: inputs and outputs of mixers and breakouts by room.
    owners: the owner's equipment that is placed, which has cables of its own.
    """
    placed: dict[str, set[str]] = {}
    for one in owners:
        for tag in one.rooms:
            placed.setdefault(tag, set()).update(one.written.serves)
    made = []
    for room in rooms:
        lines = [
            (end.device, end.direction, end.port, end.joined)
            for end in ends.get(room.tag, ())
            if end.signal == "analogue"
        ]
        entries = library_entries(project, room.devices)
        more = room_lines(project, router, room.devices, entries, lines)
        more += leads_to_others(project, room.devices, entries, lines, placed.get(room.tag, ()))
        cables = sorted((*room.cables, *more), key=lambda cable: natural(cable.identity))
        made.append(replace(room, cables=tuple(cables)) if more else room)
    return tuple(made)


def library_entries(project: Project, devices: Sequence[Placed]) -> dict[str, Device]:
    """Return the library entry by tag of every device that has a model."""
    found: dict[str, Device] = {}
    for device in devices:
        entry = project.library.entry(device.model) if device.model else None
        if isinstance(entry, Device):
            found[device.tag] = entry
    return found
