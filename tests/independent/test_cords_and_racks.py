"""Cords port by port, connectors end by end, the power of all ports, and what stands in racks."""

import math
from collections import Counter, defaultdict
from typing import Any

import pytest

from tests.independent.conftest import Case
from tests.independent.inputs import amount, cables, celsius, library, metres
from tests.independent.test_cable_routes import DEVICE_CORD, EQUIPMENT_CORD, plugged, rack_of
from tests.independent.test_power_and_warmth import nominal_ohm_per_m, ohm_per_m
from tests.independent.test_streams_and_loads import FILES

pytestmark = pytest.mark.independent
Row = dict[str, Any]
VOLTS = {True: 120.0, False: 230.0}
# As the starting rules have them: of a powered channel, and of racks.
CONNECTORS_OHM, CORDS_C, CORD_GAUGE = 0.2, 20.0, 24
SPARE_UNITS, STILL_AIR_W, AIR_RISE_K, STRIP_LOAD, STANDBY_LOAD = 0.2, 250.0, 10.0, 0.8, 0.8
# Least voltages at a device, by Type of the device (IEEE 802.3).
LEAST_V = {1: 37.0, 2: 42.5, 3: 42.5, 4: 41.1}
SOURCE_V = {1: 44.0, 2: 50.0, 3: 50.0, 4: 52.0}
NAMES = {
    "CC-O1-5": "outlet",
    "CC-P5": "plug",
    "CC-P6AS": "plug",
    "CC-T3": "block of 3",
    "CC-T2": "block of 2",
}


def entry_of(case: Case, tag: str) -> Row:
    """Return the library's entry of a device of ours."""
    device = case.devices[tag]
    file = FILES[device["kind"]]
    return case.models("equipment", file, file)[device["model"]]


def cord(case: Case, name: str, default: float, screened: bool) -> str:
    """Return the least-cost copper cord of the library that is as long as wanted, screened where asked."""
    wanted = case.inputs.rule("cabling", name, default)
    suitable = [
        (metres(one["length"]), amount(one["cost"]), code)
        for code, one in library("materials", "patch_cords", "patch_cords").items()
        if one.get("gauge") == CORD_GAUGE
        and metres(one["length"]) >= wanted - 1e-9
        and (one.get("screened") or not screened)
    ]
    return min(suitable)[2]


def test_cords_are_counted_port_by_port(case: Case) -> None:
    """From each port a cord leads to a panel or a device; another to the device where no plug ends the link.

    Links between switches over fibre take a cord at each end, or one where they stand in one rack.
    """
    wanted: Counter[tuple[str, str]] = Counter()
    for port in case.device_ports:
        tag = port["device"]
        if not tag:
            continue
        if rack_of(case, tag) is not None and rack_of(case, port["switch"]) is None:
            continue  # from a room to the racks: the other end, a port in a rack, counts the cords
        room = tag.partition("-")[0]
        if not port["cable"]:
            wanted[room, cord(case, "equipment_cord", EQUIPMENT_CORD, screened=False)] += 1
            continue
        cable = case.cables[port["cable"]]
        screened = cables()[cable["type"]]["screening"] != "U/UTP"
        if rack_of(case, cable["to_tag"]) is not None:
            wanted[room, cord(case, "equipment_cord", EQUIPMENT_CORD, screened)] += 1
        if not plugged(case, tag):
            wanted[room, cord(case, "device_cord", DEVICE_CORD, screened)] += 1
    for link in case["switch_links"]:
        room = link["from_switch"].partition("-")[0]
        wanted[room, "CC-PFOM4-2"] += 2 if link["identity"] in case.cables else 1
    found = {
        (line["room"], line["item"]): int(line["quantity"])
        for line in case["takeoff"]
        if line["section"] == "patching"
    }
    assert found == dict(wanted)
    listed = Counter(
        (patch["device"].partition("-")[0], patch[end])
        for patch in case["patches"]
        for end in ("first_cord", "last_cord")
        if patch[end]
    )
    assert listed == wanted


