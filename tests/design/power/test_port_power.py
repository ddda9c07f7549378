"""Power over Ethernet by the real resistance of each cable, and the budgets of switches."""

from collections.abc import Sequence
from dataclasses import replace

import pytest

from proposal.design.equipment.placed_devices import Placed
from proposal.design.network.port_demand import Attached, SwitchPorts
from proposal.design.power.drop_order import drop_order, dropped
from proposal.design.power.port_power import PoweredPort, powered_port, state_on
from proposal.design.power.power_budget import switch_power
from proposal.model.equipment.entry import Device
from proposal.model.equipment.parts import PoeInput
from proposal.model.project import FixedCable, Project
from tests.design.making import changed, designed, minimal, with_layout

DEVICE = Placed(
    tag="ER1-SW1",
    code="SW1",
    kind="switch",
    model="X",
    room="ER1",
    storey="L0",
    at=(0.0, 0.0),
    height_m=1.0,
    location="ER1-RK1",
)


def switch(ports: dict[int, Attached], **values: float) -> SwitchPorts:
    given: dict[str, float] = {
        "access_ports": 8,
        "poe_class": 4,
        "poe_type": 2,
        "budget_w": 60.0,
        "headroom": 0.2,
        "spare_ports": 0.2,
    }
    return SwitchPorts(device=DEVICE, ports=ports, **{**given, **values})  # type: ignore[arg-type]


def attached(tag: str, poe_class: int | None, priority: int = 1, cable: str = "") -> Attached:
    return Attached(tag=tag, cable=cable, poe_class=poe_class, priority=priority)


def measured(length_m: float, watts: float, ambient_c: float = 20.0) -> tuple[Project, dict[str, Device]]:
    """Return a project whose access point takes so many watts over 24 AWG, without cords and connectors."""
    project = with_layout(minimal(), "meeting", network="rack")
    identity = "B001-AP1/N1/ER1-RK1"
    project = changed(project, "fixed.cables", {identity: FixedCable(length=length_m, type="CC-5U-R")})
    for path, value in {
        "building.ceiling_temperature": ambient_c,
        "brief.rules.pathways.warming_open": 0.0,
        "brief.rules.cabling.equipment_cord": 0.0,
        "brief.rules.cabling.device_cord": 0.0,
        "brief.rules.power.connector_resistance": 0.0,
    }.items():
        project = changed(project, path, value)
    entry: Device = next(
        one for one in project.library.access_points.values() if one.poe and one.poe.device_class == 4
    )
    assert entry.poe is not None
    entry = entry.model_copy(update={"poe": entry.poe.model_copy(update={"maximum": watts, "type": 2})})
    return project, {"B001-AP1": entry}


def port_of(
    project: Project, entries: dict[str, Device], poe_class: int = 4, poe_type: int = 2
) -> PoweredPort:
    cables = {one.identity: one for one in designed(project).cables}
    at = attached("B001-AP1", 4, cable="B001-AP1/N1/ER1-RK1")
    ports = switch({1: at}, poe_type=poe_type)
    return powered_port(project, ports, 1, cables, entries)


@pytest.mark.published
@pytest.mark.parametrize(
    ("resistance", "loop_ohm", "drawn_w", "device_v"),
    [("nominal", 8.42, 28.2, 45.3), ("stricter", 9.38, 28.6, 44.6)],
)
def test_the_check_values_of_a_hundred_metres_come_out(
    resistance: str, loop_ohm: float, drawn_w: float, device_v: float
) -> None:
    # 24 AWG, 100 m, 25.5 W, 50 V: I²R and Ohm's law on the resistance of ASTM B258 and IACS copper, and on
    # the most that TIA-568 allows.
    project, entries = measured(100.0, 25.5)
    project = changed(project, "brief.rules.power.conductor_resistance", resistance)
    assert project.library.cables["CC-5U-R"].gauge == 24
    port = port_of(project, entries)
    assert port.loop_ohm == pytest.approx(loop_ohm, abs=0.005)
    assert port.drawn_w == pytest.approx(drawn_w, abs=0.05)
    assert port.device_v == pytest.approx(device_v, abs=0.05)
    assert port.least_v == 42.5
    assert port.holds


