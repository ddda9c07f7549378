"""Cables that carry no network: loudspeaker lines, and analogue audio from breakouts to amplifiers."""

from collections.abc import Callable, Mapping, Sequence

from proposal.design.connections.cable_choice import audio_cable, loudspeaker_cable
from proposal.design.connections.cable_temperature import temperature_segments
from proposal.design.connections.data_cables import (
    Cable,
    CableRun,
    length_by_hand,
    model_by_hand,
    run_between,
    run_to_rack,
)
from proposal.design.connections.jackets import jacket_needs
from proposal.design.equipment.mixing_choice import first_mixing
from proposal.design.equipment.placed_devices import Placed
from proposal.design.numbers.numbering import (
    END,
    INPUT,
    Place,
    assign_places,
    cable_identity,
    issued_of,
)
from proposal.design.pathways.routing import Router
from proposal.model.equipment.entry import Device
from proposal.model.project import Project

LOUDSPEAKER_PORT = "L1"


def loudspeaker_lines(
    project: Project, router: Router, devices: Sequence[Placed], equipment_room: str, rack: str
) -> list[Cable]:
    """Return the lines from the rack to the first loudspeaker of each zone and on from one to the next.

    router: finds the routes.
    devices: the room's devices.
    equipment_room, rack: tags of where the lines come from.
    """
    loudspeakers = [device for device in devices if device.kind == "loudspeaker"]
    if not loudspeakers:
        return []
    layout = project.rooms[loudspeakers[0].room].layout
    by_zone: dict[str, list[Placed]] = {}
    for device in loudspeakers:
        by_zone.setdefault(layout.loudspeakers[device.code].zone, []).append(device)
    lines = []
    for zone in by_zone.values():
        for before, device in zip((None, *zone[:-1]), zone, strict=True):
            lie = (
                run_between(project, device, before)
                if before
                else run_to_rack(
                    project, router, device, LOUDSPEAKER_PORT, equipment_room, rack, "loudspeaker lines"
                )
            )
            end_port = LOUDSPEAKER_PORT if before else ""
            lines.append(
                _line(
                    project,
                    "loudspeaker line",
                    device,
                    LOUDSPEAKER_PORT,
                    lie,
                    loudspeaker_cable,
                    "terminals",
                    end_port,
                )
            )
    return lines


def amplifier_feeds(
    project: Project, router: Router, devices: Sequence[Placed], equipment_room: str, rack: str
) -> list[Cable]:
    """Return the analogue cables from a room's first breakout to the amplifiers in the rack, one a zone.

    router: finds the routes.
    devices: the room's devices.
    equipment_room, rack: tags of where the cables end.
    A breakout with fewer outputs than the room has zones feeds as many as it can.
    """
    first = first_mixing(project, project.rooms[devices[0].room].layout, devices) if devices else None
    breakout = first if first and first.kind == "breakout" else None
    entry = project.library.entry(breakout.model) if breakout else None
    if breakout is None or not isinstance(entry, Device):
        return []
    feeds = []
    for port in zone_outputs(project, breakout, entry).values():
        lie = run_to_rack(project, router, breakout, port, equipment_room, rack, "anything")
        feeds.append(_line(project, "analogue", breakout, port, lie, audio_cable, "terminal block", ""))
    return feeds


def zone_outputs(project: Project, breakout: Placed, entry: Device) -> Mapping[str, str]:
    """Return the output of a breakout that feeds each zone of its room's loudspeakers, in order of zones.

    Outputs that microphones have in issued revisions come last. A zone for which no output is left is left
    out.
    """
    taken = {one.number for one in issued_of(project.issued, INPUT).values() if not one.retired}
    layout = project.rooms[breakout.room].layout
    zones = sorted({loudspeaker.zone for loudspeaker in layout.loudspeakers.values()})
    names = sorted(
        entry.ports_carrying("analogue output"), key=lambda name: f"{breakout.tag}/{name}" in taken
    )
    ports = [Place(f"{breakout.tag}/{name}", (f"{breakout.tag}/{name}",)) for name in names]
    wanted = {zone_identity(breakout.tag, zone): zone for zone in zones}
    found = assign_places([(identity, ports) for identity in wanted], issued_of(project.issued, END))
    return {
        zone: found[identity].number.rpartition("/")[2]
        for identity, zone in wanted.items()
        if identity in found
    }


def zone_identity(device: str, zone: str) -> str:
    """Return the identity in the register of the output that feeds a zone.

    device: tag of the amplifier.
    zone: name of the zone.
    """
    return f"{END}/{device}/output/zone-{zone}/1"


def _line(
    project: Project,
    signal: str,
    device: Placed,
    port: str,
    lie: CableRun,
    choice: Callable[[Project, tuple[str, ...]], str],
    connector: str,
    end_port: str,
) -> Cable:
    identity = cable_identity(device.tag, port, lie.end)
    measured_m = length_by_hand(project, identity)
    length_m = lie.route.length_m + lie.slack_m if measured_m is None else measured_m
    needs = jacket_needs(project, lie.route, rises=device.storey != lie.end_storey)
    return Cable(
        identity=identity,
        signal=signal,
        start=device.tag,
        start_port=port,
        start_connector=connector,
        end=lie.end,
        end_port=end_port,
        end_connector=connector,
        room=device.room,
        model=model_by_hand(project, identity) or choice(project, needs),
        start_storey=device.storey,
        end_storey=lie.end_storey,
        route=lie.route,
        slack_m=lie.slack_m,
        slack_ends_m=lie.slack_ends_m,
        length_m=length_m,
        measured=measured_m is not None,
        warmth=temperature_segments(project, lie.route, length_m, {}),
        uses=() if measured_m is not None else lie.uses,
        route_uses=lie.route_uses,
    )
