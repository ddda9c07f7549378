"""Loss of a radio path inside a building, average walls included, after ITU-R P.1238 (site-general form)."""

import math
from collections.abc import Mapping
from types import MappingProxyType

import numpy as np

from proposal.standards.formula import array_form, formula
from proposal.standards.free_space import Floats, free_space_losses_db
from proposal.standards.sources import Source
from proposal.standards.validity import Range

ITU_P1238 = Source("ITU-R P.1238", clause="site-general form")

DISTANCE_COEFFICIENTS: Mapping[str, float] = MappingProxyType(
    {"office": 30.0, "residential": 28.0, "commercial": 22.0}
)
"""Distance power loss coefficient N by kind of building at 1.8 GHz to 2 GHz [dB a decade]."""


@formula(
    title="Loss through floors",
    equation="L_f = if(n = 0, 0, F + S·(n − 1))",
    source=ITU_P1238,
    result=("L_f", "dB"),
    where={
        "floors": ("n", "floors between the ends of the path", "-"),
        "first_db": ("F", "loss of the first floor", "dB"),
        "further_db": ("S", "loss of each further floor", "dB"),
    },
    valid={
        "floors": Range(0, 200, whole=True),
        "first_db": Range(0, 100),
        "further_db": Range(0, 100),
    },
)
def floor_loss_db(floors: int, first_db: float = 15.0, further_db: float = 4.0) -> float:
    """Return what the floors on a path add to its loss at 1.8 GHz to 2 GHz [dB].

    floors: floors between the ends of the path [-]
    first_db: loss of the first floor, 15 dB in an office building [dB]
    further_db: loss of each further floor, 4 dB in an office building [dB]

    Source: ITU-R P.1238.
    """
    return 0.0 if floors == 0 else first_db + further_db * (floors - 1)


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


@array_form(indoor_loss_db)
def indoor_losses_db(
    frequency_hz: float, distance_m: Floats, coefficient_db: float, floors_db: float | Floats = 0.0
) -> Floats:
    """Return the loss of wanted paths inside a building, for many at once, never under free space [dB].

    frequency_hz: frequency [Hz]
    distance_m: length of each path; less than 1 m counts as 1 m [m], shape (paths,)
    coefficient_db: distance power loss coefficient, `DISTANCE_COEFFICIENTS` [dB]
    floors_db: loss through floors, of all paths or of each [dB]

    Source: ITU-R P.1238 and ITU-R P.525.
    """
    counted_m = np.maximum(distance_m, 1.0)
    indoors_db = 20 * math.log10(frequency_hz / 1e6) + coefficient_db * np.log10(counted_m) + floors_db - 28
    losses: Floats = np.maximum(indoors_db, free_space_losses_db(frequency_hz, counted_m))
    return losses


@formula(
    title="Probability that a path is received well",
    equation="p = 0.5·(1 + erf(m/(s·√(2))))",
    source=Source("levels spread as a normal distribution of decibels; spread of ITU-R P.1238", memory=True),
    result=("p", "-"),
    where={
        "above_db": ("m", "median level above what is needed", "dB"),
        "spread_db": ("s", "spread of levels, as a standard deviation", "dB"),
    },
    valid={"above_db": Range(-1e6, 1e6), "spread_db": Range(0, 30, above=True)},
)
def coverage_probability(above_db: float, spread_db: float) -> float:
    """Return the probability that a level lies above what is needed [-].

    above_db: how far the median lies above it [dB]
    spread_db: spread of levels about the median, as a standard deviation [dB]

    Source: normal distribution of levels in decibels.
    """
    return 0.5 * (1.0 + math.erf(above_db / (spread_db * math.sqrt(2.0))))