@pytest.mark.independent
def test_what_the_port_gives_is_what_cable_and_device_take() -> None:
    project, entries = measured(63.0, 21.0, ambient_c=45.0)
    port = port_of(project, entries)
    assert port.loop_ohm is not None
    assert port.device_v is not None
    current_a = 21.0 / port.device_v
    assert port.drawn_w == pytest.approx(21.0 + current_a**2 * port.loop_ohm, rel=1e-9)
    assert port.device_v + current_a * port.loop_ohm == pytest.approx(50.0, rel=1e-9)
    # Copper rises by 0.393 % a kelvin.
    cooler, _ = measured(63.0, 21.0)
    assert port.loop_ohm == pytest.approx((port_of(cooler, entries).loop_ohm or 0) * (1 + 0.00393 * 25))


def test_cords_and_connectors_add_to_the_loop() -> None:
    project, entries = measured(50.0, 20.0)
    bare = port_of(project, entries).loop_ohm or 0.0
    cords = changed(project, "brief.rules.cabling.equipment_cord", 10.0)
    assert (port_of(cords, entries).loop_ohm or 0.0) - bare == pytest.approx(10 * 0.0842, abs=0.0005)
    plugs = changed(project, "brief.rules.power.connector_resistance", 0.4)
    assert (port_of(plugs, entries).loop_ohm or 0.0) - bare == pytest.approx(0.4)


def test_cords_have_the_temperature_of_the_rule() -> None:
    project, entries = measured(50.0, 20.0)
    cords = changed(project, "brief.rules.cabling.equipment_cord", 10.0)
    bare, cool = (port_of(one, entries).loop_ohm or 0.0 for one in (project, cords))
    warmed = changed(cords, "brief.rules.power.cord_temperature", 45.0)
    # Copper rises by 0.393 % a kelvin: 25 K above 20 °C, in the cords alone.
    warm = port_of(warmed, entries).loop_ohm or 0.0
    assert warm - bare == pytest.approx((cool - bare) * (1 + 0.00393 * 25))


def test_a_resistance_that_the_maker_states_comes_before_the_gauge() -> None:
    project, entries = measured(100.0, 20.0, ambient_c=40.0)
    stated = project.library.cables["CC-5U-R"].model_copy(update={"pair_resistance": 19.0})
    project = changed(project, "library.cables", {**project.library.cables, "CC-5U-R": stated})
    # Two pairs in parallel, each 19 Ω over 100 m: one pair out and one back make 19/2·2 … of a loop of
    # two pairs that is the resistance of one conductor, 19/2 Ω.
    assert port_of(project, entries).loop_ohm == pytest.approx(9.5 * (1 + 0.00393 * 20))


def test_a_cable_too_thin_and_long_carries_nothing() -> None:
    project, entries = measured(1200.0, 25.5)
    port = port_of(project, entries)
    assert (port.carries, port.holds, port.drawn_w, port.device_v) == (False, False, 0.0, None)
    assert port.loop_ohm is not None


@pytest.mark.parametrize("ohm", [99.0, 101.0, 1e6])
def test_no_resistance_of_connectors_breaks_the_calculation(ohm: float) -> None:
    project, entries = measured(50.0, 20.0)
    assert not port_of(changed(project, "brief.rules.power.connector_resistance", ohm), entries).holds


def test_the_least_source_voltage_follows_the_sources_type() -> None:
    project, entries = measured(50.0, 12.0)
    for poe_type, volts in ((1, 44.0), (2, 50.0), (3, 50.0), (4, 52.0)):
        port = port_of(project, entries, poe_type=poe_type)
        assert port.device_v is not None
        assert volts - 2 < port.device_v < volts


@pytest.mark.parametrize(
    ("when_short", "lowest", "port_class", "state"),
    [
        ("off", None, 4, "powered"),
        ("off", None, 3, "off"),
        ("derated", 3, 3, "derated"),
        ("derated", 3, 2, "off"),
        ("derated", 3, 4, "powered"),
        ("off", 3, 3, "off"),
        ("derated", None, 3, "off"),
    ],
)
def test_a_device_on_a_port_of_a_lower_class_does_what_its_maker_says(
    when_short: str, lowest: int | None, port_class: int, state: str
) -> None:
    poe = PoeInput(
        device_class=4,
        type=2,
        typical=15.0,
        maximum=20.0,
        when_short=when_short,  # type: ignore[arg-type]
        lowest_class=lowest,
    )
    assert state_on(poe, port_class) == state


