"""Solid copper conductors: diameter by gauge (ASTM B258) and resistance by temperature (IEC 60028)."""

import math

from proposal.standards.working import Range, Source, formula

ASTM_B258 = Source("ASTM B258")
IEC_60028 = Source("IEC 60028", clause="with the diameter of ASTM B258")

GAUGES = Range(-3, 56, whole=True)
TEMPERATURES_C = Range(-20, 90)


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
    title="Resistance of one conductor for each metre",
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
    return 17.241e-9 * (1 + 0.00393 * (temperature_c - 20)) / area_m2
