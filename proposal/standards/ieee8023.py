"""Power over balanced pairs after IEEE 802.3, clauses 33 (two pairs) and 145 (four pairs)."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from proposal.standards.formula import formula
from proposal.standards.sources import Source
from proposal.standards.validity import OneOf, OutOfRange, Range

IEEE_802_3 = Source("IEEE 802.3", "2022", "clauses 33 and 145")
OHM = Source("Ohm's law for a load of constant power")


@dataclass(frozen=True, slots=True, kw_only=True)
class PowerClass:
    """One class of powered device.

    number: class 0 to 8
    source_power_w: power that a source allocates [W]
    device_power_w: power that the device may take [W]
    pairs: pairs that carry the power
    source_voltage_min_v: least voltage at the source [V]
    channel_loop_ohm: greatest loop resistance of a 100 m channel, all its pairs together [Ω]
    type: Type of source and device that the class came with
    device_voltage_min_v: least voltage at the device [V]
    """

    number: int
    source_power_w: float
    device_power_w: float
    pairs: int
    source_voltage_min_v: float
    channel_loop_ohm: float
    type: int
    device_voltage_min_v: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PowerType:
    """What one Type of source and device keeps to.

    number: Type 1 to 4
    source_voltage_min_v: least voltage at the source [V]
    device_voltage_min_v: least voltage at the device [V]
    """

    number: int
    source_voltage_min_v: float
    device_voltage_min_v: float


TYPES: Mapping[int, PowerType] = MappingProxyType(
    {
        number: PowerType(number=number, source_voltage_min_v=source_v, device_voltage_min_v=device_v)
        for number, source_v, device_v in ((1, 44.0, 37.0), (2, 50.0, 42.5), (3, 50.0, 42.5), (4, 52.0, 41.1))
    }
)


def _power_class(
    number: int, source_w: float, device_w: float, pairs: int, loop: float, of: int
) -> PowerClass:
    return PowerClass(
        number=number,
        source_power_w=source_w,
        device_power_w=device_w,
        pairs=pairs,
        source_voltage_min_v=TYPES[of].source_voltage_min_v,
        channel_loop_ohm=loop,
        type=of,
        device_voltage_min_v=TYPES[of].device_voltage_min_v,
    )


CLASSES: Mapping[int, PowerClass] = MappingProxyType(
    {
        entry.number: entry
        for entry in (
            _power_class(0, 15.4, 12.95, 2, 20.0, 1),
            _power_class(1, 4.0, 3.84, 2, 20.0, 1),
            _power_class(2, 7.0, 6.49, 2, 20.0, 1),
            _power_class(3, 15.4, 12.95, 2, 20.0, 1),
            _power_class(4, 30.0, 25.5, 2, 12.5, 2),
            _power_class(5, 45.0, 40.0, 4, 6.25, 3),
            _power_class(6, 60.0, 51.0, 4, 6.25, 3),
            _power_class(7, 75.0, 62.0, 4, 6.25, 4),
            _power_class(8, 90.0, 71.3, 4, 6.25, 4),
        )
    }
)
"""The classes by number; class 0 is allocated as class 3."""

_VOLTAGES = Range(0, 60, above=True)
_POWERS = Range(0, 100)
_RESISTANCES = Range(0, 1000)


@formula(
    title="Class that a device needs",
    equation=(
        "c = if(P ≤ 3.84, 1, P ≤ 6.49, 2, P ≤ 12.95, 3, P ≤ 25.5, 4, P ≤ 40, 5, P ≤ 51, 6, P ≤ 62, 7, 8)"
    ),
    source=IEEE_802_3,
    result=("c", "-"),
    where={"device_power_w": ("P", "greatest power of the device", "W")},
    valid={"device_power_w": Range(0, 71.3)},
)
def class_needed(device_power_w: float) -> int:
    """Return the least class that allows a device its power [-].

    device_power_w: greatest power of the device, at most 71.3 W [W]

    Source: IEEE 802.3-2022, clauses 33 and 145.
    """
    return next(number for number in range(1, 9) if device_power_w <= CLASSES[number].device_power_w)


@formula(
    title="Loop resistance of the powered pairs",
    equation="R = sum(2·r_i·L_i/n) + R_c",
    source=Source("conductors of a pair in parallel, pairs out and back in series"),
    result=("R", "Ω"),
    where={
        "pairs": ("n", "pairs that carry the power", "-"),
        "conductor_ohm_per_m": ("r_i", "resistance of one conductor of a stretch", "Ω/m"),
        "lengths_m": ("L_i", "length of a stretch", "m"),
        "connectors_ohm": ("R_c", "connectors, out and back", "Ω"),
    },
    valid={
        "pairs": OneOf((2, 4)),
        "conductor_ohm_per_m": Range(0, 10),
        "lengths_m": Range(0),
        "connectors_ohm": Range(0, 100),
    },
)
def loop_resistance_ohm(
    pairs: int, conductor_ohm_per_m: Sequence[float], lengths_m: Sequence[float], connectors_ohm: float = 0.0
) -> float:
    """Return the resistance between source and device, out and back, of all powered pairs together [Ω].

    The two conductors of a pair are in parallel: over two pairs this is r·L, over four r·L/2.

    pairs: pairs that carry the power, 2 or 4 [-]
    conductor_ohm_per_m: resistance of one conductor in each stretch [Ω/m], shape (stretches,)
    lengths_m: length of each stretch of cable and cord [m], shape (stretches,)
    connectors_ohm: what the connectors add, out and back [Ω]

    ValueError where the two differ in number. Source: conductors in parallel and in series.
    """
    stretches = zip(conductor_ohm_per_m, lengths_m, strict=True)
    return sum(2 * ohm_per_m * length_m / pairs for ohm_per_m, length_m in stretches) + connectors_ohm


_LOAD = {
    "source_voltage_v": ("V", "voltage at the source", "V"),
    "loop_resistance_ohm": ("R", "loop resistance", "Ω"),
    "device_power_w": ("P", "power of the device", "W"),
}
_OF_A_LOAD = {"source_voltage_v": _VOLTAGES, "loop_resistance_ohm": _RESISTANCES, "device_power_w": _POWERS}


@formula(
    title="Current from the source",
    equation="I = 2·P/(V + √(V² − 4·R·P))",
    source=OHM,
    result=("I", "A"),
    where=_LOAD,
    valid=_OF_A_LOAD,
)
def source_current_a(source_voltage_v: float, loop_resistance_ohm: float, device_power_w: float) -> float:
    """Return the current that a load of constant power draws through a resistance [A].

    It is the smaller root (V − √(V² − 4·R·P))/(2·R), written so that it also holds without resistance.

    source_voltage_v: voltage at the source [V]
    loop_resistance_ohm: loop resistance [Ω]
    device_power_w: power of the device [W]

    OutOfRange where the resistance cannot carry that power, see `greatest_device_power_w`.
    Source: Ohm's law.
    """
    root = _root(source_voltage_v, loop_resistance_ohm, device_power_w)
    return 2 * device_power_w / (source_voltage_v + root)


@formula(
    title="Power from the source",
    equation="S = 2·V·P/(V + √(V² − 4·R·P))",
    source=OHM,
    result=("S", "W"),
    where=_LOAD,
    valid=_OF_A_LOAD,
)
def source_power_w(source_voltage_v: float, loop_resistance_ohm: float, device_power_w: float) -> float:
    """Return the power that the source gives for a load of constant power, loss in the cable included [W].

    source_voltage_v: voltage at the source [V]
    loop_resistance_ohm: loop resistance [Ω]
    device_power_w: power of the device [W]

    OutOfRange where the resistance cannot carry that power. Source: Ohm's law.
    """
    return source_voltage_v * source_current_a(source_voltage_v, loop_resistance_ohm, device_power_w)


@formula(
    title="Voltage at the device",
    equation="U = (V + √(V² − 4·R·P))/2",
    source=OHM,
    result=("U", "V"),
    where=_LOAD,
    valid=_OF_A_LOAD,
)
def device_voltage_v(source_voltage_v: float, loop_resistance_ohm: float, device_power_w: float) -> float:
    """Return the voltage left at a load of constant power [V].

    source_voltage_v: voltage at the source [V]
    loop_resistance_ohm: loop resistance [Ω]
    device_power_w: power of the device [W]

    OutOfRange where the resistance cannot carry that power. Source: Ohm's law.
    """
    return (source_voltage_v + _root(source_voltage_v, loop_resistance_ohm, device_power_w)) / 2


@formula(
    title="Power at the device",
    equation="P = S − R·(S/V)²",
    source=OHM,
    result=("P", "W"),
    where={
        "source_power_w": ("S", "power from the source", "W"),
        "source_voltage_v": ("V", "voltage at the source", "V"),
        "loop_resistance_ohm": ("R", "loop resistance", "Ω"),
    },
    valid={
        "source_power_w": _POWERS,
        "source_voltage_v": _VOLTAGES,
        "loop_resistance_ohm": _RESISTANCES,
    },
)
def device_power_w(source_power_w: float, source_voltage_v: float, loop_resistance_ohm: float) -> float:
    """Return what is left of the source's power at the device [W].

    source_power_w: power from the source [W]
    source_voltage_v: voltage at the source [V]
    loop_resistance_ohm: loop resistance [Ω]

    OutOfRange where the cable would lose more than the source gives. Source: Ohm's law.
    """
    left_w = source_power_w - loop_resistance_ohm * (source_power_w / source_voltage_v) ** 2
    if left_w < 0:
        raise OutOfRange("device_power_w: the cable would lose more than the source gives")
    return left_w


@formula(
    title="Maximum power that the cable can carry to the device",
    equation="P = V²/(4·R)",
    source=OHM,
    result=("P", "W"),
    where={
        "source_voltage_v": ("V", "voltage at the source", "V"),
        "loop_resistance_ohm": ("R", "loop resistance", "Ω"),
    },
    valid={"source_voltage_v": _VOLTAGES, "loop_resistance_ohm": Range(0, 1000, above=True)},
)
def greatest_device_power_w(source_voltage_v: float, loop_resistance_ohm: float) -> float:
    """Return the most power that can reach a device through a resistance at all [W].

    source_voltage_v: voltage at the source [V]
    loop_resistance_ohm: loop resistance [Ω]

    Source: Ohm's law, at half the source's voltage.
    """
    return source_voltage_v**2 / (4 * loop_resistance_ohm)


def _root(source_voltage_v: float, loop_ohm: float, device_w: float) -> float:
    square = source_voltage_v**2 - 4 * loop_ohm * device_w
    if square < 0:
        raise OutOfRange(f"{loop_ohm:.4g} Ω cannot carry {device_w:.4g} W from {source_voltage_v:.4g} V")
    return math.sqrt(square)
