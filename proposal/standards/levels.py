"""Arithmetic of levels in decibels."""

import math
from collections.abc import Sequence

from proposal.standards.working import Range, Source, formula


@formula(
    title="Level of several sources together",
    equation="L = 10·log10(sum(10^(L_i/10)))",
    source=Source("definition of the level of a power quantity, ISO 80000-3"),
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
