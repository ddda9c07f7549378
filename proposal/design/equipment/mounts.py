"""Mounts: what holds a device on a ceiling, on a wall or under a table."""

from collections.abc import Mapping, Sequence

from proposal.design.equipment.placed_devices import Placed
from proposal.design.equipment.unit_costs import unit_cost
from proposal.model.equipment.entry import Device, Entry
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


def mount_of(project: Project, place: str, device: Device) -> str:
    """Return the least-cost mount that carries a device at a place, empty where the library has none.

    place: ceiling, wall or under table.
    """
    fitting = [
        (unit_cost(project, mount), code)
        for code, mount in project.library.mounts.items()
        if device.kind in mount.carries and place in mount.mounting and mount.load >= device.weight
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
            found.append((device, place, mount_of(project, place, entry)))
    return found
