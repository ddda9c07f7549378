"""Ways, lengths, cords and jackets of all cables, computed again from what people wrote of the building."""

import math
import re
from collections import Counter
from itertools import combinations, pairwise, permutations
from typing import Any

import pytest

from tests.independent.conftest import Case
from tests.independent.inputs import cables, celsius, library, metres
from tests.independent.routes import Place, Rise, Route, across, apart, cheapest

pytestmark = pytest.mark.independent
Row = dict[str, Any]
# As the starting rules have them; the two projects change what their own files say.
RACK_SLACK, CEILING_SLACK, TABLE_SLACK, TERMINATION, RACK_HEIGHT = 3.0, 1.0, 1.5, 0.3, 1.0
EQUIPMENT_CORD, DEVICE_CORD = 2.0, 2.0
TOGETHER, AT_THE_WALL = 1.5, 0.75
ON_FURNITURE = ("table", "under table", "furniture", "stand")
# The program keeps points of entry to a nanometre of the way's length; sums of a few of them are off by less.
EXACT_M = 1e-6
IN_THE_RACK = "in the rack"
# EN 50575, best first.
CLASSES = ("Aca", "B1ca", "B2ca", "Cca", "Dca", "Eca", "Fca")


def rack_of(case: Case, tag: str) -> Row | None:
    """Return the equipment room of a rack, or of a switch that stands in one."""
    tag = tag.partition("-")[0]
    rooms = [room for room in case["equipment_rooms"] if room["tag"] == tag]
    return rooms[0] if rooms else None


def place_of(case: Case, tag: str) -> Place:
    rack = rack_of(case, tag)
    if rack is not None:
        at = case.inputs.building["equipment_rooms"][rack["tag"]]["at"]
        floor = case.inputs.floor_m(rack["storey"])
        return Place(rack["storey"], (metres(at[0]), metres(at[1]), floor + RACK_HEIGHT))
    device = case.devices[tag]
    x, y = device["at"]
    return Place(device["storey"], (x, y, case.inputs.floor_m(device["storey"]) + device["height_m"]))


def within_the_room(case: Case, row: Row, start: Place, end: Place) -> Route:
    """Return the way between two devices of one room: level with the ceiling, and down to the other.

    No farther than 1.5 m from each other it lies along furniture, or along the wall on which one hangs, over
    the floor to one away from all walls; else it goes up and comes down at the walls. No project that is
    recomputed joins two devices on furniture farther apart of which one stands away from the walls.
    """
    ceiling = at_a_ceiling(case, row)
    if start.point[:2] == end.point[:2]:
        return Route(apart(start.point, end.point), 0.0, ())
    near = near_each_other(case, row)
    if near == "straight":
        return Route(apart(start.point, end.point), 0.0, ())
    if near == "over the floor":
        heights = sum(case.devices[row[end]]["height_m"] for end in ("from_tag", "to_tag"))
        return Route(heights + across(start.point, end.point), 0.0, ())
    level = max(start.point[2], end.point[2])
    if not ceiling:
        level = case.inputs.floor_m(start.storey) + case.inputs.ways_m(start.storey)
    rises = [rise_of(case, row["from_tag"]), rise_of(case, row["to_tag"])]
    begin, leave = (rise.place if rise else one for rise, one in zip(rises, (start, end), strict=True))
    upright = abs(level - begin.point[2]) + abs(level - leave.point[2])
    reach = sum(rise.reach_m for rise in rises if rise)
    return Route(reach + upright + across(begin.point, leave.point), 0.0, ())


def near_each_other(case: Case, row: Row) -> str:
    """Say how two devices no farther apart than 1.5 m are joined: straight, over the floor, or as all others.

    Straight where both are on furniture; where one hangs on a wall, only if the other hangs on it too, or its
    furniture reaches it.
    """
    ends = [case.devices[row[end]] for end in ("from_tag", "to_tag")]
    if at_a_ceiling(case, row) or math.dist(*(one["at"] for one in ends)) > TOGETHER:
        return ""
    hanging = [one for one in ends if one["location"] == "wall"]
    if not hanging:
        return "straight"
    feet = feet_of(case, hanging[0]["tag"])
    wall = min(range(len(feet)), key=lambda n: away(feet[n], hanging[0]))
    other = ends[1] if hanging[0] is ends[0] else ends[0]
    to_walls = [away(foot, other) for foot in feet_of(case, other["tag"])]
    if other["location"] == "wall":
        return "straight" if to_walls[wall] <= min(to_walls) + 1e-6 else ""
    if to_walls[wall] <= AT_THE_WALL + 1e-6:
        return "straight"
    return "over the floor" if min(to_walls) > AT_THE_WALL + 1e-6 else ""


