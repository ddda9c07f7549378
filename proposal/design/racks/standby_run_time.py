"""How long a standby supply carries a load: the maker's table or Peukert's law, an old battery, the cold."""

from collections.abc import Sequence
from itertools import pairwise

from proposal.model.equipment.standby_supplies import BatteryPacks, RunTime, StandbySupply
from proposal.model.project import Project
from proposal.standards import standby
from proposal.standards.sources import EDITABLE_DEFAULT
from proposal.standards.working import Limit, Working, working

_LEAST_LOAD_W = 1.0
"""No law of batteries holds for a supply that feeds nothing."""
COLD_USE = "building.lowest_room_temperature"
HEAT_USES = ("building.room_temperature", "project.rules.racks.air_rise")
LOAD_USE = "project.rules.racks.standby_load"


def run_times_with(supply: StandbySupply, packs: int) -> tuple[RunTime, ...]:
    """Return the maker's table of a supply with so many battery packs, empty where there is none."""
    if not packs:
        return supply.run_times
    return next(one.run_times for one in supply.packs if one.count == packs)


def sizes_of(supply: StandbySupply) -> tuple[int, ...]:
    """Return the numbers of battery packs that a supply may have, none first."""
    sets: Sequence[BatteryPacks] = supply.packs
    return (0, *(one.count for one in sets))


def run_time_workings(
    project: Project, supply: StandbySupply, packs: int, load_w: float, asked_s: float | None
) -> tuple[Working, ...]:
    """Return how long a supply carries a load, in steps; the last is what counts, in minutes.

    packs: battery packs beside it.  load_w: load on its outlets, W.
    asked_s: how long it is to last, s; None where nothing is asked of this load.
    Between two loads of the maker's table the time follows a power of the load. Below the least load of the
    table it is that of the least load. Beyond its greatest there is no time: nothing follows.
    """
    new = _new(supply, packs, load_w)
    new_min = new_run_time_min(supply, packs, load_w)
    if new_min is None:
        return ()
    battery = supply.battery
    cold = working(
        standby.share_in_cold,
        uses=(COLD_USE,),
        temperature_c=project.building.lowest_room_temperature,
        rated_c=battery.rated_temperature,
        loss_per_k=battery.cold_loss,
    )
    kept = working(
        standby.aged_run_time_min,
        limit=None if asked_s is None else Limit(asked_s / 60, "≥", EDITABLE_DEFAULT),
        uses=(COLD_USE,),
        new_min=new_min,
        aged_share=battery.aged_share,
        cold_share=cold.result,
        exponent=battery.peukert,
    )
    return (*(one for one in new if isinstance(one, Working)), cold, kept)


def new_run_time_min(supply: StandbySupply, packs: int, load_w: float) -> float | None:
    """Return how long a supply with a new battery carries a load, min; None beyond its maker's table.

    packs: battery packs beside it.  load_w: load on its outlets, W.
    """
    new = _new(supply, packs, load_w)
    if not new:
        return None
    return new[-1] if isinstance(new[-1], float) else new[-1].result


def _new(supply: StandbySupply, packs: int, load_w: float) -> tuple[Working | float, ...]:
    """Return the run time with a new battery, min: as a working, or a time of the table as it stands."""
    table = run_times_with(supply, packs)
    if not table:
        return _after_peukert(supply, packs, max(load_w, _LEAST_LOAD_W))
    if load_w > table[-1].load:
        return ()
    if load_w <= table[0].load:
        return (table[0].time / 60,)
    lower, upper = next((one, other) for one, other in pairwise(table) if load_w <= other.load)
    return (
        working(
            standby.run_time_between_min,
            load_w=load_w,
            lower_w=lower.load,
            lower_min=lower.time / 60,
            upper_w=upper.load,
            upper_min=upper.time / 60,
        ),
    )


def _after_peukert(supply: StandbySupply, packs: int, load_w: float) -> tuple[Working, ...]:
    battery = supply.battery
    current = working(
        standby.battery_current_a,
        load_w=load_w,
        efficiency=supply.inverter_efficiency,
        voltage_v=battery.blocks * battery.block_voltage,
    )
    return (
        current,
        working(
            standby.peukert_run_time_min,
            rated_h=battery.rated_hours / 3600,
            capacity_ah=battery.capacity * (1 + packs),
            current_a=current.result,
            exponent=battery.peukert,
        ),
    )


def life_working(project: Project, room: str, supply: StandbySupply) -> Working:
    """Return after how many years the battery of a supply in a rack is replaced.

    room: tag of the equipment room.
    """
    place = project.building.equipment_rooms[room]
    room_c = project.building.room_temperature if place.temperature is None else place.temperature
    return working(
        standby.battery_life_years,
        uses=HEAT_USES,
        life_years=supply.battery.life_years,
        temperature_c=room_c + project.brief.rules.racks.air_rise,
        rated_c=supply.battery.rated_temperature,
    )
