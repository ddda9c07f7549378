"""What stays up when the mains fails: traced downwards from the supplies, and upwards from each device."""

from functools import cache

import networkx as nx
import pytest

from proposal.design.design import Design
from proposal.design.mains.mains_loads import standby_designs
from proposal.design.whole_design import design
from proposal.model.standby import Standby
from tests.design.making import EXAMPLE, changed, project_of, without_standby


@cache
def made() -> Design:
    return design(project_of(EXAMPLE))


@cache
def bare() -> Design:
    return design(without_standby(project_of(EXAMPLE)))


@pytest.mark.independent
def test_what_stays_up_is_what_the_supplies_reach_over_outlets_and_network_cables() -> None:
    """Mains ── UP1 ── SW1 ── AP1 stays up; mains ── BO1 ── AP1 goes down."""
    graph = nx.DiGraph()
    for rack in made().racks:
        for one in rack.layout.plugged:
            name = one.device if one.device in made().every_entry else f"{rack.device.tag}/{one.device}"
            graph.add_edge(one.strip if "-" in one.strip else f"{rack.device.tag}/{one.strip}", name)
    for port in made().ports:
        if port.attached.poe_class is not None:
            graph.add_edge(port.switch, port.attached.tag)
    supplies = [one.asked.tag for one in standby_designs(made().racks)]
    assert supplies
    reached = set().union(*(nx.descendants(graph, tag) for tag in supplies))
    paths = {one.device: one for one in made().power_paths}
    assert {device for device, one in paths.items() if one.supply} == reached
    # Over a switch, over an outlet, by an unbacked breakout, by nothing.
    assert {len(one.path) for one in paths.values()} == {0, 1, 2}
    assert any(one.path and not one.supply for one in paths.values())
    powered = {port.attached.tag for port in made().ports if port.attached.poe_class is not None}
    assert set(paths) == powered | {load.name for load in made().mains_loads} - set(supplies)


def test_what_need_not_stay_up_goes_down() -> None:
    kinds = {one.kind for one in made().power_paths if one.place == "ER2" and not one.supply}
    assert kinds == {"amplifier", "owner_equipment"}


def test_without_a_supply_nothing_is_told() -> None:
    assert bare().power_paths == ()


def test_all_that_a_supply_feeds_hangs_on_one_outlet_of_the_building() -> None:
    supply = next(standby_designs(made().racks))
    outlets = [outlet for circuit in made().circuits for outlet in circuit.outlets]
    (own,) = [outlet for outlet in outlets if outlet.serves == supply.asked.tag]
    feeds = {load.name for load, _ in own.shares}
    assert feeds == {supply.asked.tag} | {
        one.device for one in made().power_paths if len(one.path) == 1 and one.supply
    }
    others = {load.name for outlet in outlets if outlet is not own for load, _ in outlet.shares}
    assert not feeds & others


@pytest.mark.pinned
def test_a_supply_adds_what_it_loses_and_nothing_twice() -> None:
    """Losses at the typical load, charging besides at most."""
    with_it = {load.name: load for load in made().mains_loads}
    without = {load.name: load for load in bare().mains_loads}
    supply = next(standby_designs(made().racks))
    assert supply.entry is not None
    mains = supply.entry.mains
    assert mains is not None
    own = with_it[supply.asked.tag]
    assert own.typical_w == pytest.approx(mains.typical + supply.typical_w * (1 / mains.efficiency - 1))
    assert own.full_w == mains.maximum - supply.entry.rated_power
    assert own.loss_w == own.typical_w
    assert own.leakage_a == mains.leakage
    # One more switch carries the port of the supply; all else takes what it took.
    kept = {name for name in without if without[name].kind not in ("switch", "fan panel")}
    assert {name: with_it[name] for name in kept} == {name: without[name] for name in kept}
    (energy,) = [one for one in made().energy if one.place == "ER2"]
    assert energy.typical_w == pytest.approx(
        sum(load.typical_w for load in with_it.values() if load.place == "ER2")
    )


def test_the_supply_is_a_device_with_an_address_and_a_port() -> None:
    supply = next(standby_designs(made().racks)).asked
    (device,) = [one for one in made().devices if one.kind == "standby_supply"]
    assert (device.tag, device.location) == (supply.tag, "ER2-RK1")
    assert len(made().addresses.by_tag[supply.tag]) == 1
    assert [port.attached.tag for port in made().ports].count(supply.tag) == 1
    sheet = {one.name: one.value for one in made().settings if one.device == supply.tag}
    assert sheet["Outlets"].startswith("1: A101-MX1, 2: A102-MX1, ")
    assert "10 min are asked for" in sheet["Test without mains"]


def test_each_rack_of_a_room_has_its_own() -> None:
    asked = Standby.model_validate({"time": "5 min", "without": ["amplifier"]})
    both = changed(project_of(EXAMPLE), "building.equipment_rooms.ER1.standby", asked)
    found = {one.asked.tag: one for one in standby_designs(design(both).racks)}
    assert set(found) == {"ER1-UP1", "ER2-UP1"}
    assert "A001-MX1" in found["ER1-UP1"].names_fed
