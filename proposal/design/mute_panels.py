"""The panels or computers of the owner that mute microphones: where each joins, and along which way."""

from proposal.design.design import Design
from proposal.design.network.port_demand import SwitchPorts
from proposal.design.network.ports_for_mutes import ports_for_mutes
from proposal.design.sound.muting import mute_points, mutes_asked
from proposal.field_classes import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelWay:
    """Where the panel of a room joins the network, and what its cable passes.

    switch, port: tag, and what the port is called there.
    longest_m: the longest network cable of ours between the room and the place of that switch; None where
        the switch is in the room.
    openings: tags of those in rated walls and floors that such cables pass.
    """

    switch: str
    port: str
    longest_m: float | None
    openings: tuple[str, ...]


def panel_ports(design: Design) -> dict[str, tuple[SwitchPorts, int]]:
    """Return the port kept for the panel of each room in which several microphones are muted at once."""
    rooms = [
        room
        for kind in design.kinds
        if mutes_asked(kind.layout)
        and mute_points([one for one in design.devices if one.room == kind.rooms[0]], design.entries)
        for room in kind.rooms
    ]
    served_from = {room.tag: room.equipment_room for room in design.rooms}
    return ports_for_mutes(rooms, served_from, [one.switch for one in design.switches])


def panel_ways(design: Design) -> dict[str, PanelWay]:
    """Return where the panel of each room joins, and what its cable has to pass, by room."""
    found = {}
    for room, (switch, number) in panel_ports(design).items():
        cables = [
            one
            for one in design.cables
            if one.signal == "network" and one.room == room and switch.device.room != room
        ]
        names = {one.identity for one in cables}
        found[room] = PanelWay(
            switch=switch.device.tag,
            port=switch.port_name(number),
            longest_m=max((one.length_m for one in cables), default=None),
            openings=tuple(one.tag for one in design.penetrations if names & set(one.cables)),
        )
    return found
