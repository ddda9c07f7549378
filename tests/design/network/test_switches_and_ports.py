"""Switches of an equipment room: least cost, classes, power, spare ports, decisions by hand."""

import itertools
import math
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from proposal.design.network.port_demand import Attached, port_named
from proposal.design.network.switches_and_ports import EquipmentRoomSwitches, closet
from proposal.model.equipment.devices import Switch
from proposal.model.project import FixedDevice, Numbered, Project
from proposal.quantities.money import Money
from proposal.standards.ieee8023 import CLASSES
from tests.design.making import changed, minimal


def device(number: int, poe_class: int | None = None) -> Attached:
    return Attached(tag=f"B001-D{number}", cable=f"c{number}", poe_class=poe_class, priority=1)


def devices(*classes: int | None) -> list[Attached]:
    return [device(n, poe_class) for n, poe_class in enumerate(classes, 1)]


def closet_of(wanting: list[Attached], project: Project | None = None) -> EquipmentRoomSwitches:
    """Return the switches of ER1; the library has no PoE sources, which tests of their own are about."""
    made = changed(project or minimal(), "library.network_parts", {})
    return closet(made, "ER1", wanting)


def tags(found: EquipmentRoomSwitches) -> set[str]:
    return {one.tag for switch in found.switches for one in switch.ports.values()}


def models(found: EquipmentRoomSwitches) -> list[str]:
    return [switch.device.model for switch in found.switches]


def made(code: str, ports: int, poe_class: int, budget_w: float, cost: int) -> Switch:
    like = minimal().library.switches["BN-SW8-65"]
    return like.model_copy(
        update={
            "model": code,
            "access_ports": ports,
            "poe_ports": ports,
            "poe_class": poe_class,
            "budget": budget_w,
            "cost": Money(amount=Decimal(cost), currency="EUR"),
        }
    )


def with_switches(*switches: Switch) -> Project:
    return changed(minimal(), "library.switches", {one.model: one for one in switches})


def test_nothing_is_bought_for_nobody() -> None:
    assert closet_of([]).switches == ()


@pytest.mark.parametrize(
    ("count", "wanted"), [(1, 2), (3, 4), (4, 5), (6, 8), (7, 9), (12, 15), (19, 24), (20, 25)]
)
def test_a_fifth_of_the_ports_stays_spare(count: int, wanted: int) -> None:
    # The least n with n − d ≥ n/5 is d/0.8 rounded up.
    found = closet_of(devices(*[None] * count))
    assert found.wanted_ports == wanted
    assert sum(switch.access_ports for switch in found.switches) >= wanted
    assert not found.left


def test_every_device_has_one_port_and_powered_ones_come_first() -> None:
    found = closet_of(devices(None, 3, None, 4))
    (switch,) = found.switches
    assert {number: one.tag for number, one in switch.ports.items()} == {
        1: "B001-D2",
        2: "B001-D4",
        3: "B001-D1",
        4: "B001-D3",
    }


def test_headroom_asks_for_a_larger_budget() -> None:
    # Two of class 4 set aside 60 W; with a fifth left free that asks for 75 W.
    assert models(closet_of(devices(4, 4))) == ["BN-SW8-125"]
    less = changed(minimal(), "brief.rules.power.headroom", 0.05)
    assert models(closet_of(devices(4, 4), less)) == ["BN-SW8-65"]


def test_a_higher_class_is_bought_only_for_as_many_devices_as_ask_for_it() -> None:
    low, high = made("LOW", 8, 3, 200.0, 100), made("HIGH", 4, 6, 200.0, 300)
    found = closet_of(devices(*[3] * 6, 6), with_switches(low, high))
    assert models(found) == ["HIGH", "LOW"]
    by_switch = {switch.device.model: switch for switch in found.switches}
    assert "B001-D7" in {one.tag for one in by_switch["HIGH"].ports.values()}
    assert not found.left


def test_power_that_fits_in_sum_but_not_switch_by_switch_takes_more() -> None:
    # Three devices of 30 W; two switches of 50 W usable hold one each, though they have 100 W in sum.
    small, large = made("SMALL", 8, 4, 62.5, 100), made("LARGE", 8, 4, 125.0, 250)
    project = changed(with_switches(small, large), "brief.rules.network.spare_ports", 0.0)
    found = closet_of(devices(4, 4, 4), project)
    assert not found.left
    for switch in found.switches:
        assert sum(one.allocated_w for one in switch.ports.values()) <= switch.usable_w + 1e-9
    assert models(found) == ["LARGE"]


