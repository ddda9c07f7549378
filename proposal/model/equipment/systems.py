"""Microphone systems of the library: devices that work together."""

from proposal.model.equipment.library import Library


def systems_of(library: Library) -> tuple[str, ...]:
    """Return the names of the systems that have microphones or access points, in order."""
    devices = (*library.microphones.values(), *library.access_points.values())
    return tuple(sorted({entry.works_with for entry in devices}))
