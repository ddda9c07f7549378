"""PoE sources before switch ports: who gets one, and what comes with it, counted by hand."""

from decimal import Decimal

import pytest

from proposal.design.design import Design
from proposal.design.equipment.poe_sources import injector_cost, injector_for, on_a_shelf
from proposal.design.network.port_demand import Attached
from proposal.design.network.switches_and_ports import closet
from proposal.design.number_register import design_numbers
from proposal.design.patch_table import patches
from proposal.design.racks.rack_choice import RackDesign
from proposal.estimate.takeoff_and_reels import estimate
from proposal.model.project import FixedDevice, Project
from tests.design.making import PROJECTS, changed, designed, minimal, project_of, with_layout


def unpowered(project: Project) -> Project:
    """Return a project whose library has one switch, without power at its ports."""
    one = project.library.switches["BN-SW8-65"]
    bare = one.model_copy(update={"poe_ports": 0, "poe_class": 0, "budget": 0.0})
    return changed(project, "library.switches", {one.model: bare})


@pytest.fixture(scope="module")
def project() -> Project:
    """Two rooms with an access point of class 2 each, at a switch that feeds nothing."""
    return unpowered(project_of(PROJECTS / "portable"))


@pytest.fixture(scope="module")
def made(project: Project) -> Design:
    return designed(project)


def rack_of(made: Design) -> RackDesign:
    return next(one for one in made.racks if one.device.tag == "ER1-RK1")


def test_each_device_that_its_port_does_not_feed_has_a_source(made: Design) -> None:
    (room,) = made.closets
    assert room.left == ()
    assert [(one.device.tag, one.device.model, one.feeds) for one in room.injectors] == [
        ("ER1-PI1", "BN-PI-30", "B001-AP1"),
        ("ER1-PI2", "BN-PI-30", "B002-AP1"),
    ]
    fed = {port.attached.tag: port for port in made.ports if port.attached.injector}
    assert {tag: port.source for tag, port in fed.items()} == {"B001-AP1": "ER1-PI1", "B002-AP1": "ER1-PI2"}
    assert all(port.holds and port.source_class == 4 for port in fed.values())
    # Of Type 2 the least source voltage is 50 V; a switch of class 0 would be Type 1, 44 V.
    assert all(port.device_v is not None and 49 < port.device_v < 50 for port in fed.values())


def test_the_switch_sets_nothing_aside_for_what_a_source_feeds(made: Design) -> None:
    power = next(one for one in made.switches if one.switch.device.tag == "ER1-SW1")
    assert (power.allocated_w, power.drawn_w, power.order) == (0.0, 0.0, ())


@pytest.mark.pinned
def test_a_source_takes_from_the_mains_what_it_gives_and_its_losses(made: Design) -> None:
    # 3 W of its own, and what it gives at 88 %; of that 12 % and its own stay in the rack.
    given_w = next(port.drawn_w for port in made.ports if port.attached.injector == "ER1-PI1")
    load = next(one for one in made.mains_loads if one.name == "ER1-PI1")
    assert load.typical_w == pytest.approx(3 + given_w / 0.88)
    assert (load.full_w, load.place) == (37.0, "ER1")
    item = next(one for one in rack_of(made).layout.items if one.name == "ER1-PI1")
    assert item.heat_w == pytest.approx(3 + given_w / 0.88 - given_w)
    # The heat of all places is all that is taken from the mains.
    assert sum(one.heat_w for one in made.energy) == pytest.approx(
        sum(one.typical_w for one in made.mains_loads)
    )


def test_sources_stand_on_one_shelf_and_have_an_outlet_each(made: Design) -> None:
    slots = {slot.item.name: slot for slot in rack_of(made).layout.slots}
    assert slots["ER1-PI1"].unit == slots["ER1-PI2"].unit == slots["SH1"].unit
    assert (slots["SH1"].item.units, slots["ER1-PI1"].item.units) == (1, 0)
    plugged = [one.device for one in rack_of(made).layout.plugged]
    assert plugged.count("ER1-PI1") == plugged.count("ER1-PI2") == 1


def test_six_sources_of_70_mm_stand_side_by_side_in_450_mm() -> None:
    assert on_a_shelf(minimal().library.network_parts["BN-PI-30"]) == 6