def test_what_no_switch_can_feed_is_left_and_said() -> None:
    assert closet_of(devices(8)).left == ("B001-D1",)


@pytest.mark.independent
@settings(max_examples=20, deadline=None)
@given(
    classes=st.lists(st.sampled_from([None, 2, 3, 4]), min_size=1, max_size=5),
    sizes=st.lists(
        st.tuples(
            st.sampled_from([4, 8]),
            st.sampled_from([3, 4]),
            st.sampled_from([40.0, 70.0, 130.0]),
            st.integers(min_value=50, max_value=400),
        ),
        min_size=1,
        max_size=2,
        unique_by=lambda one: one[3],
    ),
)
def test_switches_are_never_dearer_than_the_cheapest_that_could_do_and_all_fit(
    classes: list[int | None], sizes: list[tuple[int, int, float, int]]
) -> None:
    """The brute force tries every way of putting every device on every switch of up to three."""
    switches = [made(f"S{n}", *size) for n, size in enumerate(sizes)]
    project = with_switches(*switches)
    wanting = devices(*classes)
    found = closet_of(wanting, project)
    best = cheapest(switches, wanting)
    if found.left:
        assert best is None
        return
    if len(found.switches) > 3:
        return
    assert tags(found) == {one.tag for one in wanting}
    cost = sum(project.library.switches[model].cost.amount for model in models(found))
    assert best is not None
    assert cost >= best
    for switch in found.switches:
        powered = [one for one in switch.ports.values() if one.poe_class is not None]
        assert sum(one.allocated_w for one in powered) <= switch.usable_w + 1e-9
        assert all((one.poe_class or 0) <= switch.poe_class for one in powered)
        assert max(switch.ports) <= switch.access_ports
    # Where power does not have to be shared out between switches, the choice is the cheapest one.
    if len(found.switches) == 1:
        assert cost == best


def cheapest(switches: list[Switch], wanting: list[Attached]) -> Decimal | None:
    ports = math.ceil(len(wanting) / 0.8 - 1e-9)
    found = None
    for count in range(1, 4):
        for bought in itertools.combinations_with_replacement(switches, count):
            cost = sum((one.cost.amount for one in bought), Decimal(0))
            enough = sum(one.access_ports for one in bought) >= ports
            watts = sum(
                0 if one.poe_class is None else CLASSES[one.poe_class].source_power_w for one in wanting
            )
            enough = enough and sum(one.budget for one in bought) * 0.8 >= watts - 1e-9
            if enough and (found is None or cost < found) and holds_all(bought, wanting):
                found = cost
    return found


def holds_all(bought: tuple[Switch, ...], wanting: list[Attached]) -> bool:
    for places in itertools.product(range(len(bought)), repeat=len(wanting)):
        sums = [0.0] * len(bought)
        counts = [0] * len(bought)
        for one, place in zip(wanting, places, strict=True):
            counts[place] += 1
            if one.poe_class is not None:
                sums[place] += one.allocated_w if one.poe_class <= bought[place].poe_class else 1e9
        if all(
            watts <= one.budget * 0.8 + 1e-9 and count <= one.access_ports
            for watts, count, one in zip(sums, counts, bought, strict=True)
        ):
            return True
    return False


def fixed(**by_tag: FixedDevice) -> Project:
    return changed(minimal(), "fixed.devices", {tag.replace("_", "-"): one for tag, one in by_tag.items()})


def test_a_switch_fixed_by_hand_stands_and_the_rest_is_added() -> None:
    project = fixed(ER1_SW1=FixedDevice(model="BN-SW8-65"))
    found = closet_of(devices(*[4] * 6), project)
    assert models(found)[0] == "BN-SW8-65"
    assert len(found.switches) == 2
    assert not found.left


