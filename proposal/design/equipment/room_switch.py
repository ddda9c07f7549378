"""The small switch that stands in a room whose network is kept apart, where no breakout's own one serves."""

from collections.abc import Sequence

from proposal.design.equipment.built_in_switch import carries_audio
from proposal.design.equipment.device_capacity import Size, size_of
from proposal.design.equipment.poe_sources import sources_cost, sources_wanted
from proposal.design.equipment.room_network import further_ports
from proposal.design.equipment.unit_costs import cost_of_one
from proposal.model.equipment.devices import Switch
from proposal.model.equipment.entry import Device
from proposal.model.project import Project
from proposal.model.rooms import RoomType
from proposal.standards.reserve import ports_wanted, usable_power_w

STANDS = ("table", "under table", "wall")
"""Mountings of what can stand in a room without a rack."""


def room_switch(project: Project, layout: RoomType, sizes: Sequence[Size]) -> Size | None:
    """Return the least-cost switch that takes all networked devices of a room; None where there is none.

    layout: of the room.
    sizes: the room's boxes, which need a port each where they are on the network.
    Spare ports and headroom are kept as on switches in racks. PoE sources beside it feed what it does not.
    """
    rules = project.brief.rules
    entries = [project.library.entry(model) for size in sizes for model in size.models]
    plugged = [one for one in entries if isinstance(one, Device) and one.ports_carrying("network")]
    powered = [one.poe.device_class for one in plugged if one.poe and one.powered_by == "PoE"]
    need = len(plugged) + further_ports(layout)
    fitting = []
    for code, switch in project.library.switches.items():
        if not _stands(switch) or switch.access_ports < ports_wanted(need, rules.network.spare_ports):
            continue
        usable_w = usable_power_w(switch.budget, rules.power.headroom)
        sources = sources_wanted(project, switch.poe_ports, switch.poe_class, usable_w, powered)
        if sources is not None:
            cost = cost_of_one(project, switch) + sources_cost(project, sources)
            fitting.append((cost, 1 + sum(sources.values()), switch.access_ports, code))
    if not fitting:
        return None
    return size_of("switch", need, [(min(fitting)[3], 1)], project.library.of_kind("switch"), by_hand=False)


def _stands(switch: Switch) -> bool:
    """Return whether a switch can stand in a room and is fit for networked audio."""
    return carries_audio(switch) and any(place in switch.mounting for place in STANDS)
