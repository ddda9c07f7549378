"""Cables that carry no network: loudspeaker lines, and analogue audio from breakouts to amplifiers."""

from collections.abc import Sequence

from proposal.design.cable_choice import audio_cable, loudspeaker_cable
from proposal.design.cabling import Cable, Lie, length_by_hand, lie_between, lie_to_rack, model_by_hand
from proposal.design.numbering import cable_identity
from proposal.design.placing import Placed
from proposal.model.entry import Device
from proposal.model.project import Project

LOUDSPEAKER_PORT = "L1"


def loudspeaker_lines(
    project: Project, devices: Sequence[Placed], equipment_room: str, rack: str
) -> list[Cable]:
    """Return the lines from the rack to the first loudspeaker of each zone and on from one to the next.

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
    model = loudspeaker_cable(project)
    lines = []
    for zone in by_zone.values():
        for before, device in zip((None, *zone[:-1]), zone, strict=True):
            lie = (
                lie_between(project, device, before)
                if before
                else lie_to_rack(project, device, equipment_room, rack)
            )
            end_port = LOUDSPEAKER_PORT if before else ""
            lines.append(
                _line(
                    project, "loudspeaker line", device, LOUDSPEAKER_PORT, lie, model, "terminals", end_port
                )
            )
    return lines


def amplifier_feeds(
    project: Project, devices: Sequence[Placed], equipment_room: str, rack: str
) -> list[Cable]:
    """Return the analogue cables from a room's first breakout to the amplifiers in the rack, one a zone.

    devices: the room's devices.
    equipment_room, rack: tags of where the cables end.
    A breakout with fewer outputs than the room has zones feeds as many as it can.
    """
    breakout = next((device for device in devices if device.kind == "breakout"), None)
    entry = project.library.entry(breakout.model) if breakout else None
    if breakout is None or not isinstance(entry, Device):
        return []
    layout = project.rooms[breakout.room].layout
    zones = {loudspeaker.zone for loudspeaker in layout.loudspeakers.values()}
    lie = lie_to_rack(project, breakout, equipment_room, rack)
    model = audio_cable(project)
    ports = entry.ports_carrying("analogue output")[: len(zones)]
    return [_line(project, "analogue", breakout, port, lie, model, "terminal block", "") for port in ports]


def _line(
    project: Project,
    signal: str,
    device: Placed,
    port: str,
    lie: Lie,
    model: str,
    connector: str,
    end_port: str,
) -> Cable:
    identity = cable_identity(device.tag, port, lie.end)
    measured_m = length_by_hand(project, identity)
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
        model=model_by_hand(project, identity) or model,
        start_storey=device.storey,
        end_storey=lie.end_storey,
        way=None if measured_m is not None else lie.way,
        slack_m=lie.slack_m,
        length_m=lie.way.length_m + lie.slack_m if measured_m is None else measured_m,
        measured=measured_m is not None,
        temperature_c=project.building.ceiling_temperature,
        uses=() if measured_m is not None else lie.uses,
    )
