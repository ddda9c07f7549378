"""How much power over Ethernet warms a bundle of cables: the heat of its conductors, and what keeps it in.

How many kelvin a watt in a metre of bundle makes is data of the project. The tables of TIA TSB-184-A are not
printed here.
"""

from collections.abc import Sequence

from proposal.standards.formula import formula
from proposal.standards.ieee8023 import IEEE_802_3
from proposal.standards.sources import COMMON_PRACTICE, Source
from proposal.standards.validity import OneOf, Range
from proposal.standards.working import Limit

HIGHEST_RISE = Limit(15.0, "≤", Source("TIA TSB-184", "A"))
"""Highest warming of a bundle by power over Ethernet [K]."""

_KELVIN_SHARE = 0.00393
_MOST_FEEDBACK = 0.5


@formula(
    title="Maximum current of a powered cable",
    equation="I = P/V",
    source=IEEE_802_3,
    result=("I", "A"),
    where={
        "source_power_w": ("P", "power that a source allocates to the class", "W"),
        "source_voltage_v": ("V", "least voltage at the source", "V"),
    },
    valid={"source_power_w": Range(0, 100), "source_voltage_v": Range(1, 60)},
)
def greatest_current_a(source_power_w: float, source_voltage_v: float) -> float:
    """Return the current that a class of power over Ethernet draws at most, all pairs together [A].

    source_power_w: power that a source allocates to the class [W]
    source_voltage_v: least voltage at the source [V]

    Source: IEEE 802.3, clauses 33 and 145.
    """
    return source_power_w / source_voltage_v


@formula(
    title="Heat of a powered cable per metre",
    equation="q = 2·I^2·r/n",
    source=Source("Joule's law"),
    result=("q", "W/m"),
    where={
        "current_a": ("I", "current, all pairs together", "A"),
        "conductor_ohm_per_m": ("r", "resistance of one conductor for each metre", "Ω/m"),
        "pairs": ("n", "pairs that carry the power", "-"),
    },
    valid={"current_a": Range(0, 10), "conductor_ohm_per_m": Range(0, 10), "pairs": OneOf((2, 4))},
)
def cable_heat_w_per_m(current_a: float, conductor_ohm_per_m: float, pairs: int) -> float:
    """Return the heat of the conductors of a powered cable [W/m].

    Over two pairs the current flows out and back through two conductors side by side each, over four through
    four each.

    current_a: current, all pairs together [A]
    conductor_ohm_per_m: resistance of one conductor for each metre [Ω/m]
    pairs: pairs that carry the power, 2 or 4 [-]

    Source: Joule's law.
    """
    return 2 * current_a**2 * conductor_ohm_per_m / pairs


@formula(
    title="Temperature rise of a bundle by power over Ethernet",
    equation="R = c·sum(q_i)/(1 − min(0.00393·c·sum(q_i)/(1 + 0.00393·(t − 20)), 0.5))",
    source=COMMON_PRACTICE,
    result=("R", "K"),
    where={
        "heats_w_per_m": ("q_i", "heat of a powered cable at the temperature of the air", "W/m"),
        "warming_k_m_per_w": ("c", "warming for each watt a metre", "K·m/W"),
        "air_c": ("t", "temperature of the air", "°C"),
    },
    valid={"heats_w_per_m": Range(0, 1000), "warming_k_m_per_w": Range(0, 100), "air_c": Range(-20, 90)},
)
def bundle_rise_k(heats_w_per_m: Sequence[float], warming_k_m_per_w: float, air_c: float) -> float:
    """Return how much warmer than the air every cable of a bundle gets [K].

    Warm copper gives more heat for the same current, which the denominator holds; at no time more than twice.

    heats_w_per_m: heat of each powered cable at the temperature of the air [W/m], shape (cables,)
    warming_k_m_per_w: warming for each watt a metre [K·m/W]
    air_c: temperature of the air [°C]

    Source: common practice; 0.393 % for each kelvin of copper, IEC 60028.
    """
    cold_k = warming_k_m_per_w * sum(heats_w_per_m)
    feedback = _KELVIN_SHARE * cold_k / (1 + _KELVIN_SHARE * (air_c - 20))
    return cold_k / (1 - min(feedback, _MOST_FEEDBACK))