def away(foot: complex, device: Row) -> float:
    return abs(foot - complex(*device["at"]))


def at_a_ceiling(case: Case, row: Row) -> bool:
    return any(case.devices[row[end]]["location"] == "ceiling" for end in ("from_tag", "to_tag"))


def rise_of(case: Case, tag: str) -> Rise | None:
    """Return where the cable of a device on furniture goes up: at the nearest wall of its room.

    Up to 0.75 m from that wall it lies along the furniture, else down to the floor and along that.
    """
    device = case.devices.get(tag)
    if device is None or device["room"] not in case.inputs.rooms or device["location"] not in ON_FURNITURE:
        return None
    here = complex(*device["at"])
    foot = min(feet_of(case, tag), key=lambda one: round(abs(one - here), 6))
    x, y = round(foot.real, 3), round(foot.imag, 3)
    along = abs(x - here.real) + abs(y - here.imag)
    far = abs(here - foot) > AT_THE_WALL + 1e-6
    floor, height = case.inputs.floor_m(device["storey"]), device["height_m"]
    place = Place(device["storey"], (x, y, floor if far else floor + height))
    return Rise(place, along + (height if far else 0.0), along if far else 0.0)


def feet_of(case: Case, tag: str) -> list[complex]:
    """Return the nearest point of each wall of its room to a device."""
    device = case.devices[tag]
    room = case.inputs.rooms[device["room"]]
    corners = [case.inputs.in_building(device["room"], at, 0.0)[1][:2] for at in room["outline"]]
    here = complex(*device["at"])
    feet = []
    for one, other in zip(corners, (*corners[1:], corners[0]), strict=True):
        a, b = complex(*one), complex(*other)
        if a != b:
            share = ((here - a) * (b - a).conjugate()).real / abs(b - a) ** 2
            feet.append(a + min(max(share, 0.0), 1.0) * (b - a))
    return feet


def route_of(case: Case, row: Row) -> Route:
    start, end = place_of(case, row["from_tag"]), place_of(case, row["to_tag"])
    if rack_of(case, row["to_tag"]) is None:
        return within_the_room(case, row, start, end)
    fixed = case.inputs.fixed.get("cables", {}).get(row["identity"], {}).get("route", ())
    rise = None if fixed else rise_of(case, row["from_tag"])
    return cheapest(case.inputs, row["signal"], start, end, tuple(fixed), rise)


def slack_of(case: Case, tag: str) -> float:
    if rack_of(case, tag) is not None:
        return case.inputs.rule("cabling", "rack_slack", RACK_SLACK)
    if case.devices[tag]["location"] == "ceiling":
        return case.inputs.rule("cabling", "ceiling_slack", CEILING_SLACK)
    return case.inputs.rule("cabling", "table_slack", TABLE_SLACK)


def in_the_building(case: Case) -> list[Row]:
    laid = [row for row in case["cables"] if row["route"] != IN_THE_RACK]
    return [row for row in laid if row["to_tag"] in case.devices or rack_of(case, row["to_tag"])]


def test_what_is_placed_by_hand_stands_where_rooms_and_rotations_put_it(case: Case) -> None:
    """Rooms are turned about their origins against the clock, and mirrored in x before."""
    placed = 0
    for tag, room in case.inputs.rooms.items():
        ceiling = metres(room["ceiling"]["height"])
        wanted = {f"{tag}-{code}": (one["at"], ceiling) for code, one in room.get("loudspeakers", {}).items()}
        if room.get("charging_at", "unknown") != "unknown":
            height = metres(room.get("charging_height", "0.75 m"))
            wanted[f"{tag}-CH1"] = (room["charging_at"], height)
        for device, (at, height) in wanted.items():
            storey, point = case.inputs.in_building(tag, at, height)
            row = case.devices[device]
            assert (*row["at"], row["height_m"]) == pytest.approx(point, abs=EXACT_M), device
            assert row["storey"] == storey
            placed += 1
    assert placed >= 20


def test_chargers_of_a_room_stand_beside_each_other(case: Case) -> None:
    entries = library("equipment", "chargers", "chargers")
    pairs = 0
    for tag in case.inputs.rooms:
        row = [one for name, one in case.devices.items() if re.fullmatch(rf"{tag}-CH\d+", name)]
        for one, other in combinations(row, 2):
            least_m = (metres(entries[one["model"]]["width"]) + metres(entries[other["model"]]["width"])) / 2
            assert math.dist(one["at"], other["at"]) >= least_m, (one["tag"], other["tag"])
            assert one["height_m"] == other["height_m"]
            pairs += 1
    assert pairs


