"""Arithmetic of levels in decibels."""

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from proposal.standards.formula import array_form, formula
from proposal.standards.sources import Source
from proposal.standards.validity import Range

LEVEL = Source("definition of the level of a power quantity, ISO 80000-3")
Floats = NDArray[np.float64]


@formula(
    title="Level of several sources together",
    equation="L = 10·log10(sum(10^(L_i/10)))",
    source=LEVEL,
    result=("L", "dB"),
    where={"levels_db": ("L_i", "level of one source", "dB")},
    valid={"levels_db": Range(-300, 300)},
)
def level_of_sum_db(levels_db: Sequence[float]) -> float:
    """Return the level of several sources that do not cohere, their powers added [dB].

    levels_db: level of each source, all with the same reference [dB], shape (sources,)

    ValueError for none. Source: definition of the level of a power quantity.
    """
    greatest = max(levels_db)
    return greatest + 10 * math.log10(sum(10 ** ((level - greatest) / 10) for level in levels_db))


@formula(
    title="Ratio of powers",
    equation="r = 10^(L/10)",
    source=LEVEL,
    result=("r", "-"),
    where={"level_db": ("L", "difference of levels", "dB")},
    valid={"level_db": Range(-3000, 3000)},
)
def power_ratio(level_db: float) -> float:
    """Return the ratio of two powers from the difference of their levels [-].

    level_db: difference of levels [dB]

    Source: definition of the level of a power quantity.
    """
    return float(10 ** (level_db / 10))


@array_form(power_ratio)
def power_ratios(level_db: Floats) -> Floats:
    """Return the ratios of pairs of powers from the differences of their levels [-].

    level_db: difference of levels of each pair [dB], shape (pairs,)

    Source: definition of the level of a power quantity.
    """
    ratios: Floats = 10 ** (level_db / 10)
    return ratios


@formula(
    title="Level of a ratio of powers",
    equation="L = 10·log10(r)",
    source=LEVEL,
    result=("L", "dB"),
    where={"ratio": ("r", "ratio of powers", "-")},
    valid={"ratio": Range(0, above=True)},
)
def level_of_ratio_db(ratio: float) -> float:
    """Return the difference of levels from the ratio of two powers [dB].

    ratio: ratio of powers, above zero [-]

    Source: definition of the level of a power quantity.
    """
    return 10 * math.log10(ratio)
