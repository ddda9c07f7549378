"""Power over balanced pairs."""

import dataclasses
import math
import random

import numpy as np
import pytest

from proposal.standards import ieee8023, wire
from proposal.standards.validity import OutOfRange


@pytest.mark.pinned
def test_a_class_4_device_behind_100_m_of_24_awg() -> None:
    # by hand: d = 0.5106 mm, r = 17.241e-3/0.20474 = 0.08421 Ω/m, R = 8.42 Ω over two pairs;
    # V² − 4RP = 2500 − 858.9 = 1641.1, root 40.51; U = 45.26 V; I = 51/90.51 = 0.5635 A; S = 28.17 W
    ohm_per_m = wire.conductor_resistance_ohm_per_m(24, 20)
    loop_ohm = ieee8023.loop_resistance_ohm(2, [ohm_per_m], [100.0])
    assert loop_ohm == pytest.approx(8.42, rel=0, abs=0.005)
    assert ieee8023.source_power_w(50, loop_ohm, 25.5) == pytest.approx(28.2, rel=0, abs=0.05)
    assert ieee8023.device_voltage_v(50, loop_ohm, 25.5) == pytest.approx(45.3, rel=0, abs=0.05)


def test_four_pairs_have_half_the_resistance_of_two() -> None:
    two = ieee8023.loop_resistance_ohm(2, [0.08, 0.12], [80.0, 10.0])
    assert two == pytest.approx(0.08 * 80 + 0.12 * 10, rel=1e-12)
    assert ieee8023.loop_resistance_ohm(4, [0.08, 0.12], [80.0, 10.0]) == pytest.approx(two / 2, rel=1e-12)


def test_connectors_add_to_the_loop() -> None:
    assert ieee8023.loop_resistance_ohm(2, [0.08], [50.0], 0.2) == pytest.approx(4.2, rel=1e-12)


@pytest.mark.independent
def test_current_voltage_and_power_balance_on_random_circuits() -> None:
    # Kirchhoff's laws and the textbook root are the oracle
    chance = random.Random(8023)
    for _ in range(200):
        volt, ohm = chance.uniform(44, 57), chance.uniform(0.1, 20)
        watt = chance.uniform(0, 0.999) * min(100.0, volt**2 / (4 * ohm))
        current = ieee8023.source_current_a(volt, ohm, watt)
        assert current == pytest.approx((volt - math.sqrt(volt**2 - 4 * ohm * watt)) / (2 * ohm), rel=1e-9)
        assert ieee8023.device_voltage_v(volt, ohm, watt) == pytest.approx(volt - ohm * current, rel=1e-9)
        source_w = ieee8023.source_power_w(volt, ohm, watt)
        assert source_w == pytest.approx(watt + ohm * current**2, rel=1e-9)
        if source_w <= 100:
            assert ieee8023.device_power_w(source_w, volt, ohm) == pytest.approx(watt, rel=1e-9, abs=1e-9)


def nodal(volt: float, ohm: float, watt: float, pairs: int) -> tuple[float, float]:
    """Return the current of the source, A, and the voltage at the device, V, from Kirchhoff's law at nodes.

    ohm: of one conductor.  Every conductor of the cable stands by itself in the matrix, in two halves with a
    node between; the device is a current that is found anew from its voltage until nothing changes.
    """
    conductors = pairs  # both conductors of half of the pairs lead there, those of the other half back
    # Nodes: 0 source, 1 device, 2 device's return, then the middle of each conductor; the source's is ground.
    size = 3 + 2 * conductors
    matrix = np.zeros((size, size))

    def joined(a: int, b: int | None) -> None:
        siemens = 2 / ohm
        matrix[a, a] += siemens
        if b is not None:
            matrix[b, b] += siemens
            matrix[a, b] -= siemens
            matrix[b, a] -= siemens

    for n in range(conductors):
        joined(3 + n, 0)
        joined(3 + n, 1)
        joined(3 + conductors + n, 2)
        joined(3 + conductors + n, None)
    # The voltage of the source is given: its row says so, and its current is what leaves it.
    fixed = matrix.copy()
    fixed[0] = 0.0
    fixed[0, 0] = 1.0
    drawn = watt / volt
    for _ in range(400):
        fed = np.zeros(size)
        fed[0], fed[1], fed[2] = volt, -drawn, drawn
        volts = np.linalg.solve(fixed, fed)
        before, drawn = drawn, watt / float(volts[1] - volts[2])
        if abs(drawn - before) < 1e-14:
            break
    return float(matrix[0] @ volts), float(volts[1] - volts[2])


