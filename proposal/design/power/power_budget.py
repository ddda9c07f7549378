"""The power budget of each switch: what is set aside and drawn, and what drops first."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from proposal.design.network.port_demand import SwitchPorts
from proposal.design.power.port_power import PoweredPort
from proposal.standards import ieee8023
from proposal.standards.reserve import usable_power_w
from proposal.standards.substitution import number_text
from proposal.standards.working import Value, Working, working


@dataclass(frozen=True, slots=True, kw_only=True)
class SwitchPower:
    """The sums of one switch.

    allocated_w, drawn_w: sums over its ports, W.
    drops_first: devices that lose power first where the budget is short, by priority.
    checks: workings; none where nothing is powered.
    """

    switch: SwitchPorts
    allocated_w: float
    drawn_w: float
    drops_first: tuple[str, ...]
    checks: tuple[Working, ...]

    @property
    def holds(self) -> bool:
        """Return whether what is set aside keeps within the budget less headroom."""
        return all(check.verdict != "fails" for check in self.checks)


def switch_power(switch: SwitchPorts, ports: Mapping[int, PoweredPort]) -> SwitchPower:
    """Return the sums of one switch.

    ports: its ports by number.
    """
    powered = {number: port for number, port in sorted(ports.items()) if port.attached.poe_class is not None}
    return SwitchPower(
        switch=switch,
        allocated_w=sum(port.attached.allocated_w for port in powered.values()),
        drawn_w=sum(port.drawn_w for port in powered.values()),
        drops_first=drops_first(switch.budget_w, powered),
        checks=_workings(switch, powered) if powered else (),
    )


def drops_first(budget_w: float, ports: Mapping[int, PoweredPort]) -> tuple[str, ...]:
    """Return the tags of the devices that lose power until the rest keeps within the budget.

    budget_w: power of the switch, W.
    ports: powered ports by number.
    Those of the lowest priority go first, among them the highest port number.
    """
    over_w = sum(port.attached.allocated_w for port in ports.values()) - budget_w
    drops = []
    for port in sorted(ports.values(), key=lambda one: (-one.attached.priority, -one.port)):
        if over_w <= 1e-9:
            break
        drops.append(port.attached.tag)
        over_w -= port.attached.allocated_w
    return tuple(drops)


def _workings(switch: SwitchPorts, ports: Mapping[int, PoweredPort]) -> tuple[Working, ...]:
    """Return the usable power, what is set aside by class and what is drawn."""
    shares = (switch.headroom_use,)
    usable = working(usable_power_w, uses=shares, budget_w=switch.budget_w, headroom=switch.headroom)
    # A class of 0 is set aside like class 3.
    counts = sorted(Counter(port.attached.allocated_w for port in ports.values()).items())
    values = []
    for number, (watts, count) in enumerate(counts, 1):
        values.append(Value(f"n_{number}", "ports of one class", float(count), "-"))
        values.append(Value(f"P_{number}", "power set aside for one of them", watts, "W"))
    set_aside = Working(
        title="Power set aside by class",
        equation="A = sum(n_i·P_i)",
        substituted="A = " + " + ".join(f"{count}·{number_text(watts)}" for watts, count in counts),
        result=sum(watts * count for watts, count in counts),
        unit="W",
        limit=switch.usable_w,
        comparison="≤",
        source=ieee8023.IEEE_802_3,
        values=tuple(values),
        uses=shares,
    )
    drawn = Working(
        title="Power drawn at the ports, cables included",
        equation="D = sum(S_i)",
        substituted="D = " + " + ".join(number_text(port.drawn_w) for port in ports.values()),
        result=sum(port.drawn_w for port in ports.values()),
        unit="W",
        limit=switch.budget_w,
        comparison="≤",
        source=ieee8023.IEEE_802_3,
        values=tuple(
            Value(f"S_{number}", f"power from port {number} for {port.attached.tag}", port.drawn_w, "W")
            for number, port in ports.items()
        ),
        uses=tuple(dict.fromkeys(use for port in ports.values() for one in port.checks for use in one.uses)),
    )
    return (usable, set_aside, drawn)
