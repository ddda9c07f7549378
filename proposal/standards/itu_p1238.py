"""Loss of a radio path inside a building, average walls included, after ITU-R P.1238 (site-general form)."""

import math
from collections.abc import Mapping
from types import MappingProxyType

from proposal.standards.working import Range, Source, formula

ITU_P1238 = Source("ITU-R P.1238", clause="site-general form")

DISTANCE_COEFFICIENTS: Mapping[str, float] = MappingProxyType(
    {"office": 30.0, "residential": 28.0, "commercial": 22.0}
)
"""Distance power loss coefficient N by kind of building at 1.8 GHz to 2 GHz [dB a decade]."""


@formula(
    title="Loss through floors of an office building",
    equation="L_f = if(n = 0, 0, 15 + 4·(n − 1))",
    source=ITU_P1238,
    result=("L_f", "dB"),
    where={"floors": ("n", "floors between the ends of the path", "-")},
    valid={"floors": Range(0, 20, whole=True)},
)
def floor_loss_db(floors: int) -> float:
    """Return what the floors on a path add to its loss in an office building at 1.8 GHz to 2 GHz [dB].

    floors: floors between the ends of the path [-]

    Source: ITU-R P.1238.
    """
    return 0.0 if floors == 0 else 15.0 + 4.0 * (floors - 1)


@formula(
    title="Loss of a path in the building",
    equation=(
        "L = max(20·log10(f/10^6) + N·log10(max(d, 1)) + L_f − 28, "
        "32.45 + 20·log10(f/10^6) + 20·log10(max(d, 1)/1000))"
    ),
    source=Source("ITU-R P.1238", clause="site-general form, never under ITU-R P.525"),
    result=("L", "dB"),
    where={
        "frequency_hz": ("f", "frequency", "Hz"),
        "distance_m": ("d", "length of the path", "m"),
        "coefficient_db": ("N", "distance power loss coefficient", "dB"),
        "floors_db": ("L_f", "loss through floors", "dB"),
    },
    valid={
        "frequency_hz": Range(1.8e9, 2e9),
        "distance_m": Range(0, 1000),
        "coefficient_db": Range(20, 40),
        "floors_db": Range(0, 100),
    },
)
def indoor_loss_db(
    frequency_hz: float, distance_m: float, coefficient_db: float, floors_db: float = 0.0
) -> float:
    """Return the loss of a wanted path inside a building, never under that of free space [dB].

    frequency_hz: frequency, 1.8 GHz to 2 GHz, for which the coefficients are stated [Hz]
    distance_m: length of the path; less than 1 m counts as 1 m [m]
    coefficient_db: distance power loss coefficient, `DISTANCE_COEFFICIENTS` [dB]
    floors_db: loss through floors, see `floor_loss_db` [dB]

    Source: ITU-R P.1238 and ITU-R P.525.
    """
    counted_m = max(distance_m, 1.0)
    frequency_part_db = 20 * math.log10(frequency_hz / 1e6)
    indoors_db = frequency_part_db + coefficient_db * math.log10(counted_m) + floors_db - 28
    free_db = 32.45 + frequency_part_db + 20 * math.log10(counted_m / 1000)
    return max(indoors_db, free_db)
