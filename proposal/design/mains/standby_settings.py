"""What a commissioner sets and tests at a standby supply."""

import math
from collections.abc import Iterator, Mapping, Sequence

from proposal.design.mains.mains_loads import standby_designs
from proposal.design.racks.rack_choice import RackDesign
from proposal.design.racks.standby_choice import StandbyDesign
from proposal.design.racks.standby_run_time import life_working, new_run_time_min
from proposal.model.project import Project

_RECHARGED = "90 %"
"""State of charge to which makers state their time."""


def standby_settings(
    project: Project, racks: Sequence[RackDesign]
) -> Mapping[str, tuple[tuple[str, str], ...]]:
    """Return name and value of each setting and test of standby supplies, in the order of the work, by tag.

    racks: in which they stand.
    """
    return {one.asked.tag: tuple(_of_supply(project, one)) for one in standby_designs(racks)}


def _of_supply(project: Project, one: StandbyDesign) -> Iterator[tuple[str, str]]:
    entry = one.entry
    if entry is None:
        return
    if one.plugged:
        yield "Outlets", ", ".join(f"{plugged.outlet}: {plugged.device}" for plugged in one.plugged)
    months = math.floor(life_working(project, one.asked.room, entry).result * 12 + 1e-6)
    yield "Date of the battery", f"written on the supply; replaced after {months} months"
    yield "Alarms", "on battery, battery low, battery to be replaced: to whoever watches the system"
    new_min = new_run_time_min(entry, one.packs, one.typical_w)
    if new_min is not None:
        yield (
            "Test without mains",
            f"mains off while people speak ({one.typical_w:.0f} W): everything on its outlets carries on; "
            f"{math.floor(new_min + 1e-6)} min are expected with the new battery, {one.asked.time_s / 60:g} "
            "min are asked for at the end of its life",
        )
    yield "Mains back", f"charged to {_RECHARGED} within {entry.recharge_time / 3600:g} h"
