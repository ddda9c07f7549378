"""Rows of equipment rooms: their racks, and the ports of all switches in each."""

from typing import TypedDict

from proposal.design.design import Design
from proposal.design.numbers.numbering import natural
from proposal.document.rows.rooms import EquipmentRoomRow
from proposal.model.project import Project


class _SwitchPorts(TypedDict, total=False):
    """The fields about the ports of switches."""

    switch_ports: int
    ports_used: int
    ports_spare: int
    ports_spare_wanted: int
    ports_verdict: str


def equipment_room_rows(project: Project, design: Design) -> tuple[EquipmentRoomRow, ...]:
    """Return a row for each equipment room, in order of tags."""
    return tuple(
        EquipmentRoomRow(
            tag=tag,
            name=room.name,
            storey=room.storey,
            at=room.at,
            racks=tuple(one.device.tag for one in design.racks if one.device.room == tag),
            outline=room.outline or (),
            doors=tuple(
                (name, door.at, door.width)
                for name, door in sorted(room.doors.items(), key=lambda item: natural(item[0]))
            ),
            outlets_at=room.outlets_at,
            earthing_at=room.earthing_at,
            **_switch_ports(design, tag),
        )
        for tag, room in sorted(project.building.equipment_rooms.items())
    )


def _switch_ports(design: Design, equipment_room: str) -> _SwitchPorts:
    """Return what of the ports of the switches there is used, spare and to be left free."""
    closet = next(one for one in design.closets if one.equipment_room == equipment_room)
    if not closet.switches:
        return {}
    return {
        "switch_ports": closet.access_ports,
        "ports_used": closet.used_ports,
        "ports_spare": closet.access_ports - closet.used_ports,
        "ports_spare_wanted": closet.spare_wanted,
        "ports_verdict": "holds" if closet.spare_holds and not closet.left else "fails",
    }
