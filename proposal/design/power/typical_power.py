"""What a device typically takes from the mains."""

from proposal.model.equipment.entry import Device
from proposal.model.equipment.sound_devices import Amplifier


def typical_power_w(entry: Device) -> float:
    """Return what a device typically takes from the mains, W, without what it feeds onward.

    entry: of the library; an amplifier is taken at an eighth of its rated power, as speech at its highest.
    """
    if isinstance(entry, Amplifier):
        return entry.eighth_power
    return entry.mains.typical if entry.mains else 0.0
