"""Which racks an equipment room has, against trying every set of models."""

import random
from dataclasses import replace
from decimal import Decimal
from itertools import product

import pytest

from proposal.design.equipment.unit_costs import cost_of_one
from proposal.design.racks.rack_choice import RackDesign, _racks_of_room
from proposal.design.racks.rack_items import Block
from proposal.design.whole_design import design
from proposal.model.equipment.devices import Rack, Switch
from proposal.model.project import Project
from proposal.standards.cooling import heat_btu_h
from tests.design.making import EXAMPLE, changed, designed, minimal, project_of, without_standby
from tests.design.racks.test_rack_layout import alone, thing


def project(**racks: tuple[int, float, int]) -> Project:
    """Return the example with such racks alone: by code units, weight they carry and cost."""
    base = project_of(EXAMPLE)
    first = max(base.library.racks.values(), key=lambda one: one.units)
    made = {
        code: first.model_copy(
            update={
                "model": code,
                "units": units,
                "load": load_kg,
                "cost": replace(first.cost, amount=Decimal(cost)),
            }
        )
        for code, (units, load_kg, cost) in racks.items()
    }
    return changed(base, "library.racks", made)


def racks(made: Project, blocks: list[Block], patched: list[Block] | None = None) -> list[RackDesign]:
    """Return the racks of an equipment room of the example that names one rack."""
    named = [one for one in designed(project_of(EXAMPLE)).devices if one.tag == "ER1-RK1"]
    return _racks_of_room(made, [replace(one, model="") for one in named], patched or [], blocks)


@pytest.mark.parametrize("seed", range(20))
def test_the_rack_is_the_least_that_holds_everything(seed: int) -> None:
    chance = random.Random(seed)
    shapes = [
        (chance.randint(5, 40), float(chance.choice([20, 60, 200])), chance.randint(50, 400))
        for _ in range(5)
    ]
    made = project(**{f"R{n}": shape for n, shape in enumerate(shapes)})
    items = [
        thing(f"D{n}", chance.randint(1, 2), weight_kg=chance.choice([1.0, 4.0, 12.0]))
        for n in range(chance.randint(1, 10))
    ]

    def suits(rack: Rack) -> bool:
        # A fifth of the units stays free.
        usable = int(rack.units * 0.8 + 1e-9)
        return sum(one.units for one in items) <= usable and sum(one.weight_kg for one in items) <= rack.load

    fitting = [rack for rack in made.library.racks.values() if suits(rack)]
    found = racks(made, alone(*items))
    if fitting:
        best = min(fitting, key=lambda rack: (cost_of_one(made, rack), rack.weight, rack.model))
        assert [one.device.model for one in found] == [best.model]
    else:
        assert len(found) > 1 or found[0].layout.left or found[0].weight_kg > found[0].entry.load  # type: ignore[union-attr]


def test_racks_are_added_only_where_none_suffices() -> None:
    made = project(SMALL=(10, 100.0, 100), LARGE=(20, 100.0, 350))
    # 16 units fit the larger rack, which costs more than two of the smaller; yet one rack was named.
    assert [one.device.model for one in racks(made, alone(*(thing(f"D{n}") for n in range(16))))] == ["LARGE"]
    # 20 units: 16 + 8 at 450, the set with the least cost that holds them, since 8 + 8 are too few.
    found = racks(made, alone(*(thing(f"D{n}") for n in range(20))))
    assert sorted(one.device.model for one in found) == ["LARGE", "SMALL"]
    assert [one.device.tag for one in found] == ["ER1-RK1", "ER1-RK2"]
    assert sorted(item.name for one in found for item in one.layout.items) == sorted(
        f"D{n}" for n in range(20)
    )