def test_every_end_of_every_cable_has_what_it_ends_in(case: Case) -> None:
    """Two ends a link: an outlet or a plug at the device, a panel's port or a plug at the other end."""
    wanted: Counter[tuple[str, str]] = Counter()
    for cable in case["cables"]:
        room = cable["room"]
        if cable["signal"] == "network":
            wanted[room, "plug" if plugged(case, cable["from_tag"]) else "outlet"] += 1
            assert (cable["from_connector"] == "8P8C plug") is plugged(case, cable["from_tag"])
            assert (cable["to_connector"] == "8P8C plug") is (rack_of(case, cable["to_tag"]) is None)
            if rack_of(case, cable["to_tag"]) is None:
                wanted[room, "plug"] += 1
        elif cable["signal"] == "analogue":
            wanted[room, "block of 3"] += 2
        elif cable["signal"] == "loudspeaker line" and rack_of(case, cable["to_tag"]) is not None:
            wanted[room, "block of 2"] += 1
    found: Counter[tuple[str, str]] = Counter()
    for line in case["takeoff"]:
        if line["section"] == "termination" and line["item"] in NAMES:
            found[line["room"], NAMES[line["item"]]] += int(line["quantity"])
            assert float(line["waste"]) == 0.05
    assert found == wanted


def test_every_panel_that_is_named_stands_in_its_rack_and_no_port_is_taken_twice(case: Case) -> None:
    taken = Counter(patch["panel"] for patch in case["patches"] if patch["panel"])
    taken += Counter(patch["first_panel"] for patch in case["patches"] if patch["first_panel"])
    assert taken
    assert set(taken.values()) == {1}
    standing = {place["name"] for place in case["rack_places"]}
    named = {panel.rpartition("/")[0] for panel in taken}
    assert named <= standing
    for panel in taken:
        assert 1 <= int(panel.rpartition("/")[2]) <= 24
    kinds = ("patch panel", "fibre panel")
    bought = sum(
        int(line["quantity"])
        for line in case["takeoff"]
        if line["item"] in {place["model"] for place in case["rack_places"] if place["kind"] in kinds}
    )
    assert bought == sum(place["kind"] in kinds for place in case["rack_places"])


def test_every_powered_port_gives_its_device_what_the_loop_leaves(case: Case) -> None:
    """The loop is conductors of cable and cords, and connectors; the device takes its most.

    The conductor is the stricter of its gauge and the category's maximum, at a temperature between the
    coolest air and the warmest stretch of the link.
    """
    powered = 0
    air = [celsius(case.inputs.building["ceiling_temperature"])]
    air += [celsius(space["temperature"]) for space in case.inputs.building["spaces"].values()]
    for port in case.device_ports:
        if port["poe_class"] is None:
            continue
        cable, poe = case.cables[port["cable"]], entry_of(case, port["device"])["poe"]
        assert port["poe_class"] == poe["device_class"]
        gauge = int(cables()[cable["type"]]["gauge"])
        ends = []
        for at_c in (min(air), cable["temperature_c"]):
            of_cable = ohm_per_m(gauge, at_c)
            of_cord = nominal_ohm_per_m(CORD_GAUGE, CORDS_C)
            ends.append(of_cable * cable["length_m"] + of_cord * cable["cords_m"] + CONNECTORS_OHM)
        assert ends[0] - 1e-6 <= port["loop_ohm"] <= ends[1] + 1e-6, port
        host = case.devices[port["switch"]]
        source = entry_of(case, port["switch"])
        source = source["switch"] if host["kind"] == "breakout" else source
        volts, watts, ohms = SOURCE_V[source["poe_type"]], amount(poe["maximum"]), port["loop_ohm"]
        current = (volts - math.sqrt(volts**2 - 4 * ohms * watts)) / (2 * ohms)
        assert port["drawn_w"] == pytest.approx(volts * current, rel=1e-6)
        assert port["device_v"] == pytest.approx(volts - current * ohms, rel=1e-6)
        assert port["device_v"] * current == pytest.approx(watts, rel=1e-6)
        assert port["least_v"] == LEAST_V[poe["type"]]
        assert (port["verdict"] == "holds") is (
            port["device_v"] >= port["least_v"] and poe["device_class"] <= source["poe_class"]
        )
        powered += 1
    for switch in case["switches"]:
        drawn = [port["drawn_w"] for port in case.device_ports if port["switch"] == switch["tag"]]
        assert switch["drawn_w"] == pytest.approx(math.fsum(drawn))
    assert powered >= 5