def test_every_cable_takes_the_cheapest_way_and_is_as_long_as_it(case: Case) -> None:
    followed = 0
    for row in in_the_building(case):
        route = route_of(case, row)
        if row["measured"]:
            fixed = case.inputs.fixed["cables"][row["identity"]]
            assert row["length_m"] == pytest.approx(metres(fixed["length"]), abs=EXACT_M)
        else:
            assert row["pathways"] == list(route.ways), row["identity"]
            assert row["estimated_m"] == pytest.approx(route.length_m, abs=EXACT_M), row["identity"]
            for end, where in (("from_tag", "rises_at"), ("to_tag", "comes_down_at")):
                if row[where] is not None:
                    rise = rise_of(case, row[end])
                    assert rise is not None
                    assert row[where] == pytest.approx(rise.place.point[:2], abs=1e-3), row["identity"]
                    assert row["floor_m"] == pytest.approx(rise.floor_m, abs=EXACT_M)
            slack = slack_of(case, row["from_tag"]) + slack_of(case, row["to_tag"]) + TERMINATION
            assert row["slack_m"] == pytest.approx(slack, abs=EXACT_M), row["identity"]
            assert row["length_m"] == pytest.approx(route.length_m + slack, abs=EXACT_M), row["identity"]
            followed += 1
    measured = [key for key, fixed in case.inputs.fixed["cables"].items() if "length" in fixed]
    assert sorted(measured) == sorted(row["identity"] for row in case["cables"] if row["measured"])
    assert followed > 30


def test_cables_inside_a_rack_are_as_long_as_a_cord(case: Case) -> None:
    inside = [row for row in case["cables"] if row["route"] == IN_THE_RACK]
    assert inside
    for row in inside:
        assert row["length_m"] == pytest.approx(case.inputs.rule("cabling", "equipment_cord", EQUIPMENT_CORD))
        homes = {case.devices[row[end]]["location"] for end in ("from_tag", "to_tag")}
        assert len(homes) == 1


def test_what_others_furnish_and_nobody_placed_has_a_lead_for_each_channel(case: Case) -> None:
    placed = {
        (tag, code)
        for place, items in case.inputs.building.get("owner_equipment", {}).items()
        for one in items.values()
        for tag in one.get(
            "rooms", [place, *(t for t, row in case.inputs.rooms.items() if row["type"] == place)]
        )
        for code in one.get("serves", ())
    }
    wanted = Counter(
        (tag, code)
        for tag, room in case.inputs.rooms.items()
        for ends in ("destinations", "returns")
        for code, one in room.get(ends, {}).items()
        if one["signal"] == "analogue" and (tag, code) not in placed
        for _ in range(one.get("channels", 1))
    )
    leads = [row for row in case["cables"] if row["route"].startswith("lead to ")]
    assert Counter((row["room"], row["to_tag"]) for row in leads) == wanted
    taken = {cause for line in case["takeoff"] if line["section"] == "cable" for cause in line["causes"]}
    for row in leads:
        assert row["length_m"] == pytest.approx(case.inputs.rule("cabling", "lead_to_others", 5.0))
        assert row["identity"] in taken


def cord_m(case: Case, name: str, default: float) -> float:
    """Return the length of the shortest cord of the library that is as long as the rule wants."""
    wanted = case.inputs.rule("cabling", name, default)
    cords = library("materials", "patch_cords", "patch_cords").values()
    return min(metres(cord["length"]) for cord in cords if metres(cord["length"]) >= wanted - 1e-9)


def plugged(case: Case, tag: str) -> bool:
    """Say whether links end in a plug at a device."""
    models = {
        "access point": case.models("equipment", "access_points", "access_points"),
        "charger": case.models("equipment", "chargers", "chargers"),
        "breakout": case.models("equipment", "breakouts", "breakouts"),
    }
    device = case.devices[tag]
    return models.get(device["kind"], {}).get(device["model"], {}).get("termination") == "plug"