@pytest.mark.parametrize("count", range(1, 30))
def test_two_named_racks_take_the_least_cost_set(count: int) -> None:
    made = project(S=(5, 100.0, 100), M=(10, 100.0, 170), L=(20, 100.0, 300))
    made = changed(made, "building.equipment_rooms.ER1.racks", {"RK1": _named(made), "RK2": _named(made)})
    named = next(one for one in designed(project_of(EXAMPLE)).devices if one.tag == "ER1-RK1")
    second = replace(named, tag="ER1-RK2", code="RK2", location="ER1-RK2")
    here = [replace(one, model="") for one in (named, second)]
    found = _racks_of_room(made, here, [], alone(*(thing(f"D{n:02d}") for n in range(count))))
    usable = {"S": 4, "M": 8, "L": 16}
    costs = {"S": 100, "M": 170, "L": 300}
    # Things of one unit each: any split will do, so that the sum of units decides.
    sets = [pair for pair in product("SML", repeat=2) if usable[pair[0]] + usable[pair[1]] >= count]
    least = min(costs[one] + costs[other] for one, other in sets)
    assert sum(costs[one.device.model] for one in found) == least


def _named(made: Project) -> object:
    return made.building.equipment_rooms["ER1"].racks["RK1"]


def test_switches_and_panels_stand_in_the_first_rack() -> None:
    made = project(SMALL=(5, 100.0, 100))
    patched = alone(thing("SW1", kind="switch"), thing("PP1", kind="patch_panel"))
    found = racks(made, alone(*(thing(f"D{n}") for n in range(4))), patched)
    assert {"SW1", "PP1"} <= {item.name for item in found[0].layout.items}


def test_a_rack_chosen_by_hand_is_checked_and_never_added_to() -> None:
    made = project(SMALL=(5, 100.0, 100), LARGE=(20, 100.0, 350))
    named = next(one for one in designed(project_of(EXAMPLE)).devices if one.tag == "ER1-RK1")
    found = _racks_of_room(
        made, [replace(named, model="SMALL")], [], alone(*(thing(f"D{n}") for n in range(9)))
    )
    (one,) = found
    assert one.by_hand
    assert one.device.model == "SMALL"
    assert [item.name for item in one.layout.left] == ["D5", "D6", "D7", "D8"]


def test_everything_with_units_stands_in_one_rack_once() -> None:
    for made in (designed(project_of(EXAMPLE)), designed(minimal())):
        standing = [
            item.name for rack in made.racks for item in rack.layout.items if item.name in made.every_entry
        ]
        located = {rack.device.tag for rack in made.racks}
        wanted = [
            one.tag
            for one in made.devices
            if one.location in located and one.kind != "rack" and made.every_entry[one.tag].rack_units
        ]
        assert sorted(standing) == sorted(wanted)
        assert not [rack.device.tag for rack in made.racks if rack.layout.left]
        for rack in made.racks:
            assert rack.entry is not None
            taken: dict[tuple[int, str], list[str]] = {}
            for slot in rack.layout.slots:
                for unit in range(slot.unit, slot.unit + slot.item.units):
                    taken.setdefault((unit, slot.face), []).append(slot.side or "whole")
                    assert unit <= rack.entry.units
            assert all(sides in (["whole"], ["left"], ["left", "right"]) for sides in taken.values())


def test_devices_moved_to_a_further_rack_are_located_there() -> None:
    base = without_standby(project_of(EXAMPLE))
    small = {code: one for code, one in base.library.racks.items() if one.units < 20}
    made = design(changed(base, "library.racks", small))
    at_two = [rack for rack in made.racks if rack.device.room == "ER2"]
    assert len(at_two) > 1
    place_of = {device.tag: device.location for device in made.devices}
    for rack in at_two:
        for item in rack.layout.items:
            if item.name in place_of:
                assert place_of[item.name] == rack.device.tag
    # Everything that was counted is counted still, and each rack is a device.
    assert {rack.device.tag for rack in made.racks} <= set(place_of)


def test_the_heat_of_a_rack_is_the_sum_by_hand() -> None:
    made = designed(minimal())
    (rack,) = made.racks
    (switch,) = (one for one in made.devices if one.kind == "switch")
    entry = made.entries[switch.tag]
    assert isinstance(entry, Switch)
    assert entry.mains is not None
    drawn_w = sum(port.drawn_w for port in made.ports if port.switch == switch.tag)
    # What it takes itself, and what its supply loses of what it feeds onward; that itself is heat elsewhere.
    assert rack.heat_w == pytest.approx(entry.mains.typical + drawn_w / entry.poe_efficiency - drawn_w)
    assert heat_btu_h(rack.heat_w) == pytest.approx(3.412 * rack.heat_w)
