"""What a device asks of a switch port, and a switch with what is patched to it."""

import math
from collections.abc import Mapping

from proposal.design.equipment.placed_devices import Placed
from proposal.field_classes import dataclass
from proposal.model.design_rules import PriorityRules
from proposal.model.equipment.entry import Device
from proposal.standards import ieee8023
from proposal.standards.reserve import usable_power_w

HEADROOM_USE = "project.rules.power.headroom"


@dataclass(frozen=True, slots=True, kw_only=True)
class Attached:
    """What is at a switch port.

    tag: tag of the device.
    cable: identity of its cable; empty where a patch cord in the rack does.
    poe_class: class it asks for, None where it takes no power over its cable.
    priority: order in which power is kept, 1 first.
    injector: tag of the PoE source before the port that feeds it; empty where the port does.
    """

    tag: str
    cable: str
    poe_class: int | None
    priority: int
    injector: str = ""

    @property
    def port_class(self) -> int | None:
        """Return the class that it asks of the port; None where it takes no power from it."""
        return None if self.injector else self.poe_class

    @property
    def allocated_w(self) -> float:
        """Return the power that the port allocates to it, W."""
        return 0.0 if self.port_class is None else ieee8023.CLASSES[self.port_class].source_power_w


@dataclass(frozen=True, slots=True, kw_only=True)
class SwitchPorts:
    """One switch, or the small one inside a breakout, and what is patched to it.

    device: what holds it.
    access_ports: ports for devices.
    poe_class, poe_type, budget_w: class and Type of its PoE ports and power for all of them, W.
    headroom, spare_ports: shares of power and of ports to be left free.
    headroom_use: dotted path of the rule that the headroom stands in.
    ports: what is attached, by port number.
    offered: numbers of the ports of an owner's switch that are free; empty for a switch of ours.
    priorities: levels of power priority that it tells apart; 1 where nobody says that it knows more.
    names: what its ports are called, in order of their numbers; empty where they are called by their numbers.
    """

    device: Placed
    access_ports: int
    poe_class: int
    poe_type: int
    budget_w: float
    headroom: float
    spare_ports: float
    ports: Mapping[int, Attached]
    headroom_use: str = HEADROOM_USE
    offered: tuple[int, ...] = ()
    priorities: int = 1
    names: tuple[str, ...] = ()

    def port_name(self, number: int) -> str:
        """Return what a port is called on the device: its name there, or its number."""
        return self.names[number - 1] if number <= len(self.names) else str(number)

    @property
    def numbers(self) -> tuple[int, ...]:
        """Return the numbers of its ports for devices."""
        return self.offered or tuple(range(1, self.access_ports + 1))

    @property
    def usable_w(self) -> float:
        """Return the budget less headroom, W."""
        return usable_power_w(self.budget_w, self.headroom)

    @property
    def spare_wanted(self) -> int:
        """Return the ports to be left free."""
        return math.ceil(round(self.access_ports * self.spare_ports, 6))


def attached(rules: PriorityRules, device: Placed, entry: Device, cable: str) -> Attached:
    """Return what a device asks of a switch port.

    rules: in which order power is kept.
    device, entry: the device and its entry of the library.
    cable: identity of its cable, empty in a rack.
    """
    powered = entry.poe is not None and entry.powered_by == "PoE"
    return Attached(
        tag=device.tag,
        cable=cable,
        poe_class=entry.poe.device_class if powered and entry.poe else None,
        priority=rules.of(device.kind),
    )


def port_named(switch_port: str) -> tuple[str, str] | None:
    """Return the switch and the number of a port such as ER1-SW1/4; None where it cannot be one.

    switch_port: as a cable schedule names it.
    """
    switch, _, number = switch_port.rpartition("/")
    plain = number.isascii() and number.isdecimal() and len(number) < 6
    return (switch, str(int(number))) if switch and plain else None
