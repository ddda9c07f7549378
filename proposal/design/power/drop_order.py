"""In which order ports of a switch lose power, and which do when the budget is short or a supply fails."""

from collections.abc import Mapping

from proposal.design.network.port_demand import SwitchPorts
from proposal.design.power.port_power import PoweredPort
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import Switch
from proposal.model.equipment.entry import Device


def drop_order(ports: Mapping[int, PoweredPort], levels: int) -> tuple[PoweredPort, ...]:
    """Return the powered ports in the order in which they lose power.

    ports: by number.
    levels: of priority that the switch tells apart; lower priorities fall together into the last of them.
    Those of the lowest priority go first, among them the highest port number.
    """
    powered = (port for port in ports.values() if port.attached.port_class is not None)
    return tuple(sorted(powered, key=lambda one: (-level_of(one.attached.priority, levels), -one.port)))


def level_of(priority: int, levels: int) -> int:
    """Return the level at which a switch keeps a priority, 1 first.

    priority: wanted, 1 first.
    levels: that the switch tells apart.
    """
    return min(priority, levels)


def dropped(left_w: float, ports: Mapping[int, PoweredPort], levels: int) -> tuple[PoweredPort, ...]:
    """Return the ports that lose power until what is allocated to the rest keeps within what is left.

    left_w: power that is left for all ports, W.
    ports: by number.
    levels: of priority that the switch tells apart.
    """
    over_w = sum(port.attached.allocated_w for port in ports.values()) - left_w
    drops = []
    for port in drop_order(ports, levels):
        if over_w <= 1e-9:
            break
        drops.append(port)
        over_w -= port.attached.allocated_w
    return tuple(drops)


@dataclass(frozen=True, slots=True, kw_only=True)
class LostSupply:
    """What a switch still gives when one of its mains supplies fails.

    supplies: how many it has.
    left_w: power for all ports then, W; None where it has several and its maker does not say.
    drops: ports that lose power then, in that order; of a maker who does not say, all.
    """

    supplies: int
    left_w: float | None
    drops: tuple[PoweredPort, ...]


def lost_supply(
    switch: SwitchPorts, ports: Mapping[int, PoweredPort], entry: Device | None
) -> LostSupply | None:
    """Return what remains with one supply lost; None where nothing is powered or nobody says what feeds it.

    ports: of the switch, by number.
    entry: of the library, None for the owner's switch.
    """
    order = drop_order(ports, switch.priorities)
    if entry is None or not order or (entry.mains is None and entry.poe is None):
        return None
    supplies = entry.mains.supplies if entry.mains else 1
    stated = entry.budget_with_one_supply_lost if isinstance(entry, Switch) else None
    if supplies == 1:
        return LostSupply(supplies=1, left_w=0.0, drops=order)
    left_w = None if stated is None else min(stated, switch.budget_w)
    drops = dropped(left_w or 0.0, ports, switch.priorities)
    return LostSupply(supplies=supplies, left_w=left_w, drops=drops)
