"""What one more switch costs: itself, our hours on it, its mains cord, and what joins it to the next one."""

from decimal import Decimal

from proposal.design.equipment.hours_costs import hours_cost
from proposal.design.equipment.unit_costs import unit_cost
from proposal.model.equipment.devices import Switch
from proposal.model.project import Project
from proposal.quantities.currencies import smallest_unit
from proposal.quantities.rounding import rounded

FIBRES_OF = {"multimode": ("OM3", "OM4"), "single mode": ("OS2",)}
"""Sorts of fibre that a module takes."""


def switch_cost(project: Project, switch: Switch) -> Decimal:
    """Return what one more switch costs, an amount of the project's currency.

    switch: its entry of the library.
    Two small switches that cost less than a large one may cost more in place.
    """
    whole = unit_cost(project, switch) + hours_cost(project, switch.kind, switch.labour_task)
    whole += _mains_cord_cost(project, switch) + _join_cost(project, switch)
    return rounded(whole, smallest_unit(project.brief.currency))


def _mains_cord_cost(project: Project, switch: Switch) -> Decimal:
    """Return what the cords to its inlets cost."""
    if switch.mains is None:
        return Decimal(0)
    costs = (
        unit_cost(project, part)
        for part in project.library.rack_parts.values()
        if part.role == "mains cord" and part.inlet_form == switch.mains.inlet
    )
    return switch.mains.supplies * min(costs, default=Decimal(0))


def _join_cost(project: Project, switch: Switch) -> Decimal:
    """Return what a join inside a rack costs: a cord, and two modules where it is by fibre."""
    cords = [
        one
        for one in project.library.patch_cords.values()
        if one.length >= project.brief.rules.cabling.equipment_cord - 1e-9
    ]
    ways = []
    if switch.uplinks and switch.uplink_form != "fibre module":
        ways += [unit_cost(project, one) for one in cords if one.medium == "copper"]
    if switch.uplinks and switch.uplink_form != "8P8C jack":
        ways += [
            2 * unit_cost(project, module) + unit_cost(project, one)
            for module in project.library.network_parts.values()
            if module.role == "fibre module" and module.speed <= switch.uplink_speed
            for one in cords
            if one.medium == "fibre" and one.fibre in FIBRES_OF.get(module.fibre, ())
        ]
    return min(ways, default=Decimal(0))
