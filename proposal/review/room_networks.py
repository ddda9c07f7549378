"""Rules about rooms whose network is kept apart from the building's: joined inside, isolated as asked."""

from collections.abc import Iterator
from math import ceil

from proposal.design.design import Design
from proposal.design.equipment.room_network import APART, isolates, network_of
from proposal.design.room_designs import RoomDesign
from proposal.errors import Place
from proposal.model.equipment.entry import Device
from proposal.model.project import Project
from proposal.review.finding import Finding, Rule, counted, listed
from proposal.standards.aes67 import ON_THE_WIRE
from proposal.standards.sources import COMMON_PRACTICE


def isolation_missing(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each room that is to be isolated and has no port that can do so."""
    able = sorted(code for code, entry in project.library.breakouts.items() if isolates(entry))
    for room in design.rooms:
        if project.rooms[room.tag].layout.network != "isolated" or room.isolating_port:
            continue
        models = f", such as {listed(able[:3])}," if able else ""
        yield Finding(
            rule="isolation-not-possible",
            severity="error",
            where=room.tag,
            place=_written(project, design, room),
            message="The room is to be joined to the building through a port that keeps the building's "
            f"network off, and {_reason(project, room)}. It is joined to nothing.",
            source=COMMON_PRACTICE,
            remedy="Write `network: alone`: then no join is wanted; or write `output: breakout`, with a "
            f"breakout whose own switch has an isolating port{models} and serves the whole room."
            if able and project.rooms[room.tag].layout.output == "mixer"
            else f"Choose a breakout whose own switch has an isolating port{models} and serves the whole "
            "room, or write `network: alone`: then no join is wanted."
            if able
            else "Add a breakout with an isolating port to the library, or write `network: alone`: then no "
            "join is wanted.",
        )


def _reason(project: Project, room: RoomDesign) -> str:
    host = next((device for device in room.devices if device.tag == room.host), None)
    if host is None:
        return "no switch serves it"
    return f"the switch that serves it, in {host.tag} ({host.model}), has none"


def devices_not_joined(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each room kept apart in which a networked device is on no port of its switch."""
    for room in design.rooms:
        if network_of(project, project.rooms[room.tag].layout) not in APART:
            continue
        plugged = {one.tag for one in room.own_switch.ports.values()} if room.own_switch else set()
        left = [
            device.tag
            for device in room.devices
            if device.tag not in plugged | {room.host}
            and device.kind not in ("microphone", "loudspeaker")
            and (entry := design.every_entry.get(device.tag)) is not None
            and entry.ports_carrying("network")
        ]
        if not left:
            continue
        ports = room.own_switch.access_ports if room.own_switch else 0
        wanted = len(left) + len(plugged)
        yield Finding(
            rule="room-port-lacking",
            severity="error",
            where=room.tag,
            place=_written(project, design, room),
            message=f"The room's own switch has {counted(ports, 'port')}, and {listed(left)} "
            f"{'has' if len(left) == 1 else 'have'} none: nothing else joins them.",
            value=float(wanted),
            limit=float(ports),
            unit="ports",
            source=COMMON_PRACTICE,
            remedy="Choose a breakout or a switch with "
            f"{counted(max(wanted - ports, 1), 'port', more=True)}, leave the choice to the program, or join "
            "the room to an equipment room (network: rack).",
        )


def room_switch_overloaded(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error where the streams of a room are more than a port of its own switch carries."""
    for room in design.rooms:
        load = design.room_switch_loads.get(room.tag)
        if load is None or load.holds:
            continue
        entry = design.entries.get(room.host)
        model = entry.model if isinstance(entry, Device) else ""
        sorting = " It cannot be managed, so every stream reaches every port." if load.every_stream else ""
        yield Finding(
            rule="room-switch-overloaded",
            severity="error",
            where=room.host,
            place=_written(project, design, room),
            message=f"The streams at port {load.port} of {model}, where {load.device} is, are more than the "
            f"port carries.{sorting}",
            value=load.load_bit_per_s / 1e6,
            limit=load.speed_bit_per_s / 1e6,
            unit="Mbit/s",
            source=ON_THE_WIRE,
            remedy="Choose a breakout whose switch has ports of "
            f"{ceil(load.load_bit_per_s / 1e6)} Mbit/s or more"
            + (", or one that can be managed" if load.every_stream else "")
            + ", or cable the room to an equipment room (network: rack).",
        )


def _written(project: Project, design: Design, room: RoomDesign) -> Place:
    kind = next(kind for kind in design.kinds if room.tag in kind.rooms)
    return project.place(*kind.path, "network")


ROOM_NETWORK_RULES: tuple[Rule, ...] = (isolation_missing, devices_not_joined, room_switch_overloaded)
