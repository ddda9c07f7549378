"""Loudspeaker lines: load, impedance, loss along a daisy chain, and the level that loudspeakers give."""

import math
from collections.abc import Sequence

from proposal.standards.formula import formula
from proposal.standards.sources import COMMON_PRACTICE, EDITABLE_DEFAULT, Source
from proposal.standards.validity import Range

IEC_60050 = Source("IEC 60050-131", clause="resistance and power of a circuit", memory=True)
ISO_80000 = Source("definition of the level of a power quantity, ISO 80000-3")
NFPA_70_WIRING = Source("NFPA 70", clause="640.9(C)")
CLASSES = ("class 2", "class 3", "class 1")
"""Classes of output wiring, each good for those before it."""

_POWER = Range(0, 1e15, above=True)
_OHM = Range(0, 1e18, above=True)
_VOLTS = Range(0, 1000, above=True)
_SHARE = Range(0, math.nextafter(1.0, 0.0))


@formula(
    title="Impedance of a constant-voltage load",
    equation="Z = U²/P",
    source=IEC_60050,
    result=("Z", "Ω"),
    where={"voltage_v": ("U", "voltage of the line", "V"), "power_w": ("P", "power of the load", "W")},
    valid={"voltage_v": _VOLTS, "power_w": _POWER},
)
def line_impedance_ohm(voltage_v: float, power_w: float) -> float:
    """Return the impedance of what takes a power at the voltage of its line [Ω].

    voltage_v: voltage of the line [V]
    power_w: power of the load [W]

    Source: IEC 60050-131 (memory).
    """
    return voltage_v**2 / power_w


@formula(
    title="Power that a tap draws from its line",
    equation="P = T·10^(a/10)",
    source=ISO_80000,
    result=("P", "W"),
    where={"tap_w": ("T", "power of the tap", "W"), "loss_db": ("a", "loss of the transformer", "dB")},
    valid={"tap_w": Range(0, 1e6), "loss_db": Range(0, 100)},
)
def tap_draw_w(tap_w: float, loss_db: float) -> float:
    """Return what a loudspeaker with a line transformer draws [W].

    tap_w: power that its tap gives to the loudspeaker [W]
    loss_db: loss of the transformer [dB]

    Source: definition of the level of a power quantity.
    """
    return float(tap_w * 10 ** (loss_db / 10))


@formula(
    title="Load of a loudspeaker line",
    equation="P = sum(P_i)",
    source=IEC_60050,
    result=("P", "W"),
    where={"powers_w": ("P_i", "power that one loudspeaker draws", "W")},
    valid={"powers_w": Range(0, 1e15)},
)
def line_load_w(powers_w: Sequence[float]) -> float:
    """Return the power that all loudspeakers of a line draw [W].

    powers_w: power that each loudspeaker draws [W]

    Source: IEC 60050-131 (memory).
    """
    return sum(powers_w)


@formula(
    title="Power that a channel gives a line, with headroom",
    equation="P = (1 − h)·P_r·Z_r/max(Z, Z_r)",
    source=EDITABLE_DEFAULT,
    result=("P", "W"),
    where={
        "headroom": ("h", "share left free", "-"),
        "rated_w": ("P_r", "rated power of the channel", "W"),
        "rated_ohm": ("Z_r", "least load of the channel", "Ω"),
        "impedance_ohm": ("Z", "impedance of the line", "Ω"),
    },
    valid={
        "headroom": _SHARE,
        "rated_w": _POWER,
        "rated_ohm": _OHM,
        "impedance_ohm": _OHM,
    },
)
def usable_power_w(headroom: float, rated_w: float, rated_ohm: float, impedance_ohm: float) -> float:
    """Return what a channel without transformers may give a line, its voltage that of rated power [W].

    headroom: share of the rated power left free [-]
    rated_w: rated power of the channel [W]
    rated_ohm: load at which it gives that, the least one [Ω]
    impedance_ohm: impedance of the line [Ω]

    Source: editable default.
    """
    return (1 - headroom) * rated_w * rated_ohm / max(impedance_ohm, rated_ohm)


