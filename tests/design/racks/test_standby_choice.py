"""Which standby supply a rack has: by hand, and against a search through the whole library."""

import math
from dataclasses import replace
from decimal import Decimal
from functools import cache

import numpy as np
import pytest

from proposal.design.racks.rack_items import Item
from proposal.design.racks.rack_layout import laid_out
from proposal.design.racks.standby_choice import (
    StandbyAsked,
    StandbyDesign,
    own_most_w,
    own_power_w,
    standby_asked,
    standby_for,
    suiting,
)
from proposal.design.racks.standby_run_time import run_time_workings, run_times_with, sizes_of
from proposal.model.equipment.standby_supplies import BatteryPacks, RunTime, StandbySupply
from proposal.model.pathways.building import Rack
from proposal.model.project import Project
from proposal.model.standby import Standby
from tests.design.making import EXAMPLE, changed, project_of
from tests.design.racks.test_rack_layout import alone, rack, thing

INLET = "IEC 60320 C14"
ASKED = StandbyAsked(
    tag="ER1-UP1", code="UP1", room="ER1", rack="RK1", time_s=900, without=(), model="", unit=None
)


@cache
def project() -> Project:
    """Return the example as warm as batteries are rated for, so that cold takes nothing."""
    return changed(project_of(EXAMPLE), "building.lowest_room_temperature", 25.0)


def fed(name: str, typical_w: float, most_w: float | None = None, **values: object) -> Item:
    most = typical_w if most_w is None else most_w
    shape = {"inlets": 1, "inlet": INLET, "apparent_va": most, "typical_w": typical_w, "most_w": most}
    return thing(name, **{**shape, **values})


def supply(code: str, cost: int, table: dict[int, float], **values: object) -> StandbySupply:
    """Return a supply of 1000 W and 1000 VA with 8 outlets: minutes by watts; 80 % of its capacity, k = 1."""
    first = next(iter(project_of(EXAMPLE).library.standby_supplies.values()))
    battery = first.battery.model_copy(update={"aged_share": 0.8, "peukert": 1.0})
    times = tuple(RunTime(load=f"{load} W", time=f"{time} min") for load, time in table.items())  # type: ignore[arg-type]
    shape = {
        "model": code,
        "cost": replace(first.cost, amount=Decimal(cost)),
        "run_times": times,
        "battery": battery,
        "rated_power": 1000.0,
        "rated_apparent_power": 1000.0,
        "outlets": 8,
        "pack": "",
        "packs": (),
    }
    return first.model_copy(update={**shape, **values})


def with_supplies(*entries: StandbySupply) -> Project:
    return changed(project(), "library.standby_supplies", {entry.model: entry for entry in entries})


@pytest.mark.pinned
def test_an_old_battery_lasts_the_minutes_or_the_next_dearer_supply_is_taken() -> None:
    # 200 W: 20 min new, × 0.8 = 16 min of 15; at 400 W 10 min, × 0.8 = 8 min.
    made = with_supplies(supply("A", 100, {100: 40, 200: 20, 400: 10}), supply("B", 300, {100: 99, 400: 25}))
    light = standby_for(made, ASKED, [fed("D1", 120), fed("D2", 80)])
    assert light.entry is not None
    assert (light.entry.model, light.holds) == ("A", True)
    assert light.minutes == pytest.approx(16)
    heavy = standby_for(made, ASKED, [fed("D1", 400)])
    assert heavy.entry is not None
    assert (heavy.entry.model, heavy.minutes) == ("B", pytest.approx(20))


@pytest.mark.pinned
def test_battery_packs_are_taken_where_they_cost_less_than_a_larger_supply() -> None:
    pack = next(one for one in project().library.rack_parts.values() if one.role == "battery pack")
    packs = (
        BatteryPacks(
            count=1, run_times=(RunTime(load="100 W", time="200 min"), RunTime(load="400 W", time="40 min"))
        ),
    )  # type: ignore[arg-type]
    small = supply("A", 100, {100: 40, 400: 10}, pack=pack.model, packs=packs)
    dear, cheap = (supply("B", int(pack.cost.amount) + n, {400: 25}) for n in (101, 99))
    found = standby_for(with_supplies(small, dear), ASKED, [fed("D1", 400)])
    assert found.entry is not None
    assert (found.entry.model, found.packs, found.minutes) == ("A", 1, pytest.approx(32))
    assert [item.name for item in found.items] == ["ER1-UP1", "BP1"]
    other = standby_for(with_supplies(small, cheap), ASKED, [fed("D1", 400)])
    assert other.entry is not None
    assert (other.entry.model, other.packs) == ("B", 0)


