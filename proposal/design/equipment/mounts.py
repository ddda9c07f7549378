"""Mounts: what holds a device on a ceiling, on a wall or under a table."""

from collections.abc import Mapping, Sequence

from proposal.design.equipment.placed_devices import Placed
from proposal.design.equipment.unit_costs import unit_cost
from proposal.model.equipment.devices import AccessPoint
from proposal.model.equipment.entry import Device, Entry
from proposal.model.equipment.sound_devices import Loudspeaker
from proposal.model.project import Project

PLACES = ("ceiling", "wall", "under table")
NOT_MOUNTED = ("rack", "microphone")
"""Kinds that need no mount: racks bring their fixings, microphones have accessories."""


def mount_place(device: Placed, entry: Entry) -> str:
    """Return where a device needs a mount: `ceiling`, `wall` or `under table`; empty where it needs none.

    entry: of the library for the device.
    """
    if not isinstance(entry, Device) or entry.fixings_included or device.kind in NOT_MOUNTED:
        return ""
    return device.location if device.location in PLACES else ""


def mount_of(project: Project, place: str, device: Device, ceiling: str = "") -> str:
    """Return the least-cost mount that carries a device at a place, empty where the library has none.

    place: ceiling, wall or under table.  ceiling: what that of the room is made of; empty where not known.
    """
    fitting = [
        (unit_cost(project, mount), code)
        for code, mount in project.library.mounts.items()
        if device.kind in mount.carries
        and place in mount.mounting
        and mount.load >= device.weight
        and (place != "ceiling" or not ceiling or not mount.ceilings or ceiling in mount.ceilings)
    ]
    return min(fitting)[1] if fitting else ""


def mounted(
    project: Project, devices: Sequence[Placed], entries: Mapping[str, Entry]
) -> list[tuple[Placed, str, str]]:
    """Return every device that needs a mount, where, and the model of the mount, empty where there is none.

    devices: of the design; entries: of the library by tag of the device.
    """
    found = []
    for device in devices:
        entry = entries.get(device.tag)
        place = mount_place(device, entry) if entry else ""
        if place and isinstance(entry, Device):
            room = project.rooms.get(device.room)
            ceiling = room.layout.ceiling.kind if room else ""
            found.append((device, place, mount_of(project, place, entry, ceiling)))
    return found


def secured(
    project: Project, devices: Sequence[Placed], entries: Mapping[str, Entry]
) -> list[tuple[Placed, str]]:
    """Return every access point at a ceiling, every loudspeaker there that takes one, with its safety wire.

    devices: of the design; entries: of the library by tag of the device.
    None where the library has no safety wire.
    """
    wires = [
        (unit_cost(project, one), code)
        for code, one in project.library.consumables.items()
        if one.use == "safety wire"
    ]
    if not wires:
        return []
    wire = min(wires)[1]
    return [
        (device, wire)
        for device in devices
        if device.location == "ceiling"
        and (
            isinstance(entry := entries.get(device.tag), AccessPoint)
            or (isinstance(entry, Loudspeaker) and entry.safety_wire)
        )
    ]
