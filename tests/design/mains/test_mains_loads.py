"""What devices take from the mains: at rest, typically, at most."""

import pytest

from proposal.design.design import Design
from proposal.design.whole_design import design
from proposal.model.equipment.devices import Switch
from proposal.model.equipment.sound_devices import Amplifier
from tests.design.making import EXAMPLE, project_of


@pytest.fixture(scope="module")
def made() -> Design:
    return design(project_of(EXAMPLE))


def test_amplifiers_are_typically_at_an_eighth_of_their_power(made: Design) -> None:
    found = [
        (load, entry)
        for load in made.mains_loads
        if isinstance(entry := made.entries.get(load.name), Amplifier)
    ]
    assert found
    for load, entry in found:
        assert entry.mains is not None
        assert load.typical_w == entry.eighth_power
        assert load.full_w == entry.mains.maximum
        assert load.rest_w == entry.mains.standby


def test_a_switch_stays_on_and_carries_what_it_feeds(made: Design) -> None:
    checked = 0
    for load in made.mains_loads:
        entry = made.entries.get(load.name)
        if not isinstance(entry, Switch):
            continue
        given_w = sum(port.drawn_w for port in made.ports if port.switch == load.name)
        assert entry.mains is not None
        assert load.typical_w == pytest.approx(entry.mains.typical + given_w / entry.poe_efficiency)
        assert load.rest_w == load.typical_w
        checked += given_w > 0
    assert checked


def test_what_takes_power_over_its_network_cable_is_not_on_the_mains(made: Design) -> None:
    powered = {port.attached.tag for port in made.ports if port.attached.poe_class is not None}
    assert powered
    assert not powered & {load.name for load in made.mains_loads}


def test_the_owner_states_its_power_alone(made: Design) -> None:
    stated = {one.device.tag: one.written.power for one in made.owners if one.written.power}
    owned = {load.name: load for load in made.mains_loads if load.owned}
    assert {tag: load.full_w for tag, load in owned.items()} == stated
    assert all(load.full_va == load.full_w and not load.stated for load in owned.values())


def test_what_stands_in_a_rack_is_at_the_place_of_the_rack(made: Design) -> None:
    racks = {rack.device.tag: rack.device.room for rack in made.racks}
    in_racks = {device.tag: racks[device.location] for device in made.devices if device.location in racks}
    found = {load.name: load.place for load in made.mains_loads if load.name in in_racks}
    assert found
    assert found == {name: in_racks[name] for name in found}


def test_the_loss_of_a_supply_is_what_it_does_not_pass_on(made: Design) -> None:
    for load in made.mains_loads:
        entry = made.entries.get(load.name)
        # What a standby supply takes for itself is all loss (test_standby_paths.py).
        if entry and entry.mains and load.kind != "standby_supply":
            assert load.loss_w == pytest.approx(load.typical_w * (1 - entry.mains.efficiency))