def tags(ports: Sequence[PoweredPort]) -> tuple[str, ...]:
    return tuple(port.attached.tag for port in ports)


def powered(number: int, poe_class: int, priority: int, drawn_w: float = 1.0) -> PoweredPort:
    return PoweredPort(
        switch="ER1-SW1",
        port=number,
        name=str(number),
        attached=attached(f"D{number}", poe_class, priority),
        drawn_w=drawn_w,
    )


def test_sums_are_by_class_and_by_what_is_drawn() -> None:
    ports = {1: powered(1, 4, 1, 20.0), 2: powered(2, 3, 2, 7.0), 3: powered(3, 0, 3, 9.0)}
    power = switch_power(switch({n: port.attached for n, port in ports.items()}), ports, None)
    # Class 0 is set aside like class 3: 30 + 15.4 + 15.4.
    assert power.allocated_w == pytest.approx(60.8)
    assert power.drawn_w == pytest.approx(36.0)
    assert power.switch.usable_w == pytest.approx(48.0)
    assert not power.holds


@pytest.mark.parametrize(
    ("budget_w", "headroom", "holds", "drops"),
    [
        # 30 + 15.4 + 7 = 52.4 W are set aside.
        (65.5, 0.2, True, ()),
        (65.4, 0.2, False, ()),
        (52.4, 0.0, True, ()),
        (52.3, 0.0, False, ("D3",)),
        (45.3, 0.0, False, ("D3", "D2")),
    ],
)
def test_headroom_and_budget_hold_to_a_tenth_of_a_watt(
    budget_w: float, headroom: float, holds: bool, drops: tuple[str, ...]
) -> None:
    ports = {1: powered(1, 4, 1), 2: powered(2, 3, 2), 3: powered(3, 2, 3)}
    power = switch_power(
        switch({n: p.attached for n, p in ports.items()}, budget_w=budget_w, headroom=headroom),
        ports,
        None,
    )
    assert power.holds is holds
    assert tags(power.drops) == drops


def test_the_lowest_priority_drops_first_and_of_it_the_highest_port() -> None:
    ports = {1: powered(1, 3, 3), 2: powered(2, 3, 1), 3: powered(3, 3, 3), 4: powered(4, 3, 2)}
    assert tags(dropped(61.6, ports, 3)) == ()
    assert tags(dropped(61.5, ports, 3)) == ("D3",)
    assert tags(dropped(40.0, ports, 3)) == ("D3", "D1")
    assert tags(dropped(20.0, ports, 3)) == ("D3", "D1", "D4")
    assert tags(dropped(0.0, ports, 3)) == ("D3", "D1", "D4", "D2")


def test_a_switch_that_powers_nothing_has_nothing_to_show() -> None:
    power = switch_power(switch({1: attached("D1", None)}), {}, None)
    assert (power.checks, power.holds, power.allocated_w) == ((), True, 0.0)


def test_the_switch_inside_a_breakout_feeds_its_access_point() -> None:
    design = designed(minimal())
    ports = {(one.switch, one.port): one for one in design.ports}
    fed = ports["B001-BO1", 2]
    assert fed.attached.tag == "B001-AP1"
    assert fed.attached.cable == "B001-AP1/N1/B001-BO1"
    assert fed.holds
    assert fed.device_v is not None
    assert ports["B001-BO1", 1].attached.tag == "ER1-RK1"


def test_power_rests_on_cords_connectors_and_cable_also_where_a_switch_keeps_no_headroom() -> None:
    project, entries = measured(50.0, 20.0)
    cables = {one.identity: one for one in designed(project).cables}
    at = attached("B001-AP1", 4, cable="B001-AP1/N1/ER1-RK1")
    port = powered_port(project, switch({1: at}, headroom=0.0), 1, cables, entries)
    loop, *powers = [one for one in port.checks if one.title != "" and "Resistance of one" not in one.title]
    assert powers
    assert "project.rules.power.connector_resistance" in loop.uses
    assert {one.uses for one in powers} == {loop.uses}


