"""Standby supplies from the files alone: what they feed, for how long, and what stays up."""

import math
from collections import Counter
from typing import Any

import numpy as np
import pytest

from tests.independent.conftest import Case
from tests.independent.inputs import amount, celsius
from tests.independent.test_cords_and_racks import entry_of

pytestmark = pytest.mark.independent
Row = dict[str, Any]
# As the starting rules and the starting building have them.
STANDBY_LOAD, AIR_RISE_K, LOWEST_C, HIGHEST_C = 0.8, 10.0, 15.0, 28.0
MINUTES = {"min": 1.0, "h": 60.0}


def minutes(text: str) -> float:
    number, _, unit = text.partition(" ")
    return float(number) * MINUTES[unit]


def share(text: str) -> float:
    return amount(text) / 100


def asked_of(case: Case, rack: str) -> Row:
    """Return what building.yaml asks of a rack, empty where it asks nothing."""
    room, _, code = rack.partition("-")
    written: Row = case.inputs.building["equipment_rooms"][room]
    found = (written["racks"][code] or {}).get("standby", written.get("standby"))
    return found or {}


def fed(case: Case, rack: str) -> list[Row]:
    """Return what a rack's supply has to feed: what takes mains there, but what need not stay up."""
    without = asked_of(case, rack).get("without", [])
    return [
        place
        for place in case["rack_places"]
        if place["rack"] == rack
        and place["apparent_va"] > 0
        and place["kind"] != "standby supply"
        and place["kind"].replace(" ", "_") not in without
        and place["name"] not in without
    ]


def powers(case: Case, name: str) -> tuple[float, float]:
    """Return what a thing in a rack typically takes and takes at most, W, with what it feeds onward."""
    if "OE" in name:
        room, code = name.split("-")
        watts = amount(case.inputs.building["owner_equipment"][room][code]["power"])
        return watts, watts
    if "/" in name:
        model = next(place["model"] for place in case["rack_places"] if place["name"] == name)
        mains = case.models("equipment", "racks", "rack_parts")[model]["mains"]
        return amount(mains["typical"]), amount(mains["maximum"])
    entry = entry_of(case, name)
    mains = entry["mains"]
    drawn = math.fsum(port["drawn_w"] or 0 for port in case.device_ports if port["switch"] == name)
    onward = drawn / share(entry["poe_efficiency"]) if "poe_efficiency" in entry else 0.0
    typical = amount(entry.get("eighth_power", mains["typical"]))
    return min(typical + onward, amount(mains["maximum"])), amount(mains["maximum"])


def new_minutes(entry: Row, load_w: float) -> float:
    """Return the run time of the maker's table, a straight line between logarithms."""
    table = [(amount(one["load"]), minutes(one["time"])) for one in entry["run_times"]]
    assert load_w <= table[-1][0]
    loads, times = zip(*table, strict=True)
    return float(np.exp(np.interp(math.log(load_w), np.log(loads), np.log(times))))


def test_every_rack_has_the_supply_that_is_asked_for_and_it_feeds_what_it_has_to(case: Case) -> None:
    wanted = {rack["tag"] for rack in case["racks"] if asked_of(case, rack["tag"])}
    assert {row["rack"] for row in case["standby_supplies"]} == wanted
    for row in case["standby_supplies"]:
        names = {place["name"] for place in fed(case, row["rack"])}
        assert {name if "-" in name else f"{row['rack']}/{name}" for name in row["feeds"]} == names
        assert row["outlets_used"] == len(names)


def test_it_carries_watts_and_volt_amperes_and_lasts_as_long_as_it_says(case: Case) -> None:
    for row in case["standby_supplies"]:
        entry = case.models("equipment", "standby_supplies", "standby_supplies")[row["model"]]
        places = fed(case, row["rack"])
        pairs = [powers(case, place["name"]) for place in places]
        typical, most = math.fsum(one for one, _ in pairs), math.fsum(one for _, one in pairs)
        assert row["typical_w"] == pytest.approx(typical, rel=1e-6)
        assert row["full_w"] == pytest.approx(most, rel=1e-6)
        assert row["full_va"] == pytest.approx(math.fsum(place["apparent_va"] for place in places), rel=1e-6)
        assert row["allowed_w"] == pytest.approx(STANDBY_LOAD * amount(entry["rated_power"]))
        assert row["allowed_va"] == pytest.approx(STANDBY_LOAD * amount(entry["rated_apparent_power"]))
        assert row["packs"] == 0
        battery = entry["battery"]
        rated_c = celsius(battery["rated_temperature"])
        cold = 1 - share(battery["cold_loss"]) * (rated_c - LOWEST_C)
        kept = (share(battery["aged_share"]) * cold) ** float(battery["peukert"])
        assert row["new_min"] == math.floor(new_minutes(entry, typical))
        assert row["lasts_min"] == math.floor(new_minutes(entry, typical) * kept)
        assert row["full_min"] == math.floor(new_minutes(entry, most) * kept)
        assert row["asked_min"] == minutes(asked_of(case, row["rack"])["time"])
        assert row["verdict"] == "holds"
        assert row["lasts_min"] >= row["asked_min"]
        warmer = HIGHEST_C + AIR_RISE_K - rated_c
        assert row["battery_months"] == math.floor(12 * battery["life_years"] / 2 ** (warmer / 10))
        mains = entry["mains"]
        own = amount(mains["typical"]) + typical * (1 / share(mains["efficiency"]) - 1)
        assert row["own_w"] == pytest.approx(own, rel=1e-6)
        (place,) = [one for one in case["rack_places"] if one["name"] == row["tag"]]
        assert place["typical_w"] == pytest.approx(own, rel=1e-6)
        charging = amount(mains["maximum"]) - amount(entry["rated_power"])
        assert place["apparent_va"] == pytest.approx(charging / share(mains["power_factor"]), rel=1e-6)