@formula(
    title="Loss of a loudspeaker line",
    equation="A = sum(20·log10(1 + R_i·G_i))",
    source=IEC_60050,
    result=("A", "dB"),
    where={
        "stretches_ohm": ("R_i", "resistance of one stretch, out and back", "Ω"),
        "onward_s": ("G_i", "conductance of the line from the end of that stretch on", "S"),
    },
    valid={"stretches_ohm": Range(0, 1e12), "onward_s": Range(0, 1e12)},
)
def line_loss_db(stretches_ohm: Sequence[float], onward_s: Sequence[float]) -> float:
    """Return what a line loses from the amplifier to the end of its last stretch given [dB].

    stretches_ohm: resistance of each stretch on the way, out and back [Ω]
    onward_s: conductance of all that hangs on the line from the end of each stretch on [S]

    Of one stretch it is 20·log10((Z + R)/Z). Source: IEC 60050-131 (memory), dividers of voltage in a row.
    """
    pairs = zip(stretches_ohm, onward_s, strict=True)
    return sum(20 * math.log10(1 + stretch_ohm * conductance_s) for stretch_ohm, conductance_s in pairs)


@formula(
    title="Off-axis loss of a loudspeaker",
    equation="a = 6·(2·θ/c)²",
    source=COMMON_PRACTICE,
    result=("a", "dB"),
    where={"angle_deg": ("θ", "angle off the axis", "°"), "coverage_deg": ("c", "nominal coverage", "°")},
    valid={"angle_deg": Range(0, 180), "coverage_deg": Range(0, 180, above=True)},
)
def off_axis_loss_db(angle_deg: float, coverage_deg: float) -> float:
    """Return how much weaker a loudspeaker is off its axis: 6 dB at the edge of its coverage [dB].

    angle_deg: angle off the axis [°]
    coverage_deg: nominal coverage, from edge to edge [°]

    Source: common practice.
    """
    return 6 * (2 * angle_deg / coverage_deg) ** 2


@formula(
    title="Power that each loudspeaker needs for a level at a listener",
    equation="P = 10^((L − S)/10)/sum(10^(−a_i/10)/d_i²)",
    source=ISO_80000,
    result=("P", "W"),
    where={
        "level_db": ("L", "level wanted at the listener", "dB"),
        "sensitivity_db": ("S", "level at 1 m for 1 W", "dB"),
        "off_axis_db": ("a_i", "loss of one loudspeaker off its axis", "dB"),
        "distance_m": ("d_i", "distance of that loudspeaker", "m"),
    },
    valid={
        "level_db": Range(-100, 300),
        "sensitivity_db": Range(-100, 300),
        "off_axis_db": Range(0, 100),
        "distance_m": Range(0, 1e4, above=True),
    },
)
def needed_power_w(
    level_db: float, sensitivity_db: float, off_axis_db: Sequence[float], distance_m: Sequence[float]
) -> float:
    """Return what each of several alike loudspeakers needs for a level of direct sound [W].

    level_db: level wanted at the listener [dB]
    sensitivity_db: level of one at 1 m for 1 W, on its axis [dB]
    off_axis_db: loss of each off its axis [dB]
    distance_m: distance of each [m]

    Their powers add; the room's reverberation adds to it and is left out. Source: definition of the level.
    """
    pairs = zip(off_axis_db, distance_m, strict=True)
    arriving = sum(10 ** (-loss_db / 10) / length_m**2 for loss_db, length_m in pairs)
    return float(10 ** ((level_db - sensitivity_db) / 10) / arriving)


@formula(
    title="Limits of a measured value",
    equation="Z_m = Z·(1 + t)",
    source=EDITABLE_DEFAULT,
    result=("Z_m", "Ω"),
    where={
        "impedance_ohm": ("Z", "impedance expected", "Ω"),
        "tolerance": ("t", "tolerance, negative for the least", "-"),
    },
    valid={"impedance_ohm": _OHM, "tolerance": Range(-1, 1)},
)
def allowed_impedance_ohm(impedance_ohm: float, tolerance: float) -> float:
    """Return the least or the most that a measurement of a line may show [Ω].

    impedance_ohm: impedance expected [Ω]
    tolerance: share by which it may differ, negative for the least [-]

    Source: editable default.
    """
    return impedance_ohm * (1 + tolerance)
