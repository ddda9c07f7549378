"""The workings of the meeting day: run time, power of a slot, lowest state of charge, time to full."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from proposal.design.charging.meeting_day import Day
from proposal.design.charging.room_days import GroupDay, RoomDay
from proposal.design.rooms.room_kinds import RoomKind
from proposal.design.workings.calculation import Calculation
from proposal.standards.battery import charge_time_h, run_time_h, slot_power_w, state_of_charge
from proposal.standards.sources import COMMON_PRACTICE, EDITABLE_DEFAULT
from proposal.standards.working import Limit, Working, working

RULES = "project.rules.charging"


def meeting_day_workings(
    kinds: Sequence[RoomKind], days: Mapping[str, Sequence[RoomDay]]
) -> tuple[Calculation, ...]:
    """Return the workings of every kind of room's meeting days, under a chapter of their own.

    days: of each kind of room, by its key.
    """
    return tuple(
        Calculation(chapter="Meeting day", subject=kind.key, working=one)
        for kind in kinds
        if kind.key in days
        for one in charging_workings(days[kind.key], ".".join(kind.path))
    )


def charging_workings(days: Sequence[RoomDay], path: str) -> tuple[Working, ...]:
    """Return the workings of a kind of room's meeting days.

    days: the usual one first; what is the same on all of them is worked once, of the first.
    path: dotted path of the layout in the project, for the inputs a result uses.
    """
    spares = f"{path}.spare_microphones"
    return tuple(
        one
        for day in days
        for group in day.groups
        for part in (*((_of_pack,) if day is days[0] else ()), _of_day)
        for one in part(day, group, spares)
    )


def _of_pack(day: RoomDay, group: GroupDay, spares: str) -> Iterator[Working]:
    """Yield what does not depend on the kind of day."""
    rules, battery = day.rules, group.battery
    yield working(
        run_time_h,
        title=f"Run time of a {group.form} microphone at the end of its battery's life, down to the reserve",
        uses=(f"{RULES}.full_at_start", f"{RULES}.reserve", f"{RULES}.in_use_share"),
        energy_wh=battery.energy,
        aged_share=battery.aged_share,
        drain_w=group.pack.in_use_w,
        start=rules.full_at_start,
        reserve=rules.reserve,
    )
    if group.packs:
        yield working(
            slot_power_w,
            title=f"Power for one {group.form} microphone in the busiest of its chargers",
            uses=(spares,),
            slot_w=group.slot_w,
            shared_w=group.shared_w,
            packs=group.packs,
        )


def _of_day(day: RoomDay, group: GroupDay, spares: str) -> Iterator[Working]:
    """Yield what a day's sessions lead to; titles name the day unless it is the usual one."""
    rules, lowest = day.rules, group.lowest
    on_day = f" on the day {day.name}" if day.name else ""
    yield working(
        state_of_charge,
        title=f"Lowest state of charge of a {group.form} microphone{on_day}, "
        "its battery at the end of its life",
        limit=Limit(rules.reserve, "≥", EDITABLE_DEFAULT),
        uses=tuple(
            f"{RULES}.{name}" for name in ("reserve", "full_at_start", "in_use_share", "docked_share")
        ),
        note="Without swaps. A stretch is a part of the day between two changes of slope.",
        start=lowest.points[0][1],
        energies_wh=_energies_wh(lowest, group.pack.capacity_wh),
        capacity_wh=group.pack.capacity_wh,
    )
    if group.pack.charge_w > 0 and not group.slotless:
        evening = next(level for at, level in lowest.points if at >= day.sessions[-1][1])
        yield working(
            charge_time_h,
            title=f"Time until a {group.form} microphone is full after the last session{on_day}",
            limit=Limit(day.night_h, "≤", COMMON_PRACTICE),
            uses=(f"{RULES}.docked_share", spares),
            note="The limit is the time to the first session of the next day.",
            capacity_wh=group.pack.capacity_wh,
            state=evening,
            taper_from=group.pack.taper_from,
            charge_w=group.pack.charge_w,
            taper_w=group.pack.taper_w,
        )


def _energies_wh(day: Day, capacity_wh: float) -> tuple[float, ...]:
    """Return the energy taken from the pack in each stretch until its lowest point; at least one."""
    points = [point for point in day.points if point[0] <= day.lowest_at]
    if len(points) < 2:
        return (0.0,)
    return tuple((before[1] - after[1]) * capacity_wh for before, after in pairwise(points))