@pytest.mark.independent
@pytest.mark.parametrize("number", range(1, 9))
@pytest.mark.parametrize("gauge_awg", [22, 23, 24, 26, 28])
def test_every_class_over_every_gauge_and_length_is_as_kirchhoff_says(number: int, gauge_awg: int) -> None:
    entry = ieee8023.CLASSES[number]
    ohm_per_m = wire.conductor_resistance_ohm_per_m(gauge_awg, 20)
    for length_m in (1, 10, 30, 50, 70, 90, 100):
        volt, watt = entry.source_voltage_min_v, entry.device_power_w
        loop_ohm = ieee8023.loop_resistance_ohm(entry.pairs, [ohm_per_m], [length_m])
        # No more than V²/4R comes through any resistance, whatever draws it.
        if watt > volt**2 / (4 * ohm_per_m * length_m * 2 / entry.pairs):
            with pytest.raises(OutOfRange):
                ieee8023.source_current_a(volt, loop_ohm, watt)
            continue
        current_a, device_v = nodal(volt, ohm_per_m * length_m, watt, entry.pairs)
        assert ieee8023.source_current_a(volt, loop_ohm, watt) == pytest.approx(current_a, rel=1e-9)
        assert ieee8023.device_voltage_v(volt, loop_ohm, watt) == pytest.approx(device_v, rel=1e-9)
        assert ieee8023.source_power_w(volt, loop_ohm, watt) == pytest.approx(volt * current_a, rel=1e-9)


def test_without_resistance_nothing_is_lost() -> None:
    assert ieee8023.source_power_w(50, 0, 25.5) == 25.5
    assert ieee8023.device_voltage_v(50, 0, 25.5) == 50


def test_more_than_the_cable_can_carry_is_refused_just_above_the_greatest_power() -> None:
    greatest_w = ieee8023.greatest_device_power_w(44, 20)
    assert greatest_w == pytest.approx(24.2, rel=1e-12)
    assert ieee8023.device_voltage_v(44, 20, greatest_w * (1 - 1e-9)) == pytest.approx(22, rel=1e-3)
    with pytest.raises(OutOfRange, match="20 Ω cannot carry 25 W from 44 V"):
        ieee8023.source_current_a(44, 20, 25)


def test_a_loss_greater_than_the_source_is_refused() -> None:
    with pytest.raises(OutOfRange, match="would lose more"):
        ieee8023.device_power_w(90, 44, 50)


@pytest.mark.published
@pytest.mark.parametrize("number", range(1, 9))
def test_a_device_needs_the_class_that_just_allows_its_power(number: int) -> None:
    allowed_w = ieee8023.CLASSES[number].device_power_w
    assert ieee8023.class_needed(allowed_w) == number
    if number < 8:
        assert ieee8023.class_needed(allowed_w + 0.001) == number + 1
    else:
        with pytest.raises(OutOfRange):
            ieee8023.class_needed(allowed_w + 0.001)


@pytest.mark.published
def test_a_class_keeps_to_the_voltages_of_its_type() -> None:
    # IEEE 802.3: Types 1 to 4 give at least 44, 50, 50, 52 V; devices work down to 37, 42.5, 42.5, 41.1 V
    types = {
        number: (of.source_voltage_min_v, of.device_voltage_min_v) for number, of in ieee8023.TYPES.items()
    }
    assert types == {1: (44, 37), 2: (50, 42.5), 3: (50, 42.5), 4: (52, 41.1)}
    assert [entry.type for entry in ieee8023.CLASSES.values()] == [1, 1, 1, 1, 2, 3, 3, 4, 4]
    for entry in ieee8023.CLASSES.values():
        assert (entry.source_voltage_min_v, entry.device_voltage_min_v) == types[entry.type]


def test_class_0_is_allocated_as_class_3() -> None:
    zero, three = ieee8023.CLASSES[0], ieee8023.CLASSES[3]
    assert (zero.source_power_w, zero.device_power_w) == (three.source_power_w, three.device_power_w)


@pytest.mark.published
def test_class_0_is_class_3_by_another_number() -> None:
    assert dataclasses.replace(ieee8023.CLASSES[0], number=3) == ieee8023.CLASSES[3]
    assert ieee8023.CLASSES[0].channel_loop_ohm == 20.0