@pytest.mark.pinned
def test_watts_volt_amperes_and_outlets_are_each_held() -> None:
    # 80 % of 1000 W and of 1000 VA may be taken at most.
    made = with_supplies(supply("A", 100, {100: 400, 1000: 100}))
    assert standby_for(made, ASKED, [fed("D1", 100, 800)]).carries
    assert not standby_for(made, ASKED, [fed("D1", 100, 801)]).carries
    assert not standby_for(made, ASKED, [fed("D1", 100, 700, apparent_va=801)]).carries
    assert standby_for(made, ASKED, [fed(f"D{n}", 10) for n in range(8)]).carries
    nine = standby_for(made, ASKED, [fed(f"D{n}", 10) for n in range(9)])
    assert not nine.carries
    assert len(nine.plugged) == 8


def test_no_time_follows_beyond_the_table_and_that_of_the_least_load_below_it() -> None:
    entry = supply("A", 100, {100: 40, 400: 10})
    assert run_time_workings(project(), entry, 0, 401, None) == ()
    (*_, least) = run_time_workings(project(), entry, 0, 10, None)
    assert least.result == pytest.approx(40 * 0.8)
    # Nothing is fed at all: still no more than the table says.
    (*_, nothing) = run_time_workings(project(), entry, 0, 0, None)
    assert nothing.result == pytest.approx(40 * 0.8)


@pytest.mark.pinned
def test_cold_air_takes_a_tenth_at_ten_kelvin_below_the_rated_temperature() -> None:
    cold = changed(project(), "building.lowest_room_temperature", 15.0)
    (*_, found) = run_time_workings(cold, supply("A", 100, {100: 40, 400: 10}), 0, 100, None)
    assert found.result == pytest.approx(40 * 0.8 * 0.9)


@pytest.mark.pinned
def test_without_a_table_peukert_tells_and_packs_add_capacity() -> None:
    entry = supply("A", 100, {})
    battery = entry.battery.model_copy(
        update={"blocks": 4, "block_voltage": 12.0, "capacity": 9.0, "rated_hours": 72_000.0, "peukert": 1.2}
    )
    entry = entry.model_copy(
        update={"battery": battery, "inverter_efficiency": 0.9, "packs": (BatteryPacks(count=1),)}
    )
    (*_, alone_) = run_time_workings(project(), entry, 0, 600, None)
    assert alone_.result == pytest.approx(14.98, abs=0.005)
    (*_, doubled) = run_time_workings(project(), entry, 1, 600, None)
    assert doubled.result == pytest.approx(14.98 * 2**1.2, abs=0.02)


def oracle_minutes(entry: StandbySupply, packs: int, load_w: float, lowest_c: float) -> float | None:
    """Return the minutes of a supply by another library's interpolation, None beyond its table."""
    battery = entry.battery
    table = run_times_with(entry, packs)
    if table:
        if load_w > table[-1].load:
            return None
        logs = np.interp(
            math.log(max(load_w, table[0].load)),
            [math.log(one.load) for one in table],
            [math.log(one.time) for one in table],
        )
        new_s = math.exp(float(logs))
    else:
        current = load_w / entry.inverter_efficiency / (battery.blocks * battery.block_voltage)
        rated_a = battery.capacity * (1 + packs) * 3600 / battery.rated_hours
        new_s = battery.rated_hours * (rated_a / current) ** battery.peukert
    lost = battery.cold_loss * max(battery.rated_temperature - lowest_c, 0)
    return new_s / 60 * (battery.aged_share * (1 - lost)) ** battery.peukert


@pytest.mark.independent
def test_no_supply_of_the_library_holds_for_less() -> None:
    made = changed(project(), "building.lowest_room_temperature", 12.0)
    share = made.brief.rules.racks.standby_load
    seen = set()
    for load_w in (60, 140, 310, 520, 700, 1000, 1500, 2000):
        for minutes in (5, 15, 30, 60, 120):
            holding = []
            for entry in made.library.standby_supplies.values():
                pack = made.library.rack_parts.get(entry.pack)
                for packs in sizes_of(entry):
                    lasts = oracle_minutes(entry, packs, load_w, 12.0)
                    if load_w * 1.2 > share * min(entry.rated_power, entry.rated_apparent_power):
                        continue
                    if lasts is not None and lasts >= minutes:
                        cost = entry.cost.amount + (pack.cost.amount * packs if pack else 0)
                        holding.append((cost, packs, lasts, entry.model))
            asked = replace(ASKED, time_s=minutes * 60)
            found = standby_for(made, asked, [fed("D1", load_w, load_w * 1.2)])
            assert found.holds == bool(holding), (load_w, minutes)
            if holding and found.entry is not None:
                _, packs, lasts, model = min(holding)
                assert (found.entry.model, found.packs) == (model, packs), (load_w, minutes)
                assert found.minutes == pytest.approx(lasts)
                seen.add((model, packs > 0))
    assert len(seen) >= 4


