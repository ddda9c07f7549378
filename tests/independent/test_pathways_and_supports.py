"""Fill, bundles, penetrations and supports, computed again from cables, their diameters and the building."""

import math
from collections import Counter, defaultdict
from itertools import pairwise
from typing import Any

import pytest

from tests.independent.conftest import Case
from tests.independent.inputs import cables, library, metres
from tests.independent.routes import OPEN
from tests.independent.test_cable_routes import (
    in_the_building,
    near_each_other,
    place_of,
    rack_of,
    rise_of,
)

pytestmark = pytest.mark.independent
Row = dict[str, Any]
# NFPA 70 Chapter 9, Tables 1 and 4, EMT: share by number of cables, internal diameters, mm, and areas, mm².
SHARES = {1: 0.53, 2: 0.31}
FURTHER = 0.40
INTERNAL_MM = {
    "1/2": 15.8,
    "3/4": 20.9,
    "1": 26.6,
    "1-1/4": 35.1,
    "1-1/2": 40.9,
    "2": 52.5,
    "2-1/2": 69.4,
    "3": 85.2,
    "3-1/2": 97.4,
    "4": 110.1,
}
INTERNAL_MM2 = dict(zip(INTERNAL_MM, (196, 343, 556, 968, 1314, 2165, 3783, 5701, 7451, 9521), strict=True))
# As the starting rules have them: the share of a tray or of hooks that cables may take.
TRAY_SHARE = 0.5
SPACING_M = 1.5


def diameter_mm(code: str) -> float:
    return 1000 * metres(cables()[code]["outside_diameter"])


def area_mm2(code: str) -> float:
    return math.pi / 4 * diameter_mm(code) ** 2


def in_pathways(case: Case) -> dict[str, list[Row]]:
    held: dict[str, list[Row]] = {row["tag"]: [] for row in case["pathways"]}
    for cable in case["cables"]:
        for tag in cable["pathways"]:
            held[tag].append(cable)
    return held


def sides(row: Row, held: list[Row]) -> list[list[Row]]:
    """Return what lies together: all, or loudspeaker lines beside the rest where a divider parts them."""
    lines = [cable for cable in held if cable["signal"] == "loudspeaker line"]
    rest = [cable for cable in held if cable not in lines]
    return [side for side in (lines, rest) if side] if row["divided"] else [held]


def test_pathways_hold_the_cables_whose_way_leads_through_them(case: Case) -> None:
    held = in_pathways(case)
    contents: dict[str, Counter[str]] = defaultdict(Counter)
    for line in case["pathway_contents"]:
        contents[line["pathway"]][line["type"]] += line["count"]
        assert line["diameter_m"] == pytest.approx(diameter_mm(line["type"]) / 1000)
    for row in case["pathways"]:
        assert sorted(row["cables"]) == sorted(cable["identity"] for cable in held[row["tag"]])
        assert contents[row["tag"]] == Counter(cable["type"] for cable in held[row["tag"]])
        rest = [cable for cable in held[row["tag"]] if cable["signal"] != "loudspeaker line"]
        assert row["tied"] == len(rest if row["divided"] else held[row["tag"]])


def test_pathways_are_as_long_and_lie_as_high_as_they_are_written(case: Case) -> None:
    nodes = {row["tag"]: row for row in case["nodes"]}
    lengths = {row["tag"]: row["length_m"] for row in case["pathways"]}
    for tag, at in case.inputs.nodes.items():
        floor = case.inputs.floor_m(nodes[tag]["storey"])
        assert (*nodes[tag]["at"], nodes[tag]["height_m"] + floor) == pytest.approx(at)
    for way in case.inputs.ways:
        straight = math.dist(case.inputs.nodes[way.start], case.inputs.nodes[way.end])
        assert lengths[way.tag] == pytest.approx(way.length_m or straight)


def test_fill_is_the_area_of_the_cables_over_that_of_what_holds_them(case: Case) -> None:
    hooks = library("materials", "pathways", "supports")
    computed = 0
    for row in case["pathways"]:
        held = in_pathways(case)[row["tag"]]
        if row["kind"] == "riser shaft" or not held:
            continue
        taken = max(sum(area_mm2(cable["type"]) for cable in side) for side in sides(row, held))
        if row["kind"] == "tray":
            whole = row["width_m"] * row["depth_m"] * 1e6 / (2 if row["divided"] else 1)
        elif row["kind"] == "hooks":
            whole = float(hooks[row["size"]]["area"].removesuffix(" mm²"))
        else:
            whole = INTERNAL_MM2[row["size"]]
        limit = TRAY_SHARE if row["kind"] in OPEN else SHARES.get(len(held), FURTHER)
        assert row["limit"] == pytest.approx(limit)
        assert row["fill"] == pytest.approx(taken / whole, rel=1e-6), row["tag"]
        assert (row["verdict"] == "fails") is (taken / whole > limit)
        computed += 1
    assert computed >= 2


