"""What all devices of an equipment room ask of its switches together, in numbers that can be covered."""

import math
from collections.abc import Sequence

from proposal.design.network.port_demand import Attached
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import Switch
from proposal.standards.reserve import budget_needed_w, usable_power_w

MILLI = 1000
"""Power is counted in thousandths of a watt, as whole numbers are compared."""


@dataclass(frozen=True, slots=True)
class SwitchNeeds:
    """What devices ask of switches, in whole numbers that are held against what switches give.

    classes: classes asked for; watts: power allocated to one device, each once.
    of_class, of_watts: how many devices ask for at least each.
    total_w: power allocated to all.
    """

    classes: tuple[int, ...]
    watts: tuple[float, ...]
    of_class: tuple[int, ...]
    of_watts: tuple[int, ...]
    total_w: float

    @classmethod
    def of(cls, wanting: Sequence[Attached]) -> "SwitchNeeds":
        """Return what devices ask for."""
        powered = [device.port_class for device in wanting if device.port_class is not None]
        shares = [device.allocated_w for device in wanting if device.port_class is not None]
        classes, watts = tuple(sorted(set(powered))), tuple(sorted(set(shares)))
        return cls(
            classes=classes,
            watts=watts,
            of_class=tuple(sum(one >= least for one in powered) for least in classes),
            of_watts=tuple(sum(one >= least for one in shares) for least in watts),
            total_w=sum(shares),
        )

    def needs(self, ports: int, headroom: float) -> tuple[int, ...]:
        """Return ports, thousandths of watts, and how many ports of each class and of each power.

        ports: access ports wanted.
        headroom: share of the power that stays free, 0 to 1.
        """
        milliwatts = math.ceil(round(MILLI * budget_needed_w(self.total_w, headroom), 4))
        return (ports, milliwatts, *self.of_class, *self.of_watts)

    def given_by(self, switch: Switch, headroom: float) -> tuple[int, ...]:
        """Return what a switch gives of each need; power that is left over on it feeds nobody.

        headroom: share of the power that stays free, 0 to 1.
        """
        usable_w = usable_power_w(switch.budget, headroom)
        by_class = (switch.poe_ports if switch.poe_class >= least else 0 for least in self.classes)
        by_watts = (min(switch.poe_ports, math.floor(usable_w / least + 1e-9)) for least in self.watts)
        return (switch.access_ports, math.floor(MILLI * switch.budget + 1e-6), *by_class, *by_watts)
