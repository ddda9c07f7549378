"""Where things stand in a rack, against every order of stacking, and by hand."""

import random
from itertools import permutations

import pytest

from proposal.design.racks.rack_items import Block, Item, blocks_of
from proposal.design.racks.rack_layout import laid_out, usable_units
from proposal.model.equipment.devices import Rack
from proposal.model.project import Project
from tests.design.making import EXAMPLE, changed, project_of


def example() -> Project:
    return project_of(EXAMPLE)


def rack(**values: object) -> Rack:
    """Return a rack of 20 units on front and rear rails, 600 mm deep."""
    first = next(iter(example().library.racks.values()))
    shape = {"units": 20, "usable_depth": 0.6, "load": 100.0, "rails": "front and rear", **values}
    return first.model_copy(update=shape)


def thing(name: str, units: int = 1, gap: int = 0, weight_kg: float = 1.0, **values: object) -> Item:
    entry = next(iter(example().library.amplifiers.values()))
    shape = {"kind": "amplifier", "entry": entry, "units": units, "gap": gap, "weight_kg": weight_kg}
    return Item(name=name, **{**shape, **values})  # type: ignore[arg-type]


def alone(*items: Item) -> list[Block]:
    """Return each thing on its own, in the order of stacking."""
    return sorted((Block(((item,),)) for item in items), key=lambda block: block.order)


def moment(order: tuple[Item, ...]) -> float:
    """Return the sum of weight times height of the middle of each thing, in units above the floor."""
    total, at = 0.0, 0
    for item in order:
        total += item.weight_kg * (at + item.units / 2)
        at += item.units + item.gap
    return total


@pytest.mark.parametrize("seed", range(25))
def test_no_order_of_stacking_has_less_weight_times_height(seed: int) -> None:
    chance = random.Random(seed)
    items = [
        thing(f"D{n}", chance.randint(1, 3), chance.randint(0, 1), chance.choice([0.5, 1, 2, 4.5, 9]))
        for n in range(6)
    ]
    found = laid_out(example(), rack(units=30), alone(*items))
    stacked = tuple(slot.item for slot in found.slots if slot.face == "front")
    assert sorted(item.name for item in stacked) == sorted(item.name for item in items)
    assert moment(stacked) == pytest.approx(min(moment(order) for order in permutations(items)))
    # One upon the other, with the gaps that they want and nothing else between.
    units = [slot.unit for slot in found.slots if slot.face == "front"]
    wanted = [1]
    for item in stacked[:-1]:
        wanted.append(wanted[-1] + item.units + item.gap)
    assert units == wanted


def test_a_thing_fixed_by_hand_stands_there_and_the_others_around_it() -> None:
    items = (thing("D1", 2, weight_kg=9), thing("D2", 1, weight_kg=1, wished=2), thing("D3", 1, weight_kg=3))
    found = laid_out(example(), rack(units=6), alone(*items))
    # D1 needs two units together: 3 and 4 are the lowest; D3 then takes the one that is left below.
    assert {slot.item.name: slot.unit for slot in found.slots} == {"D1": 3, "D2": 2, "D3": 1}
    assert found.left == ()
    assert found.overlaps == ()


def test_two_things_fixed_to_one_unit_are_told() -> None:
    items = (thing("D1", 2, wished=3), thing("D2", 1, wished=4), thing("D3", 1, wished=21))
    found = laid_out(example(), rack(), alone(*items))
    assert [(item.name, other) for item, other in found.overlaps] == [("D2", "D1"), ("D3", "")]


def test_what_finds_no_place_is_told() -> None:
    found = laid_out(example(), rack(units=3), alone(*(thing(f"D{n}") for n in range(5))))
    assert [item.name for item in found.left] == ["D3", "D4"]


def test_a_fifth_of_the_units_stays_free() -> None:
    # 42 units less 20 % are 33.6: 33 whole ones; 20 less 20 % are 16.
    assert usable_units(example(), rack(units=42)) == 33
    assert usable_units(example(), rack(units=20)) == 16


def test_gaps_for_air_are_kept_above() -> None:
    found = laid_out(example(), rack(), alone(thing("D1", 1, 1, 9), thing("D2", 1, 1, 5), thing("D3", 1)))
    assert [slot.unit for slot in found.slots] == [1, 3, 5]
    # The gap above the last one but none above D3: 2 + 2 + 1 units.
    assert found.used == 5


def test_fans_are_added_until_the_air_carries_the_heat_away() -> None:
    # 900 W at 10 K want 268.7 m³/h; the fan panel of the library moves 160, so that two are needed.
    hot = thing("D1", heat_w=900.0)
    found = laid_out(example(), rack(), alone(hot))
    fans = [slot for slot in found.slots if slot.item.kind == "fan panel"]
    assert found.air_wanted_m3_h == pytest.approx(3600 * 900 / (1.2 * 1005 * 10))
    moved = next(iter(one for one in example().library.rack_parts.values() if one.airflow_m3_h)).airflow_m3_h
    assert len(fans) == -(-found.air_wanted_m3_h // moved)
    assert found.air_m3_h == moved * len(fans)
    quiet = laid_out(example(), rack(), alone(thing("D1", heat_w=250.0)))
    assert quiet.air_wanted_m3_h == 0
    assert not [one for one in quiet.slots if one.item.kind == "fan panel"]


def test_strips_hang_behind_where_there_are_rear_rails_and_in_front_elsewhere() -> None:
    fed = thing("D1", inlets=1, inlet="IEC 60320 C14", apparent_va=100.0)
    behind = laid_out(example(), rack(), alone(fed))
    assert [(slot.item.kind, slot.face, slot.unit) for slot in behind.slots] == [
        ("amplifier", "front", 1),
        ("power strip", "rear", 1),
    ]
    before = laid_out(example(), rack(rails="front"), alone(fed))
    assert {(slot.item.kind, slot.face) for slot in before.slots} == {
        ("amplifier", "front"),
        ("power strip", "front"),
    }
    assert (behind.used, before.used) == (1, 2)


def test_two_alike_of_half_the_width_stand_side_by_side() -> None:
    halves = [thing(f"D{n}", half=True) for n in range(1, 4)]
    _, rest = blocks_of(example(), halves, (), ())
    assert [[[item.name for item in level] for level in block.levels] for block in rest] == [
        [["D1", "D2"]],
        [["D3"]],
    ]


def test_a_switch_stands_under_a_panel_with_its_manager_between() -> None:
    switches = [thing("SW1", kind="switch"), thing("SW2", kind="switch")]
    panels = [thing("PP1", kind="patch_panel"), thing("PP2", kind="patch_panel")]
    patched, _ = blocks_of(example(), switches, panels, ())
    assert [[level[0].name for level in block.levels] for block in patched] == [
        ["SW1", "CM1", "PP1"],
        ["SW2", "CM2", "PP2"],
    ]
    shared = changed(example(), "brief.rules.racks.panels_a_manager", 2)
    patched, _ = blocks_of(shared, switches, panels, ())
    assert sorted(level[0].name for block in patched for level in block.levels) == [
        *("CM1", "PP1", "PP2", "SW1", "SW2"),
    ]
