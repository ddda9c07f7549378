"""Leads between mixers or breakouts and what others furnish, where building.yaml does not place it."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace

from proposal.design.connections.amplifier_channels import connector_of
from proposal.design.connections.cable import Cable
from proposal.design.connections.cable_choice import audio_cable
from proposal.design.connections.cable_runs import CableRun
from proposal.design.connections.line_cables import line_cable
from proposal.design.connections.room_lines import EndOfLine
from proposal.design.equipment.placed_devices import Placed
from proposal.design.pathways.cable_routes import CableRoute, Stretch
from proposal.model.equipment.entry import Device
from proposal.model.project import Project

LEAD_USE = "project.rules.cabling.lead_to_others"
TO_SUIT = "to suit the equipment"
"""Connector of a lead at equipment of which nobody says what ports it has."""


def leads_to_others(
    project: Project,
    devices: Sequence[Placed],
    entries: Mapping[str, Device],
    ends: Sequence[EndOfLine],
    placed: Collection[str],
) -> list[Cable]:
    """Return the leads of a room to and from what others furnish, one a channel.

    devices, entries: of the room, and of the library by tag.
    ends: analogue ports of mixers and breakouts that have something at their other end.
    placed: codes of what stands in building.yaml, to which cables run.
    Each is as long as the project's rule says, or as a length that was measured.
    """
    by_tag = {device.tag: device for device in devices}
    found = []
    for mixing, _, port, joined in ends:
        start = by_tag.get(mixing)
        for code in joined:
            if start is None or not port or code in by_tag or code in placed:
                continue
            first = (start, port, connector_of(entries.get(mixing), port))
            lie = _lie(project, start, code)
            lead = line_cable(project, "analogue", first, lie, audio_cable, ("", TO_SUIT))
            found.append(replace(lead, to_others=True))
    return found


def _lie(project: Project, start: Placed, code: str) -> CableRun:
    """Return how a lead lies from a device to what stands near it.

    code: of the destination or return.
    """
    layout = project.rooms[start.room].layout
    name = (layout.destinations.get(code) or layout.returns[code]).name
    return CableRun(
        end=code,
        end_storey=start.storey,
        route=CableRoute(
            (Stretch(f"lead to {name}", project.brief.rules.cabling.lead_to_others, in_rack=True),)
        ),
        slack_m=0.0,
        slack_ends_m=(0.0, 0.0),
        uses=(LEAD_USE,),
    )
