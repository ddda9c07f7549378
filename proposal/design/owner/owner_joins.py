"""How the owner's equipment is joined: a port of its own for every join, a cable where one lies between."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from proposal.design.connections.amplifier_channels import connector_of
from proposal.design.connections.amplifier_feeds import inside_a_rack
from proposal.design.connections.cable import Cable
from proposal.design.connections.cable_choice import audio_cable
from proposal.design.connections.cable_runs import CableRun, run_between, run_to_rack
from proposal.design.connections.data_cables import data_cable_of
from proposal.design.connections.line_cables import line_cable
from proposal.design.connections.patch_cords import CordEnd
from proposal.design.equipment.placed_devices import Placed
from proposal.design.numbers.numbering import END, Place, assign_places, issued_of
from proposal.design.owner.owner_devices import OwnerDevice
from proposal.design.pathways.routing import Router
from proposal.design.rooms.device_positions import first_rack
from proposal.design.sound.audio_ends import AudioEnd
from proposal.field_classes import dataclass
from proposal.model.equipment.entry import Device
from proposal.model.equipment.parts import Signal
from proposal.model.project import Project

PORTS_OF: Mapping[tuple[str, str], Signal] = {
    ("analogue", "output"): "analogue input",
    ("analogue", "input"): "analogue output",
    ("USB", "output"): "USB",
    ("USB", "input"): "USB",
}
"""What a port of the owner's equipment has to carry, by signal and direction of the port it is joined to."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnerJoin:
    """One join of the owner's equipment to a mixer or a breakout.

    owner, owner_port: its tag, and its port; the port is empty where none was left.
    end: the input or output that it is joined to.
    channel: which of the channels of its destination or return it is, from 1.
    room: tag of the room whose sound it carries.
    identity: of the port in the register.
    cable: identity of the cable between them; empty where there is none.
    """

    owner: str
    owner_port: str
    end: AudioEnd
    channel: int
    room: str
    identity: str
    cable: str = ""


def owner_joins(
    project: Project, owners: Sequence[OwnerDevice], ends: Mapping[str, Sequence[AudioEnd]]
) -> tuple[OwnerJoin, ...]:
    """Return every join of the owner's equipment that is made on a wire, with the ports it takes.

    owners: the owner's equipment.
    ends: inputs and outputs of mixers and breakouts by room.
    A port is given once; all that goes over USB between two devices shares one. Ports stay as issued.
    """
    wanted: dict[str, list[Place]] = {}
    found: list[OwnerJoin] = []
    for one in owners:
        for room in one.rooms:
            counted: dict[tuple[str, str], int] = {}
            for end in ends.get(room, ()):
                code = next((code for code in one.written.serves if code in end.joined), "")
                signal = PORTS_OF.get((end.signal, end.direction))
                if not code or signal is None:
                    continue
                counted[code, end.direction] = counted.get((code, end.direction), 0) + 1
                stem = f"{END}/{one.device.tag}"
                identity = (
                    f"{stem}/USB/{end.device}"
                    if signal == "USB"
                    else f"{stem}/{signal.replace(' ', '-')}/{room}/{code}/{counted[code, end.direction]}"
                )
                numbers = [f"{one.device.tag}/{port}" for port in one.entry.ports_carrying(signal)]
                wanted[identity] = [Place(number, (number,)) for number in numbers]
                found.append(
                    OwnerJoin(
                        owner=one.device.tag,
                        owner_port="",
                        end=end,
                        channel=counted[code, end.direction],
                        room=room,
                        identity=identity,
                    )
                )
    places = assign_places(wanted.items(), issued_of(project.issued, END))
    return tuple(
        replace(one, owner_port=places[one.identity].number.rpartition("/")[2])
        if one.identity in places
        else one
        for one in found
    )


def owner_network_cables(
    project: Project,
    router: Router,
    owners: Sequence[OwnerDevice],
    serving: Mapping[str, str],
    hosts: Mapping[str, Placed],
) -> list[Cable]:
    """Return the data cables of the owner's equipment that stands in rooms, to the racks that serve them.

    router: finds the routes.
    owners: the owner's equipment.
    serving: equipment room by room; empty where none serves it.
    hosts: what holds the switch of each room whose network is kept apart.
    """
    cables = []
    for one in owners:
        if not one.on_network or one.device.room not in serving:
            continue
        place, port = serving[one.device.room], one.entry.ports_carrying("network")[0]
        ends: tuple[CordEnd, ...] = ("rack", "device")
        if host := hosts.get(one.device.room):
            lie, ends = run_between(project, one.device, port, host), ("device",)
        elif place:
            lie = run_to_rack(project, router, one.device, port, place, first_rack(project, place))
        else:
            continue
        cables.append(data_cable_of(project, one.device, one.entry, port, lie, ends))
    return cables


