"""Systems that prices and hours are summed by, and the phase in which things are supplied."""

from collections.abc import Mapping

from proposal.model.equipment.devices import Mount
from proposal.model.equipment.entry import Entry
from proposal.model.labour.labour import Phase

MICROPHONES, MIXING, LOUDSPEAKERS = "microphones and radio", "mixing", "loudspeakers"
NETWORK, RACKS, SERVICES = "network and cabling", "racks and power", "services"
SYSTEMS = (MICROPHONES, MIXING, LOUDSPEAKERS, NETWORK, RACKS, SERVICES)

SYSTEM_OF_KIND: Mapping[str, str] = {
    "microphone": MICROPHONES,
    "accessory": MICROPHONES,
    "access_point": MICROPHONES,
    "charger": MICROPHONES,
    "breakout": MIXING,
    "mixer": MIXING,
    "audio_cable": MIXING,
    "amplifier": LOUDSPEAKERS,
    "loudspeaker": LOUDSPEAKERS,
    "loudspeaker_cable": LOUDSPEAKERS,
    "assistive_device": LOUDSPEAKERS,
    "switch": NETWORK,
    "network_part": NETWORK,
    "rack": RACKS,
    "rack_part": RACKS,
    "standby_supply": RACKS,
}
"""Every other kind is of the network and cabling."""

EQUIPMENT_SECTIONS = ("equipment", "accessories")
"""Sections of the take-off whose lines are priced and waited for as equipment, by kind."""

SYSTEM_OF_SIGNAL: Mapping[str, str] = {
    "network": NETWORK,
    "fibre": NETWORK,
    "analogue": MIXING,
    "loudspeaker line": LOUDSPEAKERS,
}

PHASE_OF_SECTION: Mapping[str, Phase] = {
    "cable": "first fix",
    "reels": "first fix",
    "labels": "first fix",
    "supports": "first fix",
    "pathways": "first fix",
    "consumables": "first fix",
    "mounts": "second fix",
    "termination": "second fix",
    "patching": "second fix",
}

WORKSHOP_KINDS = frozenset(
    {"rack", "rack_part", "mixer", "amplifier", "switch", "standby_supply", "network_part"}
)


def system_of_kind(kind: str) -> str:
    """Return the system that a kind of entry belongs to."""
    return SYSTEM_OF_KIND.get(kind, NETWORK)


def system_of_entry(entry: Entry) -> str:
    """Return the system that an entry belongs to; a mount is of the system of what it carries first."""
    return system_of_kind(entry.carries[0] if isinstance(entry, Mount) and entry.carries else entry.kind)


def supply_phase(section: str, kind: str) -> Phase:
    """Return the phase in which something is used.

    section: of the take-off; kind: of the entry.
    """
    if section in PHASE_OF_SECTION:
        return PHASE_OF_SECTION[section]
    return "workshop" if kind in WORKSHOP_KINDS else "second fix"
