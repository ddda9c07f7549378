"""Who wants a port on the switches of equipment rooms, and which switch each device leads to."""

from collections.abc import Mapping, Sequence

from proposal.design.equipment.placed_devices import Placed
from proposal.design.network.port_demand import Attached, attached
from proposal.design.network.switches_and_ports import EquipmentRoomSwitches
from proposal.design.room_designs import RoomDesign
from proposal.design.rooms.device_positions import first_rack
from proposal.model.equipment.entry import Device
from proposal.model.project import Project


def switch_of_devices(
    closets: Sequence[EquipmentRoomSwitches], rooms: Sequence[RoomDesign]
) -> dict[str, str]:
    """Return the switch of an equipment room to which each device leads, over a breakout's own too."""
    found = {
        device.tag: switch.device.tag
        for closet in closets
        for switch in closet.switches
        for device in switch.ports.values()
    }
    for room in rooms:
        if room.own_switch and room.host in found:
            found |= {
                device.tag: found[room.host]
                for device in room.own_switch.ports.values()
                if device.tag not in found
            }
    return found


def wanted_ports(
    project: Project,
    equipment_room: str,
    rooms: Sequence[RoomDesign],
    in_closets: Sequence[Placed],
    entries: Mapping[str, Device],
) -> list[Attached]:
    """Return what wants a port on the switches of an equipment room: cabled devices and those in its racks.

    equipment_room: its tag.
    in_closets: equipment of the owner and standby supplies in equipment rooms.
    Where nothing wants one but rooms that keep the building's network off, no switch is wanted: their cables
    go on from the panel to a port of the owner's network.
    """
    rack = first_rack(project, equipment_room)
    priorities = project.brief.rules.priorities
    wanting = []
    kept_off = {room.host for room in rooms if room.apart == "isolated"}
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
                wanting.append(attached(priorities, device, entry, cable_of.get(device.tag, "")))
    for device in in_closets:
        entry = entries[device.tag]
        if device.room == equipment_room and entry.ports_carrying("network"):
            wanting.append(attached(priorities, device, entry, ""))
    return wanting if any(one.tag not in kept_off for one in wanting) else []


def to_owners_network(
    project: Project, closets: Sequence[EquipmentRoomSwitches], rooms: Sequence[RoomDesign]
) -> tuple[tuple[RoomDesign, str], ...]:
    """Return the rooms whose isolating port leads to the owner's network itself, each with the port there.

    closets, rooms: with no switch in its equipment room a room's cable leads on to what that names as
        owner_port. A port holds one cable: the first room takes it, the others have none.
    """
    without = {one.equipment_room for one in closets if not one.switches}
    found: list[tuple[RoomDesign, str]] = []
    for room in rooms:
        if room.apart == "isolated" and room.equipment_room in without:
            free = all(room.equipment_room != other.equipment_room for other, _ in found)
            port = project.building.equipment_rooms[room.equipment_room].owner_port
            found.append((room, port if free else ""))
    return tuple(found)
