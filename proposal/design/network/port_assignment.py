"""Which device is patched to which port of the switches that stand in an equipment room."""

import math
from collections.abc import Mapping, Sequence

from proposal.design.equipment.placed_devices import Placed
from proposal.design.network.port_demand import Attached, SwitchPorts, port_named
from proposal.design.numbers.numbering import PORT, assign_ports, issued_of, natural
from proposal.field_classes import dataclass
from proposal.model.project import Project
from proposal.standards.reserve import usable_power_w


@dataclass(frozen=True, slots=True, kw_only=True)
class OfferedSwitch:
    """A switch that stands in an equipment room, ours or the owner's.

    device: where it stands.
    poe_ports, poe_class, poe_type, budget_w: ports that feed power, their class and Type, power for all, W.
    numbers: its ports for devices.
    spare_ports: share of them to be left free.
    priorities: levels of power priority that it tells apart.
    owned: whether it is the owner's.
    """

    device: Placed
    poe_ports: int
    poe_class: int
    poe_type: int
    budget_w: float
    numbers: tuple[int, ...]
    spare_ports: float
    priorities: int = 1
    owned: bool = False


@dataclass(slots=True)
class _Free:
    """What is still free on a switch while devices are patched, and what is to stay spare."""

    ports: int
    poe_ports: int
    power_w: float
    spare: int


def patched_ports(
    project: Project, switches: Sequence[OfferedSwitch], wanting: Sequence[Attached]
) -> tuple[tuple[SwitchPorts, ...], tuple[str, ...]]:
    """Return who is patched to which port, and who is left without one.

    Devices stay on the switch of issued revisions wherever that leaves no more devices without a port. Where
    it does, those that take most power are given up first, twice as many each time.
    """
    here = {one.device.tag for one in switches}
    ports = issued_of(project.issued, PORT)
    stays = {}
    for device in wanting:
        one = ports.get(f"{PORT}/{device.tag}")
        if one is not None and not one.retired and (switch := one.number.rpartition("/")[0]) in here:
            stays[device.tag] = switch
    found = _patched(project, switches, wanting, stays)
    if not found[1] or not stays:
        return found
    anew = _patched(project, switches, wanting, {})
    power_w = {device.tag: device.allocated_w for device in wanting}
    order = sorted(stays, key=lambda tag: (-power_w[tag], natural(tag)))
    released = 0
    while len(found[1]) > len(anew[1]) and released < len(order):
        released = max(1, 2 * released)
        found = _patched(project, switches, wanting, {tag: stays[tag] for tag in order[released:]})
    return found if len(found[1]) <= len(anew[1]) else anew


def _patched(
    project: Project,
    switches: Sequence[OfferedSwitch],
    wanting: Sequence[Attached],
    stays: Mapping[str, str],
) -> tuple[tuple[SwitchPorts, ...], tuple[str, ...]]:
    """Return who is patched to which port, and who is left without one.

    stays: switch of those who stay on one if they can, by tag.
    """
    rules = project.brief.rules
    free = {
        one.device.tag: _Free(
            ports=len(one.numbers),
            poe_ports=one.poe_ports,
            power_w=usable_power_w(one.budget_w, rules.power.headroom),
            spare=math.ceil(round(len(one.numbers) * one.spare_ports, 6)),
        )
        for one in switches
    }
    classes = {one.device.tag: one.poe_class for one in switches}
    members: dict[str, list[Attached]] = {tag: [] for tag in free}
    wishes = {device.tag: wished_port(project, device.tag) for device in wanting}
    order = sorted(
        wanting,
        key=lambda device: (
            not wishes[device.tag],
            device.tag not in stays,
            -device.allocated_w,
            natural(device.tag),
        ),
    )
    left = []
    for device in order:
        wish = wishes[device.tag]
        asks = [(tag, free[tag].spare) for tag in free] + [(tag, 0) for tag in free]
        if device.tag in stays:
            asks.insert(0, (stays[device.tag], 0))
        if wish:
            asks = [(tag, 0) for tag in free if tag == wish[0]]
        for tag, spare in asks:
            one = free[tag]
            suffices = device.port_class is None or (
                one.poe_ports > 0
                and device.port_class <= classes[tag]
                and device.allocated_w <= one.power_w + 1e-9
            )
            if one.ports > spare and (suffices or wish):
                members[tag].append(device)
                one.ports -= 1
                if device.port_class is not None:
                    one.poe_ports -= 1
                    one.power_w -= device.allocated_w
                break
        else:
            left.append(device.tag)
    patched = tuple(
        SwitchPorts(
            device=one.device,
            access_ports=len(one.numbers),
            poe_class=one.poe_class,
            poe_type=one.poe_type,
            budget_w=one.budget_w,
            headroom=rules.power.headroom,
            spare_ports=one.spare_ports,
            ports=_ports(project, one, members[one.device.tag]),
            offered=one.numbers if one.owned else (),
            priorities=one.priorities,
        )
        for one in switches
    )
    return patched, tuple(left)


def wished_port(project: Project, tag: str) -> tuple[str, str] | None:
    """Return the switch and port that the designer fixed for a device, None where the choice is free.

    tag: of the device.
    """
    fixed = project.fixed.devices.get(tag)
    if not fixed or not fixed.switch_port:
        return None
    return port_named(fixed.switch_port) or ("", "")


def _ports(project: Project, switch: OfferedSwitch, members: Sequence[Attached]) -> dict[int, Attached]:
    """Return the attached devices by port number: powered ones on the lowest ports, by tag."""
    by_tag = {device.tag: device for device in members}
    wishes = {tag: wished_port(project, tag) for tag in by_tag}
    fixed = {tag: wish[1] for tag, wish in wishes.items() if wish}
    order = sorted(by_tag, key=lambda tag: (by_tag[tag].port_class is None, natural(tag)))
    numbers = assign_ports(switch.device.tag, order, fixed, project.issued, switch.numbers)
    return {number: by_tag[tag] for tag, number in sorted(numbers.items(), key=lambda item: item[1])}
