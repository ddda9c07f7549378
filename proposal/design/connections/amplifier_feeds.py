"""What carries analogue sound to amplifiers: cables from breakouts to a rack, and leads inside one."""

from collections.abc import Mapping, Sequence

from proposal.design.connections.amplifier_channels import AmplifierChannel, connector_of, zone_outputs
from proposal.design.connections.cable import Cable
from proposal.design.connections.cable_checks import EQUIPMENT_CORD_USE
from proposal.design.connections.cable_choice import audio_cable
from proposal.design.connections.cable_runs import CableRun, run_between, run_to_rack
from proposal.design.connections.line_cables import in_furniture, line_cable
from proposal.design.equipment.mixing_choice import first_mixing
from proposal.design.equipment.placed_devices import Placed
from proposal.design.pathways.cable_routes import CableRoute, Stretch
from proposal.design.pathways.routing import Router
from proposal.model.equipment.entry import Device
from proposal.model.project import Project

IN_THE_RACK = "in the rack"


def amplifier_feeds(
    project: Project,
    router: Router,
    devices: Sequence[Placed],
    channels: Mapping[str, AmplifierChannel],
    equipment_room: str,
    rack: str,
) -> list[Cable]:
    """Return what feeds the amplifiers of a room, one cable a zone.

    router: finds the routes.
    devices: mixers, breakouts, access points and amplifiers of the room.
    channels: of amplifiers, by the line that they play.
    equipment_room, rack: tags of where the amplifiers are.
    A breakout feeds them by cables that end in the rack, a mixer by leads inside it; where amplifiers stand
    in the room, both by cables of the room. What has fewer outputs
    than the room has zones feeds as many as it can.
    """
    first = first_mixing(project, project.rooms[devices[0].room].layout, devices) if devices else None
    entry = project.library.entry(first.model) if first else None
    if first is None or not isinstance(entry, Device):
        return []
    models = {device.tag: project.library.entry(device.model) for device in devices if device.model}
    feeds = []
    for zone, port in zone_outputs(project, first, entry).items():
        channel = channels.get(zone)
        amplifier = models.get(channel.amplifier) if channel else None
        end_connector = connector_of(amplifier, channel.input if channel else "")
        beside = in_furniture(devices, channel.amplifier) if channel else None
        if beside and channel:
            lie, end_port = run_between(project, first, port, beside), channel.input
        elif not equipment_room:
            continue
        elif first.kind == "breakout":
            lie = run_to_rack(project, router, first, port, equipment_room, rack, "anything")
            end_port = f"{channel.amplifier}/{channel.input}" if channel and channel.input else ""
        elif channel is not None:
            lie = inside_a_rack(project, first, channel.amplifier)
            end_port = channel.input
        else:
            continue
        feeds.append(
            line_cable(
                project,
                "analogue",
                (first, port, connector_of(entry, port)),
                lie,
                audio_cable,
                (end_port, end_connector),
            )
        )
    return feeds


def inside_a_rack(project: Project, start: Placed, end: str) -> CableRun:
    """Return how a lead lies from one device of a rack to another: as long as the cords at the rack are.

    start, end: the one device, and the tag of the other.
    """
    length_m = project.brief.rules.cabling.equipment_cord
    return CableRun(
        end=end,
        end_storey=start.storey,
        route=CableRoute((Stretch(IN_THE_RACK, length_m, in_rack=True),)),
        slack_m=0.0,
        slack_ends_m=(0.0, 0.0),
        uses=(EQUIPMENT_CORD_USE,),
    )
