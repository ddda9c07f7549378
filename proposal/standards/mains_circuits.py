"""Loads of a mains circuit against its breaker and its residual-current device."""

import math
from collections.abc import Mapping, Sequence
from types import MappingProxyType

from proposal.standards.formula import formula
from proposal.standards.sources import Source
from proposal.standards.validity import Range

IEC_60050 = Source("IEC 60050-131", clause="131-11-41 and 131-11-46", memory=True)
NFPA_70 = Source("NFPA 70", clause="210.19 and 210.20")
IEC_60364 = Source("IEC 60364-5-53", clause="as BS 7671, 531.3.2", memory=True)
IEC_60364_LOAD = Source("IEC 60364-4-43", clause="433.1", memory=True)
IEC_60898 = Source("IEC 60898-1", clause="lower limits of instantaneous tripping")

MULTIPLES: Mapping[str, float] = MappingProxyType({"B": 3.0, "C": 5.0, "D": 10.0})
"""Times its rated current up to which a breaker does not trip at once, by its curve (IEC 60898-1)."""

RESIDUALS_A = (0.006, 0.010, 0.030, 0.100, 0.300, 0.500)
"""Rated residual currents of devices (IEC 61008-1, memory), A."""


@formula(
    title="Apparent power",
    equation="S = P/λ",
    source=IEC_60050,
    result=("S", "VA"),
    where={"power_w": ("P", "power", "W"), "power_factor": ("λ", "power factor", "-")},
    valid={"power_w": Range(0, 1e9), "power_factor": Range(0, 1, above=True)},
)
def apparent_power_va(power_w: float, power_factor: float) -> float:
    """Return the apparent power of a load [VA].

    power_w: power [W]
    power_factor: watts for each volt-ampere [-]

    Source: IEC 60050-131 (memory).
    """
    return power_w / power_factor


@formula(
    title="Current of a circuit at full load",
    equation="I = sum(S_i)/U",
    source=IEC_60050,
    result=("I", "A"),
    where={
        "apparent_va": ("S_i", "apparent power of one outlet", "VA"),
        "voltage_v": ("U", "voltage of the mains", "V"),
    },
    valid={"apparent_va": Range(0, 1e9), "voltage_v": Range(0, 1000, above=True)},
)
def circuit_current_a(apparent_va: Sequence[float], voltage_v: float) -> float:
    """Return the current that all outlets of a circuit take together [A].

    apparent_va: apparent power of each outlet [VA]
    voltage_v: voltage of the mains [V]

    Source: IEC 60050-131 (memory).
    """
    return sum(apparent_va) / voltage_v


@formula(
    title="Continuous current that a breaker may carry",
    equation="I_c = 0.8·I_n",
    source=NFPA_70,
    result=("I_c", "A"),
    where={"breaker_a": ("I_n", "rating of the breaker", "A")},
    valid={"breaker_a": Range(0, 10_000, above=True)},
)
def continuous_current_a(breaker_a: float) -> float:
    """Return the load of three hours or more that a breaker may carry [A].

    breaker_a: rating of the breaker [A]

    Source: NFPA 70, 210.19 and 210.20: a continuous load is counted with 125 %.
    """
    return 0.8 * breaker_a


@formula(
    title="Leakage current allowed on a residual-current device",
    equation="I_l = 0.3·I_Δn",
    source=IEC_60364,
    result=("I_l", "A"),
    where={"residual_a": ("I_Δn", "rated residual current of the device", "A")},
    valid={"residual_a": Range(0, 100, above=True)},
)
def leakage_allowed_a(residual_a: float) -> float:
    """Return the protective-conductor current that a circuit may have in use [A].

    residual_a: rated residual current of its device [A]

    Source: IEC 60364-5-53, as BS 7671, 531.3.2 (memory).
    """
    return 0.3 * residual_a


@formula(
    title="Leakage of a circuit",
    equation="I_l = sum(I_i)",
    source=IEC_60364,
    result=("I_l", "A"),
    where={"leakage_a": ("I_i", "leakage of one outlet", "A")},
    valid={"leakage_a": Range(0, 100)},
)
def circuit_leakage_a(leakage_a: Sequence[float]) -> float:
    """Return the protective-conductor current of all outlets of a circuit, added as if in phase [A].

    leakage_a: of each outlet [A]

    Source: IEC 60364-5-53, as BS 7671, 531.3.2 (memory).
    """
    return sum(leakage_a)


@formula(
    title="Inrush that a breaker withstands",
    equation="I_p = m·I_n·√(2)",
    source=IEC_60898,
    result=("I_p", "A"),
    where={
        "multiple": ("m", "lower limit of instantaneous tripping: 3 for B, 5 for C, 10 for D", "-"),
        "breaker_a": ("I_n", "rating of the breaker", "A"),
    },
    valid={"multiple": Range(1, 20), "breaker_a": Range(0, 10_000, above=True)},
)
def inrush_held_a(multiple: float, breaker_a: float) -> float:
    """Return the peak current at switch-on up to which a breaker does not trip [A].

    multiple: lower limit of instantaneous tripping, times the rating [-]
    breaker_a: rating of the breaker [A]

    Source: IEC 60898-1, lower limits of instantaneous tripping.
    """
    return multiple * breaker_a * math.sqrt(2)


@formula(
    title="Supplies of one type that a breaker withstands at switch-on",
    equation="n = floor(m·I_n·√(2)/I_p)",
    source=IEC_60898,
    result=("n", "-"),
    where={
        "multiple": ("m", "lower limit of instantaneous tripping: 3 for B, 5 for C, 10 for D", "-"),
        "breaker_a": ("I_n", "rating of the breaker", "A"),
        "inrush_a": ("I_p", "peak current of one supply at switch-on", "A"),
    },
    valid={
        "multiple": Range(1, 20),
        "breaker_a": Range(0, 10_000, above=True),
        "inrush_a": Range(0, 100_000, above=True),
    },
)
def supplies_a_breaker(multiple: float, breaker_a: float, inrush_a: float) -> int:
    """Return how many supplies of one sort may be switched on at once behind a breaker [-].

    multiple: lower limit of instantaneous tripping, times the rating [-]
    breaker_a: rating of the breaker [A]
    inrush_a: peak current of one supply at switch-on [A]

    Source: IEC 60898-1, lower limits of instantaneous tripping.
    """
    return math.floor(inrush_held_a(multiple, breaker_a) / inrush_a)
