"""The power strips of a rack, which outlet feeds which inlet, and the least-cost cord between two sorts."""

import math
from collections.abc import Sequence
from decimal import Decimal

from proposal.design.equipment.unit_costs import cost_of_one
from proposal.design.numbers.numbering import natural
from proposal.design.racks.rack_items import Item, part_item, parts_of
from proposal.design.solving.objective import Option, cover
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import RackPart
from proposal.model.project import Project


@dataclass(frozen=True, slots=True, kw_only=True)
class Plugged:
    """One inlet and the outlet that feeds it.

    device: name of what takes power.  strip, outlet: code of the strip, and which outlet of it.
    cord: model code of the mains cord, empty where the library has none that fits and reaches.
    way_m: how long it has to be, m.
    """

    device: str
    strip: str
    outlet: int
    cord: str = ""
    way_m: float = 0.0


@dataclass(frozen=True, slots=True)
class Strips:
    """The power strips of a rack, and what is plugged into them; `lacking` where the library has none."""

    items: tuple[Item, ...] = ()
    plugged: tuple[Plugged, ...] = ()
    lacking: bool = False


def strips_for(project: Project, items: Sequence[Item]) -> Strips:
    """Return the least-cost strips for all inlets: an outlet each, no strip loaded beyond its share.

    items: everything in the rack.
    The inlets of one device are spread over several strips as far as there are any.
    """
    fed = [item for item in items if item.inlets]
    if not fed:
        return Strips()
    voltage, frequency = project.brief.mains_voltage, project.brief.mains_frequency
    suiting = [part for part in parts_of(project, "power strip") if _suits(part, voltage, frequency)]
    share = project.brief.rules.racks.strip_load
    options = tuple(
        Option(
            part.model,
            cost_of_one(project, part),
            (part.outlets, math.floor(share * (part.rated_current or 0.0) * voltage)),
        )
        for part in suiting
    )
    outlets = sum(item.inlets for item in fed)
    load_va = math.ceil(sum(item.apparent_va for item in fed))
    most_va = max((option.gives[1] for option in options), default=0)
    if max(item.apparent_va / item.inlets for item in fed) > most_va:
        return Strips(lacking=True)
    by_model = {part.model: part for part in suiting}
    while True:
        chosen = cover(options, (outlets, load_va))
        if chosen is None:
            return Strips(lacking=True)
        strips = [by_model[code] for code, count in chosen for _ in range(count)]
        plugged = _plugged(fed, strips, share * voltage)
        if plugged is not None:
            named = tuple(part_item(part, f"PS{number}") for number, part in enumerate(strips, 1))
            return Strips(named, plugged)
        # The outlets and the current suffice in sum, but not strip by strip.
        outlets = sum(part.outlets for part in strips) + 1


def _suits(part: RackPart, voltage: float, frequency: float) -> bool:
    mains = part.mains
    return (
        mains is not None
        and part.rated_current is not None
        and part.outlets > 0
        and mains.lowest_voltage <= voltage <= mains.highest_voltage
        and frequency in mains.frequencies
    )


def _plugged(fed: Sequence[Item], strips: Sequence[RackPart], volts: float) -> tuple[Plugged, ...] | None:
    """Return the outlet of each inlet, the largest loads first, each on the strip with most to spare.

    volts: share that may be taken times voltage, so that amperes become what a strip may carry, VA.
    Returns None where a load finds no strip with an outlet and current to spare.
    """
    left_va = [(part.rated_current or 0.0) * volts for part in strips]
    used = [0] * len(strips)
    found = []
    for item in sorted(fed, key=lambda one: (-one.apparent_va / one.inlets, natural(one.name))):
        each_va = item.apparent_va / item.inlets
        taken: set[int] = set()
        for _ in range(item.inlets):
            free = [
                n for n, part in enumerate(strips) if used[n] < part.outlets and each_va <= left_va[n] + 1e-9
            ]
            if not free:
                return None
            n = min(free, key=lambda one: (one in taken, -left_va[one], one))
            taken.add(n)
            used[n] += 1
            left_va[n] -= each_va
            found.append(Plugged(device=item.name, strip=f"PS{n + 1}", outlet=used[n]))
    return tuple(sorted(found, key=lambda one: (natural(one.device), natural(one.strip), one.outlet)))


def mains_cord(project: Project, inlet: str, outlet: str, least_m: float = 0.0) -> str:
    """Return the model code of the least-cost mains cord between two sorts, empty where there is none.

    inlet: sort of inlet that it leads to.  outlet: sort of outlet that it goes into.
    least_m: how long it is at least, m.
    """
    joining = [
        part
        for part in project.library.rack_parts.values()
        if (part.inlet_form, part.outlet_form, part.role) == (inlet, outlet, "mains cord")
    ]
    fitting = ((cost_of_one(project, part), part.model) for part in joining if part.length >= least_m)
    return min(fitting, default=(Decimal(0), ""))[1]