def test_everything_in_a_rack_weighs_and_takes_what_the_library_says(case: Case) -> None:
    parts = library("equipment", "racks", "rack_parts")
    panels = library("materials", "panels_and_outlets", "patch_panels")
    loss = {
        switch["tag"]: switch["drawn_w"] * (1 / entry_share(entry_of(case, switch["tag"])) - 1)
        for switch in case["switches"]
        if case.devices[switch["tag"]]["kind"] == "switch"
    }
    for place in case["rack_places"]:
        if place["kind"] == "owner equipment":
            continue
        if place["name"] in case.devices:
            entry = entry_of(case, place["name"])
            mains = entry["mains"]
            if place["kind"] == "standby supply":
                continue  # test_standby.py
            taken = amount(mains["typical"]) + loss.get(place["name"], 0.0)
            assert place["typical_w"] == pytest.approx(taken, rel=1e-6)
            share = amount(mains["power_factor"]) / 100
            assert place["apparent_va"] == pytest.approx(amount(mains["maximum"]) / share, rel=1e-6)
        else:
            entry = parts.get(place["model"]) or panels[place["model"]]
        units = place["units"] if place["kind"] == "blank panel" else 1
        assert place["weight_kg"] == pytest.approx(weight_kg(entry["weight"]) * units), place["name"]


def entry_share(entry: Row) -> float:
    return amount(entry["poe_efficiency"]) / 100


def weight_kg(text: str) -> float:
    pounds, _, ounces = text.partition(" lb")
    if ounces:
        return (float(pounds) + (amount(ounces.strip()) if ounces.strip() else 0.0) / 16) * 0.45359237
    return amount(text)


def test_racks_add_up_what_stands_in_them(case: Case) -> None:
    volts = VOLTS[case.inputs.nfpa]
    for rack in case["racks"]:
        places = [place for place in case["rack_places"] if place["rack"] == rack["tag"]]
        entry = library("equipment", "racks", "racks")[rack["model"]]
        assert rack["units"] == entry["units"]
        assert rack["load_kg"] == amount(entry["load"])
        front: dict[tuple[int, str], str] = {}
        taken = set()
        for place in places:
            for unit in range(place["unit"], place["unit"] + place["units"]):
                assert 1 <= unit <= rack["units"]
                sides = (place["side"],) if place["side"] else ("left", "right")
                for side in sides if place["face"] == "front" else ():
                    assert (unit, side) not in front, (place["name"], front.get((unit, side)))
                    front[unit, side] = place["name"]
                    if place["kind"] != "blank panel":
                        taken.add(unit)
        assert rack["used"] == len(taken)
        assert rack["spare_wanted"] == math.ceil(SPARE_UNITS * rack["units"])
        watts = math.fsum(place["typical_w"] for place in places)
        apparent = math.fsum(place["apparent_va"] for place in places)
        assert rack["weight_kg"] == pytest.approx(math.fsum(place["weight_kg"] for place in places))
        assert rack["typical_w"] == pytest.approx(watts, rel=1e-6)
        assert rack["apparent_va"] == pytest.approx(apparent, rel=1e-6)
        assert rack["current_a"] == pytest.approx(apparent / volts, rel=1e-6)
        # One watt is 3.412 BTU/h.
        assert rack["hourly_heat_btu"] == pytest.approx(3.412 * watts, rel=1e-4)
        # What fans warm leaves with their own air.
        fans = math.fsum(place["typical_w"] for place in places if place["kind"] == "fan panel")
        inside = watts - fans
        air = inside / (1.2 * 1005 * AIR_RISE_K) * 3600 if inside > STILL_AIR_W else 0.0
        assert rack["hourly_air_wanted_m3"] == pytest.approx(air, rel=1e-6)
        assert rack["hourly_air_m3"] >= rack["hourly_air_wanted_m3"]
        holds = (
            rack["used"] + rack["spare_wanted"] <= rack["units"]
            and rack["weight_kg"] <= rack["load_kg"]
            and rack["outlets_used"] <= rack["outlets"]
        )
        assert (rack["verdict"] == "holds") is holds


def test_every_device_in_a_rack_has_an_outlet_of_a_strip_that_bears_it(case: Case) -> None:
    parts = library("equipment", "racks", "rack_parts")
    volts = VOLTS[case.inputs.nfpa]
    for rack in case["racks"]:
        places = [place for place in case["rack_places"] if place["rack"] == rack["tag"]]
        strips = {
            place["name"].partition("/")[2]: parts[place["model"]]
            for place in places
            if place["kind"] == "power strip"
        }
        supplies = {
            place["name"]: entry_of(case, place["name"])
            for place in places
            if place["kind"] == "standby supply"
        }
        load: dict[str, float] = defaultdict(float)
        used: Counter[str] = Counter()
        for place in places:
            if place["name"] in supplies:
                assert place["outlets"] == []  # It has an outlet of the building.
                continue
            assert bool(place["outlets"]) is (place["apparent_va"] > 0), place["name"]
            for outlet in place["outlets"]:
                used[outlet] += 1
                load[outlet.partition("/")[0]] += place["apparent_va"] / len(place["outlets"])
        assert set(used.values()) <= {1}
        assert rack["outlets_used"] == len(used)
        feeding = {**strips, **supplies}
        assert rack["outlets"] == sum(int(one["outlets"]) for one in feeding.values())
        for name, apparent in load.items():
            strip = feeding[name]
            assert all(
                1 <= int(outlet.partition("/")[2]) <= int(strip["outlets"])
                for outlet in used
                if outlet.startswith(f"{name}/")
            )
            if name in supplies:
                assert apparent <= STANDBY_LOAD * amount(strip["rated_apparent_power"]) + 1e-9
            else:
                assert apparent / volts <= STRIP_LOAD * amount(strip["rated_current"]) + 1e-9