def test_a_second_switch_fixed_by_hand_leaves_the_first_number_to_the_choice() -> None:
    project = fixed(ER1_SW2=FixedDevice(model="BN-SW8-65"))
    found = closet_of(devices(*[4] * 6), project)
    assert [switch.device.tag for switch in found.switches] == ["ER1-SW1", "ER1-SW2"]
    assert models(found)[1] == "BN-SW8-65"


def test_a_fixed_switch_that_suffices_is_the_only_one() -> None:
    found = closet_of(devices(3), fixed(ER1_SW1=FixedDevice(model="BN-SW48-740")))
    assert models(found) == ["BN-SW48-740"]


def test_a_port_fixed_by_hand_is_kept() -> None:
    found = closet_of(devices(3, 3, None), fixed(B001_D3=FixedDevice(switch_port="ER1-SW1/1")))
    (switch,) = found.switches
    assert {number: one.tag for number, one in switch.ports.items()} == {
        1: "B001-D3",
        2: "B001-D1",
        3: "B001-D2",
    }


@pytest.mark.parametrize(
    "port", ["ER1-SW9/1", "ER1-SW1", "ER1-SW1/", "ER1-SW1/one", "/", "ER1-SW1/٣", "ER1-SW1/1e3", "x" * 200]
)
def test_a_port_that_is_not_there_leaves_its_device_without_one(port: str) -> None:
    found = closet_of(devices(3, 3), fixed(B001_D1=FixedDevice(switch_port=port)))
    assert found.left == ("B001-D1",)
    assert tags(found) == {"B001-D2"}


def test_a_port_number_beyond_the_switch_is_kept_for_the_review() -> None:
    found = closet_of(devices(3), fixed(B001_D1=FixedDevice(switch_port="ER1-SW1/99")))
    (switch,) = found.switches
    assert list(switch.ports) == [99]


@pytest.mark.parametrize(
    ("text", "named"),
    [
        ("ER1-SW1/4", ("ER1-SW1", "4")),
        ("ER1-SW1/04", ("ER1-SW1", "4")),
        ("a/b/7", ("a/b", "7")),
        ("ER1-SW1/99999", ("ER1-SW1", "99999")),
        ("ER1-SW1/100000", None),
        ("4", None),
        ("", None),
    ],
)
def test_ports_are_read_as_switch_and_number(text: str, named: tuple[str, str] | None) -> None:
    assert port_named(text) == named


def test_an_issued_port_is_kept_and_a_retired_one_is_not_used_again() -> None:
    issued = {
        "port/B001-D2": Numbered(number="ER1-SW1/5"),
        "port/B001-GONE": Numbered(number="ER1-SW1/1", retired=True),
    }
    project = minimal().model_copy(update={"issued": issued})
    (switch,) = closet_of(devices(3, 3), project).switches
    assert {number: one.tag for number, one in switch.ports.items()} == {2: "B001-D1", 5: "B001-D2"}


@pytest.mark.parametrize("share", [0.0, 0.5, 0.99, 0.999999])
def test_no_share_of_spare_ports_or_power_breaks_the_choice(share: float) -> None:
    project = changed(minimal(), "brief.rules.network.spare_ports", share)
    found = closet_of(devices(3, None), project)
    assert bool(found.left) != (tags(found) == {"B001-D1", "B001-D2"})
    project = changed(minimal(), "brief.rules.power.headroom", share)
    found = closet_of(devices(3, None), project)
    assert bool(found.left) != (tags(found) == {"B001-D1", "B001-D2"})


def test_devices_stay_where_they_were_issued_where_moving_them_helps_nobody() -> None:
    """One is left without a port either way: the one fixed by hand is on a switch that is not there."""
    project = fixed(
        ER1_SW1=FixedDevice(model="BN-SW8-65"),
        ER1_SW2=FixedDevice(model="BN-SW8-65"),
        B001_D1=FixedDevice(switch_port="ER1-SW9/1"),
    ).model_copy(update={"issued": {"port/B001-D2": Numbered(number="ER1-SW2/3")}})
    found = closet_of(devices(3, 3), project)
    assert found.left == ("B001-D1",)
    ports = {switch.device.tag: {n: one.tag for n, one in switch.ports.items()} for switch in found.switches}
    assert ports == {"ER1-SW1": {}, "ER1-SW2": {3: "B001-D2"}}
