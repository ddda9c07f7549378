"""What gives devices without a switch port one, counted: ports, class and power of what is lacking."""

from proposal.design.design import Design
from proposal.design.network.port_demand import Attached, attached
from proposal.design.network.switches_and_ports import EquipmentRoomSwitches
from proposal.model.project import Project
from proposal.quantities.formatting import count_of, listed
from proposal.standards.reserve import budget_needed_w, ports_wanted


def ports_for(project: Project, design: Design, closet: EquipmentRoomSwitches) -> str:
    """Return how those of an equipment room get a port that found none.

    closet: its switches, and who is left.
    """
    by_hand = [tag for tag in closet.left if _fixed_port(project, tag)]
    others = [tag for tag in closet.left if tag not in by_hand]
    ways = []
    if by_hand:
        ways.append(
            f"take the switch_port of {listed(by_hand)} out of fixed.yaml, so that a free one is chosen"
        )
    owned = [one.device.tag for one in closet.switches if one.offered]
    if others and owned:
        ways.append(
            f"ask the owner for {count_of(len(others), 'free port')} more on {listed(owned)}"
            f"{_powered(project, design, others, 'more of its budget')}, fix a switch of ours in fixed.yaml, "
            "or let the network of a room stand alone (`network: alone`)"
        )
    elif others:
        there = any(one.ports for one in closet.switches)
        tags = others if there else list(closet.wanting)
        ports = ports_wanted(len(tags), project.brief.rules.network.spare_ports)
        ways.append(
            f"add a managed gigabit switch with {count_of(ports, 'port')} or more for devices to the library"
            f"{_powered(project, design, tags, 'of budget')}"
        )
    words = "; ".join(ways)
    return f"{words[0].upper()}{words[1:]}."


def _fixed_port(project: Project, tag: str) -> str:
    fixed = project.fixed.devices.get(tag)
    return fixed.switch_port if fixed else ""


def _powered(project: Project, design: Design, tags: list[str], of_what: str) -> str:
    """Return what the ports of some devices have to give, as the end of a phrase; nothing without PoE."""
    asking = [one for tag in tags if (one := _asking(project, design, tag)).port_class is not None]
    if not asking:
        return ""
    least = max(one.port_class or 0 for one in asking)
    budget_w = budget_needed_w(sum(one.allocated_w for one in asking), project.brief.rules.power.headroom)
    powered = "each" if len(asking) == len(tags) else f"{len(asking)} of them"
    return f", {powered} of PoE class {least}, with {_up(budget_w)} W {of_what} for all"


def _asking(project: Project, design: Design, tag: str) -> Attached:
    device = next(one for one in design.devices if one.tag == tag)
    return attached(project.brief.rules.priorities, device, design.every_entry[tag], "")


def _up(watts: float) -> str:
    """Return a power rounded up to a tenth, so that as much as is printed is enough."""
    return f"{-(-watts * 10 // 1) / 10:g}"