def test_chosen_conduits_have_the_smallest_size_that_holds_their_cables(case: Case) -> None:
    for row in case["pathways"]:
        held = in_pathways(case)[row["tag"]]
        if row["kind"] not in ("conduit", "sleeve") or not row["chosen"] or not held:
            continue
        taken = sum(area_mm2(cable["type"]) for cable in held)
        wanted = taken / SHARES.get(len(held), FURTHER)
        size = next(one for one, mm2 in INTERNAL_MM2.items() if mm2 >= wanted)
        sizes = list(INTERNAL_MM)
        # Three cables may jam where the conduit is 2.8 to 3.2 times as wide as one; then a size more.
        if len(held) == 3:
            ratio = INTERNAL_MM[size] * 3 / sum(diameter_mm(cable["type"]) for cable in held)
            size = sizes[sizes.index(size) + 1] if 2.8 <= ratio <= 3.2 else size
            ratio = INTERNAL_MM[size] * 3 / sum(diameter_mm(cable["type"]) for cable in held)
            assert row["jam_ratio"] == pytest.approx(ratio, rel=1e-6)
        assert row["size"] == size, row["tag"]


def test_spare_capacity_is_how_many_more_of_the_thickest_cable_fit(case: Case) -> None:
    hooks = library("materials", "pathways", "supports")
    for row in case["pathways"]:
        held = in_pathways(case)[row["tag"]]
        if row["kind"] == "riser shaft" or not held:
            continue
        # Fill and spare are those of the fuller side of a divider.
        side = max(sides(row, held), key=lambda side: sum(area_mm2(cable["type"]) for cable in side))
        taken = sum(area_mm2(cable["type"]) for cable in side)
        thickest = max(area_mm2(cable["type"]) for cable in side)
        if row["kind"] in ("conduit", "sleeve"):
            whole = INTERNAL_MM2[row["size"]]
            fitting = [
                more
                for more in range(200)
                if taken + more * thickest <= whole * SHARES.get(len(side) + more, FURTHER)
            ]
            spare = max(fitting)
        else:
            area = row["width_m"] * row["depth_m"] * 1e6 if row["kind"] == "tray" else 0.0
            whole = area / (2 if row["divided"] else 1) or float(
                hooks[row["size"]]["area"].removesuffix(" mm²")
            )
            spare = math.floor((whole * TRAY_SHARE - taken) / thickest + 1e-9)
        assert row["spare"] == spare, row["tag"]


def test_every_floor_that_a_used_pathway_crosses_is_an_opening_to_close(case: Case) -> None:
    floors = sorted(case.inputs.building["storeys"], key=case.inputs.floor_m)
    wanted = {}
    for way in case.inputs.ways:
        low, high = sorted(
            floors.index(case.inputs.building["nodes"][node]["storey"]) for node in (way.start, way.end)
        )
        held = in_pathways(case)[way.tag]
        for floor in floors[low + 1 : high + 1] if held else ():
            wanted[way.tag, floor] = len(held)
    found = {(row["pathway"], row["storey"]): row["cables"] for row in case["penetrations"]}
    assert found == wanted
    used = {
        code
        for code, one in library("materials", "consumables", "consumables").items()
        if one["use"] in ("fire-stopping", "sleeve")
    }
    ours = [row for row in case["penetrations"] if row["closed_by"] != "others"]
    assert bool(ours) is any(line["item"] in used for line in case["takeoff"])


Span = tuple[float, float, str]