@dataclass(frozen=True, slots=True)
class _Ends:
    """What both ends of an analogue join are: the owner's device and the mixer or breakout."""

    owner: OwnerDevice
    join: OwnerJoin
    mixing: Placed
    entry: Device | None


def owner_audio_cables(
    project: Project,
    router: Router,
    owners: Sequence[OwnerDevice],
    joins: Sequence[OwnerJoin],
    devices: Mapping[str, Placed],
    entries: Mapping[str, Device],
) -> tuple[tuple[OwnerJoin, ...], dict[str, list[Cable]]]:
    """Return the joins with their cables, and the analogue cables by the room they serve.

    router: finds the routes.
    owners, joins: the owner's equipment and how it is joined.
    devices, entries: mixers and breakouts, and their entries of the library, by tag.
    A join that has no port at one of its ends has no cable.
    """
    by_tag = {one.device.tag: one for one in owners}
    cables: dict[str, list[Cable]] = {}
    made = []
    for join in joins:
        if join.end.signal == "analogue" and join.owner_port and join.end.port:
            mixing = devices[join.end.device]
            ends = _Ends(by_tag[join.owner], join, mixing, entries.get(mixing.tag))
            cable = _audio_cable(project, router, ends)
            cables.setdefault(join.room, []).append(cable)
            join = replace(join, cable=cable.identity)
        made.append(join)
    return tuple(made), cables


def _audio_cable(project: Project, router: Router, ends: _Ends) -> Cable:
    """Return the cable of an analogue join; from what stands in a room to the rack of what stands in one."""
    owner, mixing, port = ends.owner.device, ends.mixing, ends.join.end.port
    far_port = f"{mixing.tag}/{port}"
    if owner.room in project.building.equipment_rooms:
        closet = _closet_of(project, mixing)
        if closet == owner.room:
            lie = inside_a_rack(project, owner, mixing.tag)
            return _line(project, ends, owner, ends.join.owner_port, lie, port)
        if closet:
            lie = _between_equipment_rooms(project, router, ends, closet)
            return _line(project, ends, owner, ends.join.owner_port, lie, far_port)
        lie = run_to_rack(project, router, mixing, port, owner.room, owner.location, "anything")
        return _line(project, ends, mixing, port, lie, f"{owner.tag}/{ends.join.owner_port}")
    if closet := _closet_of(project, mixing):
        lie = run_to_rack(project, router, owner, ends.join.owner_port, closet, mixing.location, "anything")
        return _line(project, ends, owner, ends.join.owner_port, lie, far_port)
    lie = run_between(project, owner, ends.join.owner_port, mixing)
    return _line(project, ends, owner, ends.join.owner_port, lie, port)


def _line(project: Project, ends: _Ends, start: Placed, port: str, lie: CableRun, end_port: str) -> Cable:
    of_owner = connector_of(ends.owner.entry, ends.join.owner_port)
    of_mixing = connector_of(ends.entry, ends.join.end.port)
    first, last = (of_owner, of_mixing) if start.tag == ends.owner.device.tag else (of_mixing, of_owner)
    cable = line_cable(project, "analogue", (start, port, first), lie, audio_cable, (end_port, last))
    return replace(cable, room=ends.join.room)


def _between_equipment_rooms(project: Project, router: Router, ends: _Ends, closet: str) -> CableRun:
    """Return how a cable lies from the owner's rack to a mixer in another equipment room.

    closet: tag of the mixer's equipment room.
    """
    owner, port = ends.owner.device, ends.join.owner_port
    lie = run_to_rack(project, router, owner, port, closet, ends.mixing.location, "anything")
    return replace(lie, uses=tuple(use for use in lie.uses if not use.startswith("rooms.")))


def _closet_of(project: Project, device: Placed) -> str:
    """Return the equipment room in one of whose racks a device stands, empty where it stands in none."""
    place = device.location.rpartition("-")[0]
    return place if place in project.building.equipment_rooms else ""
