"""PoE sources for one port: which fits a class, what it costs, and how many a switch of a room wants.

Which devices they feed and where they stand is found in `design/network/injectors.py`.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from decimal import Decimal
from itertools import product

from proposal.design.equipment.hours_costs import hours_cost
from proposal.design.equipment.unit_costs import unit_cost
from proposal.model.equipment.devices import NetworkPart
from proposal.model.project import Project
from proposal.quantities.currencies import smallest_unit
from proposal.quantities.rounding import rounded
from proposal.standards import ieee8023
from proposal.standards.rack_units import OPENING_M

KIND = "network_part"
LEAST_SPEED_BIT_S = 1e9


def injector_for(project: Project, poe_class: int) -> NetworkPart | None:
    """Return the PoE source that costs least of those that feed a class; None where the library has none.

    poe_class: class that a device asks for, 0 to 8.
    """
    voltage, frequency = project.brief.mains_voltage, project.brief.mains_frequency
    asked_w = ieee8023.CLASSES[poe_class].source_power_w
    fitting = [
        (injector_cost(project, one), code)
        for code, one in project.library.network_parts.items()
        if one.role == "PoE source"
        and one.poe_type is not None
        and one.poe_class >= poe_class
        and ieee8023.CLASSES[one.poe_class].source_power_w >= asked_w
        and one.speed >= LEAST_SPEED_BIT_S
        and one.mains is not None
        and one.mains.lowest_voltage <= voltage <= one.mains.highest_voltage
        and frequency in one.mains.frequencies
    ]
    return project.library.network_parts[min(fitting)[1]] if fitting else None


def injector_cost(project: Project, entry: NetworkPart) -> Decimal:
    """Return what a PoE source costs: itself, our hours, cords to mains and switch, its share of a shelf.

    entry: of the library.
    """
    parts = project.library.rack_parts.values()
    inlet = entry.mains.inlet if entry.mains else ""
    mains = [unit_cost(project, one) for one in parts if one.role == "mains cord" and one.inlet_form == inlet]
    cords = [
        unit_cost(project, one)
        for one in project.library.patch_cords.values()
        if one.medium == "copper" and one.length >= project.brief.rules.cabling.equipment_cord - 1e-9
    ]
    shelves = [unit_cost(project, one) / on_a_shelf(entry) for one in parts if one.role == "shelf"]
    whole = unit_cost(project, entry) + hours_cost(project, KIND, entry.labour_task)
    whole += sum((min(costs, default=Decimal(0)) for costs in (mains, cords, shelves)), Decimal(0))
    return rounded(whole, smallest_unit(project.brief.currency))


def on_a_shelf(entry: NetworkPart) -> int:
    """Return how many of a PoE source stand side by side on a shelf."""
    return max(1, int(OPENING_M / entry.width + 1e-9))


def sources_wanted(
    project: Project, powered_ports: int, highest_class: int, usable_w: float, classes: Sequence[int]
) -> Mapping[int, int] | None:
    """Return for how many devices of each class a switch wants PoE sources beside it, at least cost.

    powered_ports, highest_class, usable_w: ports of the switch that feed power, their class, their power, W.
    classes: what its devices ask for.
    None where no source of the library helps; of equal cost the fewest sources, of the highest classes.
    """

    def suffices(left: Mapping[int, int]) -> bool:
        return (
            all(one <= highest_class for one, count in left.items() if count)
            and sum(left.values()) <= powered_ports
            and sum(ieee8023.CLASSES[one].source_power_w * count for one, count in left.items())
            <= usable_w + 1e-9
        )

    counts = Counter(classes)
    if suffices(counts):
        return {}
    numbers = sorted(counts)
    entries = {one: injector_for(project, one) for one in numbers}
    costs = {one: injector_cost(project, entry) for one, entry in entries.items() if entry}
    ways = []
    for fed in product(*(range(counts[one] + 1 if one in costs else 1) for one in numbers)):
        given = dict(zip(numbers, fed, strict=True))
        if suffices({one: counts[one] - given[one] for one in numbers}):
            cost = sum((costs[one] * count for one, count in given.items() if count), Decimal(0))
            ways.append((cost, sum(fed), fed))
    return dict(zip(numbers, min(ways)[2], strict=True)) if ways else None


def sources_cost(project: Project, counts: Mapping[int, int]) -> Decimal:
    """Return what PoE sources cost together.

    counts: how many devices of each class they feed.
    """
    found = ((injector_for(project, one), count) for one, count in counts.items())
    return sum((injector_cost(project, entry) * count for entry, count in found if entry), Decimal(0))
