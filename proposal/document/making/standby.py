"""Rows of standby supplies, of what every room keeps without mains, and of where power comes from."""

import math
from decimal import Decimal
from typing import TypedDict

from proposal.design.design import Design
from proposal.design.equipment.unit_costs import in_currency, unit_list_price
from proposal.design.mains.standby_paths import PowerPath
from proposal.design.numbers.numbering import natural
from proposal.design.racks.rack_choice import RackDesign
from proposal.design.racks.standby_choice import StandbyDesign, own_power_w
from proposal.design.racks.standby_run_time import life_working, new_run_time_min, run_time_workings
from proposal.document.rows.standby import PowerPathRow, RoomWithoutMainsRow, StandbySupplyRow
from proposal.model.equipment.standby_supplies import StandbySupply
from proposal.model.project import Project
from proposal.quantities.currencies import smallest_unit
from proposal.quantities.rounding import rounded


class StandbyParts(TypedDict):
    """The rows of standby supplies and of what they keep up."""

    standby_supplies: tuple[StandbySupplyRow, ...]
    rooms_without_mains: tuple[RoomWithoutMainsRow, ...]
    power_paths: tuple[PowerPathRow, ...]


def standby_parts(design: Design) -> StandbyParts:
    """Return the fields of the document that hold the rows of standby supplies, by name."""
    supplies = [(rack, rack.layout.standby) for rack in design.racks if rack.layout.standby]
    return StandbyParts(
        standby_supplies=tuple(
            _supply(design.project, rack, one) for rack, one in supplies if one.entry is not None
        ),
        rooms_without_mains=tuple(_rooms(design.power_paths)),
        # What is plugged into the mains itself is among the loads on the mains.
        power_paths=tuple(_path(one) for one in design.power_paths if one.path),
    )


def _whole(minutes: float | None) -> float | None:
    """Return whole minutes, never more than there are."""
    return None if minutes is None else float(math.floor(minutes + 1e-6))


def _supply(project: Project, rack: RackDesign, one: StandbyDesign) -> StandbySupplyRow:
    entry = one.entry
    assert entry is not None
    at_most = run_time_workings(project, entry, one.packs, one.most_w, None)
    life = life_working(project, rack.device.room, entry)
    return StandbySupplyRow(
        tag=one.asked.tag,
        rack=rack.device.tag,
        model=entry.model,
        packs=one.packs,
        verdict="holds" if one.holds else "fails",
        asked_min=one.asked.time_s / 60,
        lasts_min=_whole(one.minutes),
        new_min=_whole(new_run_time_min(entry, one.packs, one.typical_w)),
        full_min=_whole(at_most[-1].result if at_most else None),
        typical_w=one.typical_w,
        full_w=one.most_w,
        allowed_w=one.allowed_w,
        full_va=one.most_va,
        allowed_va=one.allowed_va,
        outlets_used=len(one.plugged),
        outlets=entry.outlets,
        own_w=own_power_w(entry, one.typical_w),
        recharge_h=entry.recharge_time / 3600,
        battery_months=math.floor(life.result * 12 + 1e-6),
        battery_price=_battery_price(project, entry, one.packs),
        feeds=tuple(one.names_fed),
    )


def _battery_price(project: Project, entry: StandbySupply, packs: int) -> Decimal | None:
    """Return the list price of what is replaced when its battery is worn: that battery, and every pack."""
    if entry.battery.list_price is None:
        return None
    beside = packs * unit_list_price(project, project.library.entry(entry.pack)) if packs else Decimal(0)
    step = smallest_unit(project.brief.currency)
    return rounded(in_currency(project, entry.battery.list_price) + beside, step)


def _rooms(paths: tuple[PowerPath, ...]) -> list[RoomWithoutMainsRow]:
    found = []
    for place in sorted({one.room for one in paths}, key=natural):
        here = [one for one in paths if one.room == place]
        staying = [one for one in here if one.supply]
        keeps = "some stays up" if staying else "all goes down"
        found.append(
            RoomWithoutMainsRow(
                place=place,
                keeps="all stays up" if len(staying) == len(here) else keeps,
                lasts_min=_whole(min((one.minutes or 0.0 for one in staying), default=None)),
                stays=tuple(one.device for one in staying),
                goes=tuple(one.device for one in here if not one.supply),
            )
        )
    return found


def _path(one: PowerPath) -> PowerPathRow:
    return PowerPathRow(
        device=one.device,
        kind=one.kind.replace("_", " "),
        place=one.place,
        room=one.room,
        path=one.path,
        state="stays up" if one.supply else "goes down",
        lasts_min=_whole(one.minutes) if one.supply else None,
    )