def level_runs(case: Case) -> dict[tuple[str, float, float], list[Span]]:
    """Return what cables lie level outside pathways: by axis, other coordinate and height, in millimetres.

    Along x first, then along y, from the device on, or from the wall to which its cable lies on the floor;
    between devices of a room level with the upper one where it is on the ceiling; else at the height of the
    storey's horizontal ways.
    """
    runs: dict[tuple[str, float, float], list[Span]] = defaultdict(list)

    def lay(height: float, start: tuple[float, ...], end: tuple[float, ...], identity: str) -> None:
        (x1, y1), (x2, y2) = ((round(at[0], 3), round(at[1], 3)) for at in (start, end))
        if x1 != x2:
            runs["x", y1, round(height, 3)].append((min(x1, x2), max(x1, x2), identity))
        if y1 != y2:
            runs["y", x2, round(height, 3)].append((min(y1, y2), max(y1, y2), identity))

    for row in in_the_building(case):
        start, end = place_of(case, row["from_tag"]), place_of(case, row["to_tag"])
        rise, descent = rise_of(case, row["from_tag"]), rise_of(case, row["to_tag"])
        begin, leave = rise.place if rise else start, descent.place if descent else end
        levels = [case.inputs.floor_m(one.storey) + case.inputs.ways_m(one.storey) for one in (start, end)]
        if rack_of(case, row["to_tag"]) is None:
            high = [case.devices[row[one]]["location"] == "ceiling" for one in ("from_tag", "to_tag")]
            level = max(start.point[2], end.point[2]) if any(high) else levels[0]
            if near_each_other(case, row):
                continue
            lay(level, begin.point, leave.point, row["identity"])
        elif row["turns"]:
            if not to_a_floor_box(case, row):
                lay(levels[0], begin.point, row["turns"][0], row["identity"])
            lay(levels[1], row["turns"][1], end.point, row["identity"])
        else:
            lay(levels[0], begin.point, end.point, row["identity"])
    return runs


def to_a_floor_box(case: Case, row: dict[str, Any]) -> bool:
    """Say whether a cable goes over the floor to the pathway that it enters first: nothing hangs it there."""
    if not row["pathways"]:
        return False
    way = next(one for one in case.inputs.ways if one.tag == row["pathways"][0])
    ends = [case.inputs.nodes[node] for node in (way.start, way.end)]
    near = min(ends, key=lambda at: math.dist(at[:2], row["turns"][0]))
    return abs(near[2] - case.inputs.floor_m(row["from_storey"])) <= 0.1


def test_hooks_hold_the_union_of_all_runs_outside_pathways(case: Case) -> None:
    """Each stretch between nodes has floor(L / 1.5 m) + 1, times what its cables need side by side.

    Ends that stretches share count once. The text does not say from which end a stretch is measured, so that
    the number lies between all ends shared and none.
    """
    (code,) = {line["item"] for line in case["takeoff"] if line["section"] == "supports"}
    entry = library("materials", "pathways", "supports")[code]
    assert metres(entry["spacing"]) == SPACING_M
    holds = TRAY_SHARE * float(entry["area"].removesuffix(" mm²"))
    most, at_nodes = 0, defaultdict(list)
    rooms = set()
    for (axis, other, height), spans in level_runs(case).items():
        nodes = sorted({place for span in spans for place in span[:2]})
        for low, high in pairwise(nodes):
            lying = [span[2] for span in spans if span[0] <= low and span[1] >= high]
            if not lying:
                continue
            area = sum(area_mm2(case.cables[one]["type"]) for one in lying)
            side_by_side = max(1, math.ceil(area / holds - 1e-9))
            most += side_by_side * (math.floor((high - low) / SPACING_M + 1e-9) + 1)
            rooms |= {case.cables[one]["room"] for one in lying}
            for place in (low, high):
                at = (place, other) if axis == "x" else (other, place)
                at_nodes[(*at, height)].append(side_by_side)
    least = most - sum(sum(there) - max(there) for there in at_nodes.values())
    lines = {line["room"]: int(line["quantity"]) for line in case["takeoff"] if line["section"] == "supports"}
    assert set(lines) <= rooms
    assert least <= sum(lines.values()) <= most


def test_pathways_in_the_take_off_are_as_long_as_they_are_and_hang_as_often(case: Case) -> None:
    taken = {
        cause: (line["item"], float(line["quantity"]))
        for line in case["takeoff"]
        if line["section"] == "pathways"
        for cause in line["causes"]
    }
    conduits = {
        str(one["trade_size"]): code for code, one in library("materials", "pathways", "conduits").items()
    }
    for row in case["pathways"]:
        if row["kind"] == "riser shaft" or row["existing"]:
            continue
        item, quantity = taken[row["tag"]]
        if row["kind"] == "hooks":
            assert quantity == math.ceil(row["length_m"] / SPACING_M - 1e-9) + 1
        else:
            assert quantity == pytest.approx(row["length_m"], abs=1e-6)
        if row["kind"] in ("conduit", "sleeve"):
            assert item == conduits[row["size"]]