@pytest.mark.published
@pytest.mark.parametrize(("gauge", "ohm_per_m"), [(24, 0.08421), (26, 0.1339)])
def test_a_cable_that_the_library_lacks_is_taken_for_as_thin_as_the_cords(
    gauge: int, ohm_per_m: float
) -> None:
    """Tables of wire have 84.21 and 133.9 Ω/km at 20 °C; copper has 0.393 % more for each kelvin."""
    project = changed(
        with_layout(minimal(), "meeting", network="rack"), "brief.rules.cabling.cord_gauge", gauge
    )
    design = designed(project)
    (port,) = (one for one in design.ports if one.attached.tag == "B001-AP1")
    cables = {one.identity: replace(one, model="") for one in design.cables}
    (power,) = design.switches
    found = powered_port(project, power.switch, port.port, cables, design.entries)
    title = "Resistance of one conductor of the cable for each metre"
    (one, *_) = [check for check in found.checks if check.title == title]
    warm = 1 + 0.00393 * (one.values[-1].number - 20)
    assert one.result == pytest.approx(ohm_per_m * warm, rel=1e-3)
    assert "project.rules.cabling.cord_gauge" in one.uses


@pytest.mark.independent
@pytest.mark.parametrize(
    ("written", "drops"),
    [
        ({}, ("CH1", "BO1", "AP1")),  # 3, 2 and 1
        ({"access_points": 3, "chargers": 1}, ("AP1", "BO1", "CH1")),
        ({"breakouts": 3, "chargers": 2}, ("BO1", "CH1", "AP1")),
    ],
)
def test_which_devices_keep_power_is_a_rule_of_the_project(
    written: dict[str, int], drops: tuple[str, ...]
) -> None:
    project = with_layout(minimal(), "meeting", network="rack")
    for name, priority in written.items():
        project = changed(project, f"brief.rules.priorities.{name}", priority)
    ports = {port.port: port for port in designed(project).ports if port.attached.tag.startswith("B001")}
    fed = [port.attached.tag for port in ports.values() if port.attached.poe_class is not None]
    assert fed == ["B001-AP1"]
    every = {n: replace(p, attached=replace(p.attached, poe_class=3)) for n, p in ports.items()}
    assert tags(drop_order(every, 3)) == tuple(f"B001-{code}" for code in drops)
    # Charger and breakout are fed by the mains: they lose nothing.
    assert tags(drop_order(ports, 3)) == ("B001-AP1",)


@pytest.mark.independent
@pytest.mark.parametrize(
    ("poe_class", "poe_type", "watts", "pairs"),
    [(3, 1, 12.95, 2), (4, 2, 25.5, 2), (5, 3, 40.0, 4), (6, 3, 51.0, 4), (7, 4, 62.0, 4), (8, 4, 71.3, 4)],
)
def test_each_class_loses_in_the_cable_what_kirchhoff_says(
    poe_class: int, poe_type: int, watts: float, pairs: int
) -> None:
    # 80 m of 24 AWG with 84.21 mΩ a metre and conductor; least source voltages of IEEE 802.3 by Type.
    project, entries = measured(80.0, watts)
    project = changed(project, "brief.rules.power.conductor_resistance", "nominal")
    at = attached("B001-AP1", poe_class, cable="B001-AP1/N1/ER1-RK1")
    cables = {one.identity: one for one in designed(project).cables}
    port = powered_port(project, switch({1: at}, poe_class=8, poe_type=poe_type), 1, cables, entries)
    volts = {1: 44.0, 2: 50.0, 3: 50.0, 4: 52.0}[poe_type]
    ohm = 0.08421 * 80 * (1.0 if pairs == 2 else 0.5)
    # The current is found by halving: what the source gives is what cable and device take.
    low, high = 0.0, volts / (2 * ohm)
    for _ in range(200):
        current = (low + high) / 2
        low, high = (current, high) if current * volts - current**2 * ohm < watts else (low, current)
    assert port.loss_w == pytest.approx(low**2 * ohm, rel=1e-3)
    assert port.drawn_w == pytest.approx(volts * low, rel=1e-3)
    assert port.device_w == watts
    assert port.pairs_short is False