def test_channels_hold_their_cords_and_links_their_limit(case: Case) -> None:
    """Insertion loss rises 0.4 % for each kelvin from 20 °C, 0.2 % screened, up to 40 °C; 90 m at 20 °C."""
    device, equipment = (
        cord_m(case, "device_cord", DEVICE_CORD),
        cord_m(case, "equipment_cord", EQUIPMENT_CORD),
    )
    air = [celsius(case.inputs.building["ceiling_temperature"])]
    air += [celsius(space["temperature"]) for space in case.inputs.building["spaces"].values()]
    for row in case["cables"]:
        if row["signal"] != "network":
            continue
        at_rack = rack_of(case, row["to_tag"]) is not None
        cords = (0.0 if plugged(case, row["from_tag"]) else device) + (equipment if at_rack else 0.0)
        assert row["cords_m"] == pytest.approx(cords), row["identity"]
        assert row["channel_m"] == pytest.approx(row["length_m"] + cords)
        assert row["cords_m"] <= 10
        rise = 0.004 if cables()[row["type"]]["screening"] == "U/UTP" else 0.002
        # Each stretch at its own temperature: between the coolest air and the warmest stretch.
        coolest, warmest = min(air), row["temperature_c"]
        assert max(air) + 15 >= warmest
        assert 90 / (1 + rise * (warmest - 20)) <= row["limit_m"] + EXACT_M, row["identity"]
        assert row["limit_m"] <= 90 / (1 + rise * max(coolest - 20, 0)) + EXACT_M, row["identity"]
        assert row["margin_m"] == pytest.approx(row["limit_m"] - row["length_m"], abs=EXACT_M)
        assert (row["verdict"] == "fails") is (row["length_m"] > row["limit_m"])


def test_every_jacket_suits_the_spaces_of_its_cable(case: Case) -> None:
    """All but cables inside racks lie for a part in ceilings that nobody describes.

    That asks for plenum where NFPA 70 is adopted, elsewhere for the best reaction to fire in the library.
    """
    for row in in_the_building(case):
        entry = cables()[row["type"]]
        alike = [one for one in cables().values() if one["file"] == entry["file"]]
        jacket = entry["jacket"]
        assert row["jacket"] in jacket["ratings"]
        if case.inputs.nfpa:
            assert jacket["plenum"], row["identity"]
        else:
            best = min(
                CLASSES.index(one) for other in alike for one in other["jacket"]["ratings"] if one in CLASSES
            )
            assert CLASSES.index(row["jacket"]) == best, row["identity"]


def test_data_cables_are_the_least_cost_ones_that_suit(case: Case) -> None:
    screened = case.models("equipment", "access_points", "access_points")
    for row in in_the_building(case):
        if row["signal"] != "network":
            continue
        entry = cables()[row["type"]]
        wants = bool(screened.get(case.devices[row["from_tag"]]["model"], {}).get("needs_screened_cable"))
        suitable = [
            float(one["cost"].partition(" ")[0])
            for one in library("materials", "data_cables", "cables").values()
            if row["jacket"] in one["jacket"]["ratings"] and (one["screening"] != "U/UTP" or not wants)
        ]
        assert float(entry["cost"].partition(" ")[0]) == min(suitable), row["identity"]


def test_lengths_add_up_to_totals_and_to_the_lines_of_the_riser(case: Case) -> None:
    for total in case["cable_totals"]:
        rows = [row for row in case["cables"] if row["type"] == total["type"]]
        assert total["count"] == len(rows)
        assert total["length_m"] == pytest.approx(math.fsum(row["length_m"] for row in rows))
    assert sum(total["count"] for total in case["cable_totals"]) == len(case["cables"])


def test_no_other_order_of_loudspeakers_takes_less_cable(case: Case) -> None:
    """Every order of the loudspeakers of a line is tried, from the rack to the first and on to the others."""
    tried = 0
    for line in case["loudspeaker_lines"]:
        on_it = [
            row
            for row in case["line_loudspeakers"]
            if (row["room"], row["zone"]) == (line["room"], line["zone"])
        ]
        laid = [case.cables[row["cable_in"]] for row in on_it]
        if len(laid) < 2 or any(row["measured"] for row in laid):
            continue
        (rack,) = (row for row in laid if rack_of(case, row["to_tag"]) is not None)

        def length_m(start: str, end: str, like: Row = rack) -> float:
            route = route_of(case, {**like, "identity": "", "from_tag": start, "to_tag": end})
            return route.length_m + slack_of(case, start) + slack_of(case, end)

        tags = [row["from_tag"] for row in laid]
        first_m = {tag: length_m(tag, rack["to_tag"]) for tag in tags}
        on_m = {(one, other): length_m(one, other) for one, other in permutations(tags, 2)}
        least_m = min(
            first_m[order[0]] + sum(on_m[after, one] for one, after in pairwise(order))
            for order in permutations(tags)
        )
        slack_m = TERMINATION * len(tags)
        assert sum(row["length_m"] for row in laid) == pytest.approx(least_m + slack_m, abs=EXACT_M)
        tried += 1
    assert tried >= 3
