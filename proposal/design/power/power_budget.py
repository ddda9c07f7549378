"""The power budget of each switch: what is allocated and drawn, and what drops first."""

import math
from collections import Counter
from collections.abc import Mapping

from proposal.design.network.port_demand import SwitchPorts
from proposal.design.power.drop_order import LostSupply, drop_order, dropped, lost_supply
from proposal.design.power.port_power import SWITCH_USES, PoweredPort
from proposal.field_classes import dataclass
from proposal.model.equipment.entry import Device
from proposal.standards import ieee8023
from proposal.standards.reserve import usable_power_w
from proposal.standards.substitution import number_text
from proposal.standards.working import Value, Working, Written, once_each, working


@dataclass(frozen=True, slots=True, kw_only=True)
class SwitchPower:
    """The sums of one switch.

    allocated_w, drawn_w: sums over its ports, W.
    order: powered ports in the order in which they would lose power, the first first.
    drops: those that do, because the budget is short.
    lost_supply: what remains with one mains supply lost; None where nobody says what feeds it.
    checks: workings; none where nothing is powered.
    """

    switch: SwitchPorts
    allocated_w: float
    drawn_w: float
    order: tuple[PoweredPort, ...]
    drops: tuple[PoweredPort, ...]
    lost_supply: LostSupply | None
    checks: tuple[Working, ...]

    @property
    def worst(self) -> PoweredPort | None:
        """Return the port whose device has the least voltage to spare, one that carries nothing first."""
        return min(
            self.order,
            key=lambda port: (-math.inf if port.spare_v is None else port.spare_v, port.port),
            default=None,
        )

    @property
    def holds(self) -> bool:
        """Return whether what is allocated keeps within the budget less headroom."""
        return all(check.verdict != "fails" for check in self.checks)


def switch_power(switch: SwitchPorts, ports: Mapping[int, PoweredPort], entry: Device | None) -> SwitchPower:
    """Return the sums of one switch.

    ports: its ports by number.
    entry: of the library, or what the owner says of it; None where nothing is known.
    """
    powered = {number: port for number, port in sorted(ports.items()) if port.attached.port_class is not None}
    return SwitchPower(
        switch=switch,
        allocated_w=sum(port.attached.allocated_w for port in powered.values()),
        drawn_w=sum(port.drawn_w for port in powered.values()),
        order=drop_order(powered, switch.priorities),
        drops=dropped(switch.budget_w, powered, switch.priorities),
        lost_supply=lost_supply(switch, powered, entry),
        checks=_workings(switch, powered) if powered else (),
    )


def _workings(switch: SwitchPorts, ports: Mapping[int, PoweredPort]) -> tuple[Working, ...]:
    """Return the usable power, what is allocated by class and what is drawn."""
    shares = tuple(dict.fromkeys((switch.headroom_use, *(SWITCH_USES if switch.headroom else ()))))
    if switch.offered:
        place = f"building.owner_equipment.{switch.device.room}.{switch.device.code}.switch"
        shares = (f"{place}.budget", f"{place}.poe_class", *shares)
    usable = working(usable_power_w, uses=shares, budget_w=switch.budget_w, headroom=switch.headroom)
    # A class of 0 is allocated like class 3.
    counts = sorted(Counter(port.attached.allocated_w for port in ports.values()).items())
    values = []
    for number, (watts, count) in enumerate(counts, 1):
        values.append(Value(f"n_{number}", "ports of one class", float(count), "-"))
        values.append(Value(f"P_{number}", "power allocated to one of them", watts, "W"))
    allocated = Working(
        title="Power allocated by class",
        equation="A = sum(n_i·P_i)",
        numbers=Written(
            "A = " + " + ".join(f"{count}·{number_text(watts)}" for watts, count in counts), tuple(values)
        ),
        result=sum(watts * count for watts, count in counts),
        unit="W",
        limit=switch.usable_w,
        comparison="≤",
        source=ieee8023.IEEE_802_3,
        uses=shares,
    )
    drawn = Working(
        title="Power drawn at the ports, cables included",
        equation="D = sum(S_i)",
        numbers=Written(
            "D = " + " + ".join(number_text(port.drawn_w) for port in ports.values()),
            tuple(
                Value(f"S_{number}", f"power from port {number} for {port.attached.tag}", port.drawn_w, "W")
                for number, port in ports.items()
            ),
        ),
        result=sum(port.drawn_w for port in ports.values()),
        unit="W",
        limit=switch.budget_w,
        comparison="≤",
        source=ieee8023.IEEE_802_3,
        uses=once_each(one.uses for port in ports.values() for one in port.checks),
    )
    return (usable, allocated, drawn)
