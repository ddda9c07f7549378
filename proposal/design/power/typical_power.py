"""What a device typically takes from the mains."""

from proposal.model.equipment.devices import Switch
from proposal.model.equipment.entry import Device
from proposal.model.equipment.sound_devices import Amplifier


def typical_power_w(entry: Device) -> float:
    """Return what a device typically takes from the mains, W, without what it feeds onward.

    entry: of the library; an amplifier is taken at an eighth of its rated power, as speech at its highest.
    """
    if isinstance(entry, Amplifier):
        return entry.eighth_power
    return entry.mains.typical if entry.mains else 0.0


def onward_power_w(entry: Device, given_w: float) -> float:
    """Return what a device takes from the mains for the power that it gives at its ports, W.

    entry: of the library; nothing where it takes no mains.  given_w: power over Ethernet at its ports, W.
    """
    if entry.mains is None:
        return 0.0
    return given_w / (entry.poe_efficiency if isinstance(entry, Switch) else entry.mains.efficiency)


def typical_draw_w(entry: Device, given_w: float) -> float:
    """Return what a device typically takes from the mains, W, with what it gives at its ports.

    entry: of the library.  given_w: power over Ethernet at its ports, W.
    """
    if entry.mains is None:
        return 0.0
    return min(typical_power_w(entry) + onward_power_w(entry, given_w), entry.mains.maximum)