def test_only_supplies_for_the_mains_that_take_over_in_time_are_chosen() -> None:
    slow = supply("A", 100, {1000: 60}, transfer_time=0.025)
    quick = supply("B", 900, {1000: 60})
    assert [one.model for one in suiting(with_supplies(slow, quick))] == ["B"]
    patient = changed(with_supplies(slow, quick), "brief.rules.racks.ride_through", 0.03)
    assert [one.model for one in suiting(patient)] == ["A", "B"]
    high = supply("C", 50, {1000: 60})
    assert high.mains is not None
    high = high.model_copy(update={"mains": high.mains.model_copy(update={"lowest_voltage": 235.0})})
    assert [one.model for one in suiting(with_supplies(high, quick))] == ["B"]


def test_what_need_not_stay_up_is_plugged_into_a_strip() -> None:
    items = [fed("D1", 100), fed("D2", 100, kind="switch"), fed("D3", 100, kind="owner_equipment")]
    asked = replace(ASKED, without=("amplifier", "D3"))
    layout = laid_out(project(), rack(), alone(*items), asked)
    assert layout.standby is not None
    assert layout.standby.names_fed == ("D2",)
    plugged = {one.device: one.strip for one in layout.plugged}
    assert plugged == {"D1": "PS1", "D2": "ER1-UP1", "D3": "PS1"}


def test_it_stands_in_the_rack_with_its_weight_and_heat_and_the_heaviest_lowest() -> None:
    layout = laid_out(project(), rack(), alone(fed("D1", 200, weight_kg=1.0)), ASKED)
    first = layout.slots[0]
    standby = layout.standby
    assert standby is not None
    assert standby.entry is not None
    assert (first.item.name, first.unit, first.item.units) == ("ER1-UP1", 1, standby.entry.rack_units)
    assert first.item.weight_kg == standby.entry.weight
    mains = standby.entry.mains
    assert mains is not None
    # What it takes itself, and 200 W ÷ efficiency less 200 W.
    assert first.item.heat_w == pytest.approx(mains.typical + 200 / mains.efficiency - 200)
    assert own_power_w(standby.entry, 200) == pytest.approx(first.item.heat_w)
    assert own_most_w(standby.entry) == mains.maximum - standby.entry.rated_power


def test_fans_that_its_heat_asks_for_are_fed_too() -> None:
    items = [fed(f"D{n}", 60, heat_w=50.0) for n in range(8)]
    layout = laid_out(project(), rack(), alone(*items[:5]), ASKED)
    still = project().brief.rules.racks.still_air
    assert sum(item.heat_w for item in items[:5]) <= still < sum(item.heat_w for item in layout.items)
    assert layout.standby is not None
    assert "FN1" in layout.standby.names_fed


def test_a_rack_asks_for_itself_and_else_as_its_room_does() -> None:
    room = changed(project(), "building.equipment_rooms.ER1.standby", Standby(time="15 min"))  # type: ignore[arg-type]
    found = standby_asked(room, "ER1", "RK1")
    assert found is not None
    assert (found.tag, found.time_s) == ("ER1-UP1", 900)
    # A rack that was added asks as its room does.
    added = standby_asked(room, "ER1", "RK2")
    assert added is not None
    assert added.tag == "ER1-UP2"
    none = changed(room, "building.equipment_rooms.ER1.racks", {"RK1": Rack(standby=Standby(time="0 min"))})  # type: ignore[arg-type]
    assert standby_asked(none, "ER1", "RK1") is None
    own = changed(room, "building.equipment_rooms.ER1.racks", {"RK1": Rack(standby=Standby(time="5 min"))})  # type: ignore[arg-type]
    shorter = standby_asked(own, "ER1", "RK1")
    assert shorter is not None
    assert shorter.time_s == 300


def test_where_nothing_holds_the_longest_of_those_that_carry_it_is_shown() -> None:
    made = with_supplies(supply("A", 100, {400: 10}), supply("B", 300, {400: 12}))
    found: StandbyDesign = standby_for(made, ASKED, [fed("D1", 400)])
    assert found.entry is not None
    assert (found.entry.model, found.carries, found.holds) == ("B", True, False)
    strong = with_supplies(supply("A", 100, {400: 10}), supply("B", 300, {400: 12}, rated_power=1100.0))
    too_much = standby_for(strong, ASKED, [fed("D1", 900)])
    assert too_much.entry is not None
    assert not too_much.carries