def test_a_cord_more_lies_in_the_channel_and_carries_no_power(project: Project, made: Design) -> None:
    with_power = designed(project_of(PROJECTS / "portable"))
    cable = next(one for one in made.cables if one.start == "B001-AP1")
    usual = next(one for one in with_power.cables if one.identity == cable.identity)
    assert len(cable.cords) == len(usual.cords) + 1
    assert cable.channel_m == pytest.approx(usual.channel_m + cable.cords[-1].length_m)
    loops = [
        next(port.loop_ohm for port in one.ports if port.attached.tag == "B001-AP1")
        for one in (made, with_power)
    ]
    assert loops[0] == pytest.approx(loops[1])
    patch = next(one for one in patches(made) if one.device == "B001-AP1")
    assert (patch.source, patch.source_cord, patch.switch) == ("ER1-PI1", cable.cords[-1].model, "ER1-SW1")


def test_everything_that_comes_with_them_is_bought(project: Project, made: Design) -> None:
    with_power = project_of(PROJECTS / "portable")

    def bought(of: Project, it: Design) -> dict[str, Decimal]:
        counts: dict[str, Decimal] = {}
        for line in estimate(of, it).lines:
            counts[line.model] = counts.get(line.model, Decimal(0)) + line.quantity
        return counts

    now, usual = bought(project, made), bought(with_power, designed(with_power))
    more = {
        model: count - usual.get(model, 0) for model, count in now.items() if count != usual.get(model, 0)
    }
    cord = next(one for one in made.cables if one.start == "B001-AP1").cords[-1].model
    # Two mains cords more, each as long as its way in the rack: the shelf moves what stands below it, too.
    mains = {one.cord for of in (made, designed(with_power)) for one in rack_of(of).layout.plugged}
    assert more["BN-PI-30"] == more[cord] == sum(more.get(one, 0) for one in mains) == 2
    assert more["DR-SH1"] == 1


def test_their_numbers_stay_with_what_they_feed(project: Project, made: Design) -> None:
    given = design_numbers(made)
    assert given["injector/B001-AP1"].number == "ER1-PI1"
    assert given["device/ER1-PI2"].model == "BN-PI-30"
    swapped = {
        "injector/B001-AP1": given["injector/B001-AP1"].model_copy(update={"number": "ER1-PI7"}),
        "injector/B002-AP1": given["injector/B002-AP1"].model_copy(update={"number": "ER1-PI4"}),
    }
    again = designed(project.model_copy(update={"issued": swapped}))
    assert {one.feeds: one.device.tag for one in again.closets[0].injectors} == {
        "B001-AP1": "ER1-PI7",
        "B002-AP1": "ER1-PI4",
    }


def test_a_model_by_hand_stands_and_a_fibre_module_is_refused(project: Project) -> None:
    by_hand = changed(project, "fixed.devices", {"ER1-PI2": FixedDevice(model="BN-PI-60")})
    made = designed(by_hand)
    assert [one.device.model for one in made.closets[0].injectors] == ["BN-PI-30", "BN-PI-60"]
    assert made.wrong_by_hand == ()
    module = changed(project, "fixed.devices", {"ER1-PI2": FixedDevice(model="BN-FM-1M")})
    (wrong,) = designed(module).wrong_by_hand
    assert (wrong.found, wrong.known) == ("BN-FM-1M", ("BN-PI-30", "BN-PI-60"))


def test_a_fixed_switch_that_lacks_power_is_helped_by_sources() -> None:
    wanting = [Attached(tag=f"B001-D{n}", cable=f"c{n}", poe_class=4, priority=1) for n in (1, 2, 3)]
    project = changed(minimal(), "library.switches", {"BN-SW8-65": minimal().library.switches["BN-SW8-65"]})
    found = closet(
        changed(project, "fixed.devices", {"ER1-SW1": FixedDevice(model="BN-SW8-65")}), "ER1", wanting
    )
    # 65 W less a fifth feed one of 30 W; the other two have a source each.
    assert len(found.switches) == 1
    assert [one.feeds for one in found.injectors] == ["B001-D2", "B001-D3"]


def test_no_source_of_the_library_means_no_port(project: Project) -> None:
    bare = changed(project, "library.network_parts", {})
    assert closet(bare, "ER1", [Attached(tag="B001-AP1", cable="c", poe_class=2, priority=1)]).left == (
        "B001-AP1",
    )
    assert injector_for(bare, 2) is None
    # Class 8 asks for more than any source gives.
    assert injector_for(project, 8) is None


@pytest.mark.pinned
def test_a_source_costs_its_hours_its_cords_and_its_share_of_a_shelf() -> None:
    # 35.00 + 0.25 h · 40.00 + 21.00 / 6 and two cords.
    project = minimal()
    parts, cords = project.library.rack_parts.values(), project.library.patch_cords.values()
    mains = min(one.cost.amount for one in parts if one.inlet_form == "IEC 60320 C14")
    copper = min(one.cost.amount for one in cords if one.medium == "copper" and one.length >= 2)
    entry = project.library.network_parts["BN-PI-30"]
    assert injector_cost(project, entry) == Decimal("48.50") + mains + copper