def test_no_cheaper_supply_of_the_library_would_do(case: Case) -> None:
    for row in case["standby_supplies"]:
        models = case.models("equipment", "standby_supplies", "standby_supplies")
        for code, entry in models.items():
            if amount(entry["cost"]) >= amount(models[row["model"]]["cost"]):
                continue
            assert (
                row["full_w"] > STANDBY_LOAD * amount(entry["rated_power"])
                or row["full_va"] > STANDBY_LOAD * amount(entry["rated_apparent_power"])
                or row["outlets_used"] > entry["outlets"]
                or new_minutes(entry, row["typical_w"]) < row["asked_min"]
            ), code


def test_a_device_stays_up_where_its_power_comes_from_a_supply(case: Case) -> None:
    feeds = {
        name if "-" in name else f"{row['rack']}/{name}": row["tag"]
        for row in case["standby_supplies"]
        for name in row["feeds"]
    }
    over = {port["device"]: port["switch"] for port in case.device_ports if port["poe_class"] is not None}

    def backed(name: str) -> bool:
        return name in feeds or (name in over and backed(over[name]))

    found = {row["device"]: row["state"] for row in case["power_paths"]}
    assert found == {name: "stays up" if backed(name) else "goes down" for name in found}
    if case["standby_supplies"]:
        assert set(found.values()) == {"stays up", "goes down"}
        on_mains = {row["name"] for row in case["mains_loads"] if row["kind"] != "standby supply"}
        assert set(found) == (on_mains & set(feeds)) | set(over)
    if not case["standby_supplies"]:
        assert case["rooms_without_mains"] == []
        return
    plugged_in = {row["name"] for row in case["mains_loads"] if row["kind"] != "standby supply"}
    rooms = {row["place"]: (set(row["stays"]), set(row["goes"])) for row in case["rooms_without_mains"]}
    wanted: dict[str, tuple[set[str], set[str]]] = {}
    for name in plugged_in | set(over):
        wanted.setdefault(name.partition("-")[0], (set(), set()))[0 if backed(name) else 1].add(name)
    assert rooms == wanted


def test_supplies_are_bought_mounted_set_up_and_tested(case: Case) -> None:
    models = Counter(row["model"] for row in case["standby_supplies"])
    bought = {line["item"]: line["quantity"] for line in case["takeoff"] if line["item"] in models}
    assert {code: float(number) for code, number in bought.items()} == models
    for row in case["standby_supplies"]:
        tasks = {line["task"] for line in case["labour"] if row["tag"] in line["causes"]}
        assert {
            "Rack device mounted and wired",
            "Standby supply configured",
            "Standby supply tested: mains off, everything carries on, minutes taken",
        } <= tasks
        (outlet,) = [one for one in case["mains_outlets"] if one["serves"] == row["tag"]]
        assert set(outlet["feeds"]) >= {row["tag"]}


# The sort of the outlets of the building, and the least length of a cord there.
OUTLETS, LEAST_CORD_M = {True: "NEMA 5-15R", False: "CEE 7/3"}, 2.0


def test_every_inlet_at_an_outlet_of_the_building_has_a_cord_and_it_is_bought(case: Case) -> None:
    """Not what is the owner's, and not strips, which have plugs of their own."""
    parts = case.models("equipment", "racks", "rack_parts")
    cords = {
        (one["inlet_form"], code): amount(one["cost"])
        for code, one in parts.items()
        if one["role"] == "mains cord"
        and one["outlet_form"] == OUTLETS[case.inputs.nfpa]
        and float(one["length"].partition(" ")[0]) >= LEAST_CORD_M
    }
    strips = {f"{p['name']}" for p in case["rack_places"] if p["kind"] == "power strip"}
    wanted: Counter[tuple[str, str]] = Counter()
    for outlet in case["mains_outlets"]:
        fitting = [(cost, code) for (inlet, code), cost in cords.items() if inlet == outlet["plug"]]
        ours = outlet["serves"] not in strips and outlet["scope"] != "owner"
        assert outlet["cord"] == (min(fitting)[1] if ours and fitting else "")
        if outlet["cord"]:
            wanted[outlet["place"], outlet["cord"]] += 1
    # Cords within racks are computed in test_cords_and_racks.py; those of the same models are bought, too.
    codes = {code for _, code in cords}
    for place in case["rack_places"]:
        if place["cord"] in codes:
            wanted[place["rack"].partition("-")[0], place["cord"]] += 1
    found = {
        (line["room"], line["item"]): int(line["quantity"])
        for line in case["takeoff"]
        if line["item"] in codes
    }
    assert wanted
    assert found == wanted
