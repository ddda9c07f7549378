"""The owner's equipment as devices: one each where building.yaml places it, with the ports that it has."""

from collections.abc import Mapping, Sequence
from typing import Any

from proposal.design.equipment.placed_devices import Placed, by_hand, in_building
from proposal.design.equipment.sizing import Sizing
from proposal.design.network.port_assignment import OfferedSwitch
from proposal.design.numbers.numbering import device_tag, natural
from proposal.design.rooms.device_positions import charging_point, first_rack
from proposal.design.rooms.room_kinds import RoomKind
from proposal.design.rooms.side_by_side import places_of
from proposal.field_classes import dataclass
from proposal.model.equipment.entry import Device
from proposal.model.owner_equipment import OwnerEquipment, OwnerSwitch
from proposal.model.project import Project
from proposal.standards.ieee8023 import CLASSES

OWNER_EQUIPMENT = "owner_equipment"
"""Kind of device."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnerDevice:
    """One thing that the owner furnishes, where it stands.

    place: key in building.yaml under which it is written: a room, an equipment room or a room type.
    written: what is written of it.
    device: where it stands.  entry: its ports and power as those of a device.
    rooms: tags of the rooms that it serves.
    """

    place: str
    written: OwnerEquipment
    device: Placed
    entry: Device
    rooms: tuple[str, ...]

    @property
    def on_network(self) -> bool:
        """Return whether it is joined to the network: where a network port of it may be used.

        A switch is the network itself: it takes no port of it, and no address of ours.
        """
        return self.written.switch is None and bool(self.entry.ports_carrying("network"))


def owner_devices(project: Project, kinds: Sequence[RoomKind]) -> tuple[OwnerDevice, ...]:
    """Return the equipment of the owner, in order of tags.

    kinds: of all rooms; what nobody gave a place stands beside the devices of its room.
    """
    sizing_of = {tag: kind.sizing for kind in kinds for tag in kind.rooms}
    found = [
        _in_equipment_room(project, place, code, one)
        if place in project.building.equipment_rooms
        else _in_room(project, place, tag, code, one, sizing_of[tag])
        for place, items in project.building.owner_equipment.items()
        for tag in _places(project, place)
        for code, one in items.items()
    ]
    return tuple(sorted(found, key=lambda one: natural(one.device.tag)))


def _places(project: Project, place: str) -> tuple[str, ...]:
    """Return the tags of the rooms or of the equipment room that a key of building.yaml means."""
    if place in project.rooms or place in project.building.equipment_rooms:
        return (place,)
    return tuple(tag for tag, room in project.rooms.items() if room.type == place)


def _in_room(
    project: Project, place: str, tag: str, code: str, one: OwnerEquipment, sizing: Sizing
) -> OwnerDevice:
    room = project.rooms[tag]
    layout = room.layout
    at = one.at
    if at is None:
        at = places_of(project, tag, layout, sizing, charging_point(project, layout))[code]
    device = Placed(
        tag=device_tag(tag, code),
        code=code,
        kind=OWNER_EQUIPMENT,
        model="",
        room=tag,
        storey=room.storey,
        at=in_building(room, at),
        height_m=layout.charging_height if one.height is None else one.height,
        location="table",
        uses=(f"building.owner_equipment.{place}.{code}.at",),
    )
    return _finished(project, place, one, device, (tag,))


def _in_equipment_room(project: Project, tag: str, code: str, one: OwnerEquipment) -> OwnerDevice:
    closet = project.building.equipment_rooms[tag]
    device = Placed(
        tag=device_tag(tag, code),
        code=code,
        kind=OWNER_EQUIPMENT,
        model="",
        room=tag,
        storey=closet.storey,
        at=closet.at,
        height_m=project.brief.rules.cabling.rack_height,
        location=device_tag(tag, one.rack) if one.rack else first_rack(project, tag),
    )
    return _finished(project, tag, one, device, one.rooms)


def _finished(
    project: Project, place: str, one: OwnerEquipment, device: Placed, rooms: tuple[str, ...]
) -> OwnerDevice:
    return OwnerDevice(
        place=place,
        written=one,
        device=by_hand(device, project.fixed.devices.get(device.tag)),
        entry=_entry_of(one),
        rooms=rooms,
    )


def _entry_of(one: OwnerEquipment) -> Device:
    """Return what is known of it as of any device; it is in no library and has no price."""
    known: dict[str, Any] = {
        "kind": OWNER_EQUIPMENT,
        "maker": "",
        "description": one.name,
        "furnished_by": "owner",
        "rack_units": one.rack_units,
        "weight": 0.0,
        "depth": 0.0,
        "poe": one.poe,
        "ports": one.ports,
        "lead_time_days": 0,
    }
    return Device.model_construct(**known)


def entries_of(owners: Sequence[OwnerDevice]) -> Mapping[str, Device]:
    """Return the ports and power of the owner's equipment, by tag."""
    return {one.device.tag: one.entry for one in owners}


def owner_switches(
    project: Project, owners: Sequence[OwnerDevice], equipment_room: str
) -> tuple[OfferedSwitch, ...]:
    """Return what the owner's switches in an equipment room have free for devices, in order of tags.

    owners: the owner's equipment.
    equipment_room: its tag.
    A free port that joins switches of ours to the owner's network (owner_port) is none for a device.
    """
    joining = {room.owner_port for room in project.building.equipment_rooms.values()}
    here = {project.building.equipment_rooms[equipment_room].owner_port}
    return tuple(
        OfferedSwitch(
            device=one.device,
            poe_ports=switch.poe_ports,
            poe_class=switch.poe_class,
            poe_type=switch.poe_type,
            budget_w=free_power_w(switch),
            numbers=tuple(
                n
                for n in sorted(switch.free)
                if not joining & _names_of_port(one.device.tag, n) and not here & _names_of_port("", n)
            ),
            spare_ports=0.0,
            owned=True,
        )
        for one in owners
        if (switch := one.written.switch) and one.device.room == equipment_room
    )


def free_power_w(switch: OwnerSwitch) -> float:
    """Return the power over Ethernet that is free on an owner's switch, W.

    switch: what is known of it.
    Where nobody knows it yet, each of its ports is taken to feed the class written.
    """
    if switch.budget is not None:
        return switch.budget
    return switch.poe_ports * CLASSES[switch.poe_class].source_power_w


def _names_of_port(tag: str, number: int) -> frozenset[str]:
    """Return how a port of the owner's switch may be named as owner_port: `ER1-OE1/21`; `P21` in its room."""
    names = (str(number), f"P{number}", f"port {number}")
    return frozenset(f"{tag}/{name}" if tag else name for name in names)