# As the starting rule has it, and as a nineteen-inch rack is made.
CORD_SLACK, UNIT, FRONT = 0.2, 0.04445, 0.4826


def test_mains_cords_in_racks_reach_from_outlet_to_inlet(case: Case) -> None:
    """Up or down between the middles of both, forward from back to back, across one front, and the bends.

    Of the cords of the library that join both sorts and are as long, the one with the least cost is bought.
    """
    parts = library("equipment", "racks", "rack_parts")
    bought: Counter[str] = Counter()
    for rack in case["racks"]:
        behind = metres(library("equipment", "racks", "racks")[rack["model"]]["usable_depth"])
        places = {place["name"]: place for place in case["rack_places"] if place["rack"] == rack["tag"]}
        for place in places.values():
            if not place["outlets"] or place["kind"] == "owner equipment":
                assert not place["cord"], place["name"]
                continue
            wanted = 0.0
            for outlet in place["outlets"]:
                name = outlet.partition("/")[0]
                source = places.get(name) or places[f"{rack['tag']}/{name}"]
                up = abs((source["unit"] + source["units"] / 2) - (place["unit"] + place["units"] / 2)) * UNIT
                backs = [behind if one["face"] == "rear" else one["depth_m"] for one in (source, place)]
                wanted = max(wanted, up + abs(backs[0] - backs[1]) + FRONT + CORD_SLACK)
            assert place["cord_wanted_m"] == pytest.approx(wanted)
            entry = parts[source["model"]] if source["model"] in parts else entry_of(case, name)
            taking = parts[place["model"]] if place["model"] in parts else entry_of(case, place["name"])
            joins = (entry["outlet_form"], taking["mains"]["inlet"])
            fitting = [
                (amount(one["cost"]), code)
                for code, one in parts.items()
                if one["role"] == "mains cord"
                and (one["outlet_form"], one["inlet_form"]) == joins
                and metres(one["length"]) >= wanted
            ]
            assert place["cord"] == min(fitting)[1]
            assert place["cord_m"] == pytest.approx(metres(parts[place["cord"]]["length"]))
            assert place["cord_joins"] == " to ".join(joins)
            bought[place["cord"]] += len(place["outlets"])
    assert bought
    in_rooms: Counter[str] = Counter(one["cord"] for one in case["mains_outlets"] if one["cord"])
    found: Counter[str] = Counter()
    for line in case["takeoff"]:
        if parts.get(line["item"], {}).get("role") == "mains cord":
            found[line["item"]] += int(line["quantity"])
    assert found == bought + in_rooms


def test_patch_cords_in_racks_reach_from_unit_to_unit(case: Case) -> None:
    """From panel or device to switch: each end in front or at the back, whichever is farther."""
    cords = library("materials", "patch_cords", "patch_cords")
    behind = {
        rack["tag"]: metres(library("equipment", "racks", "racks")[rack["model"]]["usable_depth"])
        for rack in case["racks"]
    }
    places = {place["name"]: place for place in case["rack_places"]}
    checked = 0
    for patch in case["patches"]:
        start = patch["panel"].rpartition("/")[0] or patch["device"]
        if start not in places or patch["switch"] not in places or patch["source"]:
            continue
        one, other = places[start], places[patch["switch"]]
        assert one["rack"] == other["rack"]
        up = abs((one["unit"] + one["units"] / 2) - (other["unit"] + other["units"] / 2)) * UNIT
        backs = [behind[here["rack"]] if not here["depth_m"] else here["depth_m"] for here in (one, other)]
        reach = metres(cords[patch["last_cord"]]["length"])
        front_to_back = backs[1] if patch["panel"] else max(backs)
        assert up + front_to_back + FRONT + CORD_SLACK <= reach + 1e-9, patch
        checked += 1
    assert checked >= 5
