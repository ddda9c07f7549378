"""Solid copper conductors: diameter by gauge (ASTM B258) and resistance by temperature (IEC 60028)."""

import math

from proposal.standards.formula import formula
from proposal.standards.sources import Source
from proposal.standards.validity import Range

ASTM_B258 = Source("ASTM B258")
TIA_568_2_RESISTANCE = Source("ANSI/TIA-568.2-D", clause="direct-current resistance", memory=True)
HIGHEST_OHM_PER_M = 0.0938
"""The most that one conductor of a data cable may have at 20 °C: 9.38 Ω for 100 m [Ω/m]."""
IEC_60028 = Source("IEC 60028", clause="with the diameter of ASTM B258")

GAUGES = Range(-3, 56, whole=True)
COLDEST_CONDUCTOR_C, WARMEST_CONDUCTOR_C = -20.0, 90.0
TEMPERATURES_C = Range(COLDEST_CONDUCTOR_C, WARMEST_CONDUCTOR_C)


@formula(
    title="Diameter of a solid conductor",
    equation="d = 0.000127·92^((36 − n)/39)",
    source=ASTM_B258,
    result=("d", "m"),
    where={"gauge_awg": ("n", "gauge, AWG", "-")},
    valid={"gauge_awg": GAUGES},
)
def conductor_diameter_m(gauge_awg: int) -> float:
    """Return the diameter of a solid conductor [m].

    gauge_awg: American wire gauge, 0 to −3 for 1/0 to 4/0 [-]

    Source: ASTM B258, from 4/0 to 56.
    """
    return float(0.000127 * 92 ** ((36 - gauge_awg) / 39))


@formula(
    title="Conductor resistance per metre, from what its maker states",
    equation="r = R/200·(1 + 0.00393·(t − 20))",
    source=IEC_60028,
    result=("r", "Ω/m"),
    where={
        "pair_ohm": ("R", "loop resistance of one pair over 100 m at 20 °C, by its maker", "Ω"),
        "temperature_c": ("t", "temperature of the conductor", "°C"),
    },
    valid={"pair_ohm": Range(0, 1000), "temperature_c": TEMPERATURES_C},
)
def stated_resistance_ohm_per_m(pair_ohm: float, temperature_c: float) -> float:
    """Return the resistance of one conductor for each metre from that of a pair over 100 m at 20 °C [Ω/m].

    A pair over 100 m has 200 m of conductor, out and back.

    pair_ohm: loop resistance of one pair over 100 m at 20 °C [Ω]
    temperature_c: temperature of the conductor [°C]

    Source: 0.393 % for each kelvin of copper, IEC 60028.
    """
    return pair_ohm / 200 * _warmed(temperature_c)


def _warmed(temperature_c: float) -> float:
    return 1 + 0.00393 * (temperature_c - 20)


@formula(
    title="Conductor resistance per metre",
    equation="r = 4·17.241·10^(−9)·(1 + 0.00393·(t − 20))/(π·(0.000127·92^((36 − n)/39))²)",
    source=IEC_60028,
    result=("r", "Ω/m"),
    where={
        "gauge_awg": ("n", "gauge, AWG", "-"),
        "temperature_c": ("t", "temperature of the conductor", "°C"),
    },
    valid={"gauge_awg": GAUGES, "temperature_c": TEMPERATURES_C},
)
def conductor_resistance_ohm_per_m(gauge_awg: int, temperature_c: float) -> float:
    """Return the direct-current resistance of one solid annealed copper conductor for each metre [Ω/m].

    gauge_awg: American wire gauge [-]
    temperature_c: temperature of the conductor [°C]

    Source: resistivity 17.241 nΩ·m at 20 °C and 0.393 % for each kelvin of IEC 60028, diameter of ASTM B258.
    """
    area_m2 = math.pi * conductor_diameter_m(gauge_awg) ** 2 / 4
    return 17.241e-9 * _warmed(temperature_c) / area_m2


@formula(
    title="Conductor resistance per metre, by gauge or by the limit of data cables",
    equation="r = max(4·17.241·10^(−9)/(π·(0.000127·92^((36 − n)/39))²), 0.0938)·(1 + 0.00393·(t − 20))",
    source=TIA_568_2_RESISTANCE,
    result=("r", "Ω/m"),
    where={
        "gauge_awg": ("n", "gauge, AWG", "-"),
        "temperature_c": ("t", "temperature of the conductor", "°C"),
    },
    valid={"gauge_awg": GAUGES, "temperature_c": TEMPERATURES_C},
)
def strictest_resistance_ohm_per_m(gauge_awg: int, temperature_c: float) -> float:
    """Return the higher of a conductor's nominal resistance and the limit of data cables [Ω/m].

    gauge_awg: American wire gauge [-]
    temperature_c: temperature of the conductor [°C]

    Source: at most 9.38 Ω for 100 m of one conductor at 20 °C (ANSI/TIA-568.2-D, from memory).
    """
    return max(conductor_resistance_ohm_per_m(gauge_awg, 20), HIGHEST_OHM_PER_M) * _warmed(temperature_c)
