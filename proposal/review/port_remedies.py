"""What gives devices without a switch port one, counted: ports, class and power of what is lacking."""

from itertools import count

from proposal.design.design import Design
from proposal.design.equipment.built_in_switch import carries_audio
from proposal.design.network.port_demand import Attached, attached
from proposal.design.network.switch_costs import switch_cost
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
            f"{_powered(project, design, others, 'more of its budget')}, "
            f"{_switch_of_ours(project, design, closet, others)}, or let the network of a room stand alone "
            "(`network: alone`)"
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


def _switch_of_ours(
    project: Project, design: Design, closet: EquipmentRoomSwitches, others: list[str]
) -> str:
    """Return how a switch of ours is set beside those of the owner, which nobody adds by itself."""
    asking = [_asking(project, design, tag) for tag in others]
    powered = [one for one in asking if one.port_class is not None]
    network = project.brief.rules.network
    ports = ports_wanted(len(others), network.spare_ports)
    budget_w = budget_needed_w(sum(one.allocated_w for one in powered), project.brief.rules.power.headroom)
    least = max((one.port_class or 0 for one in powered), default=0)
    fitting = [
        one
        for one in project.library.switches.values()
        if carries_audio(one)
        and one.access_ports >= ports
        and (not powered or (one.poe_ports >= len(powered) and one.poe_class >= least))
        and (not powered or one.budget >= budget_w)
    ]
    if not fitting:
        return "fix a switch of ours under devices of fixed.yaml"
    model = min(fitting, key=lambda one: (switch_cost(project, one), one.access_ports, one.model)).model
    taken = {one.device.tag for one in closet.switches}
    number = next(n for n in count(1) if f"{closet.equipment_room}-SW{n}" not in taken)
    return (
        "add a switch of ours (none is added by itself beside one of the owner's) in fixed.yaml, such as "
        f"`devices: {{{closet.equipment_room}-SW{number}: {{model: {model}}}}}`"
    )


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
