"""Analogue cables in a room: from wired microphones and transmitters to its mixer or breakout."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from proposal.design.connections.amplifier_channels import connector_of
from proposal.design.connections.cable import Cable
from proposal.design.connections.cable_choice import audio_cable
from proposal.design.connections.cable_runs import CableRun, run_between, run_to_rack
from proposal.design.connections.line_cables import line_cable
from proposal.design.equipment.placed_devices import Placed
from proposal.design.pathways.routing import Router
from proposal.model.equipment.entry import Device
from proposal.model.equipment.parts import Signal
from proposal.model.project import Project

KINDS = ("wired_microphone", "assistive_device")
"""Kinds of devices in a room that are joined to its mixer or breakout by an analogue cable."""
_FAR_PORT: Mapping[str, Signal] = {"input": "analogue output", "output": "analogue input"}
EndOfLine = tuple[str, str, str, tuple[str, ...]]
"""Tag of a mixer or breakout, direction and name of a port of it, and the tags it is joined to."""


def room_lines(
    project: Project,
    router: Router,
    devices: Sequence[Placed],
    entries: Mapping[str, Device],
    ends: Sequence[EndOfLine],
) -> list[Cable]:
    """Return the analogue cables from microphones and transmitters of a room to its mixer or breakout.

    router: finds the routes.
    devices, entries: of the room, and of the library by tag.
    ends: analogue ports of mixers and breakouts that have something at their other end.
    One whose port is not there has no cable.
    """
    by_tag = {device.tag: device for device in devices}
    found = []
    for mixing, direction, port, joined in ends:
        for tag in joined:
            device, entry = by_tag.get(tag), entries.get(tag)
            if device is None or entry is None or device.kind not in KINDS or mixing not in by_tag:
                continue
            own = entry.ports_carrying(_FAR_PORT[direction])
            if port and own:
                at = by_tag[mixing]
                lie, end_port = _lie(project, router, device, own[0], at, port)
                ends_in = (end_port, connector_of(entries.get(mixing), port))
                start = (device, own[0], connector_of(entry, own[0]))
                cable = line_cable(project, "analogue", start, lie, audio_cable, ends_in)
                found.append(replace(cable, room=device.room))
    return found


def _lie(
    project: Project, router: Router, device: Placed, port: str, mixing: Placed, mixing_port: str
) -> tuple[CableRun, str]:
    """Return how a cable lies from a port of a device to a mixer or breakout, and the port it ends in."""
    closet = mixing.location.rpartition("-")[0]
    if closet in project.building.equipment_rooms:
        lie = run_to_rack(project, router, device, port, closet, mixing.location, "anything")
        return lie, f"{mixing.tag}/{mixing_port}"
    return run_between(project, device, port, mixing), mixing_port