def without_power(project: Project, **further: object) -> Project:
    """Return a project whose breakouts hold switches that feed nothing."""
    bare = {
        code: one.model_copy(
            update={
                "switch": one.switch
                and one.switch.model_copy(update={"poe_ports": 0, "poe_class": 0, "budget": 0.0, **further})
            }
        )
        for code, one in project.library.breakouts.items()
    }
    return changed(project, "library.breakouts", bare)


@pytest.fixture(scope="module")
def alone() -> Design:
    """A room by itself whose breakout's switch feeds none of its three powered devices, of class 3 each."""
    return designed(without_power(project_of(PROJECTS / "one_room")))


def test_beside_a_breakout_each_device_that_its_switch_does_not_feed_has_a_source(alone: Design) -> None:
    (room,) = alone.rooms
    assert room.host == "R1-BO1"
    assert [(one.device.tag, one.feeds) for one in room.injectors] == [
        ("R1-PI1", "R1-AP1"),
        ("R1-PI2", "R1-CH1"),
        ("R1-PI3", "R1-CH2"),
    ]
    host = next(one for one in room.devices if one.tag == "R1-BO1")
    assert {(one.device.at, one.device.height_m, one.device.location) for one in room.injectors} == {
        (host.at, host.height_m, "table")
    }
    assert all(port.holds for port in alone.ports)
    numbers = design_numbers(alone)
    assert {numbers[f"injector/{one.feeds}"].number for one in room.injectors} == {
        "R1-PI1",
        "R1-PI2",
        "R1-PI3",
    }


def test_sources_in_a_room_are_plugged_in_there_and_their_cords_are_bought(alone: Design) -> None:
    served = [outlet.serves for circuit in alone.circuits for outlet in circuit.outlets]
    assert served == ["R1-AM1", "R1-BO1", "R1-PI1", "R1-PI2", "R1-PI3"]
    lines = {line.model: line.quantity for line in estimate(alone.project, alone).lines}
    assert lines["BN-PI-30"] == 3
    assert lines["DR-MW14"] == 5
    by_device = {one.device: one for one in patches(alone)}
    assert (by_device["R1-AP1"].source, by_device["R1-AM1"].source) == ("R1-PI1", "")
    cords = [one.cords[-1].model for one in alone.cables if one.start in ("R1-AP1", "R1-CH1", "R1-CH2")]
    assert [by_device[tag].source_cord for tag in ("R1-AP1", "R1-CH1", "R1-CH2")] == cords
    # Nothing of them stands in a rack, and the breakout's own switch sets no power aside.
    assert alone.racks == ()
    assert [one.allocated_w for one in alone.switches] == [0.0]


def test_one_device_too_many_for_the_power_of_a_breakout_has_the_only_source() -> None:
    # Class 3 sets 15.4 W aside: 31 W feed two devices, and the last in order of tags has a source.
    made = designed(without_power(project_of(PROJECTS / "one_room"), poe_ports=3, poe_class=3, budget=31.0))
    (room,) = made.rooms
    assert [(one.device.tag, one.feeds) for one in room.injectors] == [("R1-PI1", "R1-CH2")]
    assert [one.allocated_w for one in made.switches] == [pytest.approx(30.8)]


def test_without_sources_in_the_library_a_switch_stands_in_the_room() -> None:
    bare = changed(without_power(project_of(PROJECTS / "one_room")), "library.network_parts", {})
    (room,) = designed(bare).rooms
    assert (room.host, room.injectors) == ("R1-SW1", ())


def test_a_switch_that_stands_in_a_room_is_helped_by_sources_too() -> None:
    one = minimal().library.switches["BN-SW8-65"]
    poor = one.model_copy(update={"poe_ports": 0, "poe_class": 0, "budget": 0.0})
    project = without_power(project_of(PROJECTS / "one_room"), ports=2)
    (room,) = designed(changed(project, "library.switches", {one.model: poor})).rooms
    assert room.host == "R1-SW1"
    assert [one.feeds for one in room.injectors] == ["R1-AP1", "R1-CH1", "R1-CH2"]
    assert {one.device.location for one in room.injectors} == {"furniture"}


def test_the_sources_of_a_cart_ride_on_it() -> None:
    made = designed(without_power(with_layout(project_of(PROJECTS / "portable"), "cart", network="alone")))
    cart = next(room for room in made.rooms if room.tag == "P1")
    assert cart.host == "P1-BO1"
    assert cart.injectors
    assert {one.device.location for one in cart.injectors} == {"cart"}
    assert all(port.holds for port in made.ports if port.switch == "P1-BO1")
